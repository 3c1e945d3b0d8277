"""The forecast as one file of HTML, for a screen, a phone and paper.

Nothing is loaded from outside: no script, no picture file, no typeface, and no
inline style.  The one style element is named by its hash in the page's own
policy, so a browser refuses any other.
"""

import base64
import functools
import hashlib
import importlib.metadata
from dataclasses import dataclass

import jinja2
from markupsafe import Markup

from pourcast.findings import Finding
from pourcast.forecast.model import Forecast
from pourcast.materials.load import library
from pourcast.page import (
    cautions,
    findings,
    svg_pictures,
    usual,
    words,
    words_burn,
    words_finish,
    words_freeze,
)
from pourcast.page.figures import (
    JOIN,
    clean,
    hundred,
    in_100,
    millimetres,
    number,
    unit_text,
    with_unit,
)
from pourcast.page.names import LEVELS, STAGES, unknown_name
from pourcast.page.svg_burn import heat_over_the_day
from pourcast.page.svg_finish import what_it_bears
from pourcast.page.svg_freeze import quench_window, when_solid
from pourcast.page.svg_plate import legend, plate
from pourcast.page.svg_tally import tally

_MILLIMETRES = f"{JOIN}mm"
LONGEST_WORD = 16
"""Letters up to which a word in a table is not broken."""

MOST_UNKNOWNS = 8
"""Bars under "What this rests on"; the folded table holds all values."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One stage of the day, as it stands on the page.

    Parameters
    ----------
    key, stage, question, answer : str
    notes : tuple of str
    care : tuple of Caution
        What to take care of where the act is.
    warnings : tuple of Alike
        Findings of the stage that are not good.
    chosen : tuple of Chosen
    picture : Markup
    caption : str
    hot : bool
        Liquid metal is about.
    """

    key: str
    stage: str
    question: str
    answer: str
    notes: tuple[str, ...]
    care: tuple[cautions.Caution, ...]
    warnings: tuple[findings.Alike, ...]
    chosen: tuple[usual.Chosen, ...]
    picture: Markup
    caption: str
    hot: bool = False


def render(forecast: Forecast) -> str:
    """Return the page of a forecast.

    Parameters
    ----------
    forecast : Forecast

    Returns
    -------
    str
        A whole HTML document in UTF-8, without any reference to another file.
    """
    look = style()
    return template("page.html.j2").render(
        forecast=forecast,
        style=Markup(look),
        style_hash=style_hash(look),
        name=clean(forecast.plan.piece.name) or "A piece without a name",
        alloy=words.alloy_name(forecast),
        words=words,
        findings=findings,
        counts=words.outcome_counts(forecast),
        tally=tally(hundred(forecast.outcomes)),
        plate=plate(forecast),
        legend=legend(),
        rows=_rows(forecast),
        basis=basis,
        rests=words.rests_on(forecast)[:MOST_UNKNOWNS],
        known=words.rests_on(forecast),
        bar=svg_pictures.strength,
        ruler=svg_pictures.ruler,
        version=importlib.metadata.version("pourcast"),
        levels=LEVELS,
        stages=STAGES,
        last_word=cautions.LAST_WORD,
        quiet=cautions.named("quiet_rule"),
    )


