"""Waiting: how fast does metal lose its heat between the furnace and the lip?

Crucible and metal are one body of heat.  It loses by radiation and to the air,

    C dT/dt = -ε σ A (T⁴ - T_a⁴) - h A (T - T_a)                             (1)

Where one of the two is left out there is a closed form: without radiation
T - T_a = (T_0 - T_a) exp(-h A t / C), and without air, towards a room at 0 K,
1/T³ = 1/T_0³ + 3 ε σ A t / C.  Else (1) is taken in steps of the classical fourth
order.

Left out: the stream of the pour itself, which loses more than the pot (the records
have a rate for both together), and the heat that freezing would set free, which the
metal must not come to.

Source: lumped capacity, Incropera and DeWitt, Fundamentals of Heat and Mass Transfer,
ch. 5.
"""

import math
from dataclasses import dataclass
from typing import Annotated, TypeAlias

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_not_negative, require_positive

JoulePerKelvin: TypeAlias = Annotated[float, si.Unit("J/K")]

_STEP = 5.0  # s; a pot of 0.5 kg at 1100 °C loses some 10 K in it: 1e-9 of the change


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """Metal in its crucible, out of the fire.

    Parameters
    ----------
    capacity : float [J/K]
        Metal and crucible.
    area : float [m²]
        That loses heat: the open face, and what of the crucible stands in the air.
    emissivity : float [-]
    convection : float [W/(m²·K)]
    room : float [K]
    """

    capacity: JoulePerKelvin
    area: si.SquareMetre
    emissivity: si.Ratio
    convection: si.WattPerSquareMetreKelvin
    room: si.Kelvin


def require_pot(pot: Pot) -> None:
    """Raise `InputError` unless a pot could be one.

    Parameters
    ----------
    pot : Pot

    Raises
    ------
    InputError
        If a number is outside its limits.
    """
    require_positive("capacity of the pot", pot.capacity, "J/K")
    require_positive("area of the pot", pot.area, "m²")
    require_between("emissivity of the pot", pot.emissivity, "", 0.0, 1.0)
    require_not_negative("convection of the pot", pot.convection, "W/(m²·K)")
    require_not_negative("room of the pot", pot.room, "K")


def after(pot: Pot, start: si.Kelvin, wait: si.Second) -> si.Kelvin:
    """Return the metal after a wait out of the fire, equation (1).

    Parameters
    ----------
    pot : Pot
    start : float [K]
        > 0.
    wait : float [s]
        0 or more.

    Returns
    -------
    float [K]

    Raises
    ------
    InputError
        If a number is outside its limits.
    """
    require_pot(pot)
    require_positive("start of the metal", start, "K")
    require_not_negative("wait", wait, "s")
    cuts = max(1, math.ceil(wait / _STEP))
    here = start
    for _ in range(cuts):
        here = _stepped(pot, here, wait / cuts)
    return here


def longest_wait(pot: Pot, start: si.Kelvin, least: si.Kelvin) -> si.Second:
    """Return how long metal may stand out of the fire before it is too cold.

    Parameters
    ----------
    pot : Pot
    start, least : float [K]
        As it leaves the fire, and the coldest at which it may be poured.

    Returns
    -------
    float [s]
        0 where it is too cold already; straight within one step of `after`.

    Raises
    ------
    InputError
        If a number is outside its limits, or it would never be so cold.
    """
    require_pot(pot)
    require_positive("start of the metal", start, "K")
    require_positive("coldest of the metal", least, "K")
    if start <= least:
        return 0.0
    if least <= pot.room:
        raise InputError("coldest of the metal", f"{least:g}", "K", "hotter than the room")
    if pot.emissivity == 0.0 and pot.convection == 0.0:
        raise InputError("loss of the pot", 0, "W/K", "more than 0")
    here, waited = start, 0.0
    while True:
        following = _stepped(pot, here, _STEP)
        if following <= least:
            return waited + _STEP * (here - least) / (here - following)
        here, waited = following, waited + _STEP


def _rate(pot: Pot, here: float) -> float:
    glow = pot.emissivity * si.STEFAN_BOLTZMANN * (here**4 - pot.room**4)
    return -pot.area * (glow + pot.convection * (here - pot.room)) / pot.capacity


def _stepped(pot: Pot, here: float, step: float) -> float:
    k1 = _rate(pot, here)
    k2 = _rate(pot, here + 0.5 * step * k1)
    k3 = _rate(pot, here + 0.5 * step * k2)
    k4 = _rate(pot, here + step * k3)
    return here + step * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0
