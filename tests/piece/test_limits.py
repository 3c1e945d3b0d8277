"""Limits: pieces that are refused, each with what, value and cure."""

import math
from dataclasses import replace
from typing import Any

import pytest

from pourcast.errors import InputError
from pourcast.piece.model import MOST_MEMBERS, Piece, Vent
from pourcast.piece.network import build
from tests.piece.make import button, part, piece


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"length": 0.0}, "stem: length is 0 m; it must be greater than 0"),
        ({"length": math.nan}, "stem: length is nan m"),
        ({"length": math.inf}, "stem: length is inf m"),
        ({"width": (0.003, -0.001)}, "stem: width is -0.001 m"),
        ({"thickness": (0.0, 0.003)}, "stem: thickness is 0 m"),
        ({"thickness": (0.002, 0.003)}, "the diameter, as the width of a rod"),
        ({"count": 0}, "stem: count is 0; it must be 1 or more"),
        ({"coat": -1e-4}, "stem: coat is -0.0001 m; it must be 0 or more"),
        ({"position": (0.0, 1.2)}, "stem: position is 1.2; it must be 0 to 1"),
        ({"tip_position": -0.1}, "stem: tip_position is -0.1; it must be 0 to 1"),
        ({"angle": 4.0}, "stem: angle is 4 rad"),
        ({"bend": 100.0}, "stem: bend is 100 rad"),
        ({"turn": math.nan}, "stem: turn is nan rad"),
        ({"turn_step": math.inf}, "stem: turn_step is inf rad"),
        ({"shape": "cone"}, "stem: shape is cone; it must be one of rod, blade, lump"),
        ({"parent": "twig"}, "stem: parent is twig; .* Known above it: button"),
        ({"parent": "stem"}, "stem: parent is stem"),
        ({"name": "button"}, "name is button; it must be a name that no other part has"),
        ({"tip_on": "twig"}, "stem: tip_on is twig; .* Known: stem"),
        ({"tip_on": "stem"}, "neither the part itself nor one that grows on it"),
        (
            {"shape": "lump", "width": (0.01, 0.02), "thickness": (0.01, 0.01)},
            "the largest of the lump, twice the same",
        ),
    ],
)
def test_part_outside_its_limits_is_refused(change: dict[str, Any], message: str) -> None:
    """Refusal: names the part, the value and what it must be."""
    with pytest.raises(InputError, match=message):
        build(piece(replace(part(), **change)))


def test_piece_without_parts_is_refused() -> None:
    """Refusal: there is nothing to cast."""
    with pytest.raises(InputError, match="parts is 0; it must be 1 or more"):
        build(Piece(name="none", parts=(), button=button()))


def test_name_used_twice_is_refused() -> None:
    """Refusal: a child could not tell which of the two is its parent."""
    with pytest.raises(InputError, match="name is stem"):
        build(piece(part(), part()))


def test_ring_of_parents_is_refused() -> None:
    """Refusal: a parent stands above its children, so a ring cannot be written."""
    with pytest.raises(InputError, match="a: parent is b"):
        build(piece(part(), part("a", "b"), part("b", "a")))


def test_joint_to_what_grows_on_the_part_is_refused() -> None:
    """Refusal: the tip would hang on itself."""
    ray = part("ray", "stem", angle=40, tip_on="hair")

    with pytest.raises(InputError, match="ray: tip_on is hair"):
        build(piece(part(), ray, part("hair", "ray"), part("more", "hair")))


def test_too_many_members_name_the_part_and_the_sum() -> None:
    """Refusal: 1 + 50 + 2 500 members; the limit is 2 000."""
    rays = part("ray", "stem", count=50, angle=60)
    hairs = part("hair", "ray", count=50, angle=60)

    with pytest.raises(InputError, match=r"hair: count is 50; .*at most 2000 .*it has 2551"):
        build(piece(part(), rays, hairs))


def test_most_members_are_still_taken() -> None:
    """Property: the limit itself is kept, 1 + 1 999."""
    network = build(piece(part(), part("hair", "stem", count=1999, angle=90, length=0.002)))

    assert len(network.member_part) == MOST_MEMBERS


def test_too_many_segments_name_the_part() -> None:
    """Refusal: 1 500 croziers of 24 segments."""
    curl = part("curl", "stem", count=1500, angle=90, bend=700, position=0.5)

    with pytest.raises(InputError, match=r"curl: segments is 36000; .*at most 20000"):
        build(piece(part(), curl))


@pytest.mark.parametrize(
    ("vent", "message"),
    [
        (Vent(part="leaf", diameter=1e-3, length=0.02, leads_to="air"), "vent: part is leaf"),
        (Vent(part="stem", diameter=0.0, length=0.02, leads_to="air"), "vent of stem: diameter"),
        (Vent(part="stem", diameter=1e-3, length=-1.0, leads_to="air"), "vent of stem: length"),
        (Vent(part="stem", diameter=1e-3, length=1.0, leads_to="sea"), "vent: leads_to"),  # type: ignore[arg-type]
    ],
)
def test_vent_outside_its_limits_is_refused(vent: Vent, message: str) -> None:
    """Refusal: names the vent."""
    with pytest.raises(InputError, match=message):
        build(replace(piece(part()), vents=(vent,)))


def test_second_vent_of_a_part_is_refused() -> None:
    """Refusal: a node has one vent."""
    vent = Vent(part="stem", diameter=1e-3, length=0.02, leads_to="air")

    with pytest.raises(InputError, match="each once"):
        build(replace(piece(part()), vents=(vent, vent)))


@pytest.mark.parametrize("name", ["diameter", "height", "gate_diameter"])
def test_button_of_no_size_is_refused(name: str) -> None:
    """Refusal: names the measure of the button."""
    small: dict[str, Any] = {name: 0.0}

    with pytest.raises(InputError, match=f"button: {name} is 0"):
        build(replace(piece(part()), button=replace(button(), **small)))


@pytest.mark.parametrize("name", ["displaced_volume", "weighed_mass"])
def test_reading_of_nothing_is_refused(name: str) -> None:
    """Refusal: a reading that was not made is left out, not 0."""
    none: dict[str, Any] = {name: 0.0}

    with pytest.raises(InputError, match=f"{name} is 0"):
        build(replace(piece(part()), **none))
