"""Feeding: pools and cut-off times against a widest path, volumes against a search."""

import heapq

import numpy as np
import pytest

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.freeze.feeding import adjacency, lack_of, pools_of
from pourcast.freeze.model import Pools

GRAPHS = 1000


def random_graph(chance: np.random.Generator) -> tuple[int, list[tuple[int, int]]]:
    """Return a tree with a few rings; some branch so that three pools meet often."""
    places = int(chance.integers(2, 60))
    edges = [(i, int(chance.integers(max(0, i - 8), i))) for i in range(1, places)]
    for _ in range(int(chance.integers(0, 8))):
        a, b = (int(x) for x in chance.integers(0, places, 2))
        if a != b:
            edges.append((a, b))
    return places, edges


def widest(time: si.Seconds, edges: list[tuple[int, int]], feeders: list[int]) -> si.Seconds:
    """Return until when each place has an open way to a feeder, by a search of its own.

    A way is open until the first of its places closes, both ends included.
    """
    ways: list[list[int]] = [[] for _ in range(time.size)]
    for a, b in edges:
        ways[a].append(b)
        ways[b].append(a)
    until = np.full(time.size, -np.inf)
    queue: list[tuple[float, int]] = []
    for place in feeders:
        until[place] = time[place]
        heapq.heappush(queue, (-float(time[place]), place))
    while queue:
        closes, place = heapq.heappop(queue)
        if -closes < until[place]:
            continue
        for other in ways[place]:
            over = min(-closes, float(time[other]))
            if over > until[other]:
                until[other] = over
                heapq.heappush(queue, (-over, other))
    return until


def open_part(time: si.Seconds, edges: list[tuple[int, int]], start: int, after: float) -> set[int]:
    """Return the places that hang together with ``start`` and close after a time."""
    seen = {start}
    stack = [start]
    while stack:
        place = stack.pop()
        for a, b in edges:
            for one, other in ((a, b), (b, a)):
                if one == place and other not in seen and time[other] > after:
                    seen.add(other)
                    stack.append(other)
    return seen


def reach(pools: Pools, pool: int) -> float:
    """Return until when a pool draws on a feeder, over all pools that hold it."""
    until = np.inf
    while not pools.fed[pool]:
        if pools.parent[pool] < 0:
            return -np.inf
        until = min(until, float(pools.cut_time[pool]))
        pool = int(pools.parent[pool])
    return until


def test_cut_off_times_agree_with_a_widest_path_on_random_graphs() -> None:
    """Known of graph theory: the bottleneck of the widest path; found by a search of its own.

    No tolerance: both pick one of the given times.  Found: no disagreement.
    """
    chance = np.random.default_rng(7)
    met = 0
    for _ in range(GRAPHS):
        places, edges = random_graph(chance)
        time = chance.permutation(places).astype(float)
        feeders = [int(x) for x in chance.integers(0, places, int(chance.integers(1, 3)))]
        feeder = np.zeros(places, dtype=bool)
        feeder[feeders] = True
        first, neighbour = adjacency(places, np.array(edges))

        pools = pools_of(time, np.ones(places), first, neighbour, feeder)

        until = widest(time, edges, feeders)
        for pool in range(pools.peak.size):
            if not pools.fed[pool]:
                assert reach(pools, pool) == until[pools.peak[pool]]
                met += 1
    assert met > 1000


def test_volume_of_a_pool_is_what_hangs_together_when_it_is_cut_off() -> None:
    """By definition of a pool, on the same graphs, by a search from its peak.

    It holds where three pools meet at one bridge: about one graph in three has such a place.
    """
    chance = np.random.default_rng(11)
    threes = 0
    for _ in range(300):
        places, edges = random_graph(chance)
        time = chance.permutation(places).astype(float)
        volume = chance.random(places)
        feeder = np.zeros(places, dtype=bool)
        feeder[int(chance.integers(places))] = True
        first, neighbour = adjacency(places, np.array(edges))

        pools = pools_of(time, volume, first, neighbour, feeder)

        bridges = pools.bridge[pools.bridge >= 0]
        threes += int(np.unique(bridges).size < bridges.size)
        for pool in np.flatnonzero(pools.cut_time >= 0.0):
            peak, cut = int(pools.peak[pool]), float(pools.cut_time[pool])
            want = sum(volume[place] for place in open_part(time, edges, peak, cut))
            assert pools.volume[pool] == pytest.approx(want, rel=1e-12)
    assert threes > 30


