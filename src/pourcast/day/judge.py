"""Judge: which readings are believed?

A reading is held against the last one of the same thermometer that was believed.  In
the time between the two the place may have warmed or cooled by so much an hour, and
the gauge may have moved by a little at once:

    -`FALLING` (t - t_last) - `SLACK` <= T - T_last <= `RISING` (t - t_last) + `SLACK`   (1)

Outside that it is questioned: it would fit in the other unit; the probe hangs in the
room; or it has jumped.  A jump is believed once the next reading bears it out, for
then the kiln has jumped and not the gauge.  A unit and a cold probe are not, since
the next reading is wrong in the same way: only the caster can say that they are
right.  Nothing is dropped; what is questioned is kept, shown and counts for nothing.

A flask that is taken out or put in opens the door, and a fall is then no surprise.

Left out: a probe that drifts slowly, which (1) lets pass; after a gap of some hours
nearly everything passes.
"""

from collections.abc import Set
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.day.model import DayEvent, DayLog, DayReading, Doubt, Judged, Place

RISING, FALLING = 900.0 / 3600.0, 300.0 / 3600.0
"""K/s, the high ends of what a studio kiln can do, loaded and shut (records
kiln.fastest_ramp and kiln.fastest_cooling); estimates."""

SLACK = 25.0
"""K, that a gauge moves at once: a door, a probe that is touched; estimate."""

COLD, WARM = 333.15, 373.15
"""K, 60 and 100 °C: a probe under the one in a kiln that was over the other; estimate."""

_OPENS = ("out", "blew", "in", "sealed")


def judged(log: DayLog) -> tuple[Judged, ...]:
    """Return the readings of a day in the order of time, each with what is held against it.

    Parameters
    ----------
    log : DayLog

    Returns
    -------
    tuple of Judged
        Readings that are alike in place, moment and temperature are one.
    """
    places: tuple[Place, ...] = ("kiln", "wall", "core", "metal")
    found: list[Judged] = []
    for place in places:
        of_place = {
            (each.at, each.temperature): each for each in log.readings if each.place == place
        }
        found += _of_one([of_place[moment] for moment in sorted(of_place)], log.events)
    return tuple(sorted(found, key=_order))


def believed(readings: tuple[Judged, ...], place: Place) -> tuple[DayReading, ...]:
    """Return the readings of one place that count, in the order of time.

    Parameters
    ----------
    readings : tuple of Judged
    place : {"kiln", "wall", "core", "metal"}
    """
    return tuple(
        each.reading for each in readings if each.reading.place == place and each.doubt is None
    )


def questioned(readings: tuple[Judged, ...]) -> tuple[DayReading, ...]:
    """Return the readings that the caster has still to say right or wrong of.

    Parameters
    ----------
    readings : tuple of Judged
    """
    return tuple(each.reading for each in readings if each.doubt not in (None, "said wrong"))


def _order(each: Judged) -> tuple[float, float, Place]:
    return each.reading.at, each.reading.temperature, each.reading.place


def _of_one(readings: list[DayReading], events: tuple[DayEvent, ...]) -> list[Judged]:
    """Return the readings of one place, judged."""
    opened = sorted(event.at for event in events if event.act in _OPENS)
    # Of two words on one reading the one that was said last counts.
    said = {
        event.at: event.act
        for event in events
        if event.act in ("right", "wrong") and _is_of(event, readings)
    }
    right = {at for at, act in said.items() if act == "right"}
    wrong = said.keys() - right
    found: list[Judged] = []
    last: DayReading | None = None
    jumped: int | None = None
    doubtful = _doubtful(readings, opened, wrong)
    place = 0
    while place < len(readings):
        if place and last is readings[place - 1]:
            # Each reading fits the one before it, which is believed: so are they all.
            until = int(doubtful[np.searchsorted(doubtful, place)])
            if until > place:
                found += [Judged(reading=each) for each in readings[place:until]]
                last, jumped, place = readings[until - 1], None, until
                continue
        reading = readings[place]
        place += 1
        if reading.at in wrong:
            found.append(Judged(reading=reading, doubt="said wrong"))
            continue
        doubt: Doubt | None = None
        if last is not None and reading.at not in right and not _fits(last, reading, opened):
            doubt = _doubt(last, reading)
        borne_out = jumped is not None and _fits(found[jumped].reading, reading, opened)
        if jumped is not None and borne_out and doubt in (None, "jump"):
            found[jumped] = replace(found[jumped], doubt=None, expected=None)
            doubt = None
        if last is None or doubt is None:
            found.append(Judged(reading=reading))
            last, jumped = reading, None
            continue
        found.append(Judged(reading=reading, doubt=doubt, expected=last.temperature))
        jumped = len(found) - 1 if doubt == "jump" else jumped
    return found


def _doubtful(readings: list[DayReading], opened: list[float], wrong: Set[float]) -> si.Integers:
    """Return which readings do not fit the one before them or are said wrong, and their number."""
    at = np.array([each.at for each in readings])
    read = np.array([each.temperature for each in readings])
    change, span = np.diff(read), np.diff(at)
    moments = np.array(opened)
    came = np.searchsorted(moments, at[1:], side="right") > np.searchsorted(moments, at[:-1])
    is_out = (np.abs(change) > _reach(change, span)) & ~((change < 0.0) & came)
    if readings and readings[0].place == "metal":
        is_out[:] = False
    said = np.isin(at, np.array(sorted(wrong)))
    out = np.concatenate(([False], is_out)) | said if readings else said
    return np.append(np.flatnonzero(out), len(readings))


def _is_of(event: DayEvent, readings: list[DayReading]) -> bool:
    return bool(readings) and event.place in (None, readings[0].place)


def _fits(last: DayReading, reading: DayReading, opened: list[float]) -> bool:
    """Return whether a place can have come from one reading to the other, equation (1)."""
    change = reading.temperature - last.temperature
    if reading.place == "metal":
        # Metal is charged, melted and poured: it does what no kiln does.
        return True
    if change < 0.0 and any(last.at <= moment <= reading.at for moment in opened):
        return True
    return bool(abs(change) <= _reach(change, reading.at - last.at))


def _reach(change: float | si.Floats, span: float | si.Floats) -> si.Floats:
    """Return how far a place can come in a span, by the way that it went; equation (1)."""
    return np.asarray(np.where(np.asarray(change) > 0.0, RISING, FALLING) * span + SLACK)


def _doubt(last: DayReading, reading: DayReading) -> Doubt:
    other = (
        si.to_si(si.from_si(reading.temperature, "degC"), "F"),
        si.to_si(si.from_si(reading.temperature, "F"), "degC"),
    )
    span = reading.at - last.at
    moves = [swapped - last.temperature for swapped in other]
    if any(abs(move) <= _reach(move, span) for move in moves):
        return "unit"
    if reading.temperature < COLD and last.temperature > WARM:
        return "cold probe"
    return "jump"
