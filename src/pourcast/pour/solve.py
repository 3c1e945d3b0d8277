"""Solve: pour every draw, on as many threads as asked for.

Each draw stands by itself, so the result does not depend on the threads.
"""

from concurrent.futures import ThreadPoolExecutor

import numpy as np

from pourcast import units as si
from pourcast.errors import require_finite
from pourcast.kernels import kernel
from pourcast.piece.model import Network
from pourcast.pour.columns import (
    DEAD,
    FIXED,
    FRONT,
    FULL_AT,
    GIRTH_AREA,
    HALF_SOLID,
    HEAT,
    HEATED_AT,
    LATENT_HEAT,
    LENGTH,
    LIQUIDUS,
    MARKS,
    MOVING,
    OPEN,
    POCKET_COLUMNS,
    RADIUS,
    SOLIDUS,
    SPECIFIC_HEAT,
    STATE,
    STOPPED,
    TIP_HEAT,
    WETTED_AT,
)
from pourcast.pour.cool import heat_loss
from pourcast.pour.heat import solid_fraction_of, temperature_of
from pourcast.pour.march import march
from pourcast.pour.meet import COLD_SHUT
from pourcast.pour.model import CHOKE, FULL, PourCase, PourResult, Steps
from pourcast.pour.pack import pack
from pourcast.pour.set_out import set_out

_CATCH_UP_STEPS = 8  # steps in which metal that stood is cooled to the end of the pour
_FULL_SHARE = 1.0 - 1e-6


