"""Checks: what the forecast rests on, and when it says stop."""

import pytest
from hypothesis import given

from pourcast.forecast.checks import findings
from pourcast.forecast.model import Calibration, Outcomes, Unknown
from pourcast.forecast.names import unknown_name
from tests.strategies import outcomes

WELL = Outcomes(whole=0.9, short_tips=0.1, short_parts=0.0, lost=0.0)


def unknown(key: str, strength: float, kind: str = "estimate") -> Unknown:
    return Unknown(
        key=key,
        rank_correlation=strength,
        value=1.0,
        low=0.5,
        high=2.0,
        unit="-",
        kind=kind,  # type: ignore[arg-type]
        source="set by hand",
    )


@pytest.mark.parametrize(("lost", "stops"), [(0.49, 0), (0.5, 1), (1.0, 1)])
def test_stop_is_said_where_half_of_the_pours_are_lost(lost: float, stops: int) -> None:
    """Estimate: the limit of one half is set by hand."""
    how = Outcomes(whole=1.0 - lost, short_tips=0.0, short_parts=0.0, lost=lost)

    found = [
        finding for finding in findings(how, (), None, None, burnt=True) if finding.level == "STOP"
    ]

    assert len(found) == stops
    assert all(f"{100 * lost:.0f} of 100 pours" in finding.text for finding in found)


@pytest.mark.parametrize(("shut", "said"), [(None, False), (0.0, False), (0.02, True), (1.0, True)])
def test_a_cold_shut_is_said_where_it_can_come(shut: float | None, said: bool) -> None:
    found = findings(WELL, (), shut, None, burnt=True)

    assert any("two streams meet cold" in finding.text for finding in found) == said


def test_a_weak_or_well_known_value_is_not_named() -> None:
    """The strongest is published: it is not for the caster to settle."""
    of = (unknown("alloy.liquidus", 0.9, "published"), unknown("pour.film_factor", 0.1))

    first = findings(WELL, of, None, None, burnt=True)[0]

    assert first.level == "GOOD"
    assert first.value is None


def test_the_strongest_guesses_are_named_in_plain_words() -> None:
    """At most four, in the order of their strength; what is published is not named."""
    keys = ("interface_heat_transfer", "film_factor", "wall_roughness", "fork_loss", "entry_loss")
    guesses = tuple(unknown(f"pour.{key}", -0.6 + 0.1 * i) for i, key in enumerate(keys[:4]))
    of = (unknown("si_bronze_c87300.liquidus", 0.9, "published"), *guesses)

    first = findings(WELL, (*of, unknown(f"pour.{keys[4]}", 0.2)), None, None, burnt=True)[0]

    places = [first.text.find(unknown_name(f"pour.{key}")) for key in keys]
    assert first.level == "WATCH"
    assert places[:4] == sorted(places[:4])
    assert places[0] > 0
    assert places[4] == -1
    assert unknown_name("si_bronze_c87300.liquidus") not in first.text


def test_what_a_studio_has_learnt_is_named() -> None:
    calibration = Calibration(name="Studio by the mill")

    assert "Studio by the mill" in findings(WELL, (), None, calibration, burnt=True)[0].text


def test_what_is_left_out_is_said_each_time() -> None:
    """Our own rule: what the model does not know stands beside the answer."""
    for burnt in (True, False):
        texts = " ".join(finding.text for finding in findings(WELL, (), None, None, burnt=burnt))

        assert ("the burnout is not worked out" in texts) == (not burnt)
        assert "been held against measured castings" in texts
        assert "Whole means filled" in texts


@given(outcomes())
def test_nothing_is_called_safe(how: Outcomes) -> None:
    for finding in findings(how, (), 0.5, None, burnt=False):
        assert "safe" not in finding.text.lower()
        assert finding.source
