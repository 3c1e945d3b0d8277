"""Strategies of the kiln: its curves, its body and what a search may come to."""

import numpy as np
from hypothesis import strategies as st

from pourcast.burnout.curves import curve_of
from pourcast.burnout.kiln import Body
from pourcast.burnout.margins import Margins
from pourcast.burnout.model import Curve, KilnStep

ROOM = 293.15
FASTEST = 400.0 / 3600.0


def celsius(low: int, high: int) -> st.SearchStrategy[float]:
    """Whole degrees, in kelvin."""
    return st.integers(low, high).map(lambda degrees: degrees + 273.15)


def written_steps(longest: int = 12) -> st.SearchStrategy[tuple[KilnStep, ...]]:
    """One to six steps with their ramps said, each to another temperature, holds in hours."""
    one = st.builds(
        KilnStep,
        temperature=celsius(60, 760),
        ramp=st.integers(20, 400).map(lambda each_hour: each_hour / 3600.0),
        hold=st.integers(0, 4 * longest).map(lambda quarters: 900.0 * quarters),
    )
    return (st.lists(one, min_size=1, max_size=6, unique_by=lambda step: step.temperature)).map(
        tuple
    )


def curves(longest: int = 12) -> st.SearchStrategy[Curve]:
    """Curves of written steps that begin at room temperature."""
    return written_steps(longest).map(
        lambda steps: curve_of(steps, start=ROOM, fastest=FASTEST, name="as written")
    )


def bodies() -> st.SearchStrategy[Body]:
    """Kilns that lose heat in 2 to 10 h, with off and three places that heat; some glow."""
    return st.builds(
        lambda hours, glow, most: Body(
            loss=1.0 / (3600.0 * hours),
            glow=glow / (3600.0 * hours),
            settings=np.array([0.0, 1.0, 2.0, 3.0]),
            heating=np.array([0.0, 0.2, 0.5, 1.0]) * most / 3600.0,
            room=ROOM,
        ),
        hours=st.integers(2, 10),
        glow=st.sampled_from((0.0, 0.3, 1.0)),
        most=st.integers(150, 500),
    )


def margins() -> st.SearchStrategy[Margins]:
    """Margins about the usual limits."""
    return st.builds(
        Margins,
        stress=st.integers(0, 200).map(lambda percent: percent / 100.0),
        skin_to_core=st.integers(0, 150).map(float),
        inversion_ramp=st.integers(0, 300).map(lambda each_hour: each_hour / 3600.0),
        hot_char=celsius(600, 800),
        char=st.integers(0, 5000).map(lambda micrograms: micrograms * 1e-9),
        core_off=st.integers(0, 60).map(float),
    )