def test_three_pools_that_meet_at_one_bridge_keep_their_own_volumes() -> None:
    """By hand: a star whose middle closes first; each arm is its own pool."""
    edges = np.array([(0, 1), (0, 2), (0, 3)])
    first, neighbour = adjacency(4, edges)
    feeder = np.array([False, True, False, False])

    pools = pools_of(
        np.array([1.0, 9.0, 7.0, 5.0]), np.array([1.0, 10.0, 20.0, 40.0]), first, neighbour, feeder
    )

    assert pools.peak.tolist() == [1, 2, 3]
    assert pools.volume.tolist() == [71.0, 20.0, 40.0]
    assert pools.bridge.tolist() == [-1, 0, 0]
    assert pools.parent.tolist() == [-1, 0, 0]


def test_a_feeder_that_closes_first_cuts_its_neighbours_off() -> None:
    """By hand: a head that stays liquid longer than the button above it is on its own."""
    first, neighbour = adjacency(2, np.array([(0, 1)]))

    pools = pools_of(
        np.array([4.0, 9.0]), np.array([5.0, 2.0]), first, neighbour, np.array([True, False])
    )

    cut = int(np.flatnonzero(pools.peak == 1)[0])
    assert not pools.fed[cut]
    assert pools.cut_time[cut] == 4.0
    assert pools.bridge[cut] == 0
    assert pools.volume[cut] == 2.0


def test_places_without_metal_belong_to_nothing() -> None:
    first, neighbour = adjacency(3, np.array([(0, 1), (1, 2)]))

    pools = pools_of(
        np.array([9.0, -1.0, 5.0]), np.ones(3), first, neighbour, np.array([True, False, False])
    )

    assert pools.owner.tolist() == [0, -1, 1]
    assert pools.parent[1] == -1


def test_what_all_pools_lack_is_what_they_still_had_to_shrink() -> None:
    """Exact: told once and no more, though pools are cut off inside pools.

    The balance is worked out by a search of its own: every place that is cut off from the
    feeder counts with what it still shrinks when it, and all round it, is first cut off.
    Tolerance: rounding.
    """
    chance = np.random.default_rng(5)
    for _ in range(200):
        places, edges = random_graph(chance)
        time = chance.permutation(places).astype(float) + 1.0
        volume = chance.random(places)
        feeder = np.zeros(places, dtype=bool)
        feeder[int(chance.integers(places))] = True
        first, neighbour = adjacency(places, np.array(edges))
        # A place shrinks evenly from 0 s to twice its closing time.
        moments = np.column_stack([np.zeros(places), 2.0 * time])
        demand = np.tile([0.05, 0.0], (places, 1))
        pools = pools_of(time, volume, first, neighbour, feeder)

        told, lack = lack_of(pools, time, volume, moments, demand, prominence=0.0)

        until = widest(time, edges, np.flatnonzero(feeder).tolist())
        cut = (until < time) & ~feeder
        left = 0.05 * (1.0 - np.maximum(until, 0.0) / (2.0 * time))
        assert told.sum() == (~pools.fed).sum()
        assert np.all(lack >= 0.0)
        assert lack.sum() == pytest.approx(float((volume * left)[cut].sum()), rel=1e-9, abs=1e-12)


def test_a_peak_that_hardly_outlives_its_neck_is_not_told() -> None:
    """By hand: 2 % later than its neck is told at a prominence of 1 %, not at 5 %."""
    first, neighbour = adjacency(3, np.array([(0, 1), (1, 2)]))
    time = np.array([200.0, 98.0, 100.0])
    feeder = np.array([True, False, False])
    pools = pools_of(time, np.ones(3), first, neighbour, feeder)
    moments, demand = np.tile([0.0, 400.0], (3, 1)), np.tile([0.04, 0.0], (3, 1))

    fine = lack_of(pools, time, np.ones(3), moments, demand, prominence=0.01)
    coarse = lack_of(pools, time, np.ones(3), moments, demand, prominence=0.05)

    assert fine[0].sum() == 1
    assert fine[1].sum() == pytest.approx(0.04 * (1.0 - 98.0 / 400.0))
    assert coarse[0].sum() == 0
    assert coarse[1].sum() == 0.0


def test_shapes_and_volumes_that_cannot_be_are_refused() -> None:
    first, neighbour = adjacency(2, np.array([(0, 1)]))
    with pytest.raises(InputError, match="volume"):
        pools_of(np.ones(2), np.array([1.0, -1.0]), first, neighbour, np.zeros(2, dtype=bool))
    with pytest.raises(InputError, match="places"):
        pools_of(np.ones(3), np.ones(3), first, neighbour, np.zeros(3, dtype=bool))
