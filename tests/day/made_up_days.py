"""Days that did not happen: a truth drawn like any day, read with noise, forecast half-way."""

from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import steps_of
from pourcast.burnout.model import BurnoutCase
from pourcast.burnout.solve import solve
from pourcast.day.case import DayCase
from pourcast.day.futures import HEAT, PACE, one_future
from pourcast.day.model import DayForecast, DayLog, DayReading
from pourcast.day.particles import rows_of
from pourcast.day.rest import rest_of_plan, waiting
from pourcast.day.solve import reforecast
from pourcast.forecast.burnout_case import burnout_case
from pourcast.forecast.model import Hour
from pourcast.forecast.prepare import prepare

NOISE = 2.0
"""K, of a gauge that is read by eye; estimate."""


def intervals(
    case: DayCase, days: int, *, seed: int, wall: bool = False, goes_on: bool = True
) -> dict[str, list[tuple[float, Hour]]]:
    """Return for each day what was achieved, and the interval told after some hours.

    The block, the matter and the error of the thermometer are drawn anew; so are the
    pace and the heat of the kiln from the very start, from the laws that the forecast
    takes them from.  They go on to the end of the day, or are drawn once more for what
    is left of it.  The forecast sees the gauge alone, and the wall where asked.
    """
    rng = np.random.default_rng(seed)
    ready = prepare(case.plan, None, days, 10_000 + seed)
    truths = burnout_case(case.plan, ready, case.planned)
    steps = steps_of(case.planned)
    control = case.plan.kiln.control
    cold = np.array([float(case.planned.temperature[0])])
    found: dict[str, list[tuple[float, Hour]]] = {"dry": [], "clean": []}
    for day in range(days):
        row = np.array([day])
        curve = one_future(
            waiting(steps),
            np.zeros(1),
            cold,
            pace=float(np.exp(PACE[control] * rng.standard_normal())),
            off=HEAT[control] * float(rng.standard_normal()),
        )
        of_this = BurnoutCase(
            block=rows_of(truths.block, row),
            matter=rows_of(truths.matter, row),
            burning=rows_of(truths.burning, row),
            curve=curve,
        )
        truth = solve(of_this)
        seen = np.arange(0.0, rng.uniform(0.2, 0.9) * float(truth.heat.dry_at[0]), 900.0)
        again = (
            float(np.exp(PACE[control] * rng.standard_normal())),
            HEAT[control] * float(rng.standard_normal()),
        )
        if not goes_on and seen.size:
            past = np.interp(seen, curve.time, curve.temperature)
            rest = rest_of_plan(steps, float(cold[0]), seen, past)
            curve = one_future(waiting(rest), seen, past, pace=again[0], off=again[1])
            truth = solve(replace(of_this, curve=curve))
        dry = float(truth.heat.dry_at[0])
        air = np.interp(seen, curve.time, curve.temperature) + NOISE * rng.standard_normal(
            seen.size
        )
        readings = [
            DayReading(place="kiln", at=float(at), temperature=float(read))
            for at, read in zip(seen, air, strict=True)
        ]
        if wall:
            face = np.interp(seen, truth.heat.time, truth.heat.wall[0])
            readings += [
                DayReading(place="wall", at=float(at), temperature=float(read + 10.0 * error))
                for at, read, error in zip(
                    seen[3::4], face[3::4], rng.standard_normal(seen[3::4].size), strict=True
                )
            ]
        said = reforecast(case, DayLog(start=0.0, readings=tuple(readings)))
        found["dry"].append((dry, said.dry_at))
        found["clean"].append((float(truth.fate.clean_at[0]), said.clean_at))
    return found


def share_inside(pairs: list[tuple[float, Hour]]) -> si.Ratio:
    """Return the share of days that ended in their 80 % interval."""
    inside = [_late(hour.p10) <= _late(achieved) <= _late(hour.p90) for achieved, hour in pairs]
    return float(np.mean(inside))


def share_late(pairs: list[tuple[float, Hour]]) -> si.Ratio:
    """Return the share of days that ended after their interval."""
    return float(np.mean([_late(achieved) > _late(hour.p90) for achieved, hour in pairs]))


def _late(time: float | None) -> float:
    return np.inf if time is None or np.isnan(time) else time


def hand(case: DayCase) -> DayCase:
    """Return a case whose kiln is turned by hand."""
    return replace(case, plan=replace(case.plan, kiln=replace(case.plan.kiln, control="hand")))


def told_hours(said: DayForecast) -> tuple[Hour, Hour, Hour]:
    """Return the three hours of a day."""
    return said.dry_at, said.clean_at, said.ready_at
