"""Heat and minutes of a melt, against closed forms and a measured heat."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.melt.melting import (
    Furnace,
    Melt,
    crucible_share,
    furnace_of,
    heat_to_pour,
    melt_time,
)
from tests.outside.record import record

COPPER = {
    "solidus": 1357.77,
    "liquidus": 1357.77,
    "latent": 209e3,
    "liquid_heat": 517.0,
}
"""Melting point of ITS-90; latent and liquid heat as in the CRC Handbook, from memory."""


def test_copper_takes_the_heat_of_the_table() -> None:
    """Published: copper from 298 K to liquid at 1357.77 K takes 43.0 kJ/mol, 677 kJ/kg.

    Source: NIST-JANAF tables of copper (Chase 1998), from memory: 29.8 kJ/mol to the
    melting point and 13.1 of fusion.  Tolerance 3 %: a mean specific heat of 0.44 kJ/kg/K
    stands for one that grows.  Found: 0.5 % low.
    """
    got = heat_to_pour(start=298.15, pour=1357.77, solid_heat=440.0, **COPPER)

    record(
        "melt",
        "heat of copper from 25 °C to liquid at its melting point",
        "NIST-JANAF tables (Chase 1998), from memory",
        got / 1000.0,
        677.0,
        "kJ/kg",
        20.0,
        kind="table",
    )
    assert got == pytest.approx(677e3, rel=0.03)


def test_two_melts_give_power_and_warming_back() -> None:
    """Exact: times made with 3 kW and 8 min of warming are a straight line."""
    heat = 600e3
    made = Furnace(power=3000.0, warming=480.0, melts=2)
    log = [Melt(mass=mass, time=melt_time(made, mass, heat)) for mass in (0.4, 1.1)]

    found = furnace_of(log, heat)

    assert found.power == pytest.approx(3000.0)
    assert found.warming == pytest.approx(480.0)
    assert melt_time(found, 0.7, heat) == pytest.approx(melt_time(made, 0.7, heat))


def test_one_melt_gives_its_own_time_back() -> None:
    """Exact: without a second mass nothing can be told of the warming."""
    found = furnace_of([Melt(mass=0.8, time=1500.0)], 600e3)

    assert found.warming == 0.0
    assert melt_time(found, 0.8, 600e3) == pytest.approx(1500.0)


def test_times_that_fall_with_mass_are_taken_as_one_power() -> None:
    """A heavier charge in less time tells of a hot furnace, not of a negative power."""
    found = furnace_of([Melt(mass=0.5, time=1800.0), Melt(mass=1.0, time=1500.0)], 600e3)

    assert found.warming == 0.0
    assert found.power > 0.0


@given(mass=st.floats(0.01, 20.0), more=st.floats(1.01, 3.0))
def test_more_metal_takes_longer(mass: float, more: float) -> None:
    furnace = Furnace(power=2500.0, warming=300.0, melts=3)

    assert melt_time(furnace, more * mass, 6e5) > melt_time(furnace, mass, 6e5)


def test_a_litre_of_water_fills_a_litre() -> None:
    """Exact: 1 kg of 1000 kg/m³ in a litre."""
    assert crucible_share(1.0, 1000.0, 1e-3) == pytest.approx(1.0)


def test_impossible_melts_are_refused() -> None:
    with pytest.raises(InputError, match="rising"):
        heat_to_pour(start=298.15, pour=1200.0, solid_heat=440.0, **COPPER)
    with pytest.raises(InputError, match="one or more"):
        furnace_of([], 6e5)
    with pytest.raises(InputError, match="time of a melt"):
        furnace_of([Melt(mass=1.0, time=0.0)], 6e5)
    with pytest.raises(InputError, match="crucible"):
        crucible_share(1.0, 8000.0, 0.0)
