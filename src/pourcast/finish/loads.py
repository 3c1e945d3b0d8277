"""Loads: how hard does each tool push on a part?

A brush and a wheel push with a force that nobody measures: an estimate, drawn
over a wide range.  A jet pushes with the momentum that it brings.  Water under
the pressure p over the air leaves a nozzle of the section A with

    F = 2 p A                                                              (1)

Air of the pressure p₀ in the nozzle, into air of the pressure p_a, leaves it at
the speed of sound where p₀ is more than 1.893 p_a, and then pushes with

    F = A (p* (1 + γ) - p_a),   p* = p₀ (2/(γ+1))^(γ/(γ-1))                (2)

else with

    F = A p_a 2γ/(γ-1) ((p₀/p_a)^((γ-1)/γ) - 1)                            (3)

with γ = 1.4.  Grit takes its speed from the air and changes the sum little.
Where the blast meets the work its force has spread over a spot; over that spot
it is taken as an even pressure F / spot, given up whole by whatever it meets.

Left out: that a narrow part lets most of the jet pass (it takes 0.5 to 1 of
what it meets); that the middle of a spot is harder than its mean, up to twice;
the shake of a brush and the jerk of a wheel that bites.

Source: momentum balance; (2) and (3) are the flow of a perfect gas, as in
Shapiro, Compressible Fluid Flow (1953), from memory.
"""

import math
from collections.abc import Mapping

import numpy as np

from pourcast import units as si
from pourcast.errors import require_not_negative, require_positive
from pourcast.finish.model import Loads
from pourcast.materials.draws import ArrayInSI

NAMES = (
    "hand_brush",
    "wheel",
    "water_gauge",
    "water_nozzle",
    "blast_gauge",
    "blast_nozzle",
    "blast_spot",
    "light_gauge",
    "light_spot",
)
"""Values of `Library.finish` that `tool_loads` needs the draws of."""

_GAMMA = 1.4  # of air, from memory; 1.40 at 20 °C in any table
_SONIC = (2.0 / (_GAMMA + 1.0)) ** (_GAMMA / (_GAMMA - 1.0))  # 0.5283


def tool_loads(drawn: Mapping[str, ArrayInSI], air_pressure: si.Pascals) -> Loads:
    """Return how hard each tool pushes, draw by draw.

    Parameters
    ----------
    drawn : mapping of str to array [SI], shape (draws,)
        Under the names of `NAMES`.
    air_pressure : array [Pa], shape (draws,)
        Of the air outside.

    Returns
    -------
    Loads

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    blast = air_thrust(drawn["blast_gauge"], drawn["blast_nozzle"], air_pressure)
    light = air_thrust(drawn["light_gauge"], drawn["blast_nozzle"], air_pressure)
    return Loads(
        hand_brush=drawn["hand_brush"],
        wheel=drawn["wheel"],
        water_jet=water_thrust(drawn["water_gauge"], drawn["water_nozzle"]),
        blast=blast / _round(drawn["blast_spot"]),
        light_blast=light / _round(drawn["light_spot"]),
    )


def water_thrust(gauge: si.Pascals, nozzle: si.Metres) -> si.Newtons:
    """Return the push of a water jet, equation (1).

    Parameters
    ----------
    gauge : array [Pa], any shape
        At the nozzle, over the air; 0 or more.
    nozzle : array [m], shape of ``gauge``
        Width of the jet; > 0.

    Returns
    -------
    array [N], shape of ``gauge``

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_not_negative("gauge", gauge, "Pa")
    return 2.0 * gauge * _round(nozzle)


def air_thrust(gauge: si.Pascals, nozzle: si.Metres, air_pressure: si.Pascals) -> si.Newtons:
    """Return the push of an air jet, equations (2) and (3).

    Parameters
    ----------
    gauge : array [Pa], any shape
        In the nozzle, over the air; 0 or more.
    nozzle : array [m], shape of ``gauge``
        Its bore; > 0.
    air_pressure : array [Pa], shape of ``gauge``
        Of the air outside; > 0.

    Returns
    -------
    array [N], shape of ``gauge``

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_not_negative("gauge", gauge, "Pa")
    require_positive("air_pressure", air_pressure, "Pa")
    ratio = 1.0 + gauge / air_pressure
    power = (_GAMMA - 1.0) / _GAMMA
    slow = 2.0 / power * (np.minimum(ratio, 1.0 / _SONIC) ** power - 1.0)
    fast = ratio * _SONIC * (1.0 + _GAMMA) - 1.0
    return np.asarray(_round(nozzle) * air_pressure * np.where(ratio * _SONIC > 1.0, fast, slow))


def _round(diameter: si.Metres) -> si.SquareMetres:
    require_positive("diameter", diameter, "m")
    return np.asarray(math.pi / 4.0 * diameter**2)
