"""Metal: does the crucible hold the charge, when is it ready, how long may it wait?

Heat and minutes are those of `pourcast.melt.melting`, the loss on the way to the lip
that of `pourcast.melt.waiting`.  The pot is a cylinder as wide as it is deep, with the
charge in it up to its brim.

Left out: metal that is kept in the fire.  It does not cool, and takes up gas instead.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.forecast.burnout_case import ROOM
from pourcast.forecast.prepare import Prepared
from pourcast.materials import Value
from pourcast.melt.melting import Furnace, crucible_share, heat_to_pour, melt_time
from pourcast.melt.waiting import Pot, after, longest_wait
from pourcast.sheet.model import Plan

CRUCIBLE_HEAT = 1.6e4
"""J/(m²·K), of a crucible for each area: 8 mm of wall, 2000 kg/m³, 1000 J/(kg·K); estimate."""

TO_LIP = 10.0
"""s, from the fire to the lip of the flask; estimate."""

HEADROOM = 0.8
"""Share of a crucible that may be filled; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeltClock:
    """The metal.

    Parameters
    ----------
    mass : float [kg]
    heat : float [J]
        From cold to its pour temperature.
    time, low, high : float [s]
        From lighting to ready.
    by_log : bool
        Whether the furnace's own log says it.
    share : float or None [-]
        Of the crucible that the liquid fills; None: its size is not said.
    in_pot : float [K]
        To be read in the fire, so that it has its heat at the lip.
    lost : float [K]
        On the way there.
    longest_wait : float [s]
        Out of the fire, from the pour temperature to the low end of what is usual.
    """

    mass: si.Kilogram
    heat: si.Joule
    time: si.Second
    low: si.Second
    high: si.Second
    by_log: bool
    share: si.Ratio | None
    in_pot: si.Kelvin
    lost: si.Kelvin
    longest_wait: si.Second


def melt_clock(
    plan: Plan,
    ready: Prepared,
    furnace_time: Value,
    *,
    furnace: Furnace | None = None,
    crucible: si.CubicMetre | None = None,
) -> MeltClock:
    """Return how long the charge takes to melt, and how long it may wait.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    furnace_time : Value
        From lighting to metal at its heat, where the furnace's own log does not say.
    furnace : Furnace or None
        By its own log, from `pourcast.melt.melting.furnace_of`.
    crucible : float or None [m³]
        To its brim.

    Returns
    -------
    MeltClock
    """
    alloy, mass = ready.alloy, ready.metal.new_metal + ready.metal.return_metal
    pour = plan.charge.pour_temperature
    each = charge_heat(plan, ready)
    time, low, high = furnace_time.si, furnace_time.si_low, furnace_time.si_high
    if furnace is not None:
        time = low = high = melt_time(furnace, mass, each)
    volume = mass / alloy["density_liquid"].si
    # A crucible as wide as it is deep: its open face, and its side and floor in the air.
    area = float(6.0 * np.pi * (volume / (2.0 * np.pi)) ** (2.0 / 3.0))
    pot = Pot(
        capacity=mass * alloy["cp_liquid"].si + CRUCIBLE_HEAT * area,
        area=area,
        emissivity=ready.book.kiln["metal_emissivity_oxide"].si,
        convection=ready.book.kiln["h_convection_still"].si,
        room=ROOM,
    )
    lost = pour - after(pot, pour, TO_LIP)
    least = max(alloy["pour"].si_low, alloy["liquidus"].si_high)
    return MeltClock(
        mass=mass,
        heat=mass * each,
        time=time,
        low=low,
        high=high,
        by_log=furnace is not None,
        share=None
        if crucible is None
        else crucible_share(mass, alloy["density_liquid"].si, crucible),
        in_pot=pour + lost,
        lost=lost,
        longest_wait=longest_wait(pot, pour, least),
    )


def charge_heat(plan: Plan, ready: Prepared) -> si.JoulePerKilogram:
    """Return the heat that a unit mass of the charge takes to its pour temperature.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    float [J/kg]
    """
    alloy = ready.alloy
    return heat_to_pour(
        start=ROOM,
        solidus=alloy["solidus"].si,
        liquidus=alloy["liquidus"].si,
        pour=max(plan.charge.pour_temperature, alloy["liquidus"].si),
        solid_heat=alloy["cp_solid"].si,
        liquid_heat=alloy["cp_liquid"].si,
        latent=alloy["latent"].si,
    )
