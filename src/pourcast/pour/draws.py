"""Draws: pour some of the draws, one after another, in the same tables."""

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.catch_up import catch_up
from pourcast.pour.columns import MARKS
from pourcast.pour.ending import write_segment
from pourcast.pour.march import march
from pourcast.pour.model import FULL
from pourcast.pour.set_out import set_out


@kernel
def pour_draws(
    first: int,
    last: int,
    section: si.Integers,
    length: si.Metres,
    width: si.Metres,
    thickness: si.Metres,
    height: si.Metres,
    share: si.Ratios,
    scale: si.Ratios,
    entry: si.Ratios,
    start: si.Integers,
    ways: si.Integers,
    way_of: si.Integers,
    ends: si.Integers,
    vents: si.Table,
    first_marks: si.Places,
    parameters: si.Table,
    limits: si.Table,
    char: si.Joules,
    filled: si.Ratios,
    cause: si.Integers,
    fill_time: si.Seconds,
    temperature: si.Kelvins,
    solid: si.Ratios,
    shut: si.Booleans,
    end: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
    pockets: si.Table,
    counts: si.Integers,
    active: si.Places,
    fronts: si.Places,
    ahead: si.Places,
    seen: si.Integers,
    queue: si.Places,
    stack: si.Places,
    over: si.CubicMetres,
    wet_node: si.Booleans,
    stopped_at: si.Integers,
    covered: si.Table,
    flows: si.Table,
    links: si.Places,
    beyond: si.Table,
    lanes: si.Table,
) -> None:
    """Pour draws ``first`` to ``last`` and write how each ends.

    Parameters
    ----------
    first, last : int
    section, start : array of int, shape (segments,)
    length : array [m], shape (segments,)
    width, thickness, height : array [m], shape (segments, 2)
    share : array [-], shape (segments,)
    scale, entry : array [-], shape (draws, segments)
    ways, way_of, ends, first_marks : array of int
    vents, parameters, limits : array [by column]
    char : array [J], shape (draws, segments), or no rows
        As `pourcast.pour.pack.Tables` holds them.
    filled, solid : array [-], shape (draws, segments)
    cause : array of int, shape (draws, segments)
    fill_time : array [s], shape (draws, segments)
    temperature : array [K], shape (draws, segments)
    shut : array of bool, shape (draws, segments)
    end : array [by column], shape (draws, 5)
        This and the six before it are filled.
    fixed, moving, pockets, covered, flows, beyond, lanes : array [by column]
    marks, counts, active, fronts, ahead, seen, queue, stack, stopped_at, links : array of int
    over : array [m³], shape (runs + 1,)
    wet_node : array of bool, shape (nodes,)
        Room to work in, from `room`.
    """
    segments = length.size
    for draw in range(first, last):
        values = parameters[draw]
        for run in range(first_marks.shape[0]):
            for column in range(MARKS):
                marks[run, column] = first_marks[run, column]
        set_out(
            section,
            length,
            width,
            thickness,
            height,
            share,
            scale[draw],
            entry[draw],
            marks,
            values,
            fixed,
        )
        if char.shape[0] > 0:
            covered[:, :] = 0.0
        march(
            ways,
            way_of,
            ends,
            wet_node,
            vents,
            values,
            fixed,
            moving,
            marks,
            pockets,
            counts,
            active,
            fronts,
            ahead,
            seen,
            queue,
            stack,
            over,
            limits,
            draw,
            char,
            covered,
            flows,
            links,
            beyond,
            lanes,
            end[draw],
        )
        catch_up(end[draw, 0], segments, values, fixed, moving, marks, lanes)
        stopped_at[:] = FULL
        for segment in range(segments):
            write_segment(
                segment,
                segments,
                start,
                ends,
                stopped_at,
                values,
                fixed,
                moving,
                marks,
                filled[draw],
                cause[draw],
                fill_time[draw],
                temperature[draw],
                solid[draw],
                shut[draw],
            )
