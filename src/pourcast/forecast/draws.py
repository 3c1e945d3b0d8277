"""Draws: from the unknowns to what each pour starts from.

Model of the reading errors.  A temperature or a gauge reads the truth plus an
error; what the caster reads is known, so the truth is drawn about it.  A
measure of a part is off by one factor for the part; each member differs from
it by a factor of its own.  Width and thickness go with the same factor.  How
far a measure may be off is drawn as of a caliper, unless the part says it.

Very thin sections under vacuum (`thin_section_factor`): below 0.5 mm the entry
pressure is multiplied by F^s with s rising from 0 at 0.5 mm to 1 at 0.25 mm
and F drawn from 1 to 8.  It stands for what the model leaves out there:
roughness, film skin, dirt, pump flow.  An estimate, without a source.

Weather: the air pressure differs from the usual of the place by 1 kPa (one
standard deviation, estimate) unless it was read.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BurnoutResult
from pourcast.errors import InputError
from pourcast.forecast.unknowns import normal
from pourcast.materials.draws import ArrayInSI
from pourcast.melt.model import MetalAccount
from pourcast.mould.model import Mould
from pourcast.piece.model import Measures, Network
from pourcast.pour.checks import UNPROVED_UNDER
from pourcast.pour.gas import air_pressure_at
from pourcast.pour.model import Block, Metal, PourCase, Stream
from pourcast.sheet.model import Plan

_WEATHER = 1.0e3  # Pa, estimate
_THIN_FULLY = 0.25e-3  # m, estimate: a florist's petal
_HALF_SOLID_SHARE = 0.24
"""Where an alloy has no value for half solid: this share of the freezing range under
the liquidus, that of silicon bronze C87300; estimate."""
_MOST_OF_AIR = 0.98  # no pump of a studio draws deeper (estimate)
_ROOM_FOR_GAS = (
    0.5  # of the block's radius: so far at least gas spreads round a slim piece (estimate)
)
_LEAST_COVER = 1e-3  # m; a piece that does not fit is told so, and poured as if it did


def section_scale(
    network: Network, drawn: dict[str, ArrayInSI], draws: int, seed: int
) -> si.Ratios:
    """Return the factor on the section of each member, draw by draw [-].

    Parameters
    ----------
    network : Network
    drawn : dict of str to array [SI], shape (draws,)
    draws, seed : int

    Returns
    -------
    array [-], shape (draws, members)
    """
    scale = np.empty((draws, network.member_part.size))
    for part, name in enumerate(network.part_names):
        members = np.flatnonzero(network.member_part == part)
        error = drawn["measure_error"][:, None]
        if network.measure_error is not None and np.isfinite(network.measure_error[part]):
            error = np.full((draws, 1), network.measure_error[part])
        measure = normal(f"measure/{name}", (draws, 1), seed) * error
        own = normal(f"member/{name}", (draws, members.size), seed)
        scatter = drawn["member_thickness_scatter"][:, None]
        scale[:, members] = np.exp(measure + own * scatter)
    return scale


def volume_scale(network: Network, scale: si.Ratios) -> si.Ratios:
    """Return the volume of the piece over its volume as measured, draw by draw [-].

    Parameters
    ----------
    network : Network
    scale : array [-], shape (draws, members)

    Returns
    -------
    array [-], shape (draws,)
    """
    bulk = network.length * network.width.mean(axis=1) * network.thickness.mean(axis=1)
    by_member = np.bincount(network.member, weights=bulk, minlength=network.member_part.size)
    return np.asarray(scale**2 @ by_member / by_member.sum())


def thinnest_of_members(network: Network) -> si.Metres:
    """Return the least way across each member [m].

    Parameters
    ----------
    network : Network

    Returns
    -------
    array [m], shape (members,)
    """
    least = np.full(network.member_part.size, np.inf)
    across = np.minimum(network.width, network.thickness).min(axis=1)
    np.minimum.at(least, network.member, across)
    return least


def pour_case(
    plan: Plan,
    network: Network,
    measures: Measures,
    mould: Mould,
    metal: MetalAccount,
    drawn: dict[str, ArrayInSI],
    scale: si.Ratios,
    seed: int,
    burnt: BurnoutResult | None = None,
) -> PourCase:
    """Return what each pour starts from.

    Parameters
    ----------
    plan : Plan
    network : Network
    measures : Measures
    mould : Mould
    metal : MetalAccount
    drawn : dict of str to array [SI], shape (draws,)
        Under the names of `pourcast.forecast.unknowns.unknowns`.
    scale : array [-], shape (draws, members)
    seed : int
    burnt : BurnoutResult, optional
        How the burnout of each draw ended; None: clean, and the flask as the
        values have it.

    Returns
    -------
    PourCase
    """
    draws = scale.shape[0]
    return PourCase(
        metal=_metal(plan, drawn, draws, seed),
        block=_block(plan, measures, mould, drawn, draws, seed, burnt),
        stream=_stream(plan, metal, drawn),
        section_scale=scale,
        entry_factor=_entry_factor(plan, network, drawn, draws),
        char_left=burnt.fate.char_left if burnt else None,
        char_activation=drawn.get("investment.chemistry.sulphate_carbon_E"),
        char_log10_rate=drawn.get("investment.chemistry.sulphate_carbon_log10_A"),
    )


def _metal(plan: Plan, drawn: dict[str, ArrayInSI], draws: int, seed: int) -> Metal:
    error = plan.studio.metal_thermometer_error
    spread = drawn["metal_thermometer_error"] if error is None else np.full(draws, error)
    in_pot = plan.charge.pour_temperature + normal("metal thermometer", (draws,), seed) * spread
    liquidus, solidus = drawn["liquidus"], drawn["solidus"]
    half_solid = drawn.get("fs50", liquidus - _HALF_SOLID_SHARE * (liquidus - solidus))
    return Metal(
        density=drawn["density_liquid"],
        viscosity=drawn["viscosity_liquidus"],
        surface_tension=drawn["surface_tension"],
        contact_angle=drawn["contact_angle"],
        film_factor=drawn["film_factor"],
        liquidus=liquidus,
        half_solid=half_solid,
        solidus=solidus,
        specific_heat=drawn["cp_liquid"],
        latent_heat=drawn["latent"],
        conductivity=drawn["k_liquid"],
        tip_stop=drawn["tip_stop_solid_fraction"],
        choke_stop=drawn["choke_solid_fraction"],
        temperature=in_pot - drawn["stream_loss"],
    )


def _block(
    plan: Plan,
    measures: Measures,
    mould: Mould,
    drawn: dict[str, ArrayInSI],
    draws: int,
    seed: int,
    burnt: BurnoutResult | None,
) -> Block:
    if plan.flask.temperature is None:
        temperature = burnt.flask_temperature if burnt else drawn["flask_temperature"]
    else:
        error = plan.studio.flask_thermometer_error
        spread = drawn["flask_thermometer_error"] if error is None else np.full(draws, error)
        temperature = plan.flask.temperature + normal("flask thermometer", (draws,), seed) * spread
        if (temperature <= 0.0).any():
            most = float(np.max(spread))
            must = "so small that a flask read wrong by it stays above 0 K"
            raise InputError("flask_thermometer_error", f"{most:g}", "K", must)
    air = plan.studio.air_pressure
    if air is None:
        usual = air_pressure_at(plan.studio.altitude)
        pressure = usual + _WEATHER * normal("weather", (draws,), seed)
    else:
        pressure = np.full(draws, air)
    vacuum = np.zeros(draws)
    if plan.assist.vacuum is not None and plan.assist.kind == "vacuum":
        error = plan.studio.gauge_error
        spread = drawn["gauge_error"] if error is None else np.full(draws, error)
        read = plan.assist.vacuum + normal("gauge", (draws,), seed) * spread
        vacuum = np.clip(read * plan.assist.seal, 0.0, _MOST_OF_AIR * pressure)
    radius = 0.5 * plan.flask.inside_diameter
    conductivity = drawn["k_burnt_600"]
    return Block(
        temperature=temperature,
        interface_heat_transfer=drawn["interface_heat_transfer"],
        conductivity=conductivity,
        diffusivity=conductivity / (mould.burnt_density * drawn["cp_burnt_mean_20_600"]),
        permeability=drawn["permeability_burnt"],
        porosity=np.full(draws, mould.burnt_porosity),
        air_pressure=pressure,
        vacuum=vacuum,
        pump_time=np.full(draws, plan.assist.pump_time),
        lead_time=np.full(draws, plan.assist.lead_time),
        wall=plan.flask.wall,
        radius=radius,
        depth=mould.depth,
        cover=max(mould.far_cover, _LEAST_COVER),
        piece_radius=min(max(measures.reach, _ROOM_FOR_GAS * radius), 0.95 * radius),
        piece_height=-measures.lowest,
    )


def _stream(plan: Plan, metal: MetalAccount, drawn: dict[str, ArrayInSI]) -> Stream:
    poured = plan.charge.poured
    mass = metal.metal - metal.short_by if poured is None else poured
    return Stream(
        metal_volume=mass * (1.0 - drawn["melt_loss"]) / drawn["density_liquid"],
        pour_rate=drawn["pour_rate"],
        start_head=drawn["start_head"],
        entry_loss=drawn["entry_loss"],
        fork_loss=drawn["fork_loss"],
        roughness=drawn["wall_roughness"],
        cup_diameter=plan.piece.button.diameter,
        cup_height=plan.piece.button.height,
        gate_diameter=plan.piece.button.gate_diameter,
    )


def _entry_factor(
    plan: Plan, network: Network, drawn: dict[str, ArrayInSI], draws: int
) -> si.Ratios:
    members = network.member_part.size
    factor = drawn.get("thin_section_factor")
    if plan.assist.kind == "gravity" or factor is None:
        return np.ones((draws, members))
    thin = (UNPROVED_UNDER - thinnest_of_members(network)) / (UNPROVED_UNDER - _THIN_FULLY)
    return np.asarray(factor[:, None] ** np.clip(thin, 0.0, 1.0)[None, :])
