"""Freeze case: from the draws to what the freezing starts from."""

import numpy as np

from pourcast.forecast.prepare import Prepared
from pourcast.freeze.model import FreezeCase
from pourcast.freeze.solid import usual_knots
from pourcast.materials import Library, Material, Value, draw
from pourcast.pour.model import PourCase

_ALLOY = (
    "cp_solid",
    "k_solid_hot",
    "shrink_solidification",
    "contraction_liquid",
    "liquidus",
    "fs50",
    "fs70",
    "fs90",
    "solidus",
)
"""Those of the freezing range are drawn again with their fellows, so that they stay in order."""

_FREEZE = (
    "feed_stop_solid_fraction",
    "gap_heat_transfer",
    "room_temperature",
    "button_top_emissivity",
    "flask_heat_transfer",
    "flask_emissivity",
    "quench_burst_temperature",
)


def freeze_unknowns(alloy: Material, library: Library, *, covered: bool) -> dict[str, Value]:
    """Return the values that the freezing draws beside those of the pour, under short names.

    Parameters
    ----------
    alloy : Material
    library : Library
    covered : bool
        The top of the button is covered.

    Returns
    -------
    dict of str to Value

    Raises
    ------
    SourceError
        If a record is missing.
    """
    found = {name: alloy[name] for name in _ALLOY if name in alloy}
    found |= {name: library.freeze[name] for name in _FREEZE}
    top = "button_cover_heat_transfer" if covered else "button_top_heat_transfer"
    return found | {"top_heat_transfer": library.freeze[top]}


def freeze_case(ready: Prepared, poured: PourCase, *, covered: bool) -> FreezeCase:
    """Return what the freezing starts from.

    Parameters
    ----------
    ready : Prepared
    poured : PourCase
        Of the same draws.
    covered : bool
        The top of the button is covered.

    Returns
    -------
    FreezeCase
    """
    draws = ready.scale.shape[0]
    values = freeze_unknowns(ready.alloy, ready.book, covered=covered)
    drawn = draw(values, draws, ready.seed)
    seventy, ninety = usual_knots(poured.metal.half_solid, poured.metal.solidus)
    if "fs70" in drawn and "fs90" in drawn:
        seventy = np.minimum(drawn["fs70"], poured.metal.half_solid)
        ninety = np.clip(drawn["fs90"], poured.metal.solidus, seventy)
    emissivity = np.zeros(draws) if covered else drawn["button_top_emissivity"]
    return FreezeCase(
        pour=poured,
        seventy_solid=seventy,
        ninety_solid=ninety,
        solid_specific_heat=drawn["cp_solid"],
        solid_conductivity=drawn["k_solid_hot"],
        shrinkage=drawn["shrink_solidification"],
        liquid_contraction=drawn["contraction_liquid"],
        feed_stop=drawn["feed_stop_solid_fraction"],
        gap_heat_transfer=drawn["gap_heat_transfer"],
        room_temperature=drawn["room_temperature"],
        top="covered" if covered else "open",
        top_heat_transfer=drawn["top_heat_transfer"],
        top_emissivity=emissivity,
        flask_heat_transfer=drawn["flask_heat_transfer"],
        flask_emissivity=drawn["flask_emissivity"],
        burst_temperature=drawn["quench_burst_temperature"],
    )
