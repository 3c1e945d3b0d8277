"""Burnout case: from the plan and the draws to what each burnout starts from.

Matter of the original.  Its volume is that of its parts without their coats; the
mass of a dry original is this times the density of the dried organ, with the
water that dry plants keep; that of a fresh one is the fresh density, of which a
share is water.  A weighed mass puts the total right, whatever the densities.
An original whose state is not said is taken as dry.

Coats count as casting wax.  The kiln reads the truth less an error of its
thermometer; a block stands anywhere between its hottest and its coldest place,
so half of the difference between the two is one standard deviation.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase, Burning, BurnoutCase, Curve, Matter
from pourcast.errors import InputError
from pourcast.forecast.air import air_of
from pourcast.forecast.burnout_unknowns import CONDUCTIVITY, organs, wax_value
from pourcast.forecast.prepare import Prepared
from pourcast.forecast.unknowns import normal
from pourcast.materials import Material
from pourcast.materials.draws import ArrayInSI
from pourcast.mould.slurry import free_water
from pourcast.mould.solve import powder_of
from pourcast.piece.model import RECTANGLE
from pourcast.sheet.model import Plan

ROOM = 293.15  # K, of the block as it goes into the kiln
_WITHIN = 0.95  # of the block's radius
_CHAR_OXYGEN = 0.20  # mole fraction; condition of kiln.char_log10_A
_HEATS = (20, 100, 200, 300, 400, 500, 600, 700)  # °C, names of the records


def burnout_case(plan: Plan, ready: Prepared, curve: Curve) -> BurnoutCase:
    """Return what each burnout starts from.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    curve : Curve

    Returns
    -------
    BurnoutCase

    Raises
    ------
    InputError
        If the plan does not say how large the kiln is.
    """
    if plan.kiln.volume is None:
        raise InputError(
            "litres of the kiln",
            "not given",
            "",
            "there for the burnout",
            'Write "litres = 30" under [kiln]: width x depth x height of its inside.',
        )
    draws = ready.scale.shape[0]
    return BurnoutCase(
        block=_block(plan, ready, draws),
        matter=_matter(plan, ready, draws),
        burning=_burning(plan, ready, plan.kiln.volume),
        curve=curve,
    )


def _block(plan: Plan, ready: Prepared, draws: int) -> BlockCase:
    book, drawn, mould = ready.book, ready.drawn, ready.mould
    thermal = book.investment["thermal"]
    powder = powder_of(book.investment, plan.mix.powder)
    kept = mould.powder_per_volume * free_water(powder, plan.mix.water_to_powder)
    gypsum = mould.powder_per_volume * powder.hemihydrate_fraction * (1.0 + powder.hydration_water)
    silica = 1.0 - powder.hemihydrate_fraction  # half quartz, half cristobalite
    heat_at, heats = burnt_heats(thermal)
    towards = drawn["investment.thermal.emissivity_surface"]
    from_kiln = drawn["kiln.emissivity_wall"]
    strength = drawn["investment.strength.compressive_2h"]
    air = air_of(plan.studio)
    return BlockCase(
        radius=0.5 * plan.flask.inside_diameter,
        height=plan.flask.height,
        wall=plan.flask.wall,
        wall_thickness=plan.flask.wall_thickness,
        wall_heat=book.kiln["flask_steel_density"].si * book.kiln["flask_steel_heat"].si,
        gate_diameter=plan.piece.button.gate_diameter,
        # A piece that does not fit is told so, and burnt as if it did.
        piece_radius=min(_mean_radius(ready), _WITHIN * 0.5 * plan.flask.inside_diameter),
        set_density=mould.slurry_density - kept,
        gypsum=gypsum,
        porosity=mould.burnt_porosity,
        free_water=kept * drawn["kiln.free_water_kept"],
        wet_conductivity=drawn["investment.thermal.k_wet_20"],
        set_conductivity=drawn["investment.thermal.k_set_dry_20"],
        burnt_conductivity_at=conductivities_at(),
        burnt_conductivity=np.stack([_shared(drawn, name) for name in CONDUCTIVITY], axis=1),
        burnt_specific_heat_at=heat_at,
        burnt_specific_heat=np.outer(
            drawn["cp_burnt_mean_20_600"] / thermal["cp_burnt_mean_20_600"].si, heats
        ),
        gypsum_specific_heat=drawn["investment.thermal.cp_gypsum"],
        first_heat=drawn["investment.chemistry.heat_gypsum_to_hemihydrate"],
        second_heat=drawn["investment.chemistry.heat_hemihydrate_to_soluble_anhydrite"],
        permeability=drawn["permeability_burnt"],
        wet_permeability=np.full(draws, book.investment["flow"]["permeability_wet"].si),
        tensile_strength=strength * drawn["investment.strength.tension_ratio"],
        youngs_modulus=drawn["investment.strength.youngs_dry"],
        expansion=drawn["investment.expansion.outside_inversions"],
        emissivity=1.0 / (1.0 / towards + 1.0 / from_kiln - 1.0),
        convection=drawn["kiln.h_convection_still"],
        kiln_error=normal("kiln thermometer", (draws,), ready.seed) * drawn["kiln.controller_error"]
        + normal("place in the kiln", (draws,), ready.seed) * 0.5 * drawn["kiln.kiln_gradient"],
        start_temperature=np.full(draws, ROOM),
        air_pressure=np.full(draws, air),
        open_share=drawn["kiln.wall_open_share"],
        hole_diameter=drawn["kiln.wall_hole"],
        contact_conductance=book.kiln["flask_contact"].si,
        flask_gap=drawn["kiln.flask_gap"],
        cristobalite_growth=0.5 * silica * book.investment["expansion"]["cristobalite_jump"].si,
        quartz_growth=0.5 * silica * book.investment["expansion"]["quartz_jump"].si,
    )


def conductivities_at() -> si.Kelvins:
    """Return the temperatures of the conductivities of the burnt block.

    Returns
    -------
    array [K], shape of `CONDUCTIVITY`
    """
    return np.array([si.to_si(float(name.rpartition("_")[2]), "degC") for name in CONDUCTIVITY])


def burnt_heats(thermal: Material) -> tuple[si.Kelvins, si.JoulesPerKilogramKelvin]:
    """Return the specific heat of the burnt block over temperature.

    Parameters
    ----------
    thermal : Material
        `Library.investment` "thermal".

    Returns
    -------
    temperature : array [K]
    specific_heat : array [J/(kg·K)]
    """
    heats = np.array([thermal[f"cp_burnt_{celsius}"].si for celsius in _HEATS])
    return np.array([si.to_si(celsius, "degC") for celsius in _HEATS]), heats


def _shared(drawn: dict[str, ArrayInSI], name: str) -> si.WattsPerMetreKelvin:
    """Return the draws of a conductivity that may go by its short name."""
    return drawn[name] if name in drawn else drawn[f"investment.thermal.{name}"]


def _mean_radius(ready: Prepared) -> si.Metre:
    """Return how far the matter of the piece lies from the axis, by its volume."""
    network = ready.network
    middle = 0.5 * (network.start_position + network.end_position)
    radius = np.hypot(middle[:, 0], middle[:, 1])
    bulk = network.length * network.width.mean(axis=1) * network.thickness.mean(axis=1)
    return float((radius * bulk).sum() / bulk.sum())


def bare_volume(plan: Plan, ready: Prepared) -> si.CubicMetres:
    """Return the volume of each member without its coat.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    array [m³], shape (members,)
        As measured; all together the volume of the original.
    """
    network = ready.network
    coat = np.array([part.coat for part in plan.piece.parts])[network.member_part][network.member]
    width = np.maximum(network.width - 2.0 * coat[:, None], 0.0)
    thickness = np.maximum(network.thickness - 2.0 * coat[:, None], 0.0)
    ends = (width * thickness).sum(axis=1)
    middle = width.mean(axis=1) * thickness.mean(axis=1)
    round_share = np.where(network.section == RECTANGLE, 1.0, 0.25 * math.pi)
    # Simpson's rule is exact for a section that grows straight in both ways.
    volume = network.length * round_share * (ends + 4.0 * middle) / 6.0
    by_member = np.bincount(network.member, weights=volume, minlength=network.member_part.size)
    return np.asarray(by_member * ready.measures.original_volume / by_member.sum())


def _matter(plan: Plan, ready: Prepared, draws: int) -> Matter:
    book, drawn, network = ready.book, ready.drawn, ready.network
    members = network.member_part.size
    volume = bare_volume(plan, ready)[None, :] * ready.scale**2
    dry, water = np.zeros((draws, members)), np.zeros((draws, members))
    char, ash = np.zeros((draws, members)), np.zeros((draws, members))
    wax_parts = np.zeros(draws)
    for organ in organs(plan, book):
        own = _of_material(plan, ready, organ)
        key = f"plants.{organ}"
        if plan.original.state in ("fresh", "soaked"):
            whole = volume[:, own] * drawn[f"{key}.density_fresh"][:, None]
            share = drawn[f"{key}.water"][:, None]
            dry[:, own], water[:, own] = whole * (1.0 - share), whole * share
        else:
            dry[:, own] = volume[:, own] * drawn[f"{key}.density_dry"][:, None]
            water[:, own] = dry[:, own] * drawn["plants.general.water_of_dry"][:, None]
        char[:, own] = drawn[f"{key}.char_yield"][:, None]
        ash[:, own] = drawn[f"{key}.ash"][:, None]
    for wax in {part.material for part in plan.piece.parts if part.material in book.waxes}:
        own = _of_material(plan, ready, wax)
        density = drawn[wax_value(book, wax, "density").key]
        wax_parts += volume[:, own].sum(axis=1) * density
    if plan.piece.weighed_mass is not None:
        total = (dry + water).sum(axis=1) + wax_parts
        factor = np.where(total > 0.0, plan.piece.weighed_mass / np.maximum(total, 1e-12), 1.0)
        dry, water = dry * factor[:, None], water * factor[:, None]
        wax_parts = wax_parts * factor
    button = wax_value(book, plan.piece.button.material, "density").key
    casting = "waxes.casting"
    return Matter(
        dry_mass=dry,
        water=water,
        char_yield=np.maximum(char, ash),
        ash_fraction=ash,
        half_thickness=0.5 * _thickest(ready),
        member_part=network.member_part,
        wax=wax_parts
        + ready.measures.button_volume * drawn[button]
        + ready.measures.coat_volume * drawn[f"{casting}.density"],
        wax_melt_end=drawn[wax_value(book, plan.piece.button.material, "melt_end").key],
        wax_boil_start=drawn[f"{casting}.boil_off_start"],
        wax_boil_end=drawn[f"{casting}.boil_off_end"],
        wax_ash=drawn[f"{casting}.ash"],
        wax_oxygen=drawn[f"{casting}.oxygen_need"],
        wax_soak=drawn[f"{casting}.soak_share"],
        wax_char=drawn[f"{casting}.char_share"],
        wax_melt_density=drawn[f"{casting}.density_melt"],
        wax_viscosity=drawn[f"{casting}.viscosity_80"],
    )


def _of_material(plan: Plan, ready: Prepared, material: str) -> si.Booleans:
    parts = np.array([part.material == material for part in plan.piece.parts])
    return np.asarray(parts[ready.network.member_part])


def _thickest(ready: Prepared) -> si.Metres:
    """Return the smaller way across the thickest place of each member [m]."""
    network = ready.network
    most = np.zeros(network.member_part.size)
    across = np.minimum(network.width, network.thickness).max(axis=1)
    np.maximum.at(most, network.member, across)
    return most


def _burning(plan: Plan, ready: Prepared, kiln_volume: si.CubicMetre) -> Burning:
    drawn = ready.drawn
    if plan.kiln.air_changes is None:
        changes = drawn["kiln.air_changes_closed"]
    else:
        changes = plan.kiln.air_changes * drawn["kiln.air_changes_factor"]
    return Burning(
        pyrolysis_start=drawn["plants.general.pyrolysis_start"],
        pyrolysis_end=drawn["plants.general.pyrolysis_end"],
        dry_oxygen=drawn["plants.general.oxygen_need_dry"],
        char_activation=drawn["kiln.char_E"],
        # The record is over the pressure of oxygen in bar to the power of one half.
        char_log10_rate=drawn["kiln.char_log10_A"] + 0.5 * math.log10(_CHAR_OXYGEN),
        char_rate_oxygen=_CHAR_OXYGEN,
        char_order=drawn["kiln.char_order_O2"],
        oxygen_diffusivity=drawn["kiln.D_O2_air_20"],
        diffusivity_exponent=drawn["kiln.D_exponent"],
        tortuosity=drawn["investment.flow.tortuosity"],
        ash_bulk_density=drawn["plants.general.ash_bulk_density"],
        kiln_volume=kiln_volume,
        air_changes=changes,
        flasks=plan.kiln.flasks,
        char_density=drawn["kiln.char_density"],
        char_openness=drawn["kiln.char_openness"],
    )
