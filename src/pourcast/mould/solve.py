"""What to mix for this piece in this flask, and what stands round it."""

from collections.abc import Mapping

from pourcast import units as si
from pourcast.errors import require_not_negative
from pourcast.materials import Material
from pourcast.mould.block import depth, far_cover, fill_volume, wall_gap
from pourcast.mould.model import Flask, Mix, Mould, Powder
from pourcast.mould.slurry import (
    burnt_density,
    burnt_porosity,
    free_water,
    powder_per_volume,
    slurry_density,
)
from pourcast.piece.model import Button, Measures

USUAL_WASTE = 0.04
"""Slurry that stays in the bowl, over that in the flask; common practice, no source."""


def powder_of(investment: Mapping[str, Material], key: str) -> Powder:
    """Return the powder of a key, from the records of the materials library.

    Parameters
    ----------
    investment : mapping of str to Material
        `Library.investment`.
    key : str
        One of `Library.powders`.

    Returns
    -------
    Powder

    Raises
    ------
    SourceError
        If a record lacks a value that is needed.
    """
    record = investment[key]
    return Powder(
        true_density=record["powder_true_density"].si,
        hemihydrate_fraction=record["hemihydrate_fraction"].si,
        hydration_water=investment["chemistry"]["hydration_water"].si,
    )


def solve(
    measures: Measures,
    button: Button,
    flask: Flask,
    mix: Mix,
    powder: Powder,
    *,
    waste: si.Ratio = USUAL_WASTE,
    head_room: si.Metre = 0.0,
) -> Mould:
    """Return what to weigh out and what the block comes to.

    Parameters
    ----------
    measures : Measures
    button : Button
    flask : Flask
    mix : Mix
    powder : Powder
        Of the key in ``mix``; see `powder_of`.
    waste : float [-]
        Slurry that stays in the bowl, over that in the flask; 0 or more.
    head_room : float [m]
        Left unfilled at the far end; 0 or more.

    Returns
    -------
    Mould

    Raises
    ------
    InputError
        If a value is outside its limits, the piece is larger than the flask,
        or the water does not set the powder.
    """
    require_not_negative("waste", waste, "")
    water = mix.water_to_powder
    free_water(powder, water)  # refuses a mix that does not set
    in_flask = fill_volume(measures, flask, head_room=head_room)
    to_mix = in_flask * (1.0 + waste)
    density = slurry_density(powder, water)
    powder_mass = to_mix * powder_per_volume(powder, water)
    return Mould(
        slurry_volume=to_mix,
        slurry_density=density,
        powder=powder_mass,
        water=powder_mass * water,
        waste=waste,
        powder_per_volume=powder_per_volume(powder, water),
        burnt_porosity=burnt_porosity(powder, water),
        burnt_density=burnt_density(powder, water),
        full_mass=in_flask * density,
        wall_gap=wall_gap(measures, flask),
        far_cover=far_cover(measures, button, flask, head_room=head_room),
        depth=depth(measures, button),
    )
