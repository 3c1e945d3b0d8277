"""Bench: what a proposal costs in minutes and metal.

All minutes are estimates by hand, of one pair of hands that has done it before.
"""

import math

from pourcast import units as si
from pourcast.gating.model import Costs
from pourcast.materials import library
from pourcast.sheet.model import Plan

FEEDER = 900.0
"""To fit one feeder, saw it off and chase the place [s]; estimate."""

VENT = 240.0
"""To fit one vent thread, nip it off and chase the stub [s]; estimate."""

THREAD = 300.0
"""To fit one thread between two parts, cut it out and chase both ends [s]; estimate."""

THICKER = 600.0
"""To lay wax round one rod and file the metal down afterwards [s]; estimate."""

LEAN = 120.0
"""To set a piece on its button anew [s]; estimate."""


def costs(plan: Plan, bench: si.Second, volume: si.CubicMetre = 0.0) -> Costs:
    """Return what a proposal costs.

    Parameters
    ----------
    plan : Plan
    bench : float [s]
    volume : float [m³]
        More of the cavity.

    Returns
    -------
    Costs
    """
    density = library().alloy(plan.charge.alloy)["density_20"].si
    return Costs(bench=bench, metal=volume * density)


def rod_volume(diameter: si.Metre, length: si.Metre) -> si.CubicMetre:
    """Return the volume of a round rod [m³].

    Parameters
    ----------
    diameter, length : float [m]

    Returns
    -------
    float [m³]
    """
    return math.pi / 4.0 * diameter**2 * length
