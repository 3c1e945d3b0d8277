"""What metal to weigh out, with its spread, and whether it is there."""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.melt.charge import make_up, metal_to_melt, wax_factor
from pourcast.melt.model import Charge, MetalAccount
from pourcast.piece.model import Measures


def solve(
    measures: Measures,
    charge: Charge,
    *,
    liquid_density: si.KilogramsPerCubicMetre,
    loss: si.Ratios,
    volume_scale: si.Ratios,
    solid_density: si.KilogramPerCubicMetre,
    wax_density: si.KilogramPerCubicMetre,
) -> MetalAccount:
    """Return the metal account of one pour.

    Parameters
    ----------
    measures : Measures
    charge : Charge
    liquid_density : array [kg/m³], shape (draws,)
        Of the metal as it fills the mould.
    loss : array [-], shape (draws,)
        Share of the metal weighed out that does not reach the mould.
    volume_scale : array [-], shape (draws,)
        True volume of the piece over the measured one.
    solid_density : float [kg/m³]
        Of the metal at 20 °C.
    wax_density : float [kg/m³]
        Of the wax that the caster would weigh.

    Returns
    -------
    MetalAccount
        Made up for what the caster will weigh out, or else for the middle of
        the draws.

    Raises
    ------
    InputError
        If a value is outside its limits, or the draws differ in number.
    """
    shapes = {np.shape(drawn) for drawn in (liquid_density, loss, volume_scale)}
    if len(shapes) > 1 or () in shapes:
        raise InputError("draws", sorted(shapes), "", "arrays of one shape")
    metal = metal_to_melt(
        measures.volume, measures.button_volume, volume_scale, liquid_density, loss
    )
    low, middle, high = (float(part) for part in np.percentile(metal, [5.0, 50.0, 95.0]))

    lost = middle * float(np.median(loss))
    piece_volume = measures.volume * float(np.median(volume_scale))
    cavity = piece_volume + measures.button_volume
    in_piece = (middle - lost) * piece_volume / cavity

    wanted = middle if charge.poured is None else charge.poured
    new, returned, short_by = make_up(wanted, charge.on_hand, charge.returns)
    return MetalAccount(
        cavity_volume=measures.volume + measures.button_volume,
        button_volume=measures.button_volume,
        metal=middle,
        metal_low=low,
        metal_high=high,
        piece_metal=in_piece,
        button_metal=middle - lost - in_piece,
        lost_metal=lost,
        new_metal=new,
        return_metal=returned,
        short_by=short_by,
        wax_equivalent=measures.volume * wax_density,
        wax_factor=wax_factor(solid_density, wax_density),
    )
