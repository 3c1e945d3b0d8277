"""Wax: when does it run out of the gate, and when has the rest boiled off?

Model.  The flask stands gate down.  When the block at the original's matter
reaches the melting end, wax runs out as slow flow through a short round tube of the
gate's bore under its own weight,

    mass per second = π ρ² g d⁴ / (128 μ)                                  (1)

until only the share that soaks into the block is left.  What has not run out boils
off between two temperatures, in proportion to the highest temperature that the
block has had there, and leaves a small share of itself as char in the pores.

Where the gate is down but blocked, or the flask stands gate up, no wax runs out:
all of it must then boil and burn, and the model is far too hopeful.

Left out: heat that melting takes (minutes); wax that burns in a pool on the floor of
the kiln, which takes oxygen hours before there is char to burn; wax that runs out of
a wide gate as a sheet rather than a full bore (faster).

Source: equation 1, law of Hagen and Poiseuille for a tube that is as long as the
column over it; shares and temperatures, records of waxes.casting.
"""

import math

from pourcast import units as si
from pourcast.kernels import small_kernel
from pourcast.units import GRAVITY


@small_kernel
def drain_rate(
    gate_diameter: si.Metre, density: si.KilogramPerCubicMetre, viscosity: si.PascalSecond
) -> si.KilogramPerSecond:
    """Return how fast molten wax runs out of the gate, equation 1 [kg/s].

    Parameters
    ----------
    gate_diameter : float [m]
    density : float [kg/m³]
        Of the melt.
    viscosity : float [Pa·s]
        > 0.

    Returns
    -------
    float [kg/s]
    """
    bore = gate_diameter * gate_diameter
    return math.pi * density * density * GRAVITY * bore * bore / (128.0 * viscosity)


@small_kernel
def share_over(highest: si.Kelvin, start: si.Kelvin, end: si.Kelvin) -> si.Ratio:
    """Return which share of what goes between two temperatures is gone, 0 to 1 [-].

    Parameters
    ----------
    highest : float [K]
        That the block has had.
    start, end : float [K]
        ``end`` above ``start``.

    Returns
    -------
    float [-]
    """
    return min(max((highest - start) / (end - start), 0.0), 1.0)
