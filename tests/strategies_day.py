"""Strategies of the kiln day: readings, acts, logs and what stands beside them."""

from hypothesis import strategies as st

from pourcast.day.model import DayEvent, DayLog, DayReading, Judged
from pourcast.day.simulated import SimulatedKiln
from pourcast.melt.melting import Furnace, Melt
from pourcast.melt.waiting import Pot
from tests.strategies_kiln import bodies, celsius

_ACTS = ("out", "blew", "in", "sealed", "lit", "molten", "poured", "quenched")


def day_readings(hours: int = 24) -> st.SearchStrategy[DayReading]:
    """Draw readings of any place, on whole minutes of a day."""
    return st.builds(
        DayReading,
        place=st.sampled_from(("kiln", "wall", "core", "metal")),
        at=st.integers(0, 60 * hours).map(lambda minute: 60.0 * minute),
        temperature=celsius(0, 1200),
    )


def day_events(hours: int = 24) -> st.SearchStrategy[DayEvent]:
    """Acts on whole minutes of a day; turns to whole places of a dial of five."""
    at = st.integers(0, 60 * hours).map(lambda minute: 60.0 * minute)
    turned = st.builds(DayEvent, act=st.just("turned"), at=at, setting=st.integers(0, 5).map(float))
    said = st.builds(
        DayEvent,
        act=st.sampled_from(("right", "wrong")),
        at=at,
        place=st.sampled_from(("kiln", "wall", "core", "metal")),
    )
    return st.one_of(turned, said, st.builds(DayEvent, act=st.sampled_from(_ACTS), at=at))


def day_logs(most: int = 12) -> st.SearchStrategy[DayLog]:
    """Draw logs of a few readings and acts in any order."""
    return st.builds(
        DayLog,
        start=st.just(0.0),
        readings=st.lists(day_readings(), max_size=most).map(tuple),
        events=st.lists(day_events(), max_size=most).map(tuple),
    )


def judged_readings() -> st.SearchStrategy[Judged]:
    """Draw readings with or without a doubt."""
    return st.builds(
        Judged,
        reading=day_readings(),
        doubt=st.sampled_from((None, "cold probe", "unit", "jump", "said wrong")),
        expected=st.none() | celsius(0, 1200),
    )


def simulated_kilns() -> st.SearchStrategy[SimulatedKiln]:
    """Made-up kilns with and without bricks."""
    return st.builds(
        SimulatedKiln,
        body=bodies(),
        exchange=st.sampled_from((0.0, 0.5 / 3600.0)),
        share=st.sampled_from((0.1, 0.5)),
        noise=st.sampled_from((0.0, 2.0)),
    )


def melts() -> st.SearchStrategy[Melt]:
    """Melts of 50 g to 5 kg in 10 to 90 min."""
    return st.builds(
        Melt,
        mass=st.integers(50, 5000).map(lambda grams: grams / 1000.0),
        time=st.integers(10, 90).map(lambda minutes: 60.0 * minutes),
    )


def furnaces() -> st.SearchStrategy[Furnace]:
    """Furnaces that give 0.3 to 10 kW to the metal."""
    return st.builds(
        Furnace,
        power=st.integers(300, 10_000).map(float),
        warming=st.integers(0, 30).map(lambda minutes: 60.0 * minutes),
        melts=st.integers(1, 10),
    )


def pots() -> st.SearchStrategy[Pot]:
    """Pots of 50 g to some kilograms."""
    return st.builds(
        Pot,
        capacity=st.integers(30, 5000).map(float),
        area=st.integers(10, 400).map(lambda cm2: 1e-4 * cm2),
        emissivity=st.integers(5, 95).map(lambda percent: percent / 100.0),
        convection=st.integers(4, 25).map(float),
        room=celsius(-10, 40),
    )
