"""Strategies: records of the original in the slurry, drawn at random within sensible limits."""

import numpy as np
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.mould.limbs import limbs
from pourcast.mould.model import (
    AirTraps,
    ClockCase,
    CoatStep,
    EndCase,
    EndCheck,
    FarEnd,
    Joint,
    Limbs,
    MixClock,
    Moved,
    NarrowGap,
    PartSlurry,
    PartTrap,
    PartWater,
    Patterns,
    SlurryCase,
    SlurryResult,
)
from pourcast.mould.patterns import patterns
from pourcast.piece.model import Network
from tests.strategies import networks, sizes

SHARES = st.integers(0, 100).map(lambda percent: percent / 100)


def drawn(draws: int, low: float, high: float) -> st.SearchStrategy[si.Floats]:
    """Arrays of so many numbers."""
    numbers = st.floats(low, high, allow_nan=False)
    return st.lists(numbers, min_size=draws, max_size=draws).map(np.array)


@st.composite
def slurry_cases(draw: st.DrawFn, network: Network, draws: int = 3) -> SlurryCase:
    """Slurries from thin to thick round originals from limp to woody."""
    parts, members = len(network.part_names), network.member_part.size

    def table(columns: int, low: float, high: float) -> si.Floats:
        return draw(drawn(draws * columns, low, high)).reshape(draws, columns)

    return SlurryCase(
        density=draw(drawn(draws, 1600.0, 1900.0)),
        yield_stress=draw(drawn(draws, 0.5, 40.0)),
        plastic_viscosity=draw(drawn(draws, 0.1, 3.0)),
        growth_from=draw(drawn(draws, 200.0, 500.0)),
        growth_time=draw(drawn(draws, 60.0, 300.0)),
        poured_age=draw(drawn(draws, 200.0, 500.0)),
        froth_age=draw(drawn(draws, 300.0, 700.0)),
        rise_speed=draw(drawn(draws, 5e-4, 2e-2)),
        froth_rise=draw(drawn(draws, 1.5, 4.0)),
        froth_time=draw(drawn(draws, 3.0, 60.0)),
        part_density=table(parts, 100.0, 1150.0),
        part_youngs=table(parts, 1e6, 1e10),
        coat_density=draw(drawn(draws, 900.0, 1400.0)),
        coat_youngs=draw(drawn(draws, 1e8, 3e9)),
        joint_strength=draw(drawn(draws, 1e5, 2e6)),
        section_scale=table(members, 0.8, 1.2),
    )


def limb_records() -> st.SearchStrategy[Limbs]:
    """Limbs of drawn networks."""
    return networks().map(limbs)


def pattern_records() -> st.SearchStrategy[Patterns]:
    """Patterns of drawn networks without coats or lumps."""

    def made(network: Network) -> Patterns:
        none = np.zeros(len(network.part_names))
        return patterns(network, limbs(network), coats=none, lump=none > 0.0, room=0.1)

    return networks().map(made)


@st.composite
def movements(draw: st.DrawFn, members: int = 3, draws: int = 2) -> Moved:
    """Leans up to twice the length; four cases."""
    shape = (members, 4, draws)
    return Moved(
        lean=draw(drawn(members * 4 * draws, 0.0, 2.0)).reshape(shape),
        shift=draw(drawn(members * 4 * draws, 0.0, 0.05)).reshape(shape),
        by_buoyancy=draw(drawn(members * draws, 0.0, 1.0)).reshape(members, draws),
    )


@st.composite
def coat_steps(draw: st.DrawFn) -> CoatStep:
    """Coats of 0.02 to 0.2 mm; over half of the draws over 0.3 means no figure."""
    lies, leans = sorted((draw(SHARES), draw(SHARES)))
    return CoatStep(
        coat=draw(sizes(2e-5, 2e-4)),
        lean=None if lies > 0.5 else draw(st.floats(0.0, 0.3)),
        leans=leans,
        lies_over=lies,
    )


@st.composite
def part_slurries(draw: st.DrawFn, name: str = "leaf") -> PartSlurry:
    """Parts that stand, lean or lie over."""
    lies, leans = sorted((draw(SHARES), draw(SHARES)))
    neighbour = draw(st.none() | st.sampled_from(("stem", "leaf")))
    return PartSlurry(
        name=name,
        members=draw(st.integers(1, 40)),
        lean=None if lies > 0.5 else draw(st.floats(0.0, 0.3)),
        leans=leans,
        lies_over=lies,
        moves=None if lies > 0.5 else draw(sizes(0.0, 0.02)),
        when=draw(st.sampled_from(("rise", "side", "froth", "still"))),
        pushed_by=draw(st.sampled_from(("yield stress", "viscosity", "buoyancy"))),
        lift=draw(st.floats(-0.1, 1.0)),
        floats=draw(SHARES),
        held=draw(SHARES),
        wall_gap=draw(sizes(-0.01, 0.05)),
        neighbour_gap=None if neighbour is None else draw(sizes(0.0, 0.005)),
        neighbour=neighbour,
        touches=draw(SHARES),
        coats=tuple(draw(st.lists(coat_steps(), min_size=1, max_size=4))),
    )


