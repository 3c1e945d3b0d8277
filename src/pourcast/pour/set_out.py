"""Set out: the sizes of every run for one draw.

The network gives widths as measured; each member of a draw is wider or thinner
by its own factor.  From that follow area, drag, bore and entry pressure.

A passage tapers evenly.  What is spread along it is taken as its mean over the taper
and not at its middle: volume and wall, inertia ∫ dx/A, slow drag ∫ dx/d⁴.  Else a strong
taper, such as the rounded end of a lump, would fill by how finely it is cut.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.piece.model import ROUND
from pourcast.pour.columns import (
    AREA,
    AREA_GIRTH_END,
    AREA_GIRTH_START,
    AREA_START,
    BODY,
    BORE,
    CALM_FLOW,
    CONDUCTIVITY,
    COOLING,
    DENSITY,
    DIFFUSIVITY,
    DRAG,
    ENTRY,
    ENTRY_LOSS,
    ENTRY_PRESSURE,
    FORK_LOSS,
    FORKS,
    GIRTH_AREA,
    INERTIA_PER_LENGTH,
    INTERFACE,
    LENGTH,
    LOG_RADIUS,
    LOSS,
    LOSS_SQUARE,
    RADIUS,
    REYNOLDS,
    ROUGH,
    ROUGHNESS,
    SHARE,
    SWIRL_PER_LENGTH,
    TAPER,
    VISCOSITY,
    WALL_RATE,
    WALL_WEIGHT,
    WEIGHT,
    Z_END,
    Z_START,
)
from pourcast.pour.elementary import logarithm
from pourcast.pour.friction import LAMINAR_TO, rough_term
from pourcast.pour.heat import soaking_rate
from pourcast.pour.sections import area, drag_of_taper, girth, laminar_drag, mean_area
from pourcast.units import GRAVITY


@kernel
def set_out(
    section: si.Integers,
    length: si.Metres,
    width: si.Metres,
    thickness: si.Metres,
    height: si.Metres,
    share: si.Ratios,
    scale: si.Ratios,
    entry_factor: si.Ratios,
    marks: si.Places,
    parameters: si.Table,
    fixed: si.Table,
) -> None:
    """Fill the table of fixed columns for all runs of one draw.

    Parameters
    ----------
    section : array of int, shape (segments,)
    length : array [m], shape (segments,)
    width, thickness : array [m], shape (segments, 2)
        At start and end, as measured.
    height : array [m], shape (segments, 2)
        Of start and end over the gate.
    share : array [-], shape (segments,)
        Of the vacuum that is felt there.
    scale, entry_factor : array [-], shape (segments,)
        Factors of this draw on the section and on the entry pressure.
    marks : array of int, shape (runs, MARKS)
        Reads FORKS.
    parameters : array [by column], shape (PARAMETERS,)
    fixed : array [by column], shape (runs, FIXED)
        Filled.
    """
    segments = length.size
    for run in range(fixed.shape[0]):
        segment = run if run < segments else run - segments
        first = 0 if run < segments else 1
        last = 1 - first
        kind = section[segment]
        factor = scale[segment]
        width_start = width[segment, first] * factor
        width_end = width[segment, last] * factor
        thickness_start = thickness[segment, first] * factor
        thickness_end = thickness[segment, last] * factor
        mid_width = 0.5 * (width_start + width_end)
        mid_thickness = 0.5 * (thickness_start + thickness_end)
        if kind == ROUND:
            mid_width = mid_thickness
        area_start = area(kind, width_start, thickness_start)
        area_end = area(kind, width_end, thickness_end)
        depth_start = area_start / girth(kind, width_start, thickness_start)
        depth_end = area_end / girth(kind, width_end, thickness_end)
        mid_area = area(kind, mid_width, mid_thickness)
        mid_girth = girth(kind, mid_width, mid_thickness)
        row = fixed[run]
        row[LENGTH] = length[segment]
        row[AREA] = mean_area(kind, width_start, thickness_start, width_end, thickness_end)
        row[AREA_START] = area_start
        row[TAPER] = math.sqrt(area_end / area_start) - 1.0
        row[BORE] = 4.0 * mid_area / mid_girth
        row[DRAG] = laminar_drag(kind, mid_width, mid_thickness, parameters[VISCOSITY])
        row[DRAG] *= drag_of_taper(4.0 * depth_start / row[BORE], 4.0 * depth_end / row[BORE])
        row[GIRTH_AREA] = mid_girth / row[AREA]
        row[AREA_GIRTH_START] = depth_start
        row[AREA_GIRTH_END] = depth_end
        row[RADIUS] = mid_girth / (2.0 * math.pi)
        row[LOG_RADIUS] = logarithm(row[RADIUS])
        row[Z_START] = height[segment, first]
        row[Z_END] = height[segment, last]
        row[ROUGH] = rough_term(parameters[ROUGHNESS], row[BORE])
        row[ENTRY] = parameters[ENTRY_PRESSURE] * entry_factor[segment]
        row[SHARE] = share[segment]
        row[COOLING] = parameters[INTERFACE] * row[GIRTH_AREA] / parameters[DENSITY]
        row[WALL_WEIGHT] = 0.0
        if parameters[CONDUCTIVITY] > 0.0:
            row[WALL_WEIGHT] = parameters[INTERFACE] * row[RADIUS] / parameters[CONDUCTIVITY]
        row[WALL_RATE] = soaking_rate(row[RADIUS], parameters[DIFFUSIVITY])
        row[BODY] = row[LENGTH] * row[AREA]
        row[INERTIA_PER_LENGTH] = parameters[DENSITY] / math.sqrt(area_start * area_end)
        row[SWIRL_PER_LENGTH] = 0.5 * parameters[DENSITY] / (row[AREA] * row[AREA] * row[BORE])
        row[REYNOLDS] = parameters[DENSITY] * row[BORE] / (row[AREA] * parameters[VISCOSITY])
        row[CALM_FLOW] = LAMINAR_TO / row[REYNOLDS]
        row[WEIGHT] = parameters[DENSITY] * GRAVITY * (row[Z_START] - row[Z_END])
        if marks[run, FORKS] == 2:
            row[LOSS] = parameters[ENTRY_LOSS]
        elif marks[run, FORKS] == 1:
            row[LOSS] = parameters[FORK_LOSS]
        else:
            row[LOSS] = 0.0
        row[LOSS_SQUARE] = row[LOSS] * 0.5 * parameters[DENSITY] / (area_start * area_start)
