"""Strategies of what is learnt: outcomes, measurements, runs of a gauge, fans."""

import numpy as np
from hypothesis import strategies as st

from pourcast.learn.fan import THICKNESSES, Fan, Strip, name
from pourcast.learn.model import LearntValue, Measured, PartSeen, Range
from pourcast.learn.pull_down_fit import Run
from pourcast.materials import Value, library

SHARES = st.integers(0, 100).map(lambda percent: percent / 100)


@st.composite
def part_seens(draw: st.DrawFn, part: str = "stem") -> PartSeen:
    """Draw parts that are whole, counted, judged by their length, or just short."""
    how = draw(st.sampled_from(("full", "counted", "judged", "short")))
    if how == "full":
        return PartSeen(name=part, full=True)
    if how == "counted":
        return PartSeen(name=part, full=False, half_of_members=draw(st.booleans()))
    if how == "short":
        return PartSeen(name=part, full=False)
    low, high = sorted((draw(SHARES), draw(SHARES)))
    return PartSeen(name=part, full=False, low=low, high=high)


def values_with_a_range() -> st.SearchStrategy[Value]:
    """Values of the pour and the block whose ends differ."""
    book = library()
    held = [*book.pour.values.values(), *book.investment["flow"].values.values()]
    return st.sampled_from([value for value in held if value.low < value.value < value.high])


def measureds() -> st.SearchStrategy[Measured]:
    """Permeabilities within the range of the book, known to 2 to 50 in 100."""
    return st.builds(
        Measured,
        key=st.just("investment.flow.permeability_burnt"),
        value=st.integers(-1300, -1230).map(lambda hundredths: float(10.0 ** (hundredths / 100))),
        error=st.integers(2, 50).map(lambda percent: percent / 100),
        relative=st.just(True),
        name=st.just("pull-down"),
    )


def ranges() -> st.SearchStrategy[Range]:
    """Ranges whose three numbers rise."""
    return st.lists(st.floats(0.1, 10.0), min_size=3, max_size=3, unique=True).map(
        lambda three: Range(low=sorted(three)[0], middle=sorted(three)[1], high=sorted(three)[2])
    )


def learnt_values() -> st.SearchStrategy[LearntValue]:
    """Values of which something was learnt."""
    return st.builds(
        LearntValue,
        key=st.sampled_from(("pour.film_factor", "pour.interface_heat_transfer")),
        unit=st.sampled_from(("-", "W/m2/K")),
        before=ranges(),
        after=ranges(),
        narrowed=st.floats(-0.5, 1.0),
        used=st.booleans(),
    )


@st.composite
def runs(draw: st.DrawFn) -> Run:
    """Draw runs of 6 to 30 readings that fall from a deep vacuum."""
    count = draw(st.integers(6, 30))
    step = draw(st.integers(1, 60))
    fall = draw(st.integers(1, 20)) / 100
    time = step * np.arange(count, dtype=float)
    return Run(
        time=time,
        vacuum=8e4 * np.exp(-fall * np.arange(count)),
        pump_on=draw(st.booleans()),
        covered=draw(st.booleans()),
    )


@st.composite
def fans(draw: st.DrawFn) -> Fan:
    """Draw fans of two to eight strips and rods, no two alike."""
    kinds = [(thickness, rod) for thickness in THICKNESSES for rod in (False, True)]
    taken = draw(st.lists(st.sampled_from(kinds), min_size=2, max_size=8, unique=True))
    strips = tuple(
        Strip(
            name=name(thickness, rod),
            round=rod,
            thickness=thickness,
            length=5e-3 * draw(st.integers(3, 16)),
            chance_whole=draw(SHARES),
            run=(0.0, 0.01, 0.02),
            gain=draw(st.floats(0.0, 2.0)),
        )
        for thickness, rod in taken
    )
    return Fan(strips=strips, information=sum(each.gain for each in strips), room=0.08)
