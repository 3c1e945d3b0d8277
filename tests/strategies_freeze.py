"""Strategies: records of the freeze stage, drawn at random within sensible limits."""

import numpy as np
from hypothesis import strategies as st

from pourcast.freeze.feeding import adjacency, pools_of
from pourcast.freeze.model import (
    Feeder,
    FreezeCase,
    FreezeResult,
    FreezeSteps,
    HotSpot,
    Pools,
)
from pourcast.freeze.solve import solve
from tests.freeze.cases import COVER, freeze_case, poured
from tests.pour.cases import uncertain
from tests.strategies import networks


@st.composite
def freeze_cases(draw: st.DrawFn) -> FreezeCase:
    """Freezing of three drawn pours of a drawn piece, top open or covered."""
    network = draw(networks())
    pour = uncertain(network, 3, seed=draw(st.integers(0, 1000)))
    cover = COVER if draw(st.booleans()) else {}
    return freeze_case(pour, feed_stop=draw(st.floats(0.6, 0.8)), **cover)


@st.composite
def freeze_results(draw: st.DrawFn) -> FreezeResult:
    """How three drawn castings of a drawn piece froze."""
    network = draw(networks())
    pour = uncertain(network, 3, seed=draw(st.integers(0, 1000)))
    left = draw(st.sampled_from((0.0, 1e-6, 2e-5)))
    return solve(network, freeze_case(pour), poured(network, pour, left=left))


def freeze_steps() -> st.SearchStrategy[FreezeSteps]:
    """Draw steps from fine to coarse."""
    return st.builds(
        FreezeSteps,
        first=st.floats(0.01, 0.2),
        growth=st.floats(1.05, 1.5),
        longest=st.floats(600.0, 7200.0),
    )


@st.composite
def pools(draw: st.DrawFn) -> Pools:
    """Pools of drawn trees with one feeder."""
    places = draw(st.integers(2, 30))
    chance = np.random.default_rng(draw(st.integers(0, 10_000)))
    edges = np.array([(i, int(chance.integers(i))) for i in range(1, places)])
    feeder = np.zeros(places, dtype=np.bool_)
    feeder[int(chance.integers(places))] = True
    first, neighbour = adjacency(places, edges)
    return pools_of(
        chance.permutation(places).astype(float), chance.random(places), first, neighbour, feeder
    )


def hot_spots() -> st.SearchStrategy[HotSpot]:
    """Hot spots of 0.2 to 50 mm³ that are cut off before they close."""
    return st.builds(
        HotSpot,
        part=st.sampled_from(("stem", "head")),
        segment=st.integers(0, 50),
        chance=st.floats(0.01, 1.0),
        count=st.integers(1, 20),
        lack=st.floats(0.2e-9, 50e-9),
        total=st.floats(50e-9, 200e-9),
        cut_time=st.floats(0.0, 10.0),
        close_time=st.floats(10.0, 300.0),
        neck=st.sampled_from(("", "button", "stem")),
        draw=st.integers(0, 399),
        modulus=st.floats(0.2e-3, 5e-3),
    )


def feeders() -> st.SearchStrategy[Feeder]:
    """Feeders of 1 to 20 mm."""

    def made(sizes: tuple[float, float, float]) -> Feeder:
        length, one, other = sizes
        return Feeder(
            segment=0,
            part="head",
            length=length,
            diameter_by_modulus=one,
            diameter_by_model=other,
            diameter=max(one, other),
        )

    size = st.floats(1e-3, 20e-3)
    return st.tuples(st.floats(5e-3, 0.1), size, size).map(made)
