"""Solve: pour every draw, on as many threads as asked for.

Each draw stands by itself, so the result does not depend on the threads.
"""

from concurrent.futures import ThreadPoolExecutor

import numpy as np

from pourcast import units as si
from pourcast.errors import require_finite
from pourcast.piece.model import Network
from pourcast.pour.beyond import BEYOND_COLUMNS
from pourcast.pour.columns import (
    FIXED,
    LANE_ROOM,
    LINK_COLUMNS,
    LINK_MARKS,
    MARKS,
    MOVING,
    POCKET_COLUMNS,
)
from pourcast.pour.draws import pour_draws
from pourcast.pour.give_off import CHAR_COLUMNS
from pourcast.pour.model import PourCase, PourResult, Steps
from pourcast.pour.pack import pack


def room(
    runs: int, segments: int, nodes: int
) -> tuple[
    si.Table,
    si.Table,
    si.Places,
    si.Table,
    si.Integers,
    si.Places,
    si.Places,
    si.Places,
    si.Integers,
    si.Places,
    si.Places,
    si.CubicMetres,
    si.Booleans,
    si.Integers,
    si.Table,
    si.Table,
    si.Places,
    si.Table,
    si.Table,
]:
    """Return the room that one thread pours its draws in.

    The kernels make no arrays of their own, so that they need not count who owns one.

    Parameters
    ----------
    runs, segments, nodes : int

    Returns
    -------
    tuple of array
        The last nineteen arguments of `pourcast.pour.draws.pour_draws`; ``fixed``,
        ``moving``, ``pockets``, ``covered``, ``flows``, ``beyond`` and ``lanes`` [by column],
        ``over`` [m³].
    """
    return (
        np.empty((runs, FIXED)),
        np.empty((runs, MOVING)),
        np.empty((runs, MARKS), dtype=np.uint32),
        np.empty((runs + 2, POCKET_COLUMNS)),
        np.zeros(7, dtype=np.int64),
        np.empty(runs + 1, dtype=np.uint32),
        np.empty(runs + 1, dtype=np.uint32),
        np.empty(runs + 2, dtype=np.uint32),
        np.empty(segments, dtype=np.int64),
        np.empty(segments, dtype=np.uint32),
        np.empty(runs + 1, dtype=np.uint32),
        np.empty(runs + 1),
        np.empty(nodes, dtype=np.bool_),
        np.empty(nodes, dtype=np.int64),
        np.empty((runs, CHAR_COLUMNS)),
        np.empty((runs + 1, LINK_COLUMNS)),
        np.empty((runs + 1, LINK_MARKS), dtype=np.uint32),
        np.empty((runs, BEYOND_COLUMNS)),
        np.zeros(LANE_ROOM),
    )


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
    runs = tables.marks.shape[0]
    nodes = tables.ways.size - 1
    scale = np.ascontiguousarray(case.section_scale[:, network.member])
    entry = np.ascontiguousarray(case.entry_factor[:, network.member])
    filled = np.zeros((draws, segments))
    cause = np.zeros((draws, segments), dtype=np.int64)
    fill_time = np.full((draws, segments), np.nan)
    temperature = np.zeros((draws, segments))
    solid = np.zeros((draws, segments))
    shut = np.zeros((draws, segments), dtype=np.bool_)
    ends = np.zeros((draws, 5))

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
            tables.char,
            filled,
            cause,
            fill_time,
            temperature,
            solid,
            shut,
            ends,
            *room(runs, segments, nodes),
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
        char_gas=ends[:, 4].copy(),
    )
