"""Curves: what the kiln air does over the day, from steps, from a log, or from both.

A step goes to a temperature at its ramp and holds there.  With start T0, targets
T_i, ramps r_i and holds h_i the corners of the curve lie at

    t(reached i) = t(left i-1) + |T_i - T_{i-1}| / r_i                       (1)
    t(left i)    = t(reached i) + h_i                                        (2)

and the air runs straight between them.  A step below the one before it cools.
The end of a curve is the planned pour.  Left out: the rounding of the corners by
a kiln that cannot turn at once, some minutes; a ramp that the kiln cannot follow,
which makes the real day longer.

Simplifying a log: Douglas and Peucker (1973), Cartographica 10, 112, with the
distance taken in temperature.
"""

from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import Curve, KilnStep
from pourcast.errors import InputError, require_finite, require_not_negative, require_positive
from pourcast.speech import Heat, Heats, said

COLDEST, HOTTEST = 253.15, 1673.15
"""K, -20 and 1400 °C: a kiln in a shed in frost, and past any of this work; estimate."""

LONGEST = 3.6e6
"""s, 1000 h: past it a slip of the pen is likelier than a burnout; estimate."""

SAME = 1e-6
"""K within which two temperatures are one; takes off the rounding of °F."""


def curve_of(
    steps: Sequence[KilnStep],
    *,
    start: si.Kelvin,
    fastest: si.KelvinPerSecond,
    name: str,
    fastest_cooling: si.KelvinPerSecond | None = None,
    room: si.Kelvin | None = None,
) -> Curve:
    """Return the curve of ramp and hold steps, equations (1) and (2).

    Parameters
    ----------
    steps : sequence of KilnStep
        One or more.
    start : float [K]
        Of the air as the block goes in.
    fastest : float [K/s]
        What a step without a ramp heats at; > 0.  A written ramp is taken as
        written, also where it is steeper.
    name : str
    fastest_cooling : float or None [K/s]
        What a step without a ramp cools at; None: ``fastest``.
    room : float or None [K]
        Of the air round the kiln, below which it cannot cool; None: ``start``.

    Returns
    -------
    Curve

    Raises
    ------
    InputError
        If there are no steps, a number of them is out of its limits, a step goes
        under the room, or the whole lasts no time or over `LONGEST`.
    """
    if not steps:
        raise InputError("kiln steps", "none", "", "one or more", "Write one [[kiln.step]].")
    cooling = fastest if fastest_cooling is None else fastest_cooling
    require_positive("fastest ramp of the kiln", fastest, "K/s")
    require_positive("fastest cooling of the kiln", cooling, "K/s")
    _require_heat("start of the kiln curve", start)
    coldest = start if room is None else room
    time, temperature = [0.0], [start]
    for place, step in enumerate(steps, start=1):
        _require_step(place, step, coldest)
        change = step.temperature - temperature[-1]
        if abs(change) > SAME:
            ramp = step.ramp
            if ramp is None:
                ramp = fastest if change > 0.0 else cooling
            time.append(time[-1] + abs(change) / ramp)
            temperature.append(step.temperature)
        if step.hold > 0.0:
            time.append(time[-1] + step.hold)
            temperature.append(temperature[-1])
    return _checked(name, np.array(time), np.array(temperature))


def curve_of_log(time: si.Seconds, temperature: si.Kelvins, name: str = "logged") -> Curve:
    """Return the curve of a kiln log; the first reading is its beginning.

    Parameters
    ----------
    time : array [s], shape (readings,)
        Rising; counted from any moment.
    temperature : array [K], shape (readings,)
    name : str

    Returns
    -------
    Curve

    Raises
    ------
    InputError
        If there are fewer than two readings, one is not a number or out of its
        limits, the time does not rise, or the whole lasts over `LONGEST`.
    """
    at = np.asarray(time, dtype=float)
    read = np.asarray(temperature, dtype=float)
    if at.ndim != 1 or at.shape != read.shape:
        raise InputError("kiln log", f"{at.shape} and {read.shape}", "", "a time for each reading")
    if at.size < 2:
        raise InputError("kiln log", f"{at.size} readings", "", "two readings or more")
    require_finite("time of a reading", at, "s")
    return _checked(name, at - at[0], read)


