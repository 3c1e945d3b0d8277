"""Originals: which density and stiffness does a part have when it meets the slurry?

A dry part has the values of the dried organ; a fresh or soaked one those of the
fresh organ.  Where nothing is said a part counts as dry.  Wax has one of each.

Source: the records of plants and waxes; their values are estimates.
"""

from pourcast.materials import Material, Value
from pourcast.mould.model import State


def density_of(material: Material, state: State | None) -> Value:
    """Return the density of a part in the slurry.

    Parameters
    ----------
    material : Material
        A record of plants or waxes.
    state : {"dry", "fresh", "soaked"} or None

    Returns
    -------
    Value

    Raises
    ------
    SourceError
        If the record lacks it.
    """
    if "density_dry" not in material:
        return material["density"]
    return material["density_fresh" if _is_wet(state) else "density_dry"]


def youngs_of(material: Material, state: State | None) -> Value:
    """Return Young's modulus of a part in the slurry.

    Parameters
    ----------
    material : Material
        A record of plants or waxes.
    state : {"dry", "fresh", "soaked"} or None

    Returns
    -------
    Value

    Raises
    ------
    SourceError
        If the record lacks it.
    """
    if "youngs_dry" not in material:
        return material["youngs_20"]
    return material["youngs_green" if _is_wet(state) else "youngs_dry"]


def _is_wet(state: State | None) -> bool:
    return state in ("fresh", "soaked")
