"""Feeding: which liquid places are cut off from the feeder, when, where, and what they lack.

The casting is a graph: places (segments or cells) that metal can pass between.
Each place is open until its time, at which its solid fraction passes the value
where metal stops moving.  Places are taken by falling time.  A place without a
neighbour that was taken before is the peak of a new pool, a hot spot.  A place
that touches several pools is a bridge: there they part when it closes, so its
time is the cut-off time of all but one of them.  The pool with the feeder
stays; else that with the later peak.  A feeder that closes before its neighbours
cuts them off itself, so it always stands as a pool of its own.

Every pool's volume is taken before any pools are joined at that bridge, so
where three pools meet none is counted inside another.

From its cut-off on a pool must feed itself.  What it lacks is what its places
still have to shrink at that time,

    lack(pool) = Σ V_i s_i(t_cut)                                           (1)

with s_i(t) the share of its volume by which place i still shrinks: on freezing,
and as liquid on its way there (`moments` and `demand` below).  A pool cut off
inside another, later, has its own share of that lack, so what is told for the
outer pool is (1) less what is told for those inside it.

Left out: metal drawn through the mush after the solid fraction of the stop, and
the air that presses on thin walls; both feed more than is said here.  Order of the
work: n log n for the sort, nearly n for the rest.

Source: widest path by union of sets, common knowledge of graph theory; the use
on castings is our own.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_not_negative
from pourcast.freeze.lack import find_lack
from pourcast.freeze.model import Pools
from pourcast.freeze.unite import find_pools


def adjacency(places: int, edges: si.Integers) -> tuple[si.Integers, si.Integers]:
    """Return the neighbours of each place, as `find_pools` takes them.

    Parameters
    ----------
    places : int
    edges : array of int, shape (edges, 2)
        Pairs of places; an edge need not be said twice.

    Returns
    -------
    tuple of array of int
        ``first``, shape (places + 1,), and ``neighbour``, shape (2 edges,): the
        neighbours of place i are ``neighbour[first[i]:first[i + 1]]``.
    """
    pairs = np.asarray(edges, dtype=np.int64).reshape(-1, 2)
    source = np.concatenate([pairs[:, 0], pairs[:, 1]])
    target = np.concatenate([pairs[:, 1], pairs[:, 0]])
    order = np.argsort(source, kind="stable")
    first = np.searchsorted(source[order], np.arange(places + 1))
    return first.astype(np.int64), target[order]


def pools_of(
    time: si.Seconds,
    volume: si.CubicMetres,
    first: si.Integers,
    neighbour: si.Integers,
    feeder: si.Booleans,
) -> Pools:
    """Return the pools of one casting.

    Parameters
    ----------
    time : array [s], shape (places,)
        When each place closes; below 0: it is not there.
    volume : array [m³], shape (places,)
    first, neighbour : array of int
        From `adjacency`.
    feeder : array of bool, shape (places,)

    Returns
    -------
    Pools

    Raises
    ------
    InputError
        If a volume is below 0 or the shapes do not belong together.
    """
    places = time.size
    require_not_negative("volume", volume, "m³")
    if not (volume.size == feeder.size == places == first.size - 1):
        raise InputError("places", places, "", "the same in time, volume, feeder and adjacency")
    whole = [np.empty(places, dtype=np.int64) for _ in range(7)]
    cut_time, held = np.empty(places), np.empty(places)
    fed = np.zeros(places, dtype=np.bool_)
    link, pool_at, touching, owner, peak, bridge, parent = whole
    count = find_pools(
        np.argsort(-time, kind="stable"),
        int((time >= 0.0).sum()),
        time,
        volume,
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
        held,
        fed,
    )
    return Pools(
        owner=owner,
        peak=peak[:count].copy(),
        cut_time=cut_time[:count].copy(),
        bridge=bridge[:count].copy(),
        parent=parent[:count].copy(),
        volume=held[:count].copy(),
        fed=fed[:count].copy(),
    )


def lack_of(
    pools: Pools,
    time: si.Seconds,
    volume: si.CubicMetres,
    moments: si.Seconds,
    demand: si.Ratios,
    *,
    prominence: si.Ratio,
) -> tuple[si.Booleans, si.CubicMetres]:
    """Return which pools are told, and what each of them lacks.

    Parameters
    ----------
    pools : Pools
    time : array [s], shape (places,)
    volume : array [m³], shape (places,)
    moments : array [s], shape (places, levels)
    demand : array [-], shape (places, levels)
        As `still_to_shrink` takes them.
    prominence : float [-]
        As `find_lack` takes it.

    Returns
    -------
    tuple
        Array of bool, shape (pools,): told; array [m³], shape (pools,): its lack.
    """
    count = pools.peak.size
    told = np.zeros(count, dtype=np.bool_)
    lack, inside = np.zeros(count), np.zeros(count)
    find_lack(
        count,
        time,
        volume,
        moments,
        demand,
        prominence,
        pools.owner,
        pools.peak,
        pools.cut_time,
        pools.parent,
        pools.fed,
        told,
        lack,
        inside,
    )
    return told, lack
