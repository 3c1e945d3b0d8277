"""Pack: from records to the tables that the kernels work on, and back.

The ways on from each node are written once for all draws; the values of each
draw become one row.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_finite
from pourcast.kernels import kernel
from pourcast.piece.model import Network
from pourcast.pour import columns
from pourcast.pour.capillary import threshold_pressure
from pourcast.pour.char import gas_of_carbon, share_of_wall
from pourcast.pour.gas import air_viscosity, relaxation_time, steady_share, vent_conductance
from pourcast.pour.heat import Curve, heat_at_solid_fraction
from pourcast.pour.limits import check
from pourcast.pour.model import PourCase, Steps

_LEAST_SEGMENT = 1e-3  # m; shorter segments do not shorten the step, fronts pass several


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """What all draws of one forecast share, as the kernels read it.

    Parameters
    ----------
    ways : array of int, shape (nodes + 1,)
    way_of : array of int, shape (2 segments,)
    ends : array of int, shape (2 segments,)
    runs : int
        Segments in a tree, twice as many where the piece has loops.
    vents : array [by column], shape (nodes, 2)
    height : array [m], shape (segments, 2)
    share : array [-], shape (segments,)
    marks : array of int, shape (runs, MARKS)
        As each draw begins.
    parameters : array [by column], shape (draws, PARAMETERS)
    limits : array [by column], shape (5,)
    char : array [J], shape (draws, segments)
        Gas that the char of each segment makes in all; no rows: all is clean.
    """

    ways: si.Integers
    way_of: si.Integers
    ends: si.Integers
    runs: int
    vents: si.Table
    height: si.Metres
    share: si.Ratios
    marks: si.Places
    parameters: si.Table
    limits: si.Table
    char: si.Joules


def pack(network: Network, case: PourCase, steps: Steps) -> Tables:
    """Return the tables of a forecast.

    Parameters
    ----------
    network : Network
    case : PourCase
    steps : Steps

    Returns
    -------
    Tables

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.
    """
    segments = network.length.size
    nodes = int(max(network.start.max(), network.end.max())) + 1
    check(network, case)
    starts = np.concatenate([network.start, network.end])
    ends = np.concatenate([network.end, network.start])
    order = np.argsort(starts, kind="stable")
    ways = np.searchsorted(starts[order], np.arange(nodes + 1))
    looped = bool(np.bincount(network.end, minlength=nodes).max() > 1 or (network.end == 0).any())
    runs = 2 * segments if looped else segments
    marks = np.zeros((runs, columns.MARKS), dtype=np.uint32)
    degree = np.diff(ways)
    onward = degree[starts] - np.where(starts == 0, 0, 1)
    marks[:, columns.FORKS] = np.where(starts == 0, 2, np.where(onward > 1, 1, 0))[:runs]
    viscosity = air_viscosity(case.block.temperature)
    vents = np.zeros((nodes, 2))
    for node in np.flatnonzero(network.vent_diameter > 0.0):
        side = 1 if network.vent_to_vacuum[node] else 0
        vents[node, side] = vent_conductance(
            float(network.vent_diameter[node]),
            float(network.vent_length[node]),
            float(np.median(viscosity)),
        )
    height = np.stack([network.start_position[:, 2], network.end_position[:, 2]], axis=1)
    middle = 0.5 * (height[:, 0] + height[:, 1])
    block_depth = case.block.depth + case.block.cover
    depth = np.clip(case.stream.cup_height - middle, 0.0, block_depth)
    share = steady_share(
        depth, case.block.radius, block_depth, perforated=case.block.wall == "perforated"
    )
    return Tables(
        ways=ways.astype(np.int64),
        way_of=order.astype(np.int64),
        ends=ends.astype(np.int64),
        runs=runs,
        vents=vents,
        height=height,
        share=np.ascontiguousarray(share),
        marks=marks,
        parameters=_parameters(case, viscosity, block_depth),
        limits=np.array(
            [steps.share, steps.longest, steps.growth, _LEAST_SEGMENT, steps.lengthening]
        ),
        char=_gas_of_char(network, case),
    )


def _gas_of_char(network: Network, case: PourCase) -> si.Joules:
    if case.char_left is None or not case.char_left.any():
        return np.empty((0, network.length.size))
    gas = gas_of_carbon(case.char_left, case.block.temperature[:, np.newaxis])
    return np.ascontiguousarray(gas[:, network.member] * share_of_wall(network))


@kernel
def _fill_of_metal(
    values: si.Table, solid: si.Table, heats: si.JoulesPerKilogram, entry: si.Table
) -> None:
    for draw in range(entry.size):
        curve = Curve(
            values[0, draw], values[1, draw], values[2, draw], values[3, draw], values[4, draw]
        )
        for row in range(solid.shape[0]):
            heats[row, draw] = heat_at_solid_fraction(solid[row, draw], curve)
        entry[draw] = threshold_pressure(1.0, values[5, draw], values[6, draw], values[7, draw])


def _parameters(case: PourCase, viscosity: si.PascalSeconds, block_depth: float) -> si.Table:
    metal, block, stream = case.metal, case.block, case.stream
    draws = metal.density.size
    table = np.empty((draws, columns.PARAMETERS))

    heats = np.empty((3, draws))
    entry = np.empty(draws)
    values_of_metal = np.stack(
        [
            metal.liquidus,
            metal.half_solid,
            metal.solidus,
            metal.specific_heat,
            metal.latent_heat,
            metal.surface_tension,
            metal.contact_angle,
            metal.film_factor,
        ]
    )
    _fill_of_metal(
        values_of_metal, np.stack([metal.tip_stop, metal.choke_stop, np.ones(draws)]), heats, entry
    )
    pressure = block.air_pressure - 0.5 * block.vacuum
    pore_time = relaxation_time(
        block.porosity,
        viscosity,
        block.permeability,
        pressure,
        block.radius,
        block_depth,
        perforated=block.wall == "perforated",
    )
    # Above the liquidus the heat grows with the temperature; a cup that has
    # begun to freeze is placed along the straight line to the solidus.
    over = metal.temperature - metal.liquidus
    under = heats[2] * np.clip(-over / np.maximum(metal.liquidus - metal.solidus, 1e-9), 0.0, 1.0)
    cup_heat = np.where(over >= 0.0, metal.specific_heat * over, under)
    activation, log_rate = np.zeros(draws), np.zeros(draws)
    if case.char_activation is not None and case.char_log10_rate is not None:
        activation = case.char_activation / si.GAS_CONSTANT
        log_rate = case.char_log10_rate * math.log(10.0)
    values: dict[int, object] = {
        columns.DENSITY: metal.density,
        columns.VISCOSITY: metal.viscosity,
        columns.LIQUIDUS: metal.liquidus,
        columns.HALF_SOLID: metal.half_solid,
        columns.SOLIDUS: metal.solidus,
        columns.SPECIFIC_HEAT: metal.specific_heat,
        columns.LATENT_HEAT: metal.latent_heat,
        columns.METAL_CONDUCTIVITY: metal.conductivity,
        columns.TIP_HEAT_STOP: heats[0],
        columns.CHOKE_HEAT_STOP: heats[1],
        columns.CHOKE: metal.choke_stop,
        columns.CUP_HEAT: cup_heat,
        columns.MOULD_TEMPERATURE: block.temperature,
        columns.INTERFACE: block.interface_heat_transfer,
        columns.CONDUCTIVITY: block.conductivity,
        columns.DIFFUSIVITY: block.diffusivity,
        columns.PERMEABILITY: block.permeability,
        columns.POROSITY: block.porosity,
        columns.GAS_VISCOSITY: viscosity,
        columns.AIR_PRESSURE: block.air_pressure,
        columns.VACUUM: block.vacuum,
        columns.PUMP_TIME: block.pump_time,
        columns.LEAD_TIME: block.lead_time,
        columns.PORE_TIME: pore_time,
        columns.METAL_VOLUME: stream.metal_volume,
        columns.POUR_RATE: stream.pour_rate,
        columns.START_HEAD: stream.start_head,
        columns.ROUGHNESS: stream.roughness,
        columns.ENTRY_LOSS: stream.entry_loss,
        columns.FORK_LOSS: stream.fork_loss,
        columns.ENTRY_PRESSURE: entry,
        columns.CUP_TOP_RADIUS: 0.5 * stream.cup_diameter,
        columns.CUP_HEIGHT: stream.cup_height,
        columns.GATE_RADIUS: 0.5 * stream.gate_diameter,
        columns.PIECE_RADIUS: block.piece_radius,
        columns.PIECE_HEIGHT: block.piece_height,
        columns.BLOCK_RADIUS: block.radius,
        columns.CHAR_ACTIVATION: activation,
        columns.CHAR_LOG_RATE: log_rate,
    }
    for column, value in values.items():
        table[:, column] = value  # type: ignore[call-overload]
    require_finite("values of a draw", table, "")
    if len(values) != columns.PARAMETERS:
        raise InputError("columns filled", len(values), "", f"{columns.PARAMETERS}")
    return table
