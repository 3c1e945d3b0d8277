"""The rows of the day: each stage with its answer, its picture and its cautions."""

from dataclasses import dataclass

from markupsafe import Markup

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
from pourcast.page.svg_burn import heat_over_the_day
from pourcast.page.svg_finish import what_it_bears
from pourcast.page.svg_freeze import quench_window, when_solid
from pourcast.runsheet.wetting import WHY, how


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


def day_rows(forecast: Forecast) -> list[Row]:
    """Return the stages of the day in their order; one that is not worked out is absent."""
    return [
        Row(
            key="bench",
            stage="Bench",
            question="How does it stand?",
            answer=words.bench(forecast),
            notes=(words.bench_note(forecast),),
            care=(),
            warnings=_beside(forecast, "piece"),
            chosen=_told(usual.bench_values(forecast), forecast),
            picture=svg_pictures.bench(forecast),
            caption="From the side, upright on its button, to scale. It is turned for the pour.",
        ),
        Row(
            key="mix",
            stage="Mix",
            question="What do I weigh out?",
            answer=words.mix(forecast),
            notes=(words.mix_note(forecast), f"{how(forecast.plan.piece)} {WHY}"),
            care=cautions.at_the_mix(),
            warnings=_beside(forecast, "mould"),
            chosen=_told(usual.mix_values(forecast), forecast),
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
            chosen=_told(usual.pour_values(forecast), forecast),
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
                words_burn.heat(burnout, forecast.plan.speech),
                words_burn.ready(burnout),
            ),
            care=cautions.at_the_kiln(),
            warnings=_beside(forecast, "burnout"),
            chosen=_told(usual.burn_values(forecast), forecast),
            picture=heat_over_the_day(
                burnout,
                top=limits["burnout_peak_default"].si,
                stop=limits["burnout_peak_hard_stop"].si,
                speech=forecast.plan.speech,
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
            notes=(words_freeze.quench_spread(freeze, forecast.plan.speech),),
            care=cautions.at_the_quench(),
            warnings=(),
            chosen=(),
            picture=quench_window(freeze, forecast.plan.speech),
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


def _told(values: list[usual.Chosen], forecast: Forecast) -> tuple[usual.Chosen, ...]:
    return tuple(usual.as_told(value, forecast.plan.speech) for value in values)


def _beside(forecast: Forecast, *stages: str) -> tuple[findings.Alike, ...]:
    return tuple(findings.beside_the_act(forecast, *stages))
