"""So far: what did the air at the block do, by readings and acts?

The kiln's air runs straight from reading to reading.  While the flask is out of the
kiln the air at the block is that of the room.  A flask that is still out counts as
back after `BACK_IN`.  Before the first reading the kiln comes from the room.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import Curve
from pourcast.day.judge import believed
from pourcast.day.model import DayLog, Judged

BACK_IN = 300.0
"""s, out of the kiln to be blown out; estimate."""

MOST_POINTS, MEAN_OVER = 1000, 60.0
"""Readings past which those of one minute, s, are one; our own choice."""

_AT_ONCE = 1.0  # s, in which the air at the block becomes another


@dataclass(frozen=True, slots=True, kw_only=True)
class SoFar:
    """The day up to its last reading; times count from the start.

    Parameters
    ----------
    time : array [s], shape (points,)
        Rising; the first is 0.
    temperature : array [K], shape (points,)
        Air of the kiln, by the gauge.
    dial : array [-], shape (points,)
        Place of the dial from each point on, from the last one on as it stands now; not a
        number where it is not known.
    is_read : array of bool, shape (points,)
        Whether it is a reading, and not a turn of the dial between two.
    away : tuple of pair of float [s]
        In which the flask was out of the kiln.
    is_out : bool
        Whether it is out now, without having been poured.
    ended : float or None [s]
        When the flask left the kiln for the pour; None: it has not.
    """

    time: si.Seconds
    temperature: si.Kelvins
    dial: si.Ratios
    is_read: si.Booleans
    away: tuple[tuple[si.Second, si.Second], ...]
    is_out: bool
    ended: si.Second | None


def so_far(log: DayLog, readings: tuple[Judged, ...], room: si.Kelvin) -> SoFar:
    """Return the day up to its last reading that counts.

    Parameters
    ----------
    log : DayLog
    readings : tuple of Judged
        Of the same log.
    room : float [K]
        Air round the kiln.

    Returns
    -------
    SoFar
    """
    away, is_out, ended = _away(log)
    kiln = [each for each in believed(readings, "kiln") if each.at >= log.start]
    if ended is not None:
        kiln = [each for each in kiln if each.at - log.start <= ended]
    at = np.array([each.at - log.start for each in kiln])
    read = np.array([each.temperature for each in kiln])
    if at.size > MOST_POINTS:
        # A controller that reads each second says no more than its minutes do.
        at = MEAN_OVER * (np.floor(at / MEAN_OVER) + 0.5)
    if at.size:
        moments, which = np.unique(at, return_inverse=True)
        read = np.bincount(which, weights=read) / np.bincount(which)
        at = moments
    if at.size == 0 or at[0] > 0.0:
        at, read = np.append(0.0, at), np.append(room, read)
    turns = sorted(
        (event.at - log.start, event.setting)
        for event in log.events
        if event.act == "turned" and event.setting is not None
    )
    # A turn is a point of its own, so that a setting holds from its very moment.
    moments = np.array([time for time, _ in turns if 0.0 < time < at[-1]])
    time = np.union1d(at, moments)
    dial = np.full(time.size, np.nan)
    for moment, setting in turns:
        dial[time >= moment] = setting
        # A turn since the last reading is known as well, and says how the dial stands now.
        dial[-1] = setting
    return SoFar(
        time=time,
        temperature=np.interp(time, at, read),
        dial=dial,
        is_read=np.isin(time, at),
        away=away,
        is_out=is_out,
        ended=ended,
    )


def at_the_block(
    curve: Curve, away: Sequence[tuple[si.Second, si.Second]], room: si.Kelvin
) -> Curve:
    """Return the air at the block: that of the kiln, and that of the room while it is out.

    Parameters
    ----------
    curve : Curve
        Of the kiln.
    away : sequence of pair of float [s]
    room : float [K]

    Returns
    -------
    Curve
    """
    end = float(curve.time[-1])
    time, temperature = curve.time, curve.temperature
    for out, back in away:
        last = min(back, end)
        if out >= last - 2.0 * _AT_ONCE:
            continue
        edges = np.array([out, out + _AT_ONCE, last - _AT_ONCE, last])
        air = np.array([np.interp(out, time, temperature), room, room, 0.0])
        air[3] = np.interp(last, time, temperature)
        kept = (time < out) | (time > last)
        order = np.argsort(np.concatenate((time[kept], edges)), kind="stable")
        temperature = np.concatenate((temperature[kept], air))[order]
        time = np.concatenate((time[kept], edges))[order]
    if time[0] > 0.0:
        time, temperature = np.append(0.0, time), np.append(curve.temperature[0], temperature)
    return Curve(name=curve.name, time=time, temperature=temperature)


def _away(log: DayLog) -> tuple[tuple[tuple[float, float], ...], bool, float | None]:
    """Return when the flask was out, whether it is, and when it left for the pour."""
    spans: list[tuple[float, float]] = []
    out: float | None = None
    poured = False
    for event in sorted(log.events, key=lambda each: each.at):
        time = max(event.at - log.start, 0.0)
        if event.act in ("out", "blew") and out is None and not poured:
            out = time
        elif event.act == "in" and out is not None and not poured:
            if time > out:
                spans.append((out, time))
            out = None
        elif event.act in ("sealed", "poured"):
            poured = True
            out = time if out is None else out
    if poured:
        return tuple(spans), False, out
    if out is not None:
        spans.append((out, out + BACK_IN))
    return tuple(spans), out is not None, None
