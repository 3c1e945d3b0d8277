"""Flasks and proposals in words and as a picture; house rules, so no outside number."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given

from pourcast.gating.flasks import choose
from pourcast.gating.model import Costs, FlaskChoice, Proposal
from pourcast.gating.share import SharedFlask, share
from pourcast.gating.vents import DISPUTED
from pourcast.page.svg_gating import MOST_FLASKS, shared_picture, shelf_picture
from pourcast.page.words_gating import (
    NONE_FOUND,
    flask_lines,
    proposal_block,
    proposal_lines,
    shared_lines,
)
from pourcast.piece.network import build
from pourcast.sheet import read_plan
from tests.gating.shelf import SHELF, text_of
from tests.piece.make import few
from tests.strategies_gating import choices, proposals, shared_flasks

SVG = "{http://www.w3.org/2000/svg}"


def tree_of(picture: str) -> ElementTree.Element:
    """Return the picture as a tree; not well formed is an error."""
    return ElementTree.fromstring(picture.replace("<svg ", f'<svg xmlns="{SVG[1:-1]}" ', 1))


def outlines(picture: str) -> list[tuple[float, float]]:
    """Return width and height of the drawn flasks, the least walls left out."""
    found = []
    for path in tree_of(picture).findall(f"{SVG}path"):
        ways = re.match(r"M([\d.-]+),([\d.]+)V([\d.]+)H([\d.-]+)V", path.get("d") or "")
        if ways and path.get("stroke-dasharray") != "2 3":
            left, top, foot, right = (float(text) for text in ways.groups())
            found.append((right - left, foot - top))
    return found


@pytest.mark.parametrize("name", ["fern_crozier", "larch_twig", "sea_holly"])
def test_flasks_are_drawn_to_one_scale_about_the_one_that_is_taken(name: str) -> None:
    """Widths and heights of the outlines are to each other as those of the flasks, to 0.1 unit."""
    plan = read_plan(text_of(name))
    choice = choose(plan, SHELF)

    picture = str(shelf_picture(choice, build(plan.piece), plan.piece.button))

    drawn = outlines(picture)
    assert len(drawn) == min(MOST_FLASKS, len(SHELF))
    scale = drawn[0][1] / next(
        fit.flask.height for fit in choice.fits if _named(fit.flask.name, picture)
    )
    shown = [fit.flask for fit in choice.fits if _named(fit.flask.name, picture)]
    for (wide, high), flask in zip(drawn, shown, strict=True):
        assert high == pytest.approx(flask.height * scale, abs=0.2)
        assert wide == pytest.approx(flask.inside_diameter * scale, abs=0.2)
    assert picture.count(">take<") == 1
    assert 'class="l1"' in picture


def _named(name: str, picture: str) -> bool:
    return f">{name}<" in picture


def test_piece_that_goes_in_is_drawn_inside_its_flask() -> None:
    """Corners of all polygons lie within the outline, to the tenth that is written."""
    plan = read_plan(text_of("sea_holly"))
    choice = choose(plan, SHELF)

    picture = str(shelf_picture(choice, build(plan.piece), plan.piece.button))

    tree = tree_of(picture)
    points = [p.get("points") or "" for p in tree.iter(f"{SVG}polygon")]
    across = [abs(float(pair.split(",")[0])) for text in points for pair in text.split()]
    wide = min(wide for wide, _ in outlines(picture))
    assert max(across) <= wide / 2 + 0.1


def test_circles_of_a_shared_flask_are_drawn_apart() -> None:
    plan = read_plan(text_of("sea_holly"))

    picture = str(shared_picture(share([plan, plan, plan], SHELF)))

    rounds = [
        tuple(float(c.get(key) or "nan") for key in ("cx", "cy", "r"))
        for c in tree_of(picture).iter(f"{SVG}circle")
    ]
    pieces = rounds[-3:]
    for n, (x, y, r) in enumerate(pieces):
        for x2, y2, r2 in pieces[n + 1 :]:
            assert ((x - x2) ** 2 + (y - y2) ** 2) ** 0.5 > r + r2


@few
@given(choices())
def test_all_lines_of_a_choice_can_be_told(choice: FlaskChoice) -> None:
    lines = flask_lines(choice, "A piece\x1b[31m", invented=True)

    assert lines[0] == "A piece[31m  (invented demo): the flasks on the shelf"
    assert len(lines) >= 2 + len(choice.fits)
    assert lines[1].startswith("Stop. ") == (choice.taken is None)


@few
@given(shared_flasks())
def test_each_piece_of_a_shared_flask_has_its_place(shared: SharedFlask) -> None:
    lines = shared_lines(shared)

    assert all(any(line.startswith(f"{name}: ") for line in lines) for name in shared.names)
    assert tree_of(str(shared_picture(shared))) is not None


@few
@given(proposals())
def test_proposal_is_told_with_its_wax_and_its_cost(proposal: Proposal) -> None:
    said = "\n".join(proposal_block(proposal, 7))

    assert said.startswith(f"7. {proposal.name}\n")
    assert ("Wax to cut" in said) == bool(proposal.wax)
    assert ("Afterwards" in said) == bool(proposal.clean_off)
    assert "bench" in said
    assert "metal" in said


def test_nothing_to_propose_is_said() -> None:
    assert proposal_lines((), "Twig") == [
        "Twig: gates, feeders, vents and leans",
        NONE_FOUND,
    ]


def test_what_holds_for_all_vents_stands_once() -> None:
    """House rule: what several proposals say alike folds; of one it stands with it."""
    one, other = (
        Proposal(
            name=f"vent {part}", kind="vent", part=part, words=f"A thread. {DISPUTED}", edits=(),
            wax=(), clean_off="", costs=Costs(bench=240.0, metal=0.0),
        )
        for part in ("scale", "shoot")
    )  # fmt: skip

    assert f"   A thread. {DISPUTED}" in proposal_lines([one], "twig")
    told = proposal_lines([one, other], "twig")
    assert told.count("   A thread.") == 2
    assert sum("vents fill first" in line for line in told) == 1
