"""Unite: the pools of a casting by union of sets, places taken by falling time.

The kernel behind `pourcast.freeze.feeding`, which says what a pool is.  It knows
nothing of metal: places, times, volumes and neighbours are enough.
"""

from pourcast import units as si
from pourcast.kernels import kernel


@kernel
def find_pools(
    order: si.Integers,
    present: int,
    time: si.Seconds,
    volume: si.CubicMetres,
    first: si.Integers,
    neighbour: si.Integers,
    feeder: si.Booleans,
    link: si.Integers,
    pool_at: si.Integers,
    touching: si.Integers,
    owner: si.Integers,
    peak: si.Integers,
    cut_time: si.Seconds,
    bridge: si.Integers,
    parent: si.Integers,
    held: si.CubicMetres,
    fed: si.Booleans,
) -> int:
    """Find the pools; return how many there are.

    Parameters
    ----------
    order : array of int, shape (places,)
        Places by falling time.
    present : int
        So many of them, from the front, are there.
    time : array [s], shape (places,)
        When each closes.
    volume : array [m³], shape (places,)
    first, neighbour : array of int
        From `adjacency`.
    feeder : array of bool, shape (places,)
    link, pool_at, touching : array of int, shape (places,)
        Room to work in.
    owner, peak, bridge, parent : array of int, shape (places,)
    cut_time : array [s], shape (places,)
    held : array [m³], shape (places,)
    fed : array of bool, shape (places,)
        Filled, one row a pool, ``owner`` one a place, as `Pools` says; ``held``
        is its volume.

    Returns
    -------
    int
    """
    link[:] = -1
    owner[:] = -1
    pools = 0
    for rank in range(present):
        place = order[rank]
        met = 0
        best = -1
        for at in range(first[place], first[place + 1]):
            root = neighbour[at]
            if link[root] < 0 or root == place:
                continue
            while link[root] != root:
                link[root] = link[link[root]]
                root = link[root]
            known = False
            for seen in range(met):
                known = known or touching[seen] == root
            if known:
                continue
            touching[met] = root
            met += 1
            if best < 0:
                best = root
                continue
            one = pool_at[root]
            other = pool_at[best]
            if fed[one] != fed[other]:
                if fed[one]:
                    best = root
            elif time[peak[one]] > time[peak[other]]:
                best = root
        link[place] = place
        if best < 0 or (feeder[place] and not fed[pool_at[best]]):
            pool = pools
            pools += 1
            peak[pool] = place
            cut_time[pool] = -1.0
            bridge[pool] = -1
            parent[pool] = -1
            held[pool] = 0.0
            fed[pool] = feeder[place]
            best = place
            pool_at[place] = pool
        else:
            link[place] = best
            pool = pool_at[best]
        owner[place] = pool
        gained = volume[place]
        for seen in range(met):
            root = touching[seen]
            if root == best:
                continue
            other = pool_at[root]
            cut_time[other] = time[place]
            bridge[other] = place
            parent[other] = pool
            gained += held[other]
            link[root] = best
        held[pool] += gained
        fed[pool] = fed[pool] or feeder[place]
    return pools
