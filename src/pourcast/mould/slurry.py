"""Slurry: what powder and water come to, wet, set and burnt.

The slurry is powder and water without air, so volumes add up:

    volume per powder mass v = 1/ρ_powder + w/ρ_water                       (1)
    powder per volume of slurry = 1/v                                       (2)
    slurry density = (1 + w)/v                                              (3)

with w the mass of water over the mass of powder.  Setting binds a fixed share
of the water, h·b, with h the binder in the powder and b the water that unit
mass of hemihydrate takes up to become gypsum.  The rest is free and must be
dried out:

    free water per powder mass = w - h b                                    (4)

Burning drives all water off, that of the hemihydrate itself too.  Gypsum holds
two waters, of which setting brought three halves; hemihydrate therefore brought
b/3 of its own mass, and what is left of unit mass of powder is

    burnt mass per powder mass = 1 - h b/3                                  (5)
    burnt density = (1 - h b/3)/v                                           (6)
    solid volume per powder mass = h (1 - b/3)/ρ_anhydrite
                                   + (1 - h)/2 · (1/ρ_quartz + 1/ρ_cristobalite)  (7)
    burnt porosity = 1 - (7)/v                                              (8)

Left out: air that stays in the slurry, which lowers the density and raises the
porosity by its share (hand mixing left 1.4 points more pores than vacuum
mixing, J Dent 17, 1989); the change of volume on setting and burning, about
1 % along a length; the silica split other than half and half, which between
all quartz and all cristobalite moves the porosity by 2.3 points each way.

Sources: (1) to (8) volume and mass balance.  Water: CRC Handbook of Chemistry
and Physics, water at 20 °C.  Anhydrite 2960, quartz 2650, cristobalite
2330 kg/m³: from memory, mineral densities of the CRC Handbook.
"""

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_positive
from pourcast.mould.model import Powder

WATER_DENSITY = 998.2  # kg/m³ at 20 °C, CRC Handbook; 0.1 % less at 24 °C
ANHYDRITE_DENSITY = 2960.0  # kg/m³, CaSO₄, from memory
QUARTZ_DENSITY = 2650.0  # kg/m³, from memory
CRISTOBALITE_DENSITY = 2330.0  # kg/m³, from memory

LEAST_WATER, MOST_WATER = 0.2, 1.0
"""Water to powder that is worked with at all; outside it is no slurry. Estimate."""


def powder_per_volume(powder: Powder, water_to_powder: si.Ratio) -> si.KilogramPerCubicMetre:
    """Mass of powder in unit volume of slurry, equation (2).

    Parameters
    ----------
    powder : Powder
    water_to_powder : float [-]
        Mass of water over mass of powder; 0.2 to 1.

    Returns
    -------
    float [kg/m³]

    Raises
    ------
    InputError
        If a value is outside its limits.

    Examples
    --------
    >>> powder = Powder(true_density=2548.0, hemihydrate_fraction=0.3, hydration_water=0.186)
    >>> round(powder_per_volume(powder, 0.40))
    1261
    """
    require_positive("true_density", powder.true_density, "kg/m³")
    require_between("water_to_powder", water_to_powder, "", LEAST_WATER, MOST_WATER)
    return 1.0 / (1.0 / powder.true_density + water_to_powder / WATER_DENSITY)


def slurry_density(powder: Powder, water_to_powder: si.Ratio) -> si.KilogramPerCubicMetre:
    """Density of the slurry without air, equation (3).

    Parameters
    ----------
    powder : Powder
    water_to_powder : float [-]
        Mass of water over mass of powder; 0.2 to 1.

    Returns
    -------
    float [kg/m³]
    """
    return (1.0 + water_to_powder) * powder_per_volume(powder, water_to_powder)


def free_water(powder: Powder, water_to_powder: si.Ratio) -> si.Ratio:
    """Mass of water over mass of powder that setting leaves to be dried out, equation (4).

    Parameters
    ----------
    powder : Powder
    water_to_powder : float [-]
        Mass of water over mass of powder; 0.2 to 1, and enough to set the binder.

    Returns
    -------
    float [-]
        0 or more.

    Raises
    ------
    InputError
        If a value is outside its limits, or the water does not set the binder.
    """
    _require_shares(powder)
    require_between("water_to_powder", water_to_powder, "", LEAST_WATER, MOST_WATER)
    bound = powder.hemihydrate_fraction * powder.hydration_water
    if water_to_powder < bound:
        raise InputError(
            "water_to_powder",
            f"{water_to_powder:g}",
            "",
            f"{bound:.3g} or more",
            "With less water the binder does not set through.",
        )
    return water_to_powder - bound


def burnt_density(powder: Powder, water_to_powder: si.Ratio) -> si.KilogramPerCubicMetre:
    """Density of the burnt block, its pores included, equation (6).

    Parameters
    ----------
    powder : Powder
    water_to_powder : float [-]
        Mass of water over mass of powder; 0.2 to 1.

    Returns
    -------
    float [kg/m³]
    """
    _require_shares(powder)
    driven_off = powder.hemihydrate_fraction * powder.hydration_water / 3.0
    return (1.0 - driven_off) * powder_per_volume(powder, water_to_powder)


def burnt_porosity(powder: Powder, water_to_powder: si.Ratio) -> si.Ratio:
    """Share of pores in the burnt block, equation (8).

    Parameters
    ----------
    powder : Powder
    water_to_powder : float [-]
        Mass of water over mass of powder; 0.2 to 1.

    Returns
    -------
    float [-]
        Above 0, under 1.
    """
    _require_shares(powder)
    binder = powder.hemihydrate_fraction
    solid = binder * (1.0 - powder.hydration_water / 3.0) / ANHYDRITE_DENSITY + (
        0.5 * (1.0 - binder) * (1.0 / QUARTZ_DENSITY + 1.0 / CRISTOBALITE_DENSITY)
    )
    return 1.0 - solid * powder_per_volume(powder, water_to_powder)


def _require_shares(powder: Powder) -> None:
    require_between("hemihydrate_fraction", powder.hemihydrate_fraction, "", 0.0, 1.0)
    require_between("hydration_water", powder.hydration_water, "", 0.0, 1.0)