def joints() -> st.SearchStrategy[Joint]:
    """Joints from idle to torn."""
    stresses = st.floats(0.0, 2e6)
    return st.builds(
        Joint, force=st.floats(0.0, 5.0), stress=stresses, strength=stresses, tears=SHARES
    )


def part_traps(name: str = "leaf") -> st.SearchStrategy[PartTrap]:
    """Parts with up to 50 cm² near level."""
    return st.builds(
        PartTrap,
        name=st.just(name),
        area=st.floats(0.0, 5e-3),
        share=st.floats(0.0, 0.5),
        bell=st.booleans(),
    )


@st.composite
def air_trap_records(draw: st.DrawFn) -> AirTraps:
    """Traps of one or two parts; what a lean leaves is no more than there was."""
    parts = tuple(draw(part_traps(name)) for name in draw(st.sampled_from((("a",), ("a", "b")))))
    area = sum(part.area for part in parts)
    return AirTraps(
        parts=parts,
        area=area,
        tilt=draw(st.sampled_from((None, 0.0, 0.2, 0.5))),
        tilt_area=area * draw(SHARES),
        bubble=draw(sizes(1e-3, 2e-2)),
    )


def narrow_gaps() -> st.SearchStrategy[NarrowGap]:
    """Gaps under 1 mm."""
    names = st.sampled_from(("stem", "leaf", "spine"))
    return st.builds(
        NarrowGap, part=names, other=names, distance=sizes(0.0, 9e-4), pairs=st.integers(1, 40)
    )


@st.composite
def slurry_results(draw: st.DrawFn) -> SlurryResult:
    """Results of one to five parts."""
    names = draw(st.lists(st.sampled_from("abcde"), min_size=1, max_size=5, unique=True))
    return SlurryResult(
        parts=tuple(draw(part_slurries(name)) for name in names),
        joint=draw(joints()),
        traps=draw(air_trap_records()),
        gaps=tuple(draw(st.lists(narrow_gaps(), max_size=5))),
        lean=draw(drawn(len(names), 0.0, 1.0)),
        lies_over=draw(drawn(len(names), 0.0, 1.0)),
    )


def part_waters(name: str = "leaf") -> st.SearchStrategy[PartWater]:
    """Parts of any organ that swell, wilt or do neither."""
    return st.builds(
        PartWater,
        name=st.just(name),
        organ=st.sampled_from(("leaf", "petal", "woody_stem", "seed_head", "cone", "moss")),
        swelling=st.none() | st.floats(0.0, 0.3),
        grows=st.none() | sizes(0.0, 2e-3),
        lost=st.none() | SHARES,
        wilts_in=st.none() | st.floats(600.0, 1e5),
    )


@st.composite
def clock_cases(draw: st.DrawFn, draws: int = 3) -> ClockCase:
    """Acts of half a minute to ten minutes."""
    minutes = drawn(draws, 30.0, 600.0)
    names = ("mix_time", "first_vacuum", "pour_time", "second_vacuum", "work_time", "hard_set")
    return ClockCase(
        gloss_off=draw(drawn(draws, 400.0, 1200.0)),
        still_before_gloss=draw(drawn(draws, 60.0, 150.0)),
        water_exponent=draw(drawn(draws, 0.0, 3.0)),
        bench_time=draw(drawn(draws, 3600.0, 10_800.0)),
        **{name: draw(minutes) for name in names},
    )


@st.composite
def mix_clocks(draw: st.DrawFn, draws: int = 3) -> MixClock:
    """Clocks whose acts follow each other."""
    steps = np.cumsum([draw(drawn(draws, 10.0, 300.0)) for _ in range(8)], axis=0)
    return MixClock(
        mixed=steps[0],
        debubbled=steps[1],
        poured=steps[2],
        done=steps[3],
        still_by=steps[4],
        gloss_off=steps[5],
        hard_set=steps[6],
        open_at=steps[7],
        late=draw(SHARES),
        shift=draw(st.floats(-300.0, 300.0)),
    )


@st.composite
def end_cases(draw: st.DrawFn, draws: int = 3) -> EndCase:
    """Gravity to 95 kPa on blocks of any strength; the pump never reaches nothing."""
    return EndCase(
        pressure=draw(drawn(draws, 0.0, 1.1e5)),
        tensile_strength=draw(drawn(draws, 3e4, 2e6)),
        permeability=draw(drawn(draws, 1e-15, 1e-12)),
        gas_viscosity=draw(drawn(draws, 1.8e-5, 5e-5)),
        air_pressure=draw(drawn(draws, 9.8e4, 1.04e5)),
        vacuum=draw(drawn(draws, 0.0, 9.5e4)),
    )


def end_checks() -> st.SearchStrategy[EndCheck]:
    """Draw ends of 5 to 60 mm."""
    return st.builds(
        EndCheck,
        rule=st.sampled_from(("as planned", "quarter of the diameter", "20 mm")),
        cover=sizes(5e-3, 6e-2),
        stress=st.floats(0.0, 3e6),
        breaks=SHARES,
        empty_time=st.none() | st.floats(0.01, 30.0),
    )


def far_ends() -> st.SearchStrategy[FarEnd]:
    """Far ends with one to three checks."""
    return st.builds(
        FarEnd,
        checks=st.lists(end_checks(), min_size=1, max_size=3).map(tuple),
        needed=sizes(5e-3, 1e-1),
    )
