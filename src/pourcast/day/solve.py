"""Solve: the day forecast again from all that was read and done.

Nothing is carried on from one forecast to the next: the same log gives the same
answer, whether it came at once or over a day with a power cut in it.
"""

from dataclasses import replace
from typing import TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import steps_of
from pourcast.burnout.dial import Turn
from pourcast.burnout.kiln import Body
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.burnout.model import KilnStep
from pourcast.day.case import DayCase
from pourcast.day.checks import findings
from pourcast.day.futures import futures, one_future
from pourcast.day.judge import judged
from pourcast.day.kilns import kiln_today
from pourcast.day.model import DayEvent, DayForecast, DayLog, Judged
from pourcast.day.rest import rest_of_plan, waiting
from pourcast.day.so_far import SoFar, at_the_block, so_far
from pourcast.day.told import told
from pourcast.day.turns import catching_up, next_turns
from pourcast.day.weighed import weighed
from pourcast.forecast.burnout_case import ROOM


def reforecast(
    case: DayCase, log: DayLog, *, ahead: si.Second = 0.0, longer: si.Second = 0.0
) -> DayForecast:
    """Return the day as it looks from all that was read and done.

    Parameters
    ----------
    case : DayCase
    log : DayLog
    ahead : float [s]
        Of the wall clock over universal time; for the hours of the turns.
    longer : float [s]
        By which the hottest step is held longer than planned, and the pour comes later:
        what would that do?

    Returns
    -------
    DayForecast
    """
    stand = _stand(case, log, longer=longer)
    readings, day, kiln, rest = stand
    control = case.plan.kiln.control
    body = _body(case, day, kiln)
    curves = futures(waiting(rest), day.time, day.temperature, control=control, body=body)
    middle = one_future(rest, day.time, day.temperature, body=body)
    results, weights, renewed = weighed(
        (case.block, case.matter, case.burning),
        [at_the_block(curve, day.away, ROOM) for curve in curves],
        readings,
        log.start,
        seed=case.ready.seed,
        threads=case.threads,
    )
    turns, reason = _turn(case, stand, log.start, ahead)
    made = told(case, log, day, results, weights, middle, longer)
    made = replace(made, readings=readings, renewed=renewed, turns=turns, turns_reason=reason)
    block_record = case.ready.book.investment
    found = findings(
        made,
        day,
        results,
        weights,
        limits=block_record["limits"],
        chemistry=block_record["chemistry"],
    )
    return replace(made, findings=found)


def advice(case: DayCase, log: DayLog, *, ahead: si.Second = 0.0) -> tuple[tuple[Turn, ...], str]:
    """Return the next turns of the dial alone, as `reforecast` gives them.

    Parameters
    ----------
    case : DayCase
    log : DayLog
    ahead : float [s]
        Of the wall clock over universal time.

    Returns
    -------
    tuple of tuple of Turn, and str
        And why there are none.
    """
    return _turn(case, _stand(case, log), log.start, ahead)


_Stand: TypeAlias = tuple[tuple[Judged, ...], SoFar, KilnFit, tuple[KilnStep, ...]]


def _stand(case: DayCase, log: DayLog, *, longer: si.Second = 0.0) -> _Stand:
    """Return the judged readings, the day so far, its kiln, and the rest of the plan."""
    readings = judged(log)
    day = so_far(log, readings, ROOM)
    kiln = kiln_today(day, case.kiln)
    steps = _held_longer(steps_of(case.planned), longer)
    lower = tuple(
        event.at - log.start
        for before, event in _turns(log)
        if event.setting is not None and event.setting < before
    )
    rest: tuple[KilnStep, ...] = ()
    if day.ended is None:
        first = float(case.planned.temperature[0])
        rest = rest_of_plan(steps, first, day.time, day.temperature, lower)
        waits = float(case.planned.time[-1]) + longer - float(day.time[-1])
        if not rest and waits > 0.0:
            # An early kiln waits at its last heat for the hour of the pour.
            rest = (replace(steps[-1], hold=waits),)
    return readings, day, kiln, rest


def _body(case: DayCase, day: SoFar, kiln: KilnFit) -> Body | None:
    """Return the kiln that holds a rest back; None where nothing says what it can do."""
    told = case.plan.kiln.control == "hand" and bool(np.isfinite(day.dial).any())
    return kiln.body if told else None


def _turn(
    case: DayCase, stand: _Stand, start: si.Second, ahead: si.Second
) -> tuple[tuple[Turn, ...], str]:
    _, day, kiln, rest = stand
    pace = catching_up(case.planned, float(day.time[-1]), float(day.temperature[-1]))
    body = _body(case, day, kiln)
    return next_turns(
        case.kiln,
        day,
        one_future(rest, day.time, day.temperature, pace=pace, body=body),
        start,
        by_hand=case.plan.kiln.control == "hand",
        stop=case.ready.book.investment["limits"]["burnout_peak_hard_stop"].si,
        ahead=ahead,
        step=case.plan.kiln.dial_step,
    )


def _turns(log: DayLog) -> list[tuple[float, DayEvent]]:
    """Return each turn of the dial with the setting before it."""
    turned = sorted(
        (event for event in log.events if event.act == "turned" and event.setting is not None),
        key=lambda event: event.at,
    )
    settings = [event.setting or 0.0 for event in turned]
    return list(zip([0.0, *settings[:-1]], turned, strict=True)) if turned else []


def _held_longer(steps: tuple[KilnStep, ...], longer: si.Second) -> tuple[KilnStep, ...]:
    """Return steps with the hold of the hottest one longer."""
    hottest = max(range(len(steps)), key=lambda place: steps[place].temperature)
    return tuple(
        replace(step, hold=step.hold + longer) if place == hottest else step
        for place, step in enumerate(steps)
    )
