"""Block: what do two weighings of a block say of the water that it holds?

Of a mix with the water w on one part of powder, the gypsum binds the share b of the
powder's mass, and the block sets with the free water (w - b) on each part.  Weighed
wet, M_1, and again as it goes into the kiln or fully dry, M_2, it has lost M_1 - M_2:

    free water kept = 1 - (M_set - M_in) / (powder (w - b))                    (1)

with M_set just after it has set and M_in as it goes into the kiln, and powder the mass
of powder in it.  A third weighing, dried below 60 °C until it loses no more, gives the
free water itself, and with it a check on the water that was mixed:

    free water = M_set - M_dry                                                 (2)

Left out: water that a flask or a rim holds, and mould that crumbles between weighings.

Source: conservation of mass; bound water is that of the values of the powder.
"""

import math
from dataclasses import dataclass

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_positive
from pourcast.learn.model import Measured

FREE_WATER_KEPT = "kiln.free_water_kept"

SCALES = 1e-3  # kg, one standard deviation of a kitchen or bench scale; estimate
_LEAST_ERROR = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """What the weighings come to.

    Parameters
    ----------
    free_water : float [kg]
        When it had set.
    kept : float [-]
        Share of it that was still there as it went into the kiln.
    kept_error : float [-]
        One standard deviation.
    mixed : float or None [-]
        Water on powder that the free water speaks for; None: not dried fully.
    measured : Measured
        To be learnt from.
    """

    free_water: si.Kilogram
    kept: si.Ratio
    kept_error: si.Ratio
    mixed: si.Ratio | None
    measured: Measured


def fit(
    set_mass: si.Kilogram,
    kiln_mass: si.Kilogram,
    *,
    powder: si.Kilogram,
    water_to_powder: si.Ratio,
    bound_water: si.Ratio,
    dry_mass: si.Kilogram | None = None,
    scales: si.Kilogram = SCALES,
) -> Weighed:
    """Return what weighings of a block say of its water.

    Parameters
    ----------
    set_mass : float [kg]
        Just after it has set, without the flask or with it each time.
    kiln_mass : float [kg]
        As it goes into the kiln.
    powder : float [kg]
        In the block.
    water_to_powder : float [-]
        As it was mixed.
    bound_water : float [-]
        That the powder binds, over its mass.
    dry_mass : float or None [kg]
        Dried below 60 °C until it loses no more.
    scales : float [kg]
        One standard deviation of a weighing.

    Returns
    -------
    Weighed

    Raises
    ------
    InputError
        If the masses do not fall from one weighing to the next, or the mix leaves no
        free water.
    """
    for what, value in (("mass when set", set_mass), ("mass into the kiln", kiln_mass)):
        require_positive(what, value, "kg")
    require_positive("powder", powder, "kg")
    require_positive("scales", scales, "kg")
    require_between("water_to_powder", water_to_powder, "", 0.2, 1.0)
    require_between("bound_water", bound_water, "", 0.0, 0.2)
    if kiln_mass > set_mass + 2.0 * scales:
        raise InputError("mass into the kiln", kiln_mass, "kg", f"{set_mass:g} or less")
    mixed = None
    free = powder * (water_to_powder - bound_water)
    error_free = 0.02 * free
    if dry_mass is not None:
        require_positive("dry mass", dry_mass, "kg")
        if dry_mass > kiln_mass + 2.0 * scales:
            raise InputError("dry mass", dry_mass, "kg", f"{kiln_mass:g} or less")
        free = set_mass - dry_mass
        error_free = math.sqrt(2.0) * scales
        mixed = free / powder + bound_water
    if free <= 2.0 * scales:
        raise InputError("free water", f"{1e3 * free:.1f}", "g", "more than the scales can miss")
    lost = set_mass - kiln_mass
    if lost > free:
        raise InputError(
            "water that was lost",
            f"{1e3 * lost:.1f}",
            "g",
            f"at most {1e3 * free:.1f}, the free water",
            "Was the powder in the block weighed, and the flask with it each time or never?",
        )
    kept = min(1.0 - lost / free, 1.0)
    error = math.hypot(math.sqrt(2.0) * scales / free, (1.0 - kept) * error_free / free)
    error = max(error, _LEAST_ERROR)
    return Weighed(
        free_water=free,
        kept=kept,
        kept_error=error,
        mixed=mixed,
        measured=Measured(
            key=FREE_WATER_KEPT, value=kept, error=error, relative=False, name="block"
        ),
    )
