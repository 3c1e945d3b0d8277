"""Strategies: records of the finishing, drawn at random within sensible limits."""

import numpy as np
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.finish.acts import BENDS, allowed
from pourcast.finish.chain import bearers
from pourcast.finish.limits import part_limits
from pourcast.finish.model import (
    Balance,
    Bearers,
    Cut,
    FinishCase,
    FinishResult,
    Limits,
    Loads,
    PartFinish,
    Strength,
)
from pourcast.piece.model import Network
from tests.strategies import networks, sizes


def drawn(draws: int, low: float, high: float) -> st.SearchStrategy[si.Floats]:
    """Arrays of so many numbers."""
    numbers = st.floats(low, high, allow_nan=False)
    return st.lists(numbers, min_size=draws, max_size=draws).map(np.array)


def strengths(draws: int = 3) -> st.SearchStrategy[Strength]:
    """Metals from soft silver to hard bronze."""
    return st.builds(
        Strength,
        yield_strength=drawn(draws, 3e7, 3e8),
        youngs_modulus=drawn(draws, 5e10, 1.3e11),
    )


def loads(draws: int = 3) -> st.SearchStrategy[Loads]:
    """Pushes from a breath to a scrub."""
    forces = drawn(draws, 0.1, 50.0)
    return st.builds(
        Loads,
        hand_brush=forces,
        wheel=forces,
        water_jet=forces,
        blast=drawn(draws, 1e3, 1e5),
        light_blast=drawn(draws, 1e2, 1e4),
    )


def scales(network: Network, draws: int = 3) -> st.SearchStrategy[si.Ratios]:
    """Factors on the section of each member, 0.8 to 1.2."""
    members = network.member_part.size
    return drawn(draws * members, 0.8, 1.2).map(lambda flat: flat.reshape(draws, members))


def bearer_rows() -> st.SearchStrategy[Bearers]:
    """Rows of drawn networks."""
    return networks().map(bearers)


@st.composite
def cases(draw: st.DrawFn, network: Network, draws: int = 3) -> FinishCase:
    """Cases of one network; no part is a feed."""
    return FinishCase(
        strength=draw(strengths(draws)),
        loads=draw(loads(draws)),
        section_scale=draw(scales(network, draws)),
        saw_rate=draw(st.floats(3e-7, 3e-6)),
        solid_density=draw(st.floats(2600.0, 10_500.0)),
        contraction=draw(st.floats(0.005, 0.025)),
    )


@st.composite
def limits(draw: st.DrawFn) -> Limits:
    """Limits of drawn networks."""
    network = draw(networks())
    case = draw(cases(network))
    return part_limits(network, bearers(network), case.strength, case.section_scale, case.loads)


@st.composite
def part_finishes(draw: st.DrawFn, name: str = "leaf") -> PartFinish:
    """Parts with any shares of bent draws; the acts follow from them."""
    shares = {act: draw(st.integers(0, 100)) / 100 for act in BENDS}
    acts = allowed(shares)
    forces = st.floats(0.1, 500.0)
    return PartFinish(
        name=name,
        members=draw(st.integers(1, 40)),
        act=acts[0],
        allowed=acts,
        bent=shares,
        bent_by_water=draw(st.integers(0, 100)) / 100,
        bends_at=draw(st.sampled_from((name, "stem"))),
        tip_force=draw(forces),
        middle_force=draw(forces),
        end_force=draw(forces),
        tip_force_low=draw(forces),
        pressure=draw(st.floats(1e3, 1e7)),
        deflection=draw(sizes(0.0, 0.02)),
        blast_deflection=draw(sizes(0.0, 0.02)),
    )


def finish_cuts() -> st.SearchStrategy[Cut]:
    """Cuts of 0.5 to 100 mm²."""
    return st.builds(
        Cut,
        place=st.sampled_from(("gate", "vent of leaf", "feed into stem")),
        count=st.integers(1, 12),
        area=st.floats(5e-7, 1e-4),
        time=st.floats(1.0, 600.0),
    )


@st.composite
def balances(draw: st.DrawFn) -> Balance:
    """Balances that add up."""
    lost, work, feeds, vents, button = (draw(st.floats(0.0, 0.5)) for _ in range(5))
    return Balance(
        charged=lost + work + feeds + vents + button,
        lost=lost,
        work=work,
        feeds=feeds,
        vents=vents,
        button=button,
        back=feeds + vents + button,
    )


def finish_results() -> st.SearchStrategy[FinishResult]:
    """Results of one to five parts."""
    named = st.lists(st.sampled_from("abcde"), min_size=1, max_size=5, unique=True)
    return st.builds(
        FinishResult,
        parts=named.flatmap(lambda names: st.tuples(*(part_finishes(name) for name in names))),
        cuts=st.lists(finish_cuts(), min_size=1, max_size=4).map(tuple),
        balance=balances(),
    )