def temperature_at(curve: Curve, time: si.Seconds) -> si.Kelvins:
    """Return the air at any moments; before the start and after the end it stays.

    Parameters
    ----------
    curve : Curve
    time : array [s], any shape

    Returns
    -------
    array [K], shape of ``time``
    """
    return np.asarray(np.interp(time, curve.time, curve.temperature))


def simplified(curve: Curve, within: si.Kelvin) -> Curve:
    """Return a curve with as few of its points as keep it near, and the same ends.

    Parameters
    ----------
    curve : Curve
    within : float [K]
        Most that the new curve lies off a point of the old one; 0 or more.

    Returns
    -------
    Curve

    Raises
    ------
    InputError
        If ``within`` is below 0.
    """
    require_not_negative("within", within, "K")
    kept = np.zeros(curve.time.size, dtype=bool)
    kept[[0, -1]] = True
    spans = [(0, curve.time.size - 1)]
    while spans:
        first, last = spans.pop()
        if last - first < 2:
            continue
        ends = [first, last]
        inner = slice(first + 1, last)
        chord = np.interp(curve.time[inner], curve.time[ends], curve.temperature[ends])
        off = np.abs(curve.temperature[inner] - chord)
        if off.max() > max(within, SAME):
            worst = first + 1 + int(off.argmax())
            kept[worst] = True
            spans += [(first, worst), (worst, last)]
    return Curve(name=curve.name, time=curve.time[kept], temperature=curve.temperature[kept])


def steps_of(curve: Curve) -> tuple[KilnStep, ...]:
    """Return a curve as steps; with its first temperature as start they give it back.

    Parameters
    ----------
    curve : Curve
        A logged one is best `simplified` first.

    Returns
    -------
    tuple of KilnStep
        Each with its ramp said, but for a hold at the very start.
    """
    steps: list[KilnStep] = []
    spans = zip(np.diff(curve.time).tolist(), np.diff(curve.temperature).tolist(), strict=True)
    for place, (span, change) in enumerate(spans, start=1):
        goal = float(curve.temperature[place])
        if abs(change) > SAME:
            steps.append(KilnStep(temperature=goal, ramp=abs(change) / span, hold=0.0))
        elif steps:
            last = steps[-1]
            longer = last.hold + span
            steps[-1] = KilnStep(temperature=last.temperature, ramp=last.ramp, hold=longer)
        else:
            steps.append(KilnStep(temperature=goal, ramp=None, hold=span))
    return tuple(steps)


def _require_step(place: int, step: KilnStep, coldest: si.Kelvin) -> None:
    what = f"kiln step {place}"
    _require_heat(what, step.temperature)
    if step.temperature < coldest - SAME:
        raise InputError(
            what,
            _celsius(step.temperature),
            "°C",
            said("{coldest} or more", coldest=Heat(coldest)),
            "No kiln cools below the room it stands in.",
        )
    if step.ramp is not None:
        require_positive(f"ramp of {what}", step.ramp, "K/s")
    require_not_negative(f"hold of {what}", step.hold, "s")


def _require_heat(what: str, temperature: si.Kelvins | si.Kelvin) -> None:
    require_finite(what, temperature, "K")
    for bad in np.atleast_1d(temperature).tolist():
        if not COLDEST <= bad <= HOTTEST:
            must = said("{heats}", heats=Heats(COLDEST, HOTTEST))
            raise InputError(what, _celsius(bad), "°C", must, "Was it read in another unit?")


def _celsius(kelvin: si.Kelvin) -> str:
    return f"{si.from_si(kelvin, 'degC'):g}"


def _checked(name: str, time: si.Seconds, temperature: si.Kelvins) -> Curve:
    require_finite("time of the kiln curve", time, "s")
    _require_heat("temperature of the kiln curve", temperature)
    late = np.flatnonzero(np.diff(time) <= 0.0)
    if late.size:
        moment = f"{si.from_si(float(time[late[0] + 1]), 'h'):g}"
        raise InputError("time of the kiln curve", moment, "h", "later than the point before it")
    hours = si.from_si(float(time[-1]), "h")
    if not 0.0 < time[-1] <= LONGEST:
        must = f"more than 0, up to {si.from_si(LONGEST, 'h'):g} h"
        raise InputError("length of the kiln curve", f"{hours:g}", "h", must)
    return Curve(name=name, time=time, temperature=temperature)
