"""Solid: the freezing curve against assessed data and against the law of Scheil."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from pourcast.errors import InputError
from pourcast.freeze.solid import (
    Knots,
    fraction_at,
    heat_at_fraction,
    heat_of_state,
    knots_of,
    tables,
    temperature_at,
    usual_knots,
)
from pourcast.materials import library
from tests.freeze.scheil import scheil_fraction
from tests.outside.record import record

C = 273.15
_NAMES = ("liquidus", "fs50", "fs70", "fs90", "solidus")


def bronze() -> Knots:
    """Return the middle values of silicon bronze C87300."""
    alloy = library().alloys["si_bronze_c87300"]
    points = tuple(alloy[name].si for name in _NAMES)
    assert len(points) == 5
    return knots_of(points, alloy["cp_liquid"].si, alloy["cp_solid"].si, alloy["latent"].si)


BRONZE = bronze()


def test_heat_from_pour_to_flask_agrees_with_assessed_data() -> None:
    """Published: 344 kJ/kg from 1090 to 600 °C for copper with 4 % silicon.

    Source: COST 507 data base (1999), equilibrium, through an open package.
    Tolerance 10 %: equilibrium freezes in 78 K, a casting in 150 K.  Found: 339, 1.5 % less.
    """
    hot = heat_of_state(1363.15, 0.0, BRONZE)
    cold = float(brentq(lambda heat: temperature_at(heat, BRONZE) - 873.15, -1e6, 0.0))

    got = (hot - cold) / 1e3
    record(
        "freeze",
        "heat given up by silicon bronze from 1090 to 600 °C",
        "COST 507 data base (1999), copper with 4 % silicon",
        got,
        344.0,
        "kJ/kg",
        34.4,
        kind="table",
    )
    assert got == pytest.approx(344.0, rel=0.10)


@pytest.mark.parametrize(("solid", "equilibrium"), [(0.5, 949.0), (0.7, 933.0)])
def test_a_cored_casting_freezes_below_equilibrium(solid: float, equilibrium: float) -> None:
    """Published: equilibrium of copper with 4 % silicon, COST 507 data base (1999).

    A trend: without diffusion in the solid the melt is richer, and freezes lower.  Found: 14
    and 40 K lower.
    """
    got = temperature_at(heat_at_fraction(solid, BRONZE), BRONZE) - C

    assert got < equilibrium


def test_half_solid_of_the_record_lies_on_the_curve_of_scheil() -> None:
    """Published law: Scheil (1942), with the partition 0.60 of the record's own note.

    Tolerance 0.01: the record gives 935 °C in whole degrees, one degree is worth 0.007.
    Found: 0.498.
    """
    got = scheil_fraction(935.0 + C, 1084.6 + C, 971.0 + C, 0.60)

    record(
        "freeze",
        "solid fraction of silicon bronze at 935 °C by the law of Scheil",
        "Scheil (1942), partition 0.60 from memory",
        got,
        0.5,
        "",
        0.01,
        kind="closed form",
    )
    assert got == pytest.approx(0.5, abs=0.01)


def test_scheil_is_the_lever_of_a_solid_that_takes_nothing() -> None:
    """Exact: with partition 0 the solid takes no alloy, so liquid times depth is constant."""
    assert scheil_fraction(1300.0 - 200.0, 1300.0, 1200.0, 0.0) == pytest.approx(0.5, abs=1e-12)


@given(solid=st.floats(0.0, 1.0))
def test_solid_fraction_and_heat_are_inverse(solid: float) -> None:
    heat = heat_at_fraction(solid, BRONZE)

    assert heat <= 0.0
    assert fraction_at(heat, BRONZE) == pytest.approx(solid, abs=1e-12)
    assert temperature_at(heat, BRONZE) == pytest.approx(
        float(np.interp(solid, (0.0, 0.5, 0.7, 0.9, 1.0), BRONZE[:5])), abs=1e-6
    )


@given(heat=st.floats(-4e5, 2e5), more=st.floats(1.0, 1e5))
def test_hotter_metal_holds_more_heat(heat: float, more: float) -> None:
    assert temperature_at(heat + more, BRONZE) > temperature_at(heat, BRONZE)
    assert fraction_at(heat + more, BRONZE) <= fraction_at(heat, BRONZE)


def test_all_of_the_latent_heat_and_the_sensible_heat_is_given_up() -> None:
    """Exact: with one specific heat the sum is latent heat plus that heat times the range."""
    knots = knots_of((1250.0, 1220.0, 1180.0, 1140.0, 1100.0), 500.0, 500.0, 120e3)

    assert knots.heat_solidus == pytest.approx(-(120e3 + 150.0 * 500.0), rel=1e-12)


def test_a_pure_metal_freezes_at_one_temperature() -> None:
    knots = knots_of((1234.93,) * 5, 285.0, 285.0, 104.8e3)

    assert temperature_at(-0.5 * 104.8e3, knots) == 1234.93
    assert fraction_at(-0.3 * 104.8e3, knots) == pytest.approx(0.3, abs=1e-12)


def test_knots_of_an_alloy_without_values_are_those_of_silicon_bronze_in_their_shares() -> None:
    """Estimate: the shares of C87300; that alloy itself must come out, to its whole degrees."""
    seventy, ninety = usual_knots(np.array([935.0 + C]), np.array([821.0 + C]))

    assert seventy - C == pytest.approx(893.0, abs=0.1)
    assert ninety - C == pytest.approx(849.0, abs=0.1)


def test_state_of_the_pour_is_taken_over() -> None:
    assert heat_of_state(1300.0, 0.0, BRONZE) == pytest.approx(517.0 * (1300.0 - 971.0 - C))
    assert fraction_at(heat_of_state(1200.0, 0.63, BRONZE), BRONZE) == pytest.approx(0.63)
    cold = heat_of_state(900.0, 1.0, BRONZE)
    assert temperature_at(cold, BRONZE) == pytest.approx(900.0)


def test_table_holds_the_curve() -> None:
    heat, temperature, solid = tables(BRONZE, 700.0, 1500.0, 513)

    assert temperature[0] == pytest.approx(700.0)
    assert temperature[-1] == pytest.approx(1500.0)
    assert np.all(np.diff(temperature) > 0.0)
    assert solid[100] == fraction_at(float(heat[100]), BRONZE)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="fall of the freezing curve"):
        knots_of((1200.0, 1210.0, 1150.0, 1120.0, 1100.0), 500.0, 450.0, 1e5)
    with pytest.raises(InputError, match="latent_heat"):
        knots_of((1200.0,) * 5, 500.0, 450.0, 0.0)
    with pytest.raises(InputError, match="specific heat"):
        knots_of((1200.0,) * 5, 500.0, -1.0, 1e5)
    with pytest.raises(InputError, match="coldest"):
        tables(BRONZE, 1200.0, 1500.0)
