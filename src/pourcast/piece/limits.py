"""Limits: which pieces cannot be worked with.

The reader of the piece file says most of this with the line of the file; here
it protects whoever builds a piece in another way.
"""

import math
from collections.abc import Iterable, Sequence

from pourcast.errors import (
    InputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)
from pourcast.piece.model import MOST_MEMBERS, Part, Piece

MOST_SEGMENTS = 20_000
"""Segments of a piece; forty times a usual one."""

_MOST_BEND = 20 * math.pi  # rad, ten turns
_SHAPES = ("rod", "blade", "lump")


def check(piece: Piece) -> None:
    """Refuse a piece that cannot be worked with.

    Parameters
    ----------
    piece : Piece

    Raises
    ------
    InputError
        At the first fault: a size that is not positive, a parent that is not
        there or not before its child, a name used twice, a place outside 0 to
        1, a joint to a part itself or to what grows on it, more than 2 000 members.
    """
    _check_button(piece)
    if not piece.parts:
        raise InputError("parts", 0, "", "1 or more", "Add the part that grows on the button.")
    names = [part.name for part in piece.parts]
    members = {"button": 1}
    total = 0
    for i, part in enumerate(piece.parts):
        if part.name == "button" or part.name in names[:i]:
            raise InputError("name", part.name, "", "a name that no other part has")
        if part.parent not in members:
            raise InputError(
                f"{part.name}: parent",
                part.parent,
                "",
                "button or the name of a part above it",
                f"Known above it: {', '.join(members)}.",
            )
        _check_part(part)
        members[part.name] = members[part.parent] * part.count
        total += members[part.name]
        if total > MOST_MEMBERS:
            raise InputError(
                f"{part.name}: count",
                part.count,
                "",
                f"so many that the piece has at most {MOST_MEMBERS} members; with this part it "
                f"has {total}",
                "Count only the members that you would mend.",
            )
    _check_joints(piece)
    _check_vents(piece)


def require_segments(piece: Piece, segments: Sequence[int]) -> None:
    """Refuse a piece that would be cut too fine.

    Parameters
    ----------
    piece : Piece
    segments : sequence of int
        Of each part, all members together.

    Raises
    ------
    InputError
        If there are more than 20 000; names the part with the most.
    """
    if sum(segments) > MOST_SEGMENTS:
        worst = max(range(len(segments)), key=segments.__getitem__)
        raise InputError(
            f"{piece.parts[worst].name}: segments",
            segments[worst],
            "",
            f"so many that the piece has at most {MOST_SEGMENTS}; it has {sum(segments)}",
            "Give fewer members, or a coarser cut.",
        )


def _check_button(piece: Piece) -> None:
    button = piece.button
    require_positive("button: diameter", button.diameter, "m")
    require_positive("button: height", button.height, "m")
    require_positive("button: gate_diameter", button.gate_diameter, "m")
    require_between("button: tilt", button.tilt, "rad", -math.pi, math.pi)
    if piece.displaced_volume is not None:
        require_positive("displaced_volume", piece.displaced_volume, "m³")
    if piece.weighed_mass is not None:
        require_positive("weighed_mass", piece.weighed_mass, "kg")


def _check_part(part: Part) -> None:
    name = part.name
    if part.shape not in _SHAPES:
        raise InputError(f"{name}: shape", part.shape, "", f"one of {', '.join(_SHAPES)}")
    if part.count < 1:
        raise InputError(f"{name}: count", part.count, "", "1 or more")
    require_positive(f"{name}: length", part.length, "m")
    require_positive(f"{name}: width", part.width, "m")
    require_positive(f"{name}: thickness", part.thickness, "m")
    require_not_negative(f"{name}: coat", part.coat, "m")
    require_between(f"{name}: position", part.position, "", 0.0, 1.0)
    require_between(f"{name}: tip_position", part.tip_position, "", 0.0, 1.0)
    require_between(f"{name}: angle", part.angle, "rad", -math.pi, math.pi)
    require_between(f"{name}: bend", part.bend, "rad", -_MOST_BEND, _MOST_BEND)
    require_finite(f"{name}: turn", part.turn, "rad")
    require_finite(f"{name}: turn_step", part.turn_step, "rad")
    if part.shape == "rod" and part.width != part.thickness:
        raise InputError(
            f"{name}: thickness", part.thickness, "m", "the diameter, as the width of a rod"
        )
    if part.shape == "lump" and not (
        part.width[0] == part.width[1] and part.thickness[0] == part.thickness[1]
    ):
        raise InputError(
            f"{name}: width and thickness",
            (part.width, part.thickness),
            "m",
            "the largest of the lump, twice the same",
        )


def _check_joints(piece: Piece) -> None:
    grows_on = {part.name: part.parent for part in piece.parts}
    for part in piece.parts:
        if part.tip_on is None:
            continue
        if part.tip_on not in grows_on:
            raise InputError(
                f"{part.name}: tip_on",
                part.tip_on,
                "",
                "the name of a part",
                f"Known: {', '.join(grows_on)}.",
            )
        if part.name in _line(part.tip_on, grows_on):
            raise InputError(
                f"{part.name}: tip_on",
                part.tip_on,
                "",
                "neither the part itself nor one that grows on it",
            )


def _line(name: str, grows_on: dict[str, str]) -> Iterable[str]:
    while name in grows_on:
        yield name
        name = grows_on[name]


def _check_vents(piece: Piece) -> None:
    names = {part.name for part in piece.parts}
    seen: set[str] = set()
    for vent in piece.vents:
        if vent.part not in names or vent.part in seen:
            raise InputError("vent: part", vent.part, "", "the name of a part, each once")
        if vent.leads_to not in ("air", "vacuum"):
            raise InputError("vent: leads_to", vent.leads_to, "", "air or vacuum")
        seen.add(vent.part)
        require_positive(f"vent of {vent.part}: diameter", vent.diameter, "m")
        require_positive(f"vent of {vent.part}: length", vent.length, "m")
