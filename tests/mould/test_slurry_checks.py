"""Findings on the original in the slurry: each limit seen from both sides."""

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.findings import Finding
from pourcast.materials import library
from pourcast.mould.clock_checks import clock_findings
from pourcast.mould.end_checks import far_end_findings
from pourcast.mould.far_end import far_end
from pourcast.mould.model import (
    AirTraps,
    CoatStep,
    FarEnd,
    Joint,
    MixClock,
    NarrowGap,
    PartSlurry,
    PartTrap,
    PartWater,
    SlurryResult,
    State,
)
from pourcast.mould.slurry_checks import slurry_findings
from pourcast.mould.solve import solve
from pourcast.mould.water_checks import water_findings
from pourcast.piece.network import build
from tests.mould.cases import POWDER, button, flask, measures, mix
from tests.mould.slurries import case, made, result
from tests.piece.make import few, part
from tests.strategies_mould import (
    end_cases,
    far_ends,
    mix_clocks,
    part_waters,
    slurry_cases,
    slurry_results,
)

NETWORK = build(made(part()))
CASE = case(NETWORK)
QUIET = result(part(length=0.02)).parts[0]
TRAPS = AirTraps(
    parts=(PartTrap(name="stem", area=0.0, share=0.0, bell=False),),
    area=0.0,
    tilt=0.0,
    tilt_area=0.0,
    bubble=6e-3,
)
JOINT = Joint(force=0.1, stress=5e4, strength=5e5, tears=0.0)


def found(*parts: PartSlurry, **changes: Any) -> tuple[Finding, ...]:
    """Return the findings of parts on a joint that holds."""
    count = len(parts)
    whole = SlurryResult(
        parts=parts,
        joint=JOINT,
        traps=TRAPS,
        gaps=(),
        lean=CASE.density[:1].repeat(count) * 0.0,
        lies_over=CASE.density[:1].repeat(count) * 0.0,
    )
    return slurry_findings(replace(whole, **changes), CASE)


def about(findings: tuple[Finding, ...], words: str) -> Finding:
    """Return the one finding that holds the words."""
    (one,) = [finding for finding in findings if words in finding.text]
    return one


def steps(*shares: float) -> tuple[CoatStep, ...]:
    """Return coats of 0.05 and 0.1 mm with the shares that lean under them."""
    return tuple(
        CoatStep(coat=coat, lean=0.06, leans=share, lies_over=0.0)
        for coat, share in zip((5e-5, 1e-4), shares, strict=True)
    )


def test_a_part_that_lies_over_is_a_stop_without_a_figure() -> None:
    """House rule: beyond 0.3 "will lie over", and no figure."""
    over = replace(QUIET, lean=None, leans=1.0, lies_over=0.8, moves=None, coats=steps(0.4, 0.05))

    one = about(found(over), "lay the stem over")

    assert one.level == "STOP"
    assert "80 of 100 draws" in one.text
    assert "% of its length" not in one.text
    assert "0.1 mm on every side" in one.text
    assert "grows by 0.2 mm across" in one.text


def test_a_part_that_leans_is_watched_and_one_that_stands_is_good() -> None:
    """House rule: spoken of from a tenth of the draws on."""
    leans = replace(QUIET, lean=0.15, leans=0.7, lies_over=0.1, coats=steps(0.9, 0.8))
    stands = replace(QUIET, name="stub", leans=0.1)

    whole = found(leans, stands)

    assert about(whole, "leans by 15 %").level == "WATCH"
    assert "lies over in 10" in about(whole, "leans by 15 %").text
    assert "Even 0.1 mm" in about(whole, "leans by 15 %").text
    assert about(whole, "Stub stands").level == "GOOD"


@pytest.mark.parametrize(
    ("pushed_by", "words"),
    [
        ("yield stress", "slower pouring takes nothing off"),
        ("viscosity", "half of it takes off"),
        ("buoyancy", "point straight up"),
    ],
)
def test_the_advice_follows_what_pushes(pushed_by: Any, words: str) -> None:
    """By the model: the yield part does not care for speed, the viscous part does."""
    leans = replace(QUIET, lean=0.15, leans=0.7, pushed_by=pushed_by)

    one = about(found(leans), "Pour down the wall")

    assert words in one.text
    assert one.level == "WATCH"
    assert about(found(QUIET), "Pour down the wall").level == "GOOD"
    assert "hits harder than any number" in one.text


def test_the_surface_is_told_to_rise_by_the_flask_in_its_minute() -> None:
    """By the meaning of a speed: 240 mm that are full after 60 s rise by 4 mm in each second."""
    poured = case(NETWORK, rise_speed=0.24 / 60.0)
    whole = replace(result(part(length=0.02)), joint=JOINT, traps=TRAPS, gaps=())

    one = about(slurry_findings(whole, poured), "Pour down the wall")

    assert "rises by about 4 mm/s" in one.text
    assert one.value == pytest.approx(4.0, rel=1e-12)
    assert one.unit == "mm/s"


