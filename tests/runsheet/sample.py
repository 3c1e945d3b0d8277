"""Forecasts and run sheets made by hand; nothing worked them out.

The piece is the invented one of `tests.page.sample`.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any, Literal

import numpy as np

from pourcast.burnout.curves import curve_of
from pourcast.burnout.dial import DialPlan, Turn
from pourcast.burnout.model import Curve, Kiln, KilnStep
from pourcast.cli.runsheet import read_moment, read_zone
from pourcast.forecast.model import BurnoutForecast, Forecast, Hour, PartForecast, Spread
from pourcast.materials import library
from pourcast.page.zones import zone_record
from pourcast.runsheet.model import RunSheet, Zone
from pourcast.runsheet.solve import schedule
from pourcast.sheet.model import Assist
from tests.page import sample

HOUR = 3600.0
UTC_ZONE = Zone(name="UTC", since=(0.0,), ahead=(0.0,), letters=("UTC",))

STEPS = (
    KilnStep(temperature=423.15, ramp=60.0 / HOUR, hold=2.0 * HOUR),
    KilnStep(temperature=643.15, ramp=100.0 / HOUR, hold=1.0 * HOUR),
    KilnStep(temperature=973.15, ramp=120.0 / HOUR, hold=8.0 * HOUR),
    KilnStep(temperature=813.15, ramp=100.0 / HOUR, hold=1.5 * HOUR),
)
"""2 h 10 min + 2 h, 2 h 12 min + 1 h, 2 h 45 min + 8 h, 1 h 36 min + 1 h 30 min: 21 h 13 min."""

TOTAL = (2 + 10 / 60 + 2 + 2.2 + 1 + 2.75 + 8 + 1.6 + 1.5) * HOUR

LATE_SUMMER = "2026-10-24 18:30"
"""The clocks of Berlin go back in the night after it."""


def curve(steps: Sequence[KilnStep] = STEPS, name: str = "as written") -> Curve:
    return curve_of(steps, start=293.15, fastest=500.0 / HOUR, name=name)


def burnout(
    through: Curve | None = None,
    *,
    dry: Hour | None = None,
    wax_gone: Hour | None = None,
    clean: Hour | None = None,
) -> BurnoutForecast:
    """Return a burnout with three hours of our own choice."""
    through = through or curve()
    one = Spread(p10=1.0, p50=1.0, p90=1.0)
    none = np.zeros((3, 2))
    return BurnoutForecast(
        curve=through,
        dry_at=dry or Hour(p10=4.0 * HOUR, p50=4.5 * HOUR, p90=5.0 * HOUR),
        wax_gone_at=wax_gone or Hour(p10=6.0 * HOUR, p50=6.5 * HOUR, p90=7.0 * HOUR),
        clean_at=clean or Hour(p10=10.0 * HOUR, p50=12.0 * HOUR, p90=15.0 * HOUR),
        ready_at=Hour(p10=None, p50=None, p90=None),
        clean_below=1e-6,
        chance_clean=0.9,
        char_left=one,
        peak_core=one,
        peak_wall=one,
        flask_temperature=one,
        overpressure=one,
        stress=one,
        ash_volume=one,
        oxygen_used=one,
        least_oxygen=one,
        time=through.time[[0, -1]],
        kiln=through.temperature[[0, -1]],
        wall=none,
        core=none,
        water=none,
        char=none,
    )


def forecast(
    *,
    control: Literal["hand", "programmed"] = "hand",
    assist: Literal["vacuum", "gravity"] = "vacuum",
    worked_out: BurnoutForecast | None = None,
    steps: tuple[KilnStep, ...] = STEPS,
    parts: int | None = None,
    **plan: Any,
) -> Forecast:
    """Return the sample with a kiln; ``parts``: so many of them, each named."""
    base = sample.forecast()
    drawn = base.parts
    if parts is not None:
        drawn = tuple(_part(base.parts[0], k) for k in range(parts))
    how = Assist(kind="gravity") if assist == "gravity" else base.plan.assist
    made = replace(base.plan, kiln=Kiln(control=control, steps=steps), assist=how, **plan)
    return replace(base, plan=made, parts=drawn, burnout=worked_out)


def named(name: str, **options: Any) -> Forecast:
    """Return the sample under another name."""
    made = forecast(worked_out=burnout(), **options)
    return replace(made, plan=replace(made.plan, piece=replace(made.plan.piece, name=name)))


def sheet(
    made: Forecast | None = None,
    *,
    start: str = "2026-12-05 18:30",
    zone: str = "Europe/Berlin",
    kiln_in: str | None = None,
    **options: Any,
) -> RunSheet:
    """Return the run sheet of a forecast on the wall clock of a zone."""
    place = read_zone(zone)
    begins = read_moment("start", start, place)
    enters = None if kiln_in is None else read_moment("kiln in", kiln_in, place)
    return schedule(
        made or forecast(worked_out=burnout()),
        start=begins.timestamp(),
        zone=zone_record(zone, place, begins, enters or begins),
        book=library(),
        version="0.0.0",
        kiln_in=None if enters is None else enters.timestamp(),
        **options,
    )


def dial(turns: int = 30, every: float = 2400.0) -> DialPlan:
    """Return turns of a dial from 1 to 6 and back, one every 40 min."""
    return DialPlan(
        turns=tuple(
            Turn(
                time=every * k,
                clock="00:00",
                setting=1.0 + 5.0 * abs(math.sin(k)),
            )
            for k in range(turns)
        ),
        curve=curve(),
        miss=8.0,
        worst=20.0,
        worst_at=HOUR,
    )


def moment(text: str) -> float:
    """Return a moment of universal time in seconds since 1970."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC).timestamp()


def _part(like: PartForecast, place: int) -> PartForecast:
    return replace(like, name=f"Side shoot {place + 1} of the second order")
