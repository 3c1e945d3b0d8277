"""Cup: how deep the metal stands in the button's cone.

Model: a cone from the gate to the rim, a cylinder of the rim's size above it
(metal that stands over the rim of the block).  It knows nothing of time.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.elementary import exponential, logarithm


@kernel
def volume_at(
    level: si.Metre, gate_radius: si.Metre, rim_radius: si.Metre, height: si.Metre
) -> si.CubicMetre:
    """Return the metal in the cup at a level [m³].

    Parameters
    ----------
    level : float [m]
        Over the floor; >= 0.
    gate_radius, rim_radius, height : float [m]
        Of the cone.

    Returns
    -------
    float [m³]
    """
    inside = min(level, height)
    top = gate_radius + (rim_radius - gate_radius) * inside / height
    cone = math.pi / 3.0 * inside * (gate_radius**2 + gate_radius * top + top**2)
    return cone + max(level - height, 0.0) * math.pi * rim_radius**2


@kernel
def level_of(
    volume: si.CubicMetre, gate_radius: si.Metre, rim_radius: si.Metre, height: si.Metre
) -> si.Metre:
    """Return the level of metal in the cup; inverse of `volume_at` [m].

    Parameters
    ----------
    volume : float [m³]
        >= 0.
    gate_radius, rim_radius, height : float [m]
        Of the cone.

    Returns
    -------
    float [m]
        Over the floor of the cup.
    """
    full = math.pi / 3.0 * height * (gate_radius**2 + gate_radius * rim_radius + rim_radius**2)
    if volume >= full:
        return height + (volume - full) / (math.pi * rim_radius**2)
    slope = (rim_radius - gate_radius) / height
    if abs(slope) < 1e-6:
        return volume / (math.pi * gate_radius**2)
    cubed = gate_radius**3 + 3.0 * slope * volume / math.pi
    return (exponential(logarithm(cubed) / 3.0) - gate_radius) / slope
