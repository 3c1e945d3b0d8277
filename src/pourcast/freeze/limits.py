"""Limits: what a freezing can be started from at all.

A value outside is a mistake of the caller and is refused; a bad casting is not.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import (
    InputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)
from pourcast.findings import half_up
from pourcast.freeze.model import FreezeCase, FreezeSteps
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult
from pourcast.speech import Heat, said

_COLDEST, _HOTTEST = 200.0, 3000.0  # K; no metal, mould or room of a studio lies outside
_LEAST_STOP, _MOST_STOP = 0.05, 0.99
"""Solid fractions at which metal can stop moving at all; estimate."""


def check(network: Network, case: FreezeCase, result: PourResult, steps: FreezeSteps) -> None:
    """Refuse what no freezing can be started from.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
    steps : FreezeSteps

    Raises
    ------
    InputError
        Naming the first value outside its limits.
    """
    draws, segments = case.pour.metal.density.size, network.length.size
    if result.filled.shape != (draws, segments):
        raise InputError("shape of filled", result.filled.shape, "", f"({draws}, {segments})")
    for name in ("seventy_solid", "ninety_solid", "room_temperature", "burst_temperature"):
        require_between(name, getattr(case, name), "K", _COLDEST, _HOTTEST)
    require_between("temperature", result.temperature, "K", 0.0, _HOTTEST)
    require_positive("solid_specific_heat", case.solid_specific_heat, "J/(kg·K)")
    require_positive("solid_conductivity", case.solid_conductivity, "W/(m·K)")
    require_positive("conductivity of the block", case.pour.block.conductivity, "W/(m·K)")
    require_between("shrinkage", case.shrinkage, "", 0.0, 0.5)
    require_not_negative("liquid_contraction", case.liquid_contraction, "1/K")
    require_between("feed_stop", case.feed_stop, "", _LEAST_STOP, _MOST_STOP)
    require_positive("gap_heat_transfer", case.gap_heat_transfer, "W/(m²·K)")
    for name in ("top_heat_transfer", "flask_heat_transfer"):
        require_not_negative(name, getattr(case, name), "W/(m²·K)")
    for name in ("top_emissivity", "flask_emissivity"):
        require_between(name, getattr(case, name), "", 0.0, 1.0)
    if case.top not in ("open", "covered"):
        raise InputError("top", case.top, "", '"open" or "covered"')
    if case.vacuum_hold is not None:
        require_not_negative("vacuum_hold", case.vacuum_hold, "s")
    require_between("filled", result.filled, "", 0.0, 1.0)
    require_between("solid_fraction", result.solid_fraction, "", 0.0, 1.0)
    require_not_negative("metal_left", result.metal_left, "m³")
    require_not_negative("end_time", result.end_time, "s")
    hotter = case.pour.block.temperature - case.pour.metal.temperature
    if np.any(hotter > 0.0):
        worst = int(np.argmax(hotter))
        block, metal = (
            float(stuff.temperature[worst]) for stuff in (case.pour.block, case.pour.metal)
        )
        raise InputError(
            "flask at the pour, in one draw",
            str(half_up(si.from_si(block, "degC"))),
            "°C",
            said("cooler than the metal in the cup, {metal} there", metal=Heat(metal)),
            "Pour hotter, or let the flask come down further.",
        )
    require_positive("first step", steps.first, "s")
    require_finite("longest", steps.longest, "s")
    require_between("growth of the steps", steps.growth, "", 1.0001, 10.0)
