"""Solve: freeze every draw of a forecast, on as many threads as asked for.

Each draw stands by itself, so the result does not depend on the threads.
"""

from concurrent.futures import ThreadPoolExecutor

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_finite
from pourcast.freeze import columns
from pourcast.freeze.bodies import Bodies, bodies_of
from pourcast.freeze.draws import freeze_draws
from pourcast.freeze.feed import PROMINENCE, edges_of, feed
from pourcast.freeze.feeding import adjacency
from pourcast.freeze.limits import check
from pourcast.freeze.model import BUTTON, NOWHERE, FreezeCase, FreezeResult, FreezeSteps
from pourcast.freeze.pack import parameters_of
from pourcast.freeze.rings import SLICES
from pourcast.freeze.room import room
from pourcast.freeze.wall import curvature_table
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult


def solve(
    network: Network,
    case: FreezeCase,
    result: PourResult,
    *,
    steps: FreezeSteps | None = None,
    threads: int = 1,
    draws: int | None = None,
) -> FreezeResult:
    """Return how the castings of all draws freeze.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
        How the pours of the same network and draws ended.
    steps : FreezeSteps, optional
        How finely each freezing is followed.
    threads : int
        Draws are shared out among them; the result is the same for any number.
    draws : int, optional
        Only the first of them, so many; 1 or more.  None: all.

    Returns
    -------
    FreezeResult

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.

    Notes
    -----
    Closed forms and outside facts that it is held against: tests/freeze.
    """
    steps = steps or FreezeSteps()
    check(network, case, result, steps)
    if draws is not None and draws < 1:
        raise InputError("draws", draws, "", "1 or more")
    bodies = bodies_of(network)
    every, count = result.filled.shape
    draws = every if draws is None else min(draws, every)
    held = count + SLICES
    parameters = parameters_of(case, result, steps)
    scale = np.ascontiguousarray(case.pour.section_scale)
    moments = np.empty((draws, held, columns.LEVELS))
    demand = np.empty((draws, held, columns.LEVELS))
    edges, places = edges_of(bodies)
    first, neighbour = adjacency(places, edges)
    times = np.empty((draws, places))
    closed = np.empty((draws, held))
    volume = np.zeros((draws, places))
    volumes = np.empty((draws, held))
    ends = np.empty((draws, columns.ENDS))
    lack = np.zeros((draws, count))
    pool_volume = np.zeros((draws, count))
    cut_time = np.full((draws, count), np.nan)
    neck = np.full((draws, count), NOWHERE, dtype=np.int64)
    pool = np.full((draws, count), NOWHERE, dtype=np.int64)
    table = curvature_table()

    def some(begin: int, end: int) -> None:
        freeze_draws(
            begin,
            end,
            bodies.order,
            bodies.above,
            bodies.near,
            bodies.far,
            bodies.cut,
            bodies.meets,
            bodies.member,
            bodies.volume,
            bodies.side,
            bodies.tip,
            bodies.section,
            bodies.girth,
            bodies.length,
            bodies.member_length,
            scale,
            result.filled,
            result.fill_time,
            result.temperature,
            result.solid_fraction,
            parameters,
            table,
            moments,
            demand,
            closed,
            volumes,
            ends,
            room(count, bodies.nodes, bodies.cut.size),
        )
        times[begin:end, :held] = np.minimum(closed[begin:end], steps.longest)
        volume[begin:end, :held] = volumes[begin:end]
        feed(
            bodies,
            first,
            neighbour,
            times[begin:end],
            volume[begin:end],
            moments[begin:end],
            demand[begin:end],
            lack[begin:end],
            cut_time[begin:end],
            neck[begin:end],
            pool[begin:end],
            pool_volume[begin:end],
        )

    cuts = np.linspace(0, draws, max(1, threads) * 4 + 1).astype(int).tolist()
    if threads <= 1:
        some(0, draws)
    else:
        with ThreadPoolExecutor(threads) as workers:
            list(workers.map(some, cuts[:-1], cuts[1:]))
    require_finite("heat given by the metal", ends[:, columns.HEAT_GIVEN], "J")
    return _written(bodies, closed, moments, ends, lack, cut_time, neck, pool, pool_volume)


def _written(
    bodies: Bodies,
    closed: si.Seconds,
    moments: si.Seconds,
    ends: si.Table,
    lack: si.CubicMetres,
    cut_time: si.Seconds,
    neck: si.Integers,
    pool: si.Integers,
    pool_volume: si.CubicMetres,
) -> FreezeResult:
    count = bodies.order.size
    there = closed >= 0.0
    # What was never seen to freeze is no time at all, but still the last.
    solid_at = np.where(there, moments[:, :, columns.LEVELS - 1], -np.inf)
    closed = np.where(there & np.isfinite(closed), closed, np.nan)
    freeze = np.where(there & np.isfinite(solid_at), solid_at, np.nan)
    latest = solid_at.argmax(axis=1)
    # What outlives the button by a hair is told as the button: see PROMINENCE.
    ending = solid_at[:, count:].max(axis=1)
    near = ending >= (1.0 - PROMINENCE) * solid_at.max(axis=1)
    latest = np.where(near & (ending > 0.0), count, latest)
    last = np.where(latest < count, bodies.order[np.minimum(latest, count - 1)], BUTTON)
    all_solid = solid_at.max(axis=1)
    all_solid[~np.isfinite(all_solid)] = np.nan
    by_segment = np.empty(count, dtype=np.int64)
    by_segment[bodies.order] = np.arange(count)
    below = ends[:, columns.BUTTON_BELOW].copy()
    return FreezeResult(
        freeze_time=freeze[:, by_segment],
        feed_stop_time=closed[:, by_segment],
        button_freeze_time=_latest(freeze[:, count:]),
        button_feed_stop_time=_latest(closed[:, count:]),
        last=last.astype(np.int64),
        lack=lack,
        cut_time=cut_time,
        neck=neck,
        pool=pool,
        pool_volume=pool_volume,
        all_solid=all_solid,
        button_below=below,
        button_dark=ends[:, columns.BUTTON_DARK].copy(),
        quench_from=np.maximum(all_solid, below),
        quench_to=ends[:, columns.BURST_UNTIL].copy(),
        above_760=ends[:, columns.ABOVE_LOW].copy(),
        above_900=ends[:, columns.ABOVE_HIGH].copy(),
        face_peak=ends[:, columns.FACE_PEAK].copy(),
        heat_given=ends[:, columns.HEAT_GIVEN].copy(),
        heat_missing=ends[:, columns.HEAT_MISSING].copy(),
        steps=ends[:, columns.STEPS].astype(np.int64),
    )


def _latest(times: si.Seconds) -> si.Seconds:
    """Return the last of each row; not a number where one of them is none."""
    return np.asarray(times.max(axis=1))
