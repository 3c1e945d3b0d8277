"""Told: from the burnouts of all particles to the hours of the day."""

import math
from collections.abc import Callable

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import NEAR, BurnoutResult, Curve
from pourcast.day.case import DayCase
from pourcast.day.expected import hours_of, middles
from pourcast.day.model import DayForecast, DayLog
from pourcast.day.particles import along, percentiles, standing
from pourcast.day.so_far import SoFar
from pourcast.forecast.model import Hour, Spread

_SHARES = (0.1, 0.5, 0.9)


def told(
    case: DayCase,
    log: DayLog,
    day: SoFar,
    results: list[BurnoutResult],
    weights: si.Ratios,
    middle: Curve,
    longer: si.Second = 0.0,
) -> DayForecast:
    """Return what the burnouts come to, but for readings, turns and findings.

    Parameters
    ----------
    case : DayCase
    log : DayLog
    day : SoFar
    results : list of BurnoutResult
        One for each future, each with its own particles.
    weights : array [-], shape (particles,)
    middle : Curve
        The middle of the futures.
    longer : float [s]
        By which the pour comes later than planned.

    Returns
    -------
    DayForecast
    """
    dry, clean, at_heat = hours_of(results)
    hours = {"dry": _hour(dry, weights), "clean": _hour(clean, weights)}
    hours["ready"] = _hour(at_heat, weights)
    here = middles(results, weights)
    last_out = max((out for out, _ in day.away), default=0.0)
    known_until = max(float(day.time[-1]), last_out, day.ended or 0.0)
    pour_at = float(case.planned.time[-1]) + longer
    leaves = pour_at if day.ended is None else day.ended
    wanted = float(case.planned.temperature[-1])

    def at(time: float, of: Callable[[BurnoutResult], si.Table]) -> si.Table:
        return np.concatenate([along(result.heat.time, of(result), time) for result in results])

    near = np.abs(at(leaves, lambda result: result.heat.core) - wanted) <= NEAR
    return DayForecast(
        start=log.start,
        readings=(),
        known_until=known_until,
        curve=middle,
        planned=case.planned,
        dry_at=hours["dry"],
        clean_at=hours["clean"],
        ready_at=hours["ready"],
        planned_dry=_planned(hours["dry"], here.dry, case.expected.dry),
        planned_clean=_planned(hours["clean"], here.clean, case.expected.clean),
        planned_ready=_planned(hours["ready"], here.ready, case.expected.ready),
        pour_at=pour_at,
        chance_clean=float(weights @ (np.nan_to_num(clean, nan=math.inf) <= leaves)),
        chance_at_heat=float(weights @ near),
        core=_spread(at(known_until, lambda result: result.heat.core), weights),
        water=_spread(at(known_until, lambda result: result.heat.free_water), weights),
        char=_spread(at(leaves, lambda result: result.fate.char), weights),
        turns=(),
        turns_reason="",
        ended=day.ended,
        out_since=day.away[-1][0] if day.is_out else None,
        alone=standing(weights),
        particles=weights.size,
        renewed=False,
        findings=(),
    )


def _hour(times: si.Seconds, weights: si.Ratios) -> Hour:
    found = percentiles(np.nan_to_num(times, nan=math.inf), weights, _SHARES).tolist()
    low, middle, high = (when if math.isfinite(when) else None for when in found)
    return Hour(p10=low, p50=middle, p90=high)


def _planned(hour: Hour, here: si.Second | None, expected: si.Second | None) -> si.Second | None:
    """Return where the middle would lie had the day gone as expected."""
    if hour.p50 is None or here is None or expected is None:
        return None
    return hour.p50 - (here - expected)


def _spread(values: si.Table, weights: si.Ratios) -> Spread:
    low, middle, high = percentiles(values, weights, _SHARES).tolist()
    return Spread(p10=low, p50=middle, p90=high)
