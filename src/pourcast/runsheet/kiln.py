"""Kiln: from the block in the kiln to the flask that is ready to come out.

The hours are those of the curve that the forecast went through; where it went
through none, those of the steps of the plan, or of the usual curve.  How late the
block may be dry, free of wax and clean comes from the draws of the forecast.
"""

from collections.abc import Callable
from typing import get_args

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import temperature_at
from pourcast.burnout.dial import DialPlan, Turn
from pourcast.burnout.model import Curve, KilnStep
from pourcast.findings import Kind
from pourcast.forecast.model import Forecast, Hour
from pourcast.materials import Burns, Library
from pourcast.runsheet.curve import source_of, spans
from pourcast.runsheet.figures import degrees, degrees_an_hour, marked, span
from pourcast.runsheet.model import Act, Reading
from pourcast.speech import Speech

Clock = Callable[[si.Second], str]
"""Wall clock of a moment since the start, in words."""

_DRAWS = "draws of the forecast, 10 to 90 in 100"

_WARM_AGAIN = 3600.0
"""s before the end of the curve, by which the ash is out: minutes cool the face, and 20 min or
more in the kiln bring it back, says one voice; an hour is our own choice."""


def acts(
    forecast: Forecast,
    curve: Curve,
    begun: si.Second,
    rest: si.Second,
    book: Library,
    clock: Clock,
    dial: DialPlan | None,
    rest_kind: Kind | None,
) -> list[Act]:
    """Return the acts at the kiln, but for taking the flask out.

    Parameters
    ----------
    forecast : Forecast
    curve : Curve
    begun : float [s]
        When the block goes in, since the start.
    rest : float [s]
        Since it was set down.
    book : Library
    clock : callable
    dial : DialPlan or None
        Turns, in the place of the steps.
    rest_kind : str or None
        How sure the moment is at which the block goes in.

    Returns
    -------
    list of Act
        Not in order of time.
    """
    cure = book.investment["limits"]["cure_before_kiln"]
    first = Act(
        key="kiln_in",
        stage="kiln",
        at=begun,
        what="Base off, gate clear, rim level and clean. Into the kiln, gate down on a rack."
        + ("" if forecast.plan.kiln.control == "hand" else " Start the programme."),
        why=f"It has stood {span(rest)}; {marked(span(cure.si), cure.kind)} is usual, and damp "
        "until then.",
        kind=rest_kind,
        source=cure.source,
        cautions=("hot_kiln", "burnout_fumes"),
        readings=(
            Reading(what="until now it was", choices=("damp", "dry")),
            Reading(what="gate", choices=("down", "up")),
            Reading(what="in at", unit="o’clock"),
        ),
        alarm=1200.0,
    )
    speech = forecast.plan.speech
    how = _turns(dial, begun, speech) if dial else _steps(forecast, curve, begun, book, clock)
    ends = begun + float(curve.time[-1])
    return [first, *how, *_checks(forecast, begun), *_ash(forecast, begun, ends)]


def _turns(dial: DialPlan, begun: si.Second, speech: Speech) -> list[Act]:
    return [
        _turn(place, turn, dial.curve, begun, speech)
        for place, turn in enumerate(dial.turns, start=1)
    ]


def _turn(place: int, turn: Turn, curve: Curve, begun: si.Second, speech: Speech) -> Act:
    gauge = float(temperature_at(curve, np.array(turn.time)))
    return Act(
        key=f"turn_{place}",
        stage="kiln",
        at=begun + turn.time,
        what=f"Dial to {turn.setting:.3g}, near {degrees(gauge, speech)}.",
        kind="computed",
        source="turns worked out from a logged day of this kiln",
        readings=(Reading(what="gauge", unit=speech.unit),),
        cautions=("hot_kiln",),
        alarm=120.0,
        setting=turn.setting,
        gauge=gauge,
    )


def _steps(
    forecast: Forecast, curve: Curve, begun: si.Second, book: Library, clock: Clock
) -> list[Act]:
    """Return one act a step: by hand to be turned, programmed to be looked at."""
    by_hand, speech = forecast.plan.kiln.control == "hand", forecast.plan.speech
    kind, source = source_of(curve)
    stop = book.investment["limits"]["burnout_peak_hard_stop"]
    usual_top = book.investment["limits"]["burnout_peak_default"]
    kept = spans(curve, forecast.plan.kiln.steps)
    top = max(step.temperature for step, _ in kept)
    made, now = [], float(curve.temperature[0])
    for place, (step, moments) in enumerate(kept, start=1):
        begins, arrives, ends = (begun + float(moment) for moment in moments)
        why = ""
        if step.temperature == top and top > usual_top.si - 50.0:
            never = marked(degrees(stop.si, speech), stop.kind)
            why = f"Never over {never} while char is left."
        made.append(
            Act(
                key=f"step_{place}",
                stage="kiln",
                at=begins,
                until=ends,
                what=_step_told(step, now, by_hand, clock(arrives), clock(ends), speech),
                why=why,
                kind=kind,
                source=source,
                cautions=("hot_kiln",),
                readings=(Reading(what=f"gauge at {clock(arrives)}", unit=speech.unit),),
                alarm=300.0 if by_hand else None,
            )
        )
        now = step.temperature
    return made


