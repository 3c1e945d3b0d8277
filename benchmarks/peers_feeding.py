"""Feeding: until when is each place of a casting joined to its feeder; ours beside scipy.

Random graphs: places with a time at which each closes, joined to near neighbours on a grid
in three dimensions, some bonds missing; the top layer is the feeder.  A place is fed as
long as some way to the feeder is open all along, so the answer is the widest way: the
largest, over all ways, of the least time on the way.

- ours: `pools_of` of pourcast.freeze.feeding, a union of sets by falling time, and from
  its pools the time of each place;
- scipy: the spanning tree of the widest bonds (`minimum_spanning_tree` of the times taken
  negative), walked from the feeder by `breadth_first_order`; the least time along the
  tree is carried on layer by layer in numpy.

Both are exact, so the error is 0 and is asserted, place for place.  Ours also gives pools,
bridges and volumes; the graph is made before in the form that each takes.
"""

import sys
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from side_by_side import least_seconds

# isort: split
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import breadth_first_order, minimum_spanning_tree

from pourcast.freeze.feeding import adjacency, pools_of

MISSING = 0.1  # of the bonds


def graph(side: int, seed: int) -> tuple[Any, Any, Any]:
    """Return times, bonds and feeder of a block of places."""
    chance = np.random.default_rng(seed)
    number = np.arange(side**3).reshape((side,) * 3)
    pairs = np.concatenate(
        [
            np.stack([np.delete(number, -1, axis).ravel(), np.delete(number, 0, axis).ravel()], 1)
            for axis in range(3)
        ]
    )
    pairs = pairs[chance.random(len(pairs)) > MISSING]
    return chance.uniform(1.0, 100.0, side**3), pairs, (number == number[:, :, -1:]).ravel()


def fed_until(time: Any, volume: Any, first: Any, neighbour: Any, feeder: Any) -> Any:
    """Return until when each place is joined to the feeder, by the pools; -1 where never."""
    pools = pools_of(time, volume, first, neighbour, feeder)
    until = np.empty(pools.peak.size)
    # A pool with a feeder of its own is fed while it is there; another until it is cut off,
    # or until the pool is that it was cut off from.
    order = np.argsort(pools.cut_time, kind="stable")
    for pool in order.tolist():
        parent = pools.parent[pool]
        if pools.fed[pool]:
            until[pool] = np.inf
        elif parent < 0:
            until[pool] = -1.0
        else:
            until[pool] = min(pools.cut_time[pool], until[parent])
    return np.where(feeder, time, np.minimum(time, until[pools.owner]))


def widest(matrix: Any, time: Any, feeder: Any) -> Any:
    """Return what `fed_until` does, by the tree of widest bonds."""
    tree = minimum_spanning_tree(matrix)
    order, before = breadth_first_order(tree, time.size, directed=False)
    until = np.full(time.size + 1, -1.0)
    until[-1] = np.inf
    level = np.zeros(time.size + 1, dtype=np.int64)
    for place in order[1:].tolist():
        level[place] = level[before[place]] + 1
    reached = order[1:]
    sorted_by = reached[np.argsort(level[reached], kind="stable")]
    bounds = np.searchsorted(level[sorted_by], np.arange(1, level.max() + 2))
    for low, high in pairwise(bounds.tolist()):
        here = sorted_by[low:high]
        until[here] = np.minimum(time[here], until[before[here]])
    return np.where(feeder, time, until[:-1])


def main() -> None:
    """Print the table."""
    print("Until when each place of a random casting is fed; processor time, same answers")
    for side in (8, 17, 36, 78):
        time, pairs, feeder = graph(side, 0)
        count = time.size
        first, neighbour = adjacency(count, pairs)
        volume = np.ones(count)
        top = np.flatnonzero(feeder)
        # The feeder hangs on one place more, which never closes.
        source = np.concatenate([pairs[:, 0], np.full(top.size, count)])
        target = np.concatenate([pairs[:, 1], top])
        closes = np.append(time, 1e3)
        # Times are taken negative and raised above 0, which is no bond to scipy.
        weight = 1e3 + 1.0 - np.minimum(closes[source], closes[target])
        matrix = coo_matrix((weight, (source, target)), shape=(count + 1,) * 2).tocsr()
        ours, got = least_seconds(partial(fed_until, time, volume, first, neighbour, feeder))
        alone, _ = least_seconds(partial(pools_of, time, volume, first, neighbour, feeder))
        tree, _ = least_seconds(partial(minimum_spanning_tree, matrix))
        theirs, want = least_seconds(partial(widest, matrix, time, feeder))
        different = int((got != want).sum())
        if different:
            raise SystemExit(f"{different} of {count} places differ")
        print(
            f"  {count:>7} places  ours {1e3 * ours:8.3f} ms (pools alone {1e3 * alone:8.3f})"
            f"  scipy {1e3 * theirs:8.3f} ms (tree alone {1e3 * tree:8.3f})"
            f"  scipy over ours {theirs / ours:5.2f}, tree over pools {tree / alone:5.2f}"
        )


if __name__ == "__main__":
    main()
