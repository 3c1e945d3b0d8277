"""Kiln day: can this log tell what a kiln is like?

A log tells heat lost from heat put in where the dial was turned, where it lasts
long enough for the air to bend, and where it has more readings than unknowns.
Place 0 of the dial is off and heats nothing.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_finite

LEAST_TIME = 7200.0
"""s, of a log that stands alone; estimate."""

SPARE = 4
"""Readings beyond the unknowns that a log needs; estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A log that can be fitted.

    Parameters
    ----------
    time : array [s], shape (readings,)
        From the first reading, rising.
    temperature : array [K], shape (readings,)
    place : array of int, shape (readings,)
        Index of the setting from each reading to the next; ``settings`` in all
        where the kiln is off.
    settings : array [-], shape (settings,)
        Places of the dial that heat, rising.
    room : float [K]
    load : array [K/s], shape (readings,)
    """

    time: si.Seconds
    temperature: si.Kelvins
    place: si.Integers
    settings: si.Ratios
    room: si.Kelvin
    load: si.KelvinsPerSecond


def day_of(
    time: si.Seconds,
    temperature: si.Kelvins,
    dial: si.Ratios,
    *,
    room: si.Kelvin,
    load: si.KelvinsPerSecond | None,
    known: si.Ratios | None,
) -> Day:
    """Return a log that can be fitted.

    Parameters
    ----------
    time : array [s], shape (readings,)
        Rising.
    temperature : array [K], shape (readings,)
    dial : array [-], shape (readings,)
        Place of the dial from each reading to the next; 0 is off.
    room : float [K]
    load : array or None [K/s], shape (readings,)
    known : array or None [-], shape (settings,)
        Settings that an earlier day told of; with them a short log will do.

    Returns
    -------
    Day

    Raises
    ------
    InputError
        If a value is out of its limits, or the log alone cannot tell.
    """
    require_finite("time of a reading", time, "s")
    require_between("temperature of a reading", temperature, "K", 200.0, 2000.0)
    require_between("setting of the dial", dial, "", 0.0, 1e6)
    require_between("room of the kiln", room, "K", 200.0, 400.0)
    if time.ndim != 1 or time.shape != temperature.shape or time.shape != dial.shape:
        raise InputError("kiln log", time.shape, "", "one time and one setting for each reading")
    if time.size < 2 or np.any(np.diff(time) <= 0.0):
        raise InputError("time of the kiln log", "not rising", "", "rising")
    pull = np.zeros(time.size) if load is None else load
    require_finite("load of the kiln", pull, "K/s")
    # The last reading drives nothing; its setting may be one that was never tried.
    used = np.unique(dial[:-1])
    settings = used[used > 0.0]
    if known is None:
        _require_telling(time, used)
    else:
        settings = np.union1d(settings, known[known > 0.0])
    place = np.where(dial > 0.0, np.searchsorted(settings, dial), settings.size)
    place[-1] = settings.size
    return Day(
        time=time - time[0],
        temperature=temperature,
        place=place.astype(np.int64),
        settings=settings,
        room=room,
        load=pull,
    )


def _require_telling(time: si.Seconds, used: si.Ratios) -> None:
    if used.size < 2:
        raise InputError(
            "settings in the kiln log",
            f"{used[0]:g} alone",
            "",
            "two or more, off counted",
            "Log a day on which the dial is turned.",
        )
    span = float(time[-1] - time[0])
    if span < LEAST_TIME:
        shown = f"{si.from_si(span, 'h'):.2g}"
        raise InputError("kiln log", shown, "h", f"{si.from_si(LEAST_TIME, 'h'):g} h or longer")
    needed = 3 + used.size + SPARE
    if time.size < needed:
        raise InputError("kiln log", time.size, "readings", f"{needed} or more")