@pytest.mark.parametrize(("tears", "level"), [(0.1, "GOOD"), (0.11, "WATCH"), (0.51, "STOP")])
def test_the_joint_is_watched_by_its_share(tears: float, level: str) -> None:
    """House rule: a limit seen from both sides."""
    one = about(found(QUIET, joint=replace(JOINT, tears=tears)), "wax joint")

    assert one.level == level
    assert ("Melt the joint" in one.text) == (level != "GOOD")


def test_what_floats_and_is_not_held_is_told() -> None:
    """Published, verdict: slurry lifts a leaf; a ball is held up to 20.98 τ."""
    loose = replace(QUIET, floats=0.9, held=0.2)

    assert about(found(loose), "would float up").value == 20.0
    assert not [one for one in found(replace(loose, held=0.9)) if "float up" in one.text]


def test_what_may_touch_is_told_once() -> None:
    """House rule: what stands nearer than 1 mm already is told with the gaps."""
    moves = replace(QUIET, touches=0.5, moves=4e-3, wall_gap=3e-3)
    near = replace(moves, neighbour="leaf", neighbour_gap=2e-3)
    nearest = replace(near, neighbour_gap=5e-4)

    assert "the flask" in about(found(moves), "may come against").text
    assert "the leaf" in about(found(near), "may come against").text
    assert not [one for one in found(nearest) if "may come against" in one.text]


def test_webs_are_named_and_not_listed_without_end() -> None:
    """Estimate of the trade: gaps of 1 mm or more."""
    gap = NarrowGap(part="leaf", other="spine", distance=3e-4, pairs=3)

    one = about(found(QUIET, gaps=(gap,) * 6), "web of mould")

    assert "leaf to spine 0.3 mm (3 places)" in one.text
    assert one.text.count("leaf to spine") == 4
    assert "and more" in one.text


def test_undersides_bells_and_bubbles_are_told() -> None:
    """Common practice: 10 to 30° of lean so that no underside is level."""
    leaf = PartTrap(name="leaf", area=2e-4, share=0.4, bell=True)
    leaning = replace(TRAPS, parts=(leaf,), area=2e-4, tilt=math.radians(15.0), tilt_area=1e-5)

    freed = found(QUIET, traps=leaning)
    stuck = found(QUIET, traps=replace(leaning, tilt=None))

    assert "A lean of 15°" in about(freed, "face down").text
    assert "leaves 5 % of it" in about(freed, "face down").text
    assert "No lean" in about(stuck, "face down").text
    assert "by brush" in about(freed, "makes a bell").text
    assert "under about 6 mm" in about(found(QUIET), "A bubble").text
    assert not [one for one in found(QUIET) if "face down" in one.text]


@few
@given(slurry_results(), st.data())
def test_findings_are_whole_sentences(drawn: SlurryResult, data: st.DataObject) -> None:
    """House rule: a whole sentence, a source, finite numbers, and no word of safety."""
    _whole(slurry_findings(drawn, data.draw(slurry_cases(NETWORK))))


@few
@given(mix_clocks(), st.lists(part_waters(), max_size=4), far_ends())
def test_findings_of_clock_water_and_end_are_whole(
    clock: MixClock, water: list[PartWater], end: FarEnd
) -> None:
    """House rule, as above."""
    _whole(clock_findings(clock, mix()))
    _whole(far_end_findings(end, flask()))
    states: tuple[State | None, ...] = (None, "dry", "fresh", "soaked")
    for state in states:
        _whole(
            water_findings(
                water,
                state,
                plants=library().plants,
                seal=library().coatings["water_seal_hours"],
                slurry=(replace(QUIET, name="leaf"),),
            )
        )


@few
@given(end_cases())
def test_any_far_end_comes_to_shares(drawn: Any) -> None:
    """By definition: shares lie between 0 and 1, and a thicker end breaks no more often."""
    mould = solve(measures(), button(), flask(), mix(), POWDER)

    end = far_end(mould, flask(), measures(), drawn)

    by_cover = sorted(end.checks, key=lambda one: one.cover)
    assert all(0.0 <= one.breaks <= 1.0 for one in by_cover)
    assert [one.breaks for one in by_cover] == sorted((o.breaks for o in by_cover), reverse=True)


def _whole(findings: tuple[Finding, ...]) -> None:
    for one in findings:
        assert one.stage == "mould"
        assert one.text.endswith(".")
        assert one.text[0].isupper()
        assert "safe" not in one.text.lower()
        assert "nan" not in one.text
        assert "None" not in one.text
        assert one.source
        for number in (one.value, one.limit):
            assert number is None or math.isfinite(number)
