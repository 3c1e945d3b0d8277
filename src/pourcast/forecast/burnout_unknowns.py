"""Burnout unknowns: which values of kiln, block and matter nobody knows exactly.

Names that the pour draws too keep their short names, so that both work with the
same draws of the same block.  All others go by their whole key.
"""

from pourcast.materials import Library, Value
from pourcast.sheet.model import Plan

SHARED = ("permeability_burnt", "k_burnt_600", "cp_burnt_mean_20_600")
"""Drawn once, for burnout and pour."""

CONDUCTIVITY = ("k_burnt_200", "k_burnt_400", "k_burnt_600", "k_burnt_700", "k_burnt_900")
"""Of the burnt block, each at the temperature that its name ends with."""

_THERMAL = (
    "k_wet_20",
    "k_set_dry_20",
    *(name for name in CONDUCTIVITY if name not in SHARED),
    "cp_gypsum",
    "emissivity_surface",
)
_CHEMISTRY = (
    "heat_gypsum_to_hemihydrate",
    "heat_hemihydrate_to_soluble_anhydrite",
    "sulphate_carbon_E",
    "sulphate_carbon_log10_A",
)
_STRENGTH = ("compressive_2h", "tension_ratio", "youngs_dry")
_KILN = (
    "char_E",
    "char_log10_A",
    "char_order_O2",
    "D_O2_air_20",
    "D_exponent",
    "h_convection_still",
    "emissivity_wall",
    "char_density",
    "char_openness",
    "wall_open_share",
    "wall_hole",
    "flask_gap",
    "controller_error",
    "kiln_gradient",
    "free_water_kept",
)
_PLANTS = ("pyrolysis_start", "pyrolysis_end", "oxygen_need_dry", "ash_bulk_density")
_WAX = (
    "density",
    "melt_end",
    "ash",
    "boil_off_start",
    "boil_off_end",
    "oxygen_need",
    "soak_share",
    "char_share",
    "density_melt",
    "viscosity_80",
)

READING_ERRORS = ("kiln.controller_error", "kiln.kiln_gradient")
"""Values that say how wide an error is; they are not ranked."""


def burnout_unknowns(plan: Plan, library: Library) -> dict[str, Value]:
    """Return the values that the burnout of a plan draws beside those of the pour.

    Parameters
    ----------
    plan : Plan
    library : Library

    Returns
    -------
    dict of str to Value
        Under their whole keys.

    Raises
    ------
    SourceError
        If a record is missing.
    """
    block, kiln = library.investment, library.kiln
    found = [
        *(block["thermal"][name] for name in _THERMAL),
        *(block["chemistry"][name] for name in _CHEMISTRY),
        *(block["strength"][name] for name in _STRENGTH),
        block["flow"]["tortuosity"],
        block["expansion"]["outside_inversions"],
        *(kiln[name] for name in _KILN),
        *(library.plants["general"][name] for name in _PLANTS),
        library.plants["general"]["water_of_dry"],
    ]
    if plan.kiln.air_changes is None:
        found.append(kiln["air_changes_closed"])
    else:
        found.append(kiln["air_changes_factor"])
    for organ in organs(plan, library):
        found += [library.plants[organ][name] for name in (*_mass(plan), "char_yield", "ash")]
    for wax in waxes(plan, library):
        found += [wax_value(library, wax, name) for name in ("density", "melt_end", "ash")]
    # Of how wax boils and burns only one record knows.
    found += [library.waxes["casting"][name] for name in _WAX]
    return {value.key: value for value in found}


def organs(plan: Plan, library: Library) -> tuple[str, ...]:
    """Return the plant records that parts of the original are made of, each once."""
    named = (part.material for part in plan.piece.parts)
    return tuple(dict.fromkeys(name for name in named if name in library.plants))


def waxes(plan: Plan, library: Library) -> tuple[str, ...]:
    """Return the waxes of the button and of parts, each once."""
    named = (plan.piece.button.material, *(part.material for part in plan.piece.parts))
    return tuple(dict.fromkeys(name for name in named if name in library.waxes))


def wax_value(library: Library, wax: str, name: str) -> Value:
    """Return a value of a wax; of casting wax where its own record has none."""
    record = library.waxes[wax]
    return record[name] if name in record else library.waxes["casting"][name]


def _mass(plan: Plan) -> tuple[str, ...]:
    wet = plan.original.state in ("fresh", "soaked")
    return ("density_fresh", "water") if wet else ("density_dry",)