def _step_told(
    step: KilnStep, now: si.Kelvin, by_hand: bool, there: str, ends: str, speech: Speech
) -> str:
    goal = degrees(step.temperature, speech)
    if abs(step.temperature - now) < 1.0:
        return f"Stay at {goal} until {ends}."
    up = step.temperature > now
    way = ("Turn up for" if up else "Turn down for") if by_hand else ("Up to" if up else "Down to")
    ramp = "as fast as it goes"
    if step.ramp is not None:
        ramp = degrees_an_hour(step.ramp, speech)
    hold = f", hold to {ends}" if step.hold > 0.0 else ""
    return f"{way} {goal}, {ramp}: there at {there}{hold}."


def _checks(forecast: Forecast, begun: si.Second) -> list[Act]:
    """Return when the block is dry, free of wax and clean by the draws."""
    burnout = forecast.burnout
    if burnout is None:
        return []
    rows: tuple[tuple[str, Hour, str, str, tuple[Reading, ...], tuple[str, ...]], ...] = (
        (
            "dry",
            burnout.dry_at,
            "Dry by now. No steam at the vent.",
            "Water left in the block splits it on the way up.",
            (Reading(what="steam at the vent", choices=("none", "some")),),
            (),
        ),
        (
            "wax_gone",
            burnout.wax_gone_at,
            "Wax gone by now. No smoke, no drip.",
            "Wax that stays soaks in as carbon.",
            (Reading(what="smoke", choices=("none", "some")),),
            ("burnout_fumes",),
        ),
        (
            "clean",
            burnout.clean_at,
            "Clean by now. Gate bone white, no grey halo, no smell.",
            "A white gate does not prove a white core: the late hour counts.",
            (Reading(what="gate", choices=("white", "grey", "black")),),
            ("hot_kiln",),
        ),
    )
    return [
        Act(
            key=key,
            stage="kiln",
            at=begun + hour.p50,
            early=None if hour.p10 is None else begun + min(hour.p10, hour.p50),
            late=None if hour.p90 is None else begun + max(hour.p90, hour.p50),
            what=what,
            why=why
            if hour.p90 is not None
            else f"{why} In over 10 of 100 it is later than the end of this curve.",
            kind="computed",
            source=_DRAWS,
            readings=readings,
            cautions=cautions,
            alarm=0.0,
        )
        for key, hour, what, why, readings, cautions in rows
        if hour.p50 is not None
    ]


def _ash(forecast: Forecast, begun: si.Second, ends: si.Second) -> list[Act]:
    """Return the act that takes the ash out, where the forecast has so much of it in the way.

    Once the cavity is clean in nine draws of ten, and so early that the block is warm again.
    """
    found = [each for each in forecast.findings if each.key == "ash-left"]
    if forecast.burnout is None or not found:
        return []
    clean = forecast.burnout.clean_at
    late = clean.p50 if clean.p90 is None else clean.p90
    if late is None:
        return []
    return [
        Act(
            key="ash",
            stage="kiln",
            at=max(min(begun + late, ends - _WARM_AGAIN), begun),
            late=max(ends - _WARM_AGAIN, begun),
            what="Take the ash out: gate down, tap, short soft puffs, and back in for 20 min or "
            "more.",
            why="It lies in the thin parts and keeps metal out. Strong air cuts the mould. "
            "Practice disagrees: an old text lets the mould cool first.",
            kind="common practice",
            source="common practice, no source; the forecast has ash in the way",
            cautions=("hot_kiln", "compressed_air"),
            readings=(Reading(what="came out", choices=("grey ash", "white dust", "none")),),
            alarm=0.0,
        )
    ]


TURNS_TOLD = (
    "Turns of the dial\u00a0(w): hour, place of the dial, and what the gauge should show then."
)
"""Stands above the turns, with the caution that belongs to them."""


def held_told(
    forecast: Forecast, book: Library, fates: tuple[Burns, ...] = get_args(Burns)
) -> tuple[str, ...]:
    """Return what is in or on the original that does not simply burn, with what to do.

    Most of it can be mended only before the original is bedded, so the bench has all of it.

    Parameters
    ----------
    forecast : Forecast
    book : Library
    fates : tuple of str
        Of the matter that is told.
    """
    held = (book.matter[key] for key in forecast.plan.original.holds)
    return tuple(
        f"In the original: {matter.name} ({matter.burns}). {matter.act}"
        for matter in held
        if matter.burns != "burns" and matter.burns in fates
    )


def ready(forecast: Forecast) -> tuple[str, ...]:
    """Return what to have ready at the kiln.

    Parameters
    ----------
    forecast : Forecast
    """
    told = [
        "exhaust led outdoors, carbon monoxide alarm on",
        "rack, 10\u00a0mm of air under the flask\u00a0(c), tray for the wax",
        "face shield, gauntlets, long tongs",
        "gauge tried beside another",
    ]
    if forecast.plan.kiln.flasks > 1:
        told.append("25\u00a0mm between the flasks\u00a0(c)")
    if forecast.plan.kiln.control == "hand":
        told.append("somebody at the kiln all day")
    return tuple(told)
