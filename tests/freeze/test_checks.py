"""Checks, hot spots, feeders and limits: what the caster is told, and what is refused."""

import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings

from pourcast.errors import InputError
from pourcast.findings import Finding
from pourcast.freeze.checks import findings
from pourcast.freeze.feeder import length_to_button, proposals, rod_that_closes_at
from pourcast.freeze.model import Feeder, FreezeCase, FreezeResult, FreezeSteps, HotSpot, Pools
from pourcast.freeze.solve import solve
from pourcast.freeze.spots import hot_spots
from pourcast.materials import library
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult
from pourcast.pour.solve import solve as solve_pour
from tests.freeze.cases import freeze_case, poured
from tests.freeze.test_trade import headed
from tests.pour.cases import bar, case, spray, uncertain
from tests.strategies_freeze import (
    feeders,
    freeze_cases,
    freeze_results,
    freeze_steps,
    pools,
)
from tests.strategies_freeze import hot_spots as drawn_spots


def made(
    network: Network, *, left: float = 1.5e-5, draws: int = 3, **changes: object
) -> tuple[FreezeCase, PourResult, FreezeResult]:
    """Return a case, its pour and its freezing."""
    pour = case(network, draws)
    frozen = freeze_case(pour, **changes)
    result = poured(network, pour, left=left)
    return frozen, result, solve(network, frozen, result)


def told(network: Network, **changes: object) -> tuple[Finding, ...]:
    """Return the findings of a piece."""
    frozen, result, freezing = made(network, **changes)  # type: ignore[arg-type]
    return findings(network, frozen, result, freezing, facts=library().facts)


def one(found: tuple[Finding, ...], words: str) -> Finding:
    """Return the finding that holds some words."""
    matching = [finding for finding in found if re.search(words, finding.text)]
    assert len(matching) == 1, [finding.text for finding in found]
    return matching[0]


def test_a_hot_spot_is_told_with_part_volume_chance_and_neck() -> None:
    """By hand: the head of 12 mm on a stalk of 3 mm, in all castings."""
    network = headed(3e-3, 12e-3)
    finding = one(told(network), "must shrink without being fed")

    assert finding.part == "part 1"
    assert finding.level == "WATCH"
    assert finding.unit == "mm³"
    assert finding.value == pytest.approx(29.0, rel=0.05)
    assert "100 of 100 castings" in finding.text
    assert "part 0 closes before it" in finding.text


def test_a_feeder_is_proposed_by_both_rules() -> None:
    """Common practice, no source: its modulus is 1.2 times that of what it feeds.

    The head is a cylinder, 12 mm across and long, closed at one end: V/A is 2.4 mm, the pool of
    it with the warm end of the stalk 2.3 mm.
    """
    network = headed(3e-3, 12e-3)
    frozen, result, freezing = made(network)
    spots = hot_spots(network, frozen, result, freezing)

    (feeder,) = proposals(network, frozen, result, spots)

    assert spots[0].modulus == pytest.approx(2.4e-3, rel=0.1)
    assert feeder.diameter_by_modulus == pytest.approx(4.0 * 1.2 * spots[0].modulus)
    assert feeder.diameter == max(feeder.diameter_by_modulus, feeder.diameter_by_model)
    assert feeder.length == pytest.approx(
        length_to_button(network, spots[0].segment, frozen.pour.stream.gate_diameter)
    )
    assert one(told(network), "A wax rod").part == "part 1"


def test_the_casting_that_stands_for_all_does_not_hang_on_the_last_bit() -> None:
    """Of two castings the middle lies half way: on another machine the other one was nearer.

    Seen: kernels compiled in another way moved a lack by 1 part in 10^14, and the rod that
    was advised from 8.1 to 8.5 mm.
    """
    network = headed(3e-3, 12e-3)
    pour = uncertain(network, 2)
    frozen = freeze_case(pour)
    result = poured(network, pour, left=1.5e-5)
    freezing = solve(network, frozen, result)
    least, most = (1.0 - 1e-14, 1.0 + 1e-14)

    told = {
        hot_spots(network, frozen, result, replace(freezing, lack=freezing.lack * off))[0].draw
        for off in (np.array([[a], [b]]) for a in (least, most) for b in (least, most))
    }

    assert len(told) == 1


def test_a_head_on_the_proposed_rod_is_fed() -> None:
    """By the model itself, so a regression: the rod's own heat is not in the proposal."""
    network = headed(3e-3, 12e-3)
    frozen, result, freezing = made(network)
    spots = hot_spots(network, frozen, result, freezing)
    (feeder,) = proposals(network, frozen, result, spots)

    _, _, mended = made(headed(feeder.diameter, 12e-3))

    assert mended.lack.sum() == 0.0


