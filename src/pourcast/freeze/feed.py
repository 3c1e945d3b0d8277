"""Feed: pools, necks and lack of each draw, written by segment.

Every body and every slice of the button is a place; so is every node where
bodies meet, without volume and open as long as the last of its bodies, so that
bodies at one node touch each other.
"""

import numpy as np

from pourcast import units as si
from pourcast.freeze.bodies import Bodies
from pourcast.freeze.lack import find_lack, told_pool
from pourcast.freeze.model import BUTTON, NOWHERE
from pourcast.freeze.rings import SLICES
from pourcast.freeze.unite import find_pools
from pourcast.kernels import kernel

PROMINENCE = 0.05
"""A pool whose peak outlives its bridge by less than this share is not told: steps
and cuts of the piece make that much of a difference; an estimate."""


@kernel
def order_places(
    bodies: int,
    latest: si.Integers,
    first: si.Integers,
    neighbour: si.Integers,
    time: si.Seconds,
    order: si.Integers,
) -> int:
    """Put each node after the last body that meets it; return how many places are there.

    Parameters
    ----------
    bodies : int
        Places before the nodes: bodies and slices.
    latest : array of int, shape (bodies,)
        Bodies and slices by falling time.
    first, neighbour : array of int
        Of all places, from `pourcast.freeze.feeding.adjacency`.
    time : array [s], shape (places,)
        That of the nodes is filled; -1 where there is no metal.
    order : array of int, shape (places,)
        Filled: all places by falling time.

    Returns
    -------
    int
    """
    for node in range(bodies, time.size):
        time[node] = -1.0
    count = 0
    for rank in range(bodies):
        place = latest[rank]
        if time[place] < 0.0:
            break
        order[count] = place
        count += 1
        for at in range(first[place], first[place + 1]):
            node = neighbour[at]
            if node >= bodies and time[node] < 0.0:
                time[node] = time[place]
                order[count] = node
                count += 1
    return count


@kernel
def feed_draws(
    first_draw: int,
    last_draw: int,
    latest: si.Integers,
    time: si.Seconds,
    volume: si.CubicMetres,
    first: si.Integers,
    neighbour: si.Integers,
    feeder: si.Booleans,
    moments: si.Seconds,
    demand: si.Ratios,
    order: si.Integers,
    by_time: si.Integers,
    link: si.Integers,
    pool_at: si.Integers,
    touching: si.Integers,
    owner: si.Integers,
    peak: si.Integers,
    bridge: si.Integers,
    parent: si.Integers,
    cut_time: si.Seconds,
    size: si.CubicMetres,
    lacking: si.CubicMetres,
    inside: si.CubicMetres,
    fed: si.Booleans,
    told: si.Booleans,
    heart: si.Integers,
    thick: si.Metres,
    lack: si.CubicMetres,
    cut: si.Seconds,
    neck: si.Integers,
    pool: si.Integers,
    pool_volume: si.CubicMetres,
) -> None:
    """Find the pools of some draws and write them by segment.

    Parameters
    ----------
    first_draw, last_draw : int
    latest : array of int, shape (draws, bodies + SLICES)
        Bodies and slices by falling time.
    time : array [s], shape (draws, places)
    volume : array [m³], shape (draws, places)
    first, neighbour : array of int
    feeder : array of bool, shape (places,)
    moments : array [s], shape (draws, bodies + SLICES, LEVELS)
    demand : array [-], shape (draws, bodies + SLICES, LEVELS)
    order : array of int, shape (bodies,)
        Segment of each body.
    by_time, link, pool_at, touching, owner, peak, bridge, parent : array of int, shape (places,)
    cut_time : array [s], shape (places,)
    size, lacking, inside : array [m³], shape (places,)
    fed, told : array of bool, shape (places,)
    heart : array of int, shape (places,)
    thick : array [m], shape (bodies,)
        Casting modulus: a pool is named after its thickest segment, for the last
        to close may be a hair on it, later by less than the model knows.
    lack, pool_volume : array [m³], shape (draws, segments)
    cut : array [s], shape (draws, segments)
    neck, pool : array of int, shape (draws, segments)
        Filled, as `pourcast.freeze.model.FreezeResult` says.
    """
    bodies = order.size
    for draw in range(first_draw, last_draw):
        present = order_places(latest.shape[1], latest[draw], first, neighbour, time[draw], by_time)
        count = find_pools(
            by_time,
            present,
            time[draw],
            volume[draw],
            first,
            neighbour,
            feeder,
            link,
            pool_at,
            touching,
            owner,
            peak,
            cut_time,
            bridge,
            parent,
            size,
            fed,
        )
        find_lack(
            count,
            time[draw],
            volume[draw],
            moments[draw],
            demand[draw],
            PROMINENCE,
            owner,
            peak,
            cut_time,
            parent,
            fed,
            told,
            lacking,
            inside,
        )
        for number in range(count):
            heart[number] = peak[number]
        for body in range(bodies):
            number = told_pool(owner[body], told, parent)
            if number < 0 or not told[number] or peak[number] >= bodies:
                continue
            if volume[draw, body] > 0.0 and thick[body] > thick[heart[number]]:
                heart[number] = body
        for number in range(count):
            if not told[number] or peak[number] >= bodies:
                continue
            segment = order[heart[number]]
            lack[draw, segment] = lacking[number]
            pool_volume[draw, segment] = size[number]
            cut[draw, segment] = max(cut_time[number], 0.0)
            by = bridge[number]
            if 0 <= by < bodies:
                neck[draw, segment] = order[by]
            elif by >= 0 and feeder[by]:
                neck[draw, segment] = BUTTON
        for body in range(bodies):
            number = told_pool(owner[body], told, parent)
            if number < 0:
                continue
            if told[number] and peak[number] < bodies:
                pool[draw, order[body]] = order[heart[number]]
            else:
                pool[draw, order[body]] = BUTTON if fed[number] else NOWHERE