@functools.cache
def template(name: str) -> jinja2.Template:
    """Return a page of this folder, ready to be filled."""
    shelf = jinja2.Environment(
        loader=jinja2.PackageLoader("pourcast.page", "."),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    shelf.filters |= {
        "clean": clean,
        "long": lambda name: any(len(word) > LONGEST_WORD for word in name.split()),
        "in_100": in_100,
        "millimetres": lambda length: millimetres(length).removesuffix(_MILLIMETRES),
        "number": number,
        "unit": unit_text,
        "with_unit": with_unit,
        "unknown_name": unknown_name,
    }
    return shelf.get_template(name)


@functools.cache
def style() -> str:
    """Return the look of a page on screen and on paper."""
    shelf = jinja2.PackageLoader("pourcast.page", ".")
    screen, paper = (
        shelf.get_source(jinja2.Environment(autoescape=True), name)[0]
        for name in ("page.css", "print.css")
    )
    return f"{screen}@media print{{\n{paper}}}\n"


def style_hash(look: str) -> str:
    """Return the hash by which a page's policy lets its own style in."""
    return base64.b64encode(hashlib.sha256(look.encode()).digest()).decode()


def _rows(forecast: Forecast) -> list[Row]:
    return [
        Row(
            key="bench",
            stage="Bench",
            question="How does it stand?",
            answer=words.bench(forecast),
            notes=(words.bench_note(forecast),),
            care=(),
            warnings=_beside(forecast, "piece"),
            chosen=tuple(usual.bench_values(forecast)),
            picture=svg_pictures.bench(forecast),
            caption="From the side, upright on its button, to scale. It is turned for the pour.",
        ),
        Row(
            key="mix",
            stage="Mix",
            question="What do I weigh out?",
            answer=words.mix(forecast),
            notes=(words.mix_note(forecast),),
            care=cautions.at_the_mix(),
            warnings=_beside(forecast, "mould"),
            chosen=tuple(usual.mix_values(forecast)),
            picture=svg_pictures.mix(forecast),
            caption="What stays in the bowl is in these weights.",
        ),
        *_burn(forecast),
        Row(
            key="pour",
            stage="Pour",
            question="Does the metal get there?",
            answer=words.pour(forecast),
            notes=(
                words.pour_note(forecast),
                words.cold_shut(forecast),
                "" if forecast.burnout else words_burn.NOT_WORKED_OUT,
            ),
            care=cautions.at_the_pour(forecast),
            warnings=_beside(forecast, "melt", "pour"),
            chosen=tuple(usual.pour_values(forecast)),
            picture=svg_pictures.fill_times(forecast),
            caption=svg_pictures.untimed(forecast),
            hot=True,
        ),
        *_freeze(forecast),
        *_break_out(forecast),
    ]


def _burn(forecast: Forecast) -> list[Row]:
    """Return the row of the burnout; none where it is not worked out."""
    burnout = forecast.burnout
    if burnout is None:
        return []
    limits = library().investment["limits"]
    return [
        Row(
            key="burn",
            stage="Burn",
            question="Is it dry, and is it clean?",
            answer=words_burn.answer(burnout),
            notes=(
                words_burn.chance(burnout),
                words_burn.heat(burnout),
                words_burn.ready(burnout),
            ),
            care=cautions.at_the_kiln(),
            warnings=_beside(forecast, "burnout"),
            chosen=tuple(usual.burn_values(forecast)),
            picture=heat_over_the_day(
                burnout,
                top=limits["burnout_peak_default"].si,
                stop=limits["burnout_peak_hard_stop"].si,
            ),
            caption="Pale band: where clean may fall, early to late. Hours from the start.",
        )
    ]


def _freeze(forecast: Forecast) -> list[Row]:
    """Return the rows of freezing and quench; none where they are not worked out."""
    freeze = forecast.freeze
    if freeze is None:
        return []
    return [
        Row(
            key="freeze",
            stage="Freeze",
            question="Does it feed?",
            answer=words_freeze.answer(freeze),
            notes=(words_freeze.spread(freeze), words_freeze.top(freeze)),
            care=(),
            warnings=_beside(forecast, "freeze"),
            chosen=(),
            picture=when_solid(freeze),
            caption="A part in red shuts its way in while it still shrinks.",
            hot=True,
        ),
        Row(
            key="quench",
            stage="Quench",
            question="When does it go into water?",
            answer=words_freeze.quench(freeze),
            notes=(words_freeze.quench_spread(freeze),),
            care=cautions.at_the_quench(),
            warnings=(),
            chosen=(),
            picture=quench_window(freeze),
            caption="Minutes after the pour.",
        ),
    ]


def _break_out(forecast: Forecast) -> list[Row]:
    """Return the row of break-out and finish; none where it is not worked out."""
    finish = forecast.finish
    if finish is None:
        return []
    return [
        Row(
            key="break-out",
            stage="Break-out",
            question="What can it bear?",
            answer=words_finish.answer(finish),
            notes=(
                words_finish.break_out(finish),
                words_finish.cuts(finish),
                words_finish.metal(finish),
            ),
            care=cautions.at_the_break_out(),
            warnings=_beside(forecast, "finish"),
            chosen=(),
            picture=what_it_bears(finish),
            caption="How hard a tool pushes is an estimate: try on a spare first.",
        )
    ]


def _beside(forecast: Forecast, *stages: str) -> tuple[findings.Alike, ...]:
    return tuple(findings.beside_the_act(forecast, *stages))


def basis(finding: Finding) -> str:
    """Return what a finding was held against and who says so."""
    said = "; ".join(
        filter(None, (findings.measured(finding), findings.sourced(finding.kind, finding.source)))
    )
    return f"({said})"