def test_rod_of_the_model_closes_when_it_should() -> None:
    """By definition: a bar of the diameter that is returned closes at the time asked for.

    Tolerance 3 %: straight lines between the rods tried.
    """
    network = bar(1.0, 5e-3, 1)
    frozen, _, freezing = made(network, left=0.0, draws=2)

    diameter = rod_that_closes_at(float(freezing.feed_stop_time[1, 0]), frozen, 1, 0.0)

    assert diameter == pytest.approx(5e-3, rel=0.03)


def test_a_piece_that_feeds_is_told_so() -> None:
    found = told(headed(12e-3, 6e-3), left=4e-5)

    assert one(found, "The button is the last").level == "GOOD"
    assert one(found, "No place that is cut off").level == "GOOD"


def test_a_button_that_freezes_first_is_told() -> None:
    """Common practice: a button that stands full and sound over a porous piece froze too early."""
    found = told(headed(12e-3, 20e-3), left=1.5e-6)

    finding = one(found, "full and sound")
    assert finding.level == "STOP"
    assert finding.value == 0.0


def test_the_other_top_is_told_as_a_lever() -> None:
    network = headed(12e-3, 20e-3)
    frozen, result, freezing = made(network, left=1.5e-6)
    other = solve(network, covered(frozen), result)

    found = findings(network, frozen, result, freezing, facts=library().facts, other=other)

    finding = one(found, "Left open, the button is solid")
    assert "the quench waits" in finding.text
    back = findings(
        network,
        covered(frozen),
        result,
        other,
        facts=library().facts,
        other=freezing,
    )
    assert one(back, "Left open, the button is solid").text == finding.text


def test_the_other_top_may_be_followed_for_the_first_pours_only() -> None:
    """What is told of both tops is of pours that were followed under both."""
    network = headed(12e-3, 20e-3)
    frozen, result, freezing = made(network, left=1.5e-6)
    whole = solve(network, covered(frozen), result)
    first = solve(network, covered(frozen), result, draws=7)

    np.testing.assert_array_equal(first.lack, whole.lack[:7])
    np.testing.assert_array_equal(first.quench_from, whole.quench_from[:7])
    for other in (first, whole):
        told = findings(network, frozen, result, freezing, facts=library().facts, other=other)
        draws = other.last.size
        saved = (freezing.lack[:draws] - other.lack).sum(axis=1)
        assert one(told, "Left open").value == pytest.approx(1e9 * float(np.median(saved)))
        assert f"{draws} pours under both tops" in one(told, "Left open").source


def covered(frozen: FreezeCase) -> FreezeCase:
    """Return a case with its top covered."""
    draws = frozen.feed_stop.size
    return replace(
        frozen,
        top="covered",
        top_heat_transfer=np.full(draws, 4.0),
        top_emissivity=np.zeros(draws),
    )


def test_a_vacuum_that_stops_too_soon_is_told() -> None:
    """Common practice: off too soon, and thin parts drain back."""
    network = spray(120)
    pour = uncertain(network, 6, vacuum=60e3)
    result = solve_pour(network, pour)

    def hold(seconds: float | None) -> Finding:
        frozen = freeze_case(pour, vacuum_hold=seconds)
        freezing = solve(network, frozen, result)
        return one(
            findings(network, frozen, result, freezing, facts=library().facts), "only the vacuum"
        )

    assert hold(None).level == "WATCH"
    assert hold(1.0).level == "STOP"
    assert hold(600.0).level == "GOOD"


def test_quench_window_is_told_in_minutes_with_its_spread() -> None:
    network = headed(6e-3, 6e-3)
    pour = uncertain(network, 20)
    result = poured(network, pour, left=2e-5)
    frozen = freeze_case(pour)
    freezing = solve(network, frozen, result)

    found = findings(network, frozen, result, freezing, facts=library().facts)

    first = one(found, "not into water before")
    assert first.unit == "min"
    assert first.value == pytest.approx(float(np.percentile(freezing.quench_from, 90)) / 60.0)
    assert one(found, "bursts off in water until").value is not None
    assert one(found, "A hot flask in water gives steam").level == "WATCH"


def test_the_window_says_the_middle_and_the_outer_tenths_of_its_castings() -> None:
    """Definition of the quantile: of 0, 50 and 100 min the middle is 50, the outer tenth 90."""
    network = bar(0.02, 3e-3, 4)
    frozen, result, freezing = made(network)
    even = 60.0 * np.array([100.0, 0.0, 50.0])
    spread = replace(
        freezing, quench_from=even, button_dark=even + 1200.0, quench_to=even + 12_000.0
    )

    found = findings(network, frozen, result, spread, facts=library().facts)

    first = one(found, "not into water before 90 min")
    assert "after 50 min (10 to 90, 10 and 90 of 100 castings)" in first.text
    assert "after about 70 min" in first.text
    closing = one(found, "bursts off in water until about 250 min")
    assert "(210 to 290) after the pour" in closing.text
    assert (closing.value, closing.limit) == pytest.approx((210.0, 90.0))