def edges_of(bodies: Bodies) -> tuple[si.Integers, int]:
    """Return which places touch, and how many places there are.

    Parameters
    ----------
    bodies : Bodies

    Returns
    -------
    tuple
        Array of int, shape (edges, 2), and an int.
    """
    count = bodies.order.size
    base = count + SLICES
    far = bodies.far.copy()
    far[bodies.cut] = bodies.meets
    body = np.arange(count)
    slices = np.arange(count, base)
    pairs = [
        np.column_stack([body, base + bodies.near]),
        np.column_stack([body, base + far]),
        np.column_stack([slices[:-1], slices[1:]]),
        np.array([[count, base]]),
    ]
    return np.concatenate(pairs).astype(np.int64), base + bodies.nodes - bodies.cut.size


def feed(
    bodies: Bodies,
    first: si.Integers,
    neighbour: si.Integers,
    time: si.Seconds,
    volume: si.CubicMetres,
    moments: si.Seconds,
    demand: si.Ratios,
    lack: si.CubicMetres,
    cut: si.Seconds,
    neck: si.Integers,
    pool: si.Integers,
    pool_volume: si.CubicMetres,
) -> None:
    """Find the pools of some draws; the last five arguments are filled.

    Parameters
    ----------
    bodies : Bodies
    first, neighbour : array of int
        From `pourcast.freeze.feeding.adjacency`.
    time : array [s], shape (draws, places)
        When each body and slice closes; -1 where there is no metal.  That of the nodes is
        filled.
    volume : array [m³], shape (draws, places)
    moments : array [s], shape (draws, bodies + SLICES, LEVELS)
    demand : array [-], shape (draws, bodies + SLICES, LEVELS)
    lack, pool_volume : array [m³], shape (draws, segments)
    cut : array [s], shape (draws, segments)
    neck, pool : array of int, shape (draws, segments)
        As `pourcast.freeze.model.FreezeResult` says.
    """
    draws, places = time.shape
    count = bodies.order.size
    feeder = np.zeros(places, dtype=np.bool_)
    feeder[count : count + SLICES] = True

    def numbers() -> si.Integers:
        return np.empty(places, dtype=np.int64)

    feed_draws(
        0,
        draws,
        np.argsort(-time[:, : count + SLICES], axis=1, kind="stable"),
        time,
        volume,
        first,
        neighbour,
        feeder,
        moments,
        demand,
        bodies.order,
        numbers(),
        numbers(),
        numbers(),
        numbers(),
        numbers(),
        numbers(),
        numbers(),
        numbers(),
        np.empty(places),
        np.empty(places),
        np.empty(places),
        np.empty(places),
        np.zeros(places, dtype=np.bool_),
        np.zeros(places, dtype=np.bool_),
        numbers(),
        bodies.volume / (bodies.side + bodies.tip),
        lack,
        cut,
        neck,
        pool,
        pool_volume,
    )