def solve(
    network: Network, case: PourCase, *, steps: Steps | None = None, threads: int = 1
) -> PourResult:
    """Return how the pours of all draws end.

    Parameters
    ----------
    network : Network
    case : PourCase
    steps : Steps, optional
        How finely each pour is followed.
    threads : int
        Draws are shared out among them; the result is the same for any number.

    Returns
    -------
    PourResult

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.

    Notes
    -----
    Closed forms and outside facts that it is held against: tests/pour.
    """
    tables = pack(network, case, steps or Steps())
    draws = tables.parameters.shape[0]
    segments = network.length.size
    scale = np.ascontiguousarray(case.section_scale[:, network.member])
    entry = np.ascontiguousarray(case.entry_factor[:, network.member])
    filled = np.zeros((draws, segments))
    cause = np.zeros((draws, segments), dtype=np.int64)
    fill_time = np.full((draws, segments), np.nan)
    temperature = np.zeros((draws, segments))
    solid = np.zeros((draws, segments))
    shut = np.zeros((draws, segments), dtype=np.bool_)
    ends = np.zeros((draws, 4))

    def some(first: int, last: int) -> None:
        pour_draws(
            first,
            last,
            network.section,
            network.length,
            network.width,
            network.thickness,
            tables.height,
            tables.share,
            scale,
            entry,
            network.start,
            tables.ways,
            tables.way_of,
            tables.ends,
            tables.vents,
            tables.marks,
            tables.parameters,
            tables.limits,
            filled,
            cause,
            fill_time,
            temperature,
            solid,
            shut,
            ends,
        )

    edges = np.linspace(0, draws, max(1, threads) * 4 + 1).astype(int).tolist()
    if threads <= 1:
        some(0, draws)
    else:
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(some, edges[:-1], edges[1:]))
    require_finite("filled share", filled, "")
    return PourResult(
        filled=filled,
        cause=cause,
        fill_time=fill_time,
        temperature=temperature,
        solid_fraction=solid,
        cold_shut=shut,
        metal_left=ends[:, 2].copy(),
        end_time=ends[:, 0].copy(),
        steps=ends[:, 1].astype(np.int64),
    )


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
    first_marks: si.Integers,
    parameters: si.Table,
    limits: si.Table,
    filled: si.Ratios,
    cause: si.Integers,
    fill_time: si.Seconds,
    temperature: si.Kelvins,
    solid: si.Ratios,
    shut: si.Booleans,
    end: si.Table,
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
        As `pourcast.pour.pack.Tables` holds them.
    filled, solid : array [-], shape (draws, segments)
    cause : array of int, shape (draws, segments)
    fill_time : array [s], shape (draws, segments)
    temperature : array [K], shape (draws, segments)
    shut : array of bool, shape (draws, segments)
    end : array [by column], shape (draws, 4)
        The last seven are filled.
    """
    segments = length.size
    runs = first_marks.shape[0]
    fixed = np.empty((runs, FIXED))
    moving = np.empty((runs, MOVING))
    marks = np.empty((runs, MARKS), np.int64)
    pockets = np.empty((runs + 2, POCKET_COLUMNS))
    counts = np.zeros(3, np.int64)
    active = np.empty(runs + 1, np.int64)
    seen = np.empty(segments, np.int64)
    queue = np.empty(segments, np.int64)
    stack = np.empty(runs + 1, np.int64)
    over = np.empty(runs + 1)
    wet_node = np.empty(ways.size - 1, np.bool_)
    stopped_at = np.empty(ways.size - 1, np.int64)
    for draw in range(first, last):
        values = parameters[draw]
        marks[:, :] = first_marks
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
            seen,
            queue,
            stack,
            over,
            limits,
            end[draw],
        )
        stopped_at[:] = FULL
        for segment in range(segments):
            write_segment(
                segment,
                segments,
                start,
                ends,
                stopped_at,
                end[draw, 0],
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


@kernel
def write_segment(
    segment: int,
    segments: int,
    start: si.Integers,
    ends: si.Integers,
    stopped_at: si.Integers,
    time: si.Second,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
    filled: si.Ratios,
    cause: si.Integers,
    fill_time: si.Seconds,
    temperature: si.Kelvins,
    solid: si.Ratios,
    shut: si.Booleans,
) -> None:
    """Write how one segment ends: share, cause, time, heat.

    Parameters
    ----------
    segment, segments : int
    start, ends : array of int
    stopped_at : array of int, shape (nodes,)
        Cause that keeps the metal from each node; brought up to date.
    time : float [s]
        End of the pour.
    parameters, fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    filled, solid : array [-], shape (segments,)
    cause : array of int, shape (segments,)
    fill_time : array [s], shape (segments,)
    temperature : array [K], shape (segments,)
    shut : array of bool, shape (segments,)
        The last six are filled.
    """
    run = segment
    wet = moving[run, FRONT]
    if fixed.shape[0] > segments:
        other = segment + segments
        wet += moving[other, FRONT]
        if moving[other, FRONT] > moving[run, FRONT]:
            run = other
        shut[segment] = marks[segment, OPEN] == COLD_SHUT or marks[other, OPEN] == COLD_SHUT
    share = min(wet / fixed[segment, LENGTH], 1.0)
    full = share >= _FULL_SHARE
    filled[segment] = 1.0 if full else share
    stopped = marks[run, STOPPED]
    if full:
        cause[segment] = FULL
        fill_time[segment] = moving[run, FULL_AT]
        if stopped == CHOKE:
            stopped_at[ends[segment]] = CHOKE
    else:
        if stopped <= FULL:
            stopped = stopped_at[start[segment]]
        cause[segment] = stopped if stopped > FULL else CHOKE
        stopped_at[ends[segment]] = cause[segment]
    heat = moving[run, HEAT] if wet > 0.0 else 0.0
    if wet > 0.0:
        if marks[run, STATE] == DEAD and moving[run, TIP_HEAT] < heat and not full:
            heat = 0.5 * (heat + moving[run, TIP_HEAT])
        step = (time - moving[run, HEATED_AT]) / _CATCH_UP_STEPS
        for number in range(_CATCH_UP_STEPS):
            if step <= 0.0:
                break
            age = moving[run, HEATED_AT] + (number + 0.5) * step - moving[run, WETTED_AT]
            heat -= step * heat_loss(
                heat, age, 1.0, fixed[run, GIRTH_AREA], fixed[run, RADIUS], parameters
            )
    temperature[segment] = temperature_of(
        heat,
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    solid[segment] = solid_fraction_of(
        heat,
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
