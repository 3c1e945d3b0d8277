"""What to weigh out for a flask, against what the trade says of flasks."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.materials import library
from pourcast.mould.solve import powder_of, solve
from tests.mould.cases import POWDER, button, flask, measures, mix
from tests.outside.record import record

SPECK = measures(volume=1e-12, button_volume=0.0, lowest=-0.001, reach=0.001)
"""A piece too small to matter: the flask is full of slurry."""

POUND = 0.45359237  # kg, by definition


def test_powder_and_water_weigh_what_was_mixed() -> None:
    """Conservation: powder and water together are the slurry that is mixed."""
    mould = solve(measures(), button(), flask(), mix(), POWDER)

    mixed = mould.slurry_volume * mould.slurry_density

    assert mould.powder + mould.water == pytest.approx(mixed, rel=1e-12)
    assert mould.water / mould.powder == pytest.approx(0.40, rel=1e-12)


def test_block_in_the_flask_is_the_mix_less_what_stays_in_the_bowl() -> None:
    """Conservation: 4 % more is mixed than fills the flask."""
    mould = solve(measures(), button(), flask(), mix(), POWDER)

    mixed = mould.powder + mould.water

    assert mould.full_mass * 1.04 == pytest.approx(mixed, rel=1e-12)


def test_five_by_seven_inch_flask_takes_about_seven_pounds_of_powder() -> None:
    """Common practice, no source: "a flask of about 7 lb of powder".

    Seven pounds at 40:100 are 2.52 litres of slurry.  The size of that flask is
    not said; 127 × 178 mm, 5 × 7 inches, is our reading, so the check is weak.
    Full and with 4 % in the bowl it takes 6.5 lb.  Found: 7 % under the saying;
    5 × 7½ inches would meet it to 1 %.  Tolerance 15 %: "about", and half an
    inch of height is 7 %.  A flask of 76 × 100 mm takes under a quarter of it.
    """
    full = flask(diameter=0.127, height=0.178)

    powder = solve(SPECK, button(1e-6), full, mix(), POWDER).powder / POUND

    record(
        "mould",
        "powder for a flask of 127 x 178 mm",
        "common practice, no source: about 7 lb; size of the flask not said",
        powder,
        7.0,
        "lb",
        0.15 * 7.0,
        kind="common practice",
    )
    assert powder == pytest.approx(7.0, rel=0.15)


def test_regression_full_flask_takes_2_84_kg_of_powder_and_1_14_kg_of_water() -> None:
    """Worked out apart from this code for 127 × 178 mm, 40:100, no waste."""
    full = flask(diameter=0.127, height=0.178)

    mould = solve(SPECK, button(1e-6), full, mix(), POWDER, waste=0.0)

    assert mould.powder == pytest.approx(2.84, abs=0.005)
    assert mould.water == pytest.approx(1.14, abs=0.005)


def test_powder_of_the_library_gives_the_mix_that_the_library_holds() -> None:
    """Two records of the library must agree: the grains and the mix made of them."""
    investment = library().investment
    kept = investment["wp_40"]["slurry_density"]

    mould = solve(measures(), button(), flask(), mix(), powder_of(investment, "gypsum_silica"))

    assert mould.slurry_density == pytest.approx(kept.si, rel=1e-4)
    assert kept.si_low <= mould.slurry_density <= kept.si_high


@given(water=st.floats(0.3, 0.6), waste=st.floats(0.0, 0.2))
def test_waste_asks_for_its_share_and_changes_nothing_else(water: float, waste: float) -> None:
    none = solve(measures(), button(), flask(), mix(water), POWDER, waste=0.0)

    some = solve(measures(), button(), flask(), mix(water), POWDER, waste=waste)

    assert some.powder == pytest.approx(none.powder * (1.0 + waste), rel=1e-12)
    assert some.full_mass == none.full_mass
    assert some.burnt_porosity == none.burnt_porosity


@given(water=st.floats(0.3, 0.6), more=st.floats(0.01, 0.1))
def test_more_water_needs_less_powder_for_the_same_flask(water: float, more: float) -> None:
    stiff = solve(measures(), button(), flask(), mix(water), POWDER)

    wet = solve(measures(), button(), flask(), mix(water + more), POWDER)

    assert wet.powder < stiff.powder
    assert wet.water > stiff.water
    assert wet.slurry_volume == stiff.slurry_volume


@pytest.mark.parametrize("waste", [-0.01, math.nan])
def test_negative_waste_is_refused(waste: float) -> None:
    with pytest.raises(InputError, match="waste"):
        solve(measures(), button(), flask(), mix(), POWDER, waste=waste)


def test_mix_that_is_no_slurry_is_refused() -> None:
    with pytest.raises(InputError, match="water_to_powder"):
        solve(measures(), button(), flask(), mix(0.1), POWDER)
