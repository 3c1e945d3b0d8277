"""Findings of the burnout: each fault is told, with what to do, and at its level.

Sources stand beside the limits in `pourcast.burnout.checks` and `block_checks`;
most are common practice, no source.
"""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.burnout.checks import findings
from pourcast.burnout.model import BurnoutResult, Curve
from pourcast.findings import Finding
from pourcast.materials import library
from tests.burnout.hand import DRAWS, HOUR, USUAL, case, curve, hotter, result


def told(
    of: BurnoutResult,
    *,
    curve: Curve = USUAL,
    planned: float | None = None,
    beside: float = 1.0,
    **how: int,
) -> tuple[Finding, ...]:
    book = library()
    return findings(
        case(curve, **how),
        of,
        limits=book.investment["limits"],
        facts=book.facts,
        planned=planned,
        usual_time=15.0 * HOUR,
        beside_usual=np.full(DRAWS, beside),
    )


def the(found: tuple[Finding, ...], words: str) -> Finding:
    """Return the one finding that holds some words."""
    (kept,) = [finding for finding in found if words in finding.text]
    return kept


def test_a_good_day_has_only_the_cautions_and_what_is_not_known() -> None:
    found = told(result())

    watched = [finding.text for finding in found if finding.level != "GOOD"]
    assert len(watched) == 3
    assert "no measured burnout of a plant" in watched[0]
    for word in ("carbon monoxide", "kiln at burnout heat"):
        assert any(word in text for text in watched[1:])


@pytest.mark.parametrize(("share", "level"), [(0, "GOOD"), (0.1, "WATCH"), (0.5, "STOP")])
@pytest.mark.parametrize(
    ("fault", "words"),
    [
        ("wet", "free water|is dry between"),
        ("dirty", "mg of char is left"),
        ("late", "casting temperature"),
    ],
)
def test_a_fault_is_told_by_how_many_draws_show_it(
    fault: str, words: str, share: float, level: str
) -> None:
    """Limits by hand: from one draw in ten a WATCH, from half a STOP."""
    found = told(result(**{fault: round(share * DRAWS)}))  # type: ignore[arg-type]

    kept = [f for f in found if any(word in f.text for word in words.split("|"))]
    assert [finding.level for finding in kept] == [level]


def test_a_core_behind_its_kiln_is_soaked_and_a_kiln_that_is_off_is_not() -> None:
    """Balance of heat: a core that has come to the air about it gains nothing by a soak."""
    off = result(late=DRAWS // 2)
    behind = replace(off, heat=replace(off.heat, core=off.heat.core - 30.0))

    soak, gauge = (the(told(day), "casting temperature").text for day in (behind, off))

    assert "Soak it longer" in soak
    assert "Soak it longer" not in gauge
    assert "try the gauge beside another" in gauge


@pytest.mark.parametrize(("over", "level"), [(1.0, "GOOD"), (1.3, "WATCH"), (2.5, "STOP")])
def test_stress_is_held_against_that_of_the_usual_curve(over: float, level: str) -> None:
    """Blocks live through the usual curve (common practice), though an elastic one would not."""
    kept = the(told(result(), beside=over), "as much as the usual curve")

    assert kept.level == level
    assert kept.value == pytest.approx(over)


@pytest.mark.parametrize(("by", "level"), [(0.0, "GOOD"), (20.0, "WATCH"), (40.0, "STOP")])
def test_a_hot_top_is_told(by: float, level: str) -> None:
    """Common practice, no source: 730 °C usual, 760 °C stops while char is there."""
    hot = hotter(by)

    kept = the(told(result(hot), curve=hot), "The curve goes to")

    assert kept.level == level
    assert kept.value == pytest.approx(730.0 + by)


def test_used_up_air_is_told_with_how_many_share_it() -> None:
    kept = the(told(result(oxygen=0.001), flasks=3), "next to no oxygen")

    assert kept.level == "WATCH"
    assert "3 masses share it" in kept.text


@pytest.mark.parametrize(
    ("falls", "level", "words"),
    [(1, "WATCH", "fell through 245 °C once"), (2, "STOP", "fell through 245 °C 2 times")],
)
def test_a_block_that_cooled_on_the_way_is_told(falls: int, level: str, words: str) -> None:
    """Common practice, no source: silica changes size at about 245 and 573 °C."""
    points = [(0.0, 20.0), (4.0, 700.0)]
    for fall in range(falls):
        points += [(6.0 + 4 * fall, 100.0), (8.0 + 4 * fall, 700.0)]
    day = curve(*points)
    core = np.interp(np.linspace(0.0, day.time[-1], 61), day.time, day.temperature)

    kept = the(told(result(day, core=core), curve=day), "heated again")

    assert kept.level == level
    assert words in kept.text


def test_cooling_to_casting_heat_is_no_fault() -> None:
    day = curve((0.0, 20.0), (8.0, 730.0), (12.0, 730.0), (16.0, 450.0))
    core = np.interp(np.linspace(0.0, day.time[-1], 61), day.time, day.temperature)

    assert not [f for f in told(result(day, core=core), curve=day) if "heated again" in f.text]


def test_a_flask_that_the_curve_does_not_give_is_told() -> None:
    planned = 480.0 + 273.15

    assert "120 K hotter" in the(told(result(), planned=planned), "Change one").text
    assert not [f for f in told(result(), planned=873.15) if "Change one" in f.text]


def test_a_curve_shorter_than_the_usual_one_is_told() -> None:
    short = curve((0.0, 20.0), (4.0, 700.0), (8.0, 700.0))

    kept = the(told(result(short), curve=short), "do not go under the usual hours")

    assert kept.value == pytest.approx(8.0)
    assert kept.limit == pytest.approx(15.0)


def test_no_finding_calls_anything_safe() -> None:
    worst = result(hotter(60.0), wet=20, dirty=20, cracked=20, late=20, oxygen=0.0)

    assert not [f for f in told(worst, curve=hotter(60.0), beside=9.0) if "safe" in f.text.lower()]