@pytest.mark.parametrize("early", [0, 1])
def test_castings_whose_block_is_cold_before_the_metal_are_counted(early: int) -> None:
    """Definition of a share: one casting of four is 25 of 100; of none nothing is told."""
    network = bar(0.02, 3e-3, 4)
    frozen, result, freezing = made(network)
    first = 60.0 * np.array([20.0, 30.0, 40.0, 50.0])
    last = first + 600.0
    last[:early] = first[:early] - 600.0
    spread = replace(freezing, quench_from=first, button_dark=first, quench_to=last)

    found = findings(network, frozen, result, spread, facts=library().facts)

    closing = one(found, "bursts off in water until")
    assert ("In 25 of 100 castings that is before the metal" in closing.text) is (early == 1)
    assert ("castings that is before" in closing.text) is (early == 1)
    assert closing.level == ("WATCH" if early else "GOOD")


def test_the_mould_beside_the_button_is_told() -> None:
    finding = one(told(headed(6e-3, 6e-3)), "Beside the button the mould face")

    assert finding.unit == "min over 900 °C"
    assert "760 °C is for the burnout" in finding.text


def test_nothing_is_called_safe_and_sources_are_named() -> None:
    """House rules."""
    for finding in told(headed(3e-3, 12e-3)):
        assert not re.search(r"\bsafe", finding.text, re.IGNORECASE)
        assert finding.source
        assert finding.stage == "freeze"
        assert finding.text.endswith(".")


@settings(max_examples=15)
@given(case_=freeze_cases(), result=freeze_results(), steps=freeze_steps(), found=pools())
def test_drawn_records_keep_what_they_promise(
    case_: FreezeCase, result: FreezeResult, steps: FreezeSteps, found: Pools
) -> None:
    """By definition of the records."""
    assert np.all(case_.seventy_solid >= case_.ninety_solid)
    assert steps.growth > 1.0
    assert found.fed.sum() == 1
    assert np.all((result.lack == 0.0) | np.isfinite(result.cut_time))


@given(spot=drawn_spots(), feeder=feeders())
def test_drawn_spots_and_feeders_keep_what_they_promise(spot: HotSpot, feeder: Feeder) -> None:
    """By definition of the records."""
    assert spot.cut_time <= spot.close_time
    assert feeder.diameter >= feeder.diameter_by_modulus


@pytest.mark.parametrize(
    ("name", "value", "word"),
    [
        ("feed_stop", 1.0, "feed_stop"),
        ("shrinkage", -0.01, "shrinkage"),
        ("shrinkage", 0.9, "shrinkage"),
        ("liquid_contraction", -1e-4, "liquid_contraction"),
        ("solid_conductivity", 0.0, "solid_conductivity"),
        ("solid_specific_heat", np.nan, "solid_specific_heat"),
        ("gap_heat_transfer", 0.0, "gap_heat_transfer"),
        ("room_temperature", 20.0, "room_temperature"),
        ("top_emissivity", 1.2, "top_emissivity"),
        ("top_heat_transfer", -1.0, "top_heat_transfer"),
        ("seventy_solid", 1300.0, "fall of the freezing curve"),
        ("burst_temperature", 0.0, "burst_temperature"),
        ("vacuum_hold", -5.0, "vacuum_hold"),
        ("top", "half", "top"),
    ],
)
def test_a_value_outside_its_limits_is_refused_by_name(name: str, value: object, word: str) -> None:
    network = bar(0.02, 3e-3, 4)
    pour = case(network)

    with pytest.raises(InputError, match=word):
        solve(network, freeze_case(pour, **{name: value}), poured(network, pour))


def test_a_pour_of_another_piece_is_refused() -> None:
    network, other = bar(0.02, 3e-3, 4), bar(0.02, 3e-3, 5)
    pour = case(network)

    with pytest.raises(InputError, match="shape of filled"):
        solve(network, freeze_case(pour), poured(other, case(other)))


def test_a_block_hotter_than_the_metal_is_refused() -> None:
    network = bar(0.02, 3e-3, 4)
    pour = case(network, temperature=1500.0)

    with pytest.raises(InputError, match="cooler than the metal"):
        solve(network, freeze_case(pour), poured(network, pour))


def test_a_segment_that_hangs_on_nothing_is_refused() -> None:
    network = bar(0.02, 3e-3, 4)
    loose = replace(network, start=np.array([0, 1, 9, 3]), end=np.array([1, 2, 8, 4]))

    with pytest.raises(InputError, match="joined to the gate"):
        solve(loose, freeze_case(case(loose)), poured(loose, case(loose)))


def test_steps_that_do_not_grow_are_refused() -> None:
    network = bar(0.02, 3e-3, 4)
    pour = case(network)

    with pytest.raises(InputError, match="growth"):
        solve(network, freeze_case(pour), poured(network, pour), steps=FreezeSteps(growth=1.0))
