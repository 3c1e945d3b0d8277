"""Lack: how much metal each pool still needs after it was cut off.

The kernel behind equation 1 of `pourcast.freeze.feeding`.
"""

from pourcast import units as si
from pourcast.kernels import kernel


@kernel
def still_to_shrink(place: int, at: si.Second, moments: si.Seconds, demand: si.Ratios) -> si.Ratio:
    """Return the share of its volume by which a place still shrinks at a time [-].

    Parameters
    ----------
    place : int
    at : float [s]
    moments : array [s], shape (places, levels)
        When a place passes each level; never falling along a row.
    demand : array [-], shape (places, levels)
        Share by which it still shrinks there; never rising, 0 at the last level.

    Returns
    -------
    float [-]
    """
    level = 0
    last = moments.shape[1] - 1
    while level < last and at >= moments[place, level]:
        level += 1
    left: si.Ratio = demand[place, level]
    if level > 0 and at < moments[place, level]:
        earlier = moments[place, level - 1]
        share = (at - earlier) / (moments[place, level] - earlier)
        left = demand[place, level - 1] + share * (left - demand[place, level - 1])
    return left


@kernel
def find_lack(
    pools: int,
    time: si.Seconds,
    volume: si.CubicMetres,
    moments: si.Seconds,
    demand: si.Ratios,
    prominence: si.Ratio,
    owner: si.Integers,
    peak: si.Integers,
    cut_time: si.Seconds,
    parent: si.Integers,
    fed: si.Booleans,
    told: si.Booleans,
    lack: si.CubicMetres,
    inside: si.CubicMetres,
) -> None:
    """Write what each pool lacks, equation 1, less what is told for pools inside it.

    Parameters
    ----------
    pools : int
    time : array [s], shape (places,)
    volume : array [m³], shape (places,)
    moments : array [s], shape (places, levels)
    demand : array [-], shape (places, levels)
        As `still_to_shrink` takes them.
    prominence : float [-]
        A pool whose peak outlives its bridge by a smaller share than this is not
        told; what it lacks stays with the pool that holds it.
    owner, peak, parent : array of int
    cut_time : array [s], shape (places,)
    fed : array of bool
        From `find_pools`.
    told : array of bool, shape (places,)
    lack : array [m³], shape (places,)
        Both filled, one row a pool; ``lack`` is 0 where the pool is not told.
    inside : array [m³], shape (places,)
        Room to work in.
    """
    for pool in range(pools):
        lack[pool] = 0.0
        inside[pool] = 0.0
        last = time[peak[pool]]
        told[pool] = not fed[pool] and (
            cut_time[pool] < 0.0 or last - cut_time[pool] > prominence * last
        )
    for place in range(time.size):
        pool = owner[place] if volume[place] > 0.0 else -1
        while pool >= 0:
            if told[pool]:
                lack[pool] += volume[place] * still_to_shrink(
                    place, cut_time[pool], moments, demand
                )
            pool = parent[pool]
    # Sums of pools inside pools are kept apart until all are done.
    for pool in range(pools):
        if told[pool]:
            holder = parent[pool]
            while holder >= 0 and not told[holder]:
                holder = parent[holder]
            if holder >= 0:
                inside[holder] += lack[pool]
    for pool in range(pools):
        # Rounding can leave a trace below 0.
        lack[pool] = max(lack[pool] - inside[pool], 0.0)


@kernel
def told_pool(number: int, told: si.Booleans, parent: si.Integers) -> int:
    """Return the pool that is told for a pool: itself, or the next it was joined to.

    Parameters
    ----------
    number : int
        -1 where there is none.
    told : array of bool, shape (pools,)
    parent : array of int, shape (pools,)
    """
    while number >= 0 and not told[number] and parent[number] >= 0:
        number = parent[number]
    return number
