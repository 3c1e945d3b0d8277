"""Pack: from the records of a case to the rows that the kernels of freezing read."""

import numpy as np

from pourcast import units as si
from pourcast.freeze import columns
from pourcast.freeze.model import FreezeCase, FreezeSteps
from pourcast.freeze.solid import heats_of
from pourcast.pour.model import PourResult


def parameters_of(case: FreezeCase, result: PourResult, steps: FreezeSteps) -> si.Table:
    """Return one row of values for each draw.

    Parameters
    ----------
    case : FreezeCase
    result : PourResult
    steps : FreezeSteps

    Returns
    -------
    array [by column], shape (draws, PARAMETERS)

    Raises
    ------
    InputError
        If a freezing curve rises.
    """
    metal, block, stream = case.pour.metal, case.pour.block, case.pour.stream
    draws = metal.density.size
    table = np.empty((draws, columns.PARAMETERS))
    values: dict[int, si.Floats | float] = {
        columns.MOULD: block.temperature,
        columns.TOUCH: block.interface_heat_transfer,
        columns.GAP: case.gap_heat_transfer,
        columns.CONDUCTIVITY: block.conductivity,
        columns.DIFFUSIVITY: block.diffusivity,
        columns.DENSITY: metal.density,
        columns.LIQUID_CONDUCTIVITY: metal.conductivity,
        columns.SOLID_CONDUCTIVITY: case.solid_conductivity,
        columns.FEED_STOP: case.feed_stop,
        columns.SHRINKAGE: case.shrinkage,
        columns.CONTRACTION: case.liquid_contraction,
        columns.ROOM: case.room_temperature,
        columns.TOP_TRANSFER: case.top_heat_transfer,
        columns.TOP_EMISSIVITY: case.top_emissivity,
        columns.FLASK_TRANSFER: case.flask_heat_transfer,
        columns.FLASK_EMISSIVITY: case.flask_emissivity,
        columns.BURST: case.burst_temperature,
        columns.METAL_LEFT: result.metal_left,
        columns.END_TIME: result.end_time,
        columns.POURED_AT: metal.temperature,
        columns.GATE_RADIUS: 0.5 * stream.gate_diameter,
        columns.RIM_RADIUS: 0.5 * stream.cup_diameter,
        columns.CUP_HEIGHT: stream.cup_height,
        columns.FLASK_RADIUS: block.radius,
        columns.FIRST_STEP: steps.first,
        columns.STEP_GROWTH: steps.growth,
        columns.LONGEST: steps.longest,
    }
    for column, value in values.items():
        table[:, column] = value
    curves = np.column_stack(
        [metal.liquidus, metal.half_solid, case.seventy_solid, case.ninety_solid, metal.solidus]
    )
    heats = heats_of(curves, metal.specific_heat, case.solid_specific_heat, metal.latent_heat)
    table[:, columns.KNOTS : columns.KNOTS + 5] = curves
    table[:, columns.KNOTS + 5 : columns.KNOTS + 9] = heats[:, 1:]
    table[:, columns.KNOTS + 9] = metal.specific_heat
    table[:, columns.KNOTS + 10] = case.solid_specific_heat
    return table
