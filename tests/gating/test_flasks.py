"""Which flask a piece goes into: plain pieces whose wall and cover are counted by hand."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings

from pourcast.errors import InputError
from pourcast.gating.flask_checks import findings, size
from pourcast.gating.flasks import best_for, choose, least_cover, piece_circle, room_of
from pourcast.gating.model import FlaskChoice
from pourcast.gating.pose import Poser
from pourcast.piece.network import build
from pourcast.sheet.model import Plan
from tests.gating.shelf import SHELF, plan_with, steel
from tests.piece.make import few, part, piece
from tests.strategies import plans
from tests.strategies_gating import choices

SPRAY = piece(
    part("stem", length=0.06649, width=0.001),
    part("ray", "stem", position=0.5, angle=90.0, count=4, length=0.031, width=0.001),
)
"""Reaches 31.5 mm from the axis and 86.5 mm down from the rim of its button."""


def rod(length: float = 0.06) -> Plan:
    """Return a rod of 10 mm straight down from a button of 30 by 20 mm."""
    return plan_with(piece(part(length=length, width=0.01), gate=0.01))


def told(choice: FlaskChoice) -> str:
    """Return the first finding, that of the fit."""
    return findings(choice)[0].text


def test_size_that_a_straight_rod_needs() -> None:
    """Hand count: 2 (15 + 10) = 50 mm inside; 20 + 60 + the smaller of 12.5 and 20 mm high.

    Walls of 10 mm: common practice, one voice.  0.1 % of the button for its polygon.
    """
    choice = choose(rod(), SHELF)

    assert choice.needed_diameter == pytest.approx(0.050, abs=5e-5)
    assert choice.needed_height == pytest.approx(0.0925, abs=5e-5)


@pytest.mark.parametrize(
    ("diameter", "height", "room"),
    [
        (50.1, 92.6, "usual"),
        (49.8, 92.6, "tight"),
        (50.1, 92.4, "tight"),
        (42.1, 86.1, "tight"),
        (41.9, 86.1, "none"),
        (42.1, 85.9, "none"),
    ],
)
def test_room_changes_at_the_walls_of_practice(diameter: float, height: float, room: str) -> None:
    """Common practice, one voice: 10 mm usual, 6 mm least; the rod reaches 15 by 80 mm."""
    choice = choose(rod(), [steel(diameter, height)])

    assert choice.fits[0].planned.room == room


def test_smallest_flask_with_the_usual_room_is_taken() -> None:
    """Hand count: 64 by 90 leaves 17 by 10 mm and is tight; 76 by 100 leaves 23 by 20 mm."""
    choice = choose(rod(), SHELF)

    assert choice.taken is not None
    assert choice.taken.flask.name == "76 x 100"
    assert not choice.needs_pose
    assert choice.taken.planned.wall == pytest.approx(0.023, abs=5e-5)
    assert choice.taken.planned.cover == pytest.approx(0.020, abs=5e-5)
    assert "practice disagrees" in told(choice)


def test_tight_flask_is_taken_with_a_warning_where_there_is_no_other() -> None:
    choice = choose(rod(), [steel(64, 90)])

    assert choice.taken is not None
    assert findings(choice)[0].level == "WATCH"
    assert "only tightly" in told(choice)


def test_piece_that_no_flask_holds_is_told_in_the_casters_words() -> None:
    """Hand count: 2 (31.5 + 10) = 83 mm, 86.5 + 20 = 106.5; 31.5 - (32 - 6) = 5.5 mm too far.

    Worked example of the geometry: needs 83 mm inside and 107 mm high.
    """
    choice = choose(plan_with(SPRAY), [steel(50, 76), steel(64, 127)])

    assert choice.taken is None
    assert findings(choice)[0].level == "STOP"
    assert told(choice) == (
        "Needs 83 mm inside and 107 mm high; largest flask is 64 x 127. Cut 4 of ray shorter by "
        "6 mm or more, or take a bigger flask. Turning it and leaning it by up to 20° wins nothing."
    )


def test_advice_to_cut_is_enough() -> None:
    """The same spray with rays 6 mm shorter goes in with the least wall."""
    ray = replace(SPRAY.parts[1], length=SPRAY.parts[1].length - 0.006)
    shorter = replace(SPRAY, parts=(SPRAY.parts[0], ray))

    choice = choose(plan_with(shorter), [steel(64, 127)])

    assert choice.taken is not None
    assert choice.fits[0].planned.room == "tight"


def test_piece_that_leans_is_turned_upright_for_a_narrow_flask() -> None:
    """Geometry: a rod of 5 mm at 15° over 60 mm reaches 18 mm; upright the button is wider."""
    leaning = plan_with(piece(part(length=0.06, width=0.005, angle=15.0)))

    choice = choose(leaning, [steel(50.4, 120)])

    assert choice.fits[0].planned.room == "tight"
    assert choice.needs_pose
    assert choice.taken is not None
    assert choice.taken.best.room == "usual"
    assert "leaned by" in told(choice)


def test_button_off_the_middle_wins_what_the_circle_says() -> None:
    """Geometry: a rod level to 40 mm on one side and a button of 15 mm make a circle of 27.5.

    Level at 90°, from the gate: -15 to 40 mm, so 27.5 mm about +12.5 mm.
    """
    made = plan_with(piece(part(length=0.040, width=0.0002, angle=90.0)))

    circle = piece_circle(made)

    assert circle.radius == pytest.approx(27.5e-3, abs=5e-5)
    assert math.hypot(circle.x, circle.y) == pytest.approx(12.5e-3, abs=5e-5)
    texts = [kept.text for kept in findings(choose(made, SHELF))]
    assert any("12 mm off the middle" in text and "wins 12 mm" in text for text in texts)


def test_uphill_is_told_where_the_lean_makes_it() -> None:
    """Common practice, no source: nothing uphill without vacuum.

    A long arm to one side makes the piece lean; a twig that hangs by 1° on the other then rises.
    """
    made = piece(
        part("stem", length=0.06, width=0.004),
        part("arm", "stem", position=0.9, angle=60.0, length=0.035, width=0.003),
        part("twig", "stem", position=0.2, angle=89.0, turn=180.0, length=0.012, width=0.001),
        part("twig 2", "stem", position=0.2, angle=89.0, length=0.012, width=0.001),
    )
    choice = choose(plan_with(made), [steel(76, 120)])

    assert choice.needs_pose
    assert any("run uphill" in kept.text for kept in findings(choice))


@settings(max_examples=8, deadline=None)
@given(plans())
def test_lean_never_takes_room_away(plan: Plan) -> None:
    poser = Poser(plan.piece, build(plan.piece))
    rooms = ("usual", "tight", "none")
    for flask in SHELF[1:4]:
        found = best_for(poser, flask.inside_diameter, flask.height)

        planned = choose(plan, [flask]).fits[0].planned
        assert rooms.index(found.room) <= rooms.index(planned.room)
        assert found.room == room_of(found.wall, found.cover, flask.inside_diameter)


@few
@given(choices())
def test_every_choice_can_be_told(choice: FlaskChoice) -> None:
    found = findings(choice)

    assert (found[0].level == "STOP") == (choice.taken is None)
    assert all("nan" not in kept.text and kept.text.endswith(".") for kept in found)


def test_cover_is_the_smaller_of_two_rules() -> None:
    """Common practice: a quarter of the diameter (one voice), or 20 mm (no source)."""
    assert least_cover(0.064) == pytest.approx(0.016)
    assert least_cover(0.127) == pytest.approx(0.020)
    assert size(0.076, 0.127) == "76 x 127"


def test_empty_shelf_and_impossible_flask_are_refused() -> None:
    with pytest.raises(InputError, match="flasks on the shelf"):
        choose(rod(), [])
    with pytest.raises(InputError, match="flask height"):
        choose(rod(), [steel(76, 0)])
