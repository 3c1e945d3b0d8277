"""The forecast as one file of HTML, for a screen, a phone and paper.

Nothing is loaded from outside: no script, no picture file, no typeface, and no
inline style.  The one style element is named by its hash in the page's own
policy, so a browser refuses any other.
"""

import base64
import functools
import hashlib
import importlib.metadata

import jinja2
from markupsafe import Markup

from pourcast.change.model import Ranking
from pourcast.findings import Finding, in_100_draws
from pourcast.forecast.model import Forecast
from pourcast.page import (
    cautions,
    findings,
    svg_pictures,
    words,
    words_change,
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
from pourcast.page.rows import day_rows
from pourcast.page.svg_plate import legend, plate
from pourcast.page.svg_tally import tally
from pourcast.page.words_rests import rests_on

_MILLIMETRES = f"{JOIN}mm"
LONGEST_WORD = 16
"""Letters up to which a word in a table is not broken."""

MOST_UNKNOWNS = 8
"""Bars under "What this rests on"; the folded table holds all values."""


MOST_CHANGES = 8
"""Lines under "What to change first"."""


def render(forecast: Forecast, ranking: Ranking | None = None) -> str:
    """Return the page of a forecast.

    Parameters
    ----------
    forecast : Forecast
    ranking : Ranking or None
        What to change first; None: it was not worked out, and is not drawn.

    Returns
    -------
    str
        A whole HTML document in UTF-8, without any reference to another file.
    """
    look, known = style(), rests_on(forecast)
    told = None if ranking is None else words_change.as_told(ranking)
    return template("page.html.j2").render(
        forecast=forecast,
        style=Markup(look),
        style_hash=style_hash(look),
        name=clean(forecast.plan.piece.name) or "A piece without a name",
        alloy=words.alloy_name(forecast),
        words=words,
        ranking=told,
        changes=words_change,
        most_changes=MOST_CHANGES,
        findings=findings,
        counts=words.outcome_counts(forecast),
        tally=tally(hundred(forecast.outcomes)),
        plate=plate(forecast),
        legend=legend(),
        rows=day_rows(forecast),
        basis=basis,
        rests=known[:MOST_UNKNOWNS],
        known=known,
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
        "in_100_draws": in_100_draws,
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


def basis(finding: Finding) -> str:
    """Return what a finding was held against and who says so."""
    said = "; ".join(
        filter(None, (findings.measured(finding), findings.sourced(finding.kind, finding.source)))
    )
    return f"({said})"
