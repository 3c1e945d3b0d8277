"""The charge: metal to melt, how it is made up, and the wax factors of the trade."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.materials import library
from pourcast.melt.charge import make_up, metal_to_melt, wax_factor
from tests.outside.record import record

masses = st.floats(0.0, 5.0)
ONE = np.ones(1)


def test_metal_that_just_reaches_is_not_short_by_rounding() -> None:
    """In doubles 0.3 - 0.2 - 0.1 is not 0."""
    assert make_up(0.3, 0.2, 0.1)[2] == 0.0
    assert make_up(0.3, None, 0.1)[2] == 0.0


def test_litre_of_water_weighs_a_kilogram() -> None:
    """Exact: 0.6 and 0.4 litres at 1000 kg/m³ without loss are 1 kg."""
    metal = metal_to_melt(0.6e-3, 0.4e-3, ONE, 1000.0 * ONE, 0.0 * ONE)

    assert metal == pytest.approx([1.0], rel=1e-12)


def test_what_is_left_after_the_loss_fills_the_cavity() -> None:
    """Conservation: metal less its lost share is the cavity full of liquid."""
    density = np.array([7400.0, 7550.0, 7700.0])
    loss = np.array([0.01, 0.03, 0.06])
    scale = np.array([0.9, 1.0, 1.1])

    metal = metal_to_melt(8e-6, 6e-6, scale, density, loss)

    assert metal * (1.0 - loss) == pytest.approx((scale * 8e-6 + 6e-6) * density, rel=1e-12)


@given(scale=st.floats(0.5, 2.0))
def test_error_of_measuring_moves_the_piece_and_not_the_button(scale: float) -> None:
    piece = metal_to_melt(8e-6, 0.0, scale * ONE, 7550.0 * ONE, 0.03 * ONE)
    button = metal_to_melt(8e-6, 6e-6, ONE, 7550.0 * ONE, 0.03 * ONE) - metal_to_melt(
        8e-6, 0.0, ONE, 7550.0 * ONE, 0.03 * ONE
    )

    both = metal_to_melt(8e-6, 6e-6, scale * ONE, 7550.0 * ONE, 0.03 * ONE)

    assert both == pytest.approx(piece + button, rel=1e-12)


@given(charge=st.floats(0.01, 5.0), on_hand=st.none() | masses, returns=st.none() | masses)
def test_charge_is_made_up_of_what_is_there(
    charge: float, on_hand: float | None, returns: float | None
) -> None:
    """Conservation: new metal, returns and what is missing are the charge."""
    new, used, short = make_up(charge, on_hand, returns)

    assert new + used + short == pytest.approx(charge, rel=1e-12)
    assert min(new, used, short) >= 0.0
    assert used <= (returns or 0.0)
    if on_hand is not None:
        assert new <= on_hand
    if on_hand is None:
        assert short == 0.0


@given(charge=st.floats(0.01, 5.0), on_hand=masses, returns=masses)
def test_metal_is_short_only_when_all_of_it_is_used(
    charge: float, on_hand: float, returns: float
) -> None:
    _, _, short = make_up(charge, on_hand, returns)

    assert short == pytest.approx(max(charge - on_hand - returns, 0.0), abs=1e-12)


@given(charge=st.floats(0.01, 5.0), on_hand=st.none() | masses, returns=masses)
def test_returns_are_over_half_only_where_new_metal_runs_out(
    charge: float, on_hand: float | None, returns: float
) -> None:
    """Common practice, one voice: at least half of the charge new."""
    new, used, _ = make_up(charge, on_hand, returns)

    if used > 0.5 * charge * (1.0 + 1e-12):
        assert on_hand is not None
        assert new == on_hand


@pytest.mark.parametrize(
    ("on_hand", "returns", "expected"),
    [
        (None, None, (1.0, 0.0, 0.0)),
        (None, 0.2, (0.8, 0.2, 0.0)),
        (None, 3.0, (0.5, 0.5, 0.0)),
        (0.4, None, (0.4, 0.0, 0.6)),
        (0.6, 3.0, (0.5, 0.5, 0.0)),
        (0.3, 3.0, (0.3, 0.7, 0.0)),
        (0.0, 3.0, (0.0, 1.0, 0.0)),
        (0.3, 0.2, (0.3, 0.2, 0.5)),
    ],
)
def test_cases_worked_out_by_hand(
    on_hand: float | None, returns: float | None, expected: tuple[float, float, float]
) -> None:
    """Exact: one kilogram made up of what is on hand."""
    assert make_up(1.0, on_hand, returns) == pytest.approx(expected, abs=1e-12)


def test_wax_factor_of_sterling_meets_the_rule_of_the_trade() -> None:
    """Common practice, no source: wax times 10.4 is sterling, from memory.

    That rule is the specific gravity of the metal and counts wax as 1.0 g/cm³.
    Sterling of 10.36 over casting wax of 0.95 g/cm³ gives 10.9.  Tolerance
    7 %: the range of the wax, 0.90 to 0.97 g/cm³, moves the factor by 8 %.
    Found: 4.9 % above the rule.  At 1.0 g/cm³ it is met to 0.4 %.
    """
    sterling = library().alloys["sterling_925"]["density_20"].si
    wax = library().waxes["casting"]["density"].si

    factor = wax_factor(sterling, wax)

    record(
        "melt",
        "grams of sterling for a gram of wax",
        "common practice, no source: 10.4",
        factor,
        10.4,
        "g/g",
        0.07 * 10.4,
        kind="common practice",
    )
    assert factor == pytest.approx(10.4, rel=0.07)
    assert wax_factor(sterling, 1000.0) == pytest.approx(10.4, rel=0.005)


def test_wax_factor_of_bronze_lies_with_the_rules_of_the_trade() -> None:
    """Common practice, no source: wax times 9 to 10 is bronze, from memory.

    The rule does not name the bronze nor the wax.  Tin bronze of 8.77 over wax
    of 0.95 g/cm³ gives 9.23.  Tolerance: half of the rule's own span, so 0.5
    about 9.5.  Found: 2.8 % under its middle.  Silicon bronze, lighter, gives
    8.8 and misses the rule by 7 %: the rule would ask for more metal.
    """
    wax = library().waxes["casting"]["density"].si
    tin = wax_factor(library().alloys["sn_bronze_cusn10"]["density_20"].si, wax)
    silicon = wax_factor(library().alloys["si_bronze_c87300"]["density_20"].si, wax)

    record(
        "melt",
        "grams of tin bronze for a gram of wax",
        "common practice, no source: 9 to 10",
        tin,
        9.5,
        "g/g",
        0.5,
        kind="common practice",
    )
    assert tin == pytest.approx(9.5, abs=0.5)
    assert silicon < 9.0


@pytest.mark.parametrize(
    "alloy", ["si_bronze_c87300", "sn_bronze_cusn10", "sterling_925", "fine_silver", "copper"]
)
def test_regression_wax_factors_are_those_of_the_alloy_records(alloy: str) -> None:
    """The records hold the ratio of the same two densities."""
    record_of = library().alloys[alloy]
    if "wax_factor" not in record_of:
        pytest.skip("the record holds no factor of its own")

    factor = wax_factor(record_of["density_20"].si, library().waxes["casting"]["density"].si)

    assert factor == pytest.approx(record_of["wax_factor"].si, rel=1e-4)


@pytest.mark.parametrize("charge", [0.0, -1.0, math.nan])
def test_charge_of_nothing_is_refused(charge: float) -> None:
    with pytest.raises(InputError, match="charge"):
        make_up(charge, None, None)


def test_negative_metal_on_hand_is_refused() -> None:
    with pytest.raises(InputError, match="on_hand"):
        make_up(1.0, -0.1, None)
    with pytest.raises(InputError, match="returns"):
        make_up(1.0, None, -0.1)


@pytest.mark.parametrize(
    ("piece", "scale", "density", "loss", "what"),
    [
        (0.0, 1.0, 7550.0, 0.03, "piece_volume"),
        (8e-6, 0.0, 7550.0, 0.03, "volume_scale"),
        (8e-6, 1.0, -1.0, 0.03, "density"),
        (8e-6, 1.0, 7550.0, 0.6, "loss"),
        (8e-6, 1.0, 7550.0, -0.1, "loss"),
    ],
)
def test_values_outside_their_limits_are_refused(
    piece: float, scale: float, density: float, loss: float, what: str
) -> None:
    with pytest.raises(InputError, match=what):
        metal_to_melt(piece, 6e-6, scale * ONE, density * ONE, loss * ONE)


def test_wax_denser_than_the_metal_is_refused() -> None:
    with pytest.raises(InputError, match="less than the metal's"):
        wax_factor(900.0, 950.0)
