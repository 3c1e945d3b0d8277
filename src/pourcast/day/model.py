"""Records of a kiln day: what was read, what was done, and what that comes to.

Moments are seconds since 1970 in universal time, so that no change of the clocks
moves them.  Times count from the moment when the block went into the kiln.
"""

from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.burnout.dial import Turn
from pourcast.burnout.model import Curve
from pourcast.findings import Finding
from pourcast.forecast.model import Hour, Spread

Place = Literal["kiln", "wall", "core", "metal"]
"""Where a thermometer stands: air of the kiln, wall of the flask, inside the block, pot."""

Act = Literal[
    "turned",
    "out",
    "blew",
    "in",
    "sealed",
    "lit",
    "molten",
    "poured",
    "quenched",
    "right",
    "wrong",
]
"""What may be done; "right" and "wrong" are said of a reading that was questioned."""

ACTS: dict[Act, str] = {
    "turned": "turned the dial",
    "out": "took the flask out",
    "blew": "blew the cavity out",
    "in": "flask back in the kiln",
    "sealed": "flask set down and sealed",
    "lit": "lit the furnace",
    "molten": "metal at its heat",
    "poured": "poured",
    "quenched": "quenched",
    "right": "the reading is right",
    "wrong": "the reading is wrong",
}
"""Each act in words."""

Doubt = Literal["cold probe", "unit", "jump", "said wrong"]
"""Why a reading is questioned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayReading:
    """One reading.

    Parameters
    ----------
    place : {"kiln", "wall", "core", "metal"}
    at : float [s]
        Since 1970.
    temperature : float [K]
        As it was read.
    """

    place: Place
    at: si.Second
    temperature: si.Kelvin


@dataclass(frozen=True, slots=True, kw_only=True)
class DayEvent:
    """One act.

    Parameters
    ----------
    act : str
        A key of `ACTS`.
    at : float [s]
        When it was done, since 1970; of "right" and "wrong" the moment of the reading.
    setting : float or None [-]
        Of the dial, where it was turned.
    place : str or None
        Of the reading, where one is said right or wrong.
    """

    act: Act
    at: si.Second
    setting: si.Ratio | None = None
    place: Place | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLog:
    """All that is known of a day; the forecast depends on nothing else of it.

    Parameters
    ----------
    start : float [s]
        When the block went in, since 1970.
    readings : tuple of DayReading
        In any order.
    events : tuple of DayEvent
        In any order, but that of two words on one reading the one said last stands later.
    """

    start: si.Second
    readings: tuple[DayReading, ...] = ()
    events: tuple[DayEvent, ...] = ()


def until(log: DayLog, at: si.Second) -> DayLog:
    """Return what was read and done of a day by a moment.

    Parameters
    ----------
    log : DayLog
    at : float [s]
        Since 1970; what is of that moment counts.

    Returns
    -------
    DayLog
    """
    return DayLog(
        start=log.start,
        readings=tuple(each for each in log.readings if each.at <= at),
        events=tuple(each for each in log.events if each.at <= at),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A reading, and whether it is believed.

    Parameters
    ----------
    reading : DayReading
    doubt : str or None
        None: it counts.  Else it is kept and shown, and counts for nothing.
    expected : float or None [K]
        What was about to be read, where it is questioned.
    """

    reading: DayReading
    doubt: Doubt | None = None
    expected: si.Kelvin | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DayForecast:
    """The day as it looks from the last reading.

    Parameters
    ----------
    start : float [s]
        Since 1970.
    readings : tuple of Judged
        In the order of time.
    known_until : float [s]
        Last reading or act of the kiln that counts, from the start; 0: none yet.
    curve : Curve
        Kiln by its log, and on along the plan; the middle of the futures.
    planned : Curve
    dry_at, clean_at, ready_at : Hour
        From the start; None: not by the end of the curve.
    planned_dry, planned_clean, planned_ready : float or None [s]
        Where the middle of these hours would lie had the day gone as it was expected to before
        its first reading; their difference is what is told as ahead or behind.
    pour_at : float [s]
        Planned, from the start.
    chance_clean : float [-]
        That the cavity is clean at ``pour_at``.
    chance_at_heat : float [-]
        That the core is near the casting temperature at ``pour_at``.
    core : Spread [K]
        At ``known_until``.
    water : Spread [-]
        Free water left then.
    char : Spread [kg]
        Char left at ``pour_at``.
    turns : tuple of Turn
        Of the dial, from the last reading on; empty where it cannot be told.
    turns_reason : str
        Why there are none; "" where there are.
    ended : float or None [s]
        When the flask left the kiln for the pour, from the start; None: it has not.  What is
        said of ``pour_at`` is said of that moment then.
    out_since : float or None [s]
        When a flask that nobody said is back went out, from the start; None: it is in the kiln,
        or poured.
    alone : float [-]
        How many particles the answer rests on, as if all weighed alike.
    particles : int
    renewed : bool
        Whether the particles had to be drawn anew about those that fit.
    findings : tuple of Finding
    """

    start: si.Second
    readings: tuple[Judged, ...]
    known_until: si.Second
    curve: Curve
    planned: Curve
    dry_at: Hour
    clean_at: Hour
    ready_at: Hour
    planned_dry: si.Second | None
    planned_clean: si.Second | None
    planned_ready: si.Second | None
    pour_at: si.Second
    chance_clean: si.Ratio
    chance_at_heat: si.Ratio
    core: Spread
    water: Spread
    char: Spread
    turns: tuple[Turn, ...]
    turns_reason: str
    ended: si.Second | None
    out_since: si.Second | None
    alone: si.Ratio
    particles: int
    renewed: bool
    findings: tuple[Finding, ...]
