"""Kiln: how does the air of a hand-turned kiln follow its dial?

The kiln and all that stands in it are one body of heat.  Divided by its capacity
C, with the heating q of a dial setting, the loss k through walls and door, the
loss g by radiation through gaps, and the pull l of a load that takes heat,

    dT/dt = q(dial) - l - k (T - Ta) - g (T⁴ - Ta⁴) / (4 Tr³)                (1)

    q = P/C,  k = UA/C,  g = 4 ε σ A Tr³ / C

Tr is `GLOW_AT`, so g is a rate like k: what radiation adds to k at that heat.
How it is followed over time stands in `pourcast.burnout.kiln_march`.  All numbers
are over the capacity, for a log of temperatures alone cannot tell a
large kiln with much power from a small one with little; with the power of one
setting known, C follows.

Left out: bricks that warm behind the air.  A kiln of heavy brick overshoots less
and cools slower than (1) says after a long day.

Source: (1) lumped capacity, Incropera and DeWitt, Fundamentals of Heat and
Mass Transfer, ch. 5; the load is what the block takes.
"""

from dataclasses import dataclass
from typing import Annotated, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln_march import march, march_ways
from pourcast.errors import (
    InputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)

JoulePerKelvin: TypeAlias = Annotated[float, si.Unit("J/K")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A kiln as one body of heat; every number is over its capacity.

    Parameters
    ----------
    loss : float [1/s]
        Through walls and door.
    glow : float [1/s]
        By radiation, counted at `GLOW_AT`; 0 where the log shows none.
    settings : array [-], shape (settings,)
        Places of the dial as they are numbered, rising.
    heating : array [K/s], shape (settings,)
        What each place heats the kiln at.
    room : float [K]
        Air round the kiln.
    """

    loss: si.PerSecond
    glow: si.PerSecond
    settings: si.Ratios
    heating: si.KelvinsPerSecond
    room: si.Kelvin


def require_body(body: Body) -> None:
    """Raise `InputError` unless a body could be a kiln.

    Parameters
    ----------
    body : Body

    Raises
    ------
    InputError
        If a loss is below 0, both are 0, or the settings do not rise.
    """
    require_not_negative("loss of the kiln", body.loss, "1/s")
    require_not_negative("radiation of the kiln", body.glow, "1/s")
    require_positive("loss of the kiln in all", body.loss + body.glow, "1/s")
    require_between("room of the kiln", body.room, "K", 200.0, 400.0)
    require_finite("settings of the dial", body.settings, "")
    require_finite("heating of the kiln", body.heating, "K/s")
    if body.settings.size == 0 or body.settings.shape != body.heating.shape:
        raise InputError("settings of the dial", body.settings.size, "", "one for each heating")
    if np.any(np.diff(body.settings) <= 0.0):
        raise InputError("settings of the dial", body.settings.tolist(), "", "rising")


def heating_at(body: Body, dial: si.Ratios) -> si.KelvinsPerSecond:
    """Return what places of the dial heat at; straight between those that are known.

    Parameters
    ----------
    body : Body
    dial : array [-], any shape
        Not outside the known settings.

    Returns
    -------
    array [K/s], shape of ``dial``

    Raises
    ------
    InputError
        If a place lies outside the settings of the body.
    """
    low, high = float(body.settings[0]), float(body.settings[-1])
    require_between("setting of the dial", dial, "", low, high)
    return np.asarray(np.interp(dial, body.settings, body.heating))


def air_of(
    body: Body,
    time: si.Seconds,
    dial: si.Ratios,
    start: si.Kelvin,
    load: si.KelvinsPerSecond | None = None,
) -> si.Kelvins:
    """Return the air of the kiln at moments, equation (1).

    Parameters
    ----------
    body : Body
    time : array [s], shape (moments,)
        Rising.
    dial : array [-], shape (moments,)
        Place of the dial from each moment to the next; the last one is not used.
    start : float [K]
        Air at the first moment.
    load : array or None [K/s], shape (moments,)
        Heat that the load takes from each moment to the next, over the capacity
        of the kiln; None: it is part of the kiln.

    Returns
    -------
    array [K], shape (moments,)

    Raises
    ------
    InputError
        If a value is out of its limits, or time does not rise.
    """
    require_body(body)
    require_finite("time of the dial", time, "s")
    require_positive("start of the kiln", start, "K")
    if time.ndim != 1 or time.size == 0 or time.shape != dial.shape:
        raise InputError("time of the dial", time.shape, "", "one moment for each setting")
    if np.any(np.diff(time) <= 0.0):
        raise InputError("time of the dial", "not rising", "", "rising")
    drive = heating_at(body, dial)
    if load is not None:
        require_finite("load of the kiln", load, "K/s")
        drive = drive - load
    air = np.empty(time.size)
    march(time, drive, start, body.loss, body.glow, body.room, air)
    require_finite("air of the kiln", air, "K")
    return air


def moved(body: Body, air: si.Kelvins, heating: si.KelvinsPerSecond, span: si.Second) -> si.Kelvins:
    """Return what many airs come to in a short while, each under its own heating.

    Parameters
    ----------
    body : Body
    air : array [K], shape (ways,)
    heating : array [K/s], shape (ways,)
    span : float [s]

    Returns
    -------
    array [K], shape (ways,)
    """
    after = air.copy()
    march_ways(span, heating, body.loss, body.glow, body.room, after)
    return after


def capacity_of(body: Body, setting: si.Ratio, power: si.Watt) -> JoulePerKelvin:
    """Return the heat capacity of a kiln whose power at one setting is known.

    Parameters
    ----------
    body : Body
    setting : float [-]
    power : float [W]
        That the elements take at this setting; > 0.

    Returns
    -------
    float [J/K]
        Of the kiln and what stood in it on the day of the log.

    Raises
    ------
    InputError
        If the power is not above 0, or the setting does not heat.
    """
    require_positive("power of the kiln", power, "W")
    heating = float(heating_at(body, np.array([setting]))[0])
    require_positive("heating of the setting", heating, "K/s")
    return power / heating
