"""Parts: from the sticks of one view or two to the parts of a piece file.

Directions become the angles of `pourcast.piece.model`.  Of a parent with the
direction d and the side u, v = d × u, a child with the direction c has

    angle a = arccos c·d,  e = (c - d cos a) / sin a,  turn = atan2(e·v, e·u)   (1)

and the side e cos a - d sin a; a bend turns d towards u.  The base of the child
lies on the surface of the parent, half its width R from its middle line:

    length = |tip - fork| - R / sin a                                           (2)
    at = (fork + R / tan a) / length of the parent                              (3)

and at the end of the parent |tip - fork| - R.

Errors, as one standard deviation: of a length, that of the scale, of a cut or a
tip (1.5 pixels, tuned on plants of the seeds 0 to 99), and 2 % where the camera
may be nearer to the part than to the mark (20 mm at 1 m; estimate).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.photo.cross import Cross, cross_of
from pourcast.photo.match import matched
from pourcast.photo.model import Asked, PhotoPart, Stick, View
from pourcast.photo.space import Course, course, longest_of_ten, unlike_heights
from pourcast.piece.model import Shape

_STRAIGHT_ON = math.radians(4.0)
_LEAST_SINE = 0.2
_END_ERROR = 1.5  # pixels, see above
_NEAR_ERROR = 0.02  # see above
_PAIRED = 0.05  # of a length put together from two views; tuned on twigs of the seeds 0 to 7
_GUESS = 0.05  # of a length in a whorl that is not one; estimate
_APART = 0.2  # of the length of a stick: tips that differ more in height are two; estimate
_WORDS: Mapping[Shape, str] = {"rod": "stalk", "blade": "leaf", "lump": "bud"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """A part with its frame at the base, and how much longer its stick may be than it looks."""

    part: PhotoPart
    start: si.Metres
    direction: si.Ratios
    side: si.Ratios
    stretch: si.Ratio


def parts(views: Sequence[View], asked: Asked) -> tuple[tuple[PhotoPart, ...], Mapping[int, str]]:
    """Return the parts of the original and, by part, what the caster should look at.

    Parameters
    ----------
    views : sequence of View
        One or two.
    asked : Asked

    Returns
    -------
    tuple of PhotoPart
    dict of int to str
    """
    swapped = len(views) > 1 and _clear(views[1]) > _clear(views[0])
    first, *others = reversed(views) if swapped else views
    second = others[0] if others else None
    pairs, guess = matched(first, second) if second is not None else ({}, frozenset())
    made: list[_Made] = []
    where: dict[tuple[int, int], int] = {}
    notes: dict[int, str] = {}
    for index, stick in enumerate(first.sticks):
        other = second.sticks[pairs[index]] if second is not None and index in pairs else None
        if second is not None and other is not None and index > 0:
            long = float(stick.along[-1]) * first.scale.size
            if unlike_heights(first, stick, second, other) > _APART * long:
                other = None
        for k, section in enumerate(stick.sections):
            parent = _parent(first, stick, k, index, where)
            if parent is None:
                continue
            way = course(
                first,
                stick,
                section,
                second=second,
                other=other,
                camera=asked.camera,
                swapped=swapped,
            )
            where[index, k] = len(made)
            unsure = 0.0
            if second is not None and other is None:
                notes[len(made)] = "found in one photograph only"
            elif second is not None and other is not None:
                if index > 0:
                    unsure = unlike_heights(first, stick, second, other) / max(way.length, 2e-3)
                if index in guess:
                    notes[len(made)] = "others have the same heights; which is which is a guess"
                    unsure = math.hypot(unsure, _GUESS)
            cross = cross_of(first, second, stick, other, k, asked)
            made.append(
                _grown(
                    way,
                    made[parent] if parent >= 0 else None,
                    cross,
                    name=_name(cross.shape, parent, made),
                    parent=parent,
                    place=(int(swapped), index, k),
                    view=first,
                    twice=other is not None,
                    unsure=unsure,
                    asked=asked,
                )
            )
    return tuple(each.part for each in made), notes


def _clear(view: View) -> int:
    """Count the sticks of a view, less those that are in each other's way."""
    tangled = len(view.crossings) + sum(stick.joined >= 0 for stick in view.sticks)
    return len(view.sticks) - 2 * tangled


def _name(shape: Shape, parent: int, made: Sequence[_Made]) -> str:
    if parent < 0:
        return "stem"
    return f"{_WORDS[shape]} {sum(m.part.name.startswith(_WORDS[shape]) for m in made) + 1}"


def _parent(
    view: View, stick: Stick, k: int, index: int, where: Mapping[tuple[int, int], int]
) -> int | None:
    """Return the part that a section grows on; None: that one was not read."""
    if k > 0:
        return where.get((index, k - 1))
    if stick.parent < 0:
        return -1
    host = view.sticks[stick.parent].sections
    for number, section in enumerate(host):
        if stick.fork < section.end or number == len(host) - 1:
            return where.get((stick.parent, number))
    return None


def _grown(
    way: Course,
    host: _Made | None,
    cross: Cross,
    *,
    name: str,
    parent: int,
    place: tuple[int, int, int],
    view: View,
    twice: bool,
    unsure: si.Ratio,
    asked: Asked,
) -> _Made:
    size = view.scale.size
    direction, side = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    at, length = 1.0, way.length
    if host is not None:
        if place[2] == 0:
            at, length = _on_surface(way, host)
        direction, side = _frame(host, at)
    angle, turn, own, bend = _angles(direction, side, way)
    stretch = 1.0
    if not twice and host is not None and not asked.flat:
        stretch = host.stretch if place[2] > 0 else longest_of_ten(angle)
    length = max(length, size)
    error = math.hypot(math.hypot(view.scale.error, unsure), _END_ERROR * size / length)
    if twice and parent >= 0:
        error = math.hypot(error, _PAIRED)
    if asked.camera is None or not twice:
        error = math.hypot(error, _NEAR_ERROR)
    material = {"rod": asked.stalk, "lump": asked.bud, "blade": asked.leaf.material}
    return _Made(
        part=PhotoPart(
            name=name,
            parent=parent,
            shape=cross.shape,
            length=length,
            length_error=error,
            longest=length * stretch,
            width=cross.width,
            thickness=cross.thickness,
            section_error=cross.error,
            at=at,
            angle=angle,
            turn=turn,
            bend=bend,
            material=material[cross.shape],
            seen_twice=twice,
            view=place[0],
            stick=place[1],
            section=place[2],
        ),
        start=way.start,
        direction=way.leaves,
        side=own,
        stretch=stretch,
    )


def _on_surface(way: Course, host: _Made) -> tuple[si.Ratio, si.Metre]:
    """Return where on its parent a part begins, and its length: equations (2) and (3)."""
    part = host.part
    along = float((way.fork - host.start) @ host.direction)
    share = min(max(along / part.length, 0.0), 1.0)
    axis, _ = _frame(host, share)
    cosine = max(-1.0, min(1.0, float(axis @ way.leaves)))
    sine = max(math.sqrt(1.0 - cosine * cosine), _LEAST_SINE)
    half = 0.5 * (part.width[0] + (part.width[1] - part.width[0]) * share)
    whole = float(np.linalg.norm(way.start - way.fork)) + way.length
    base = along + half * cosine / sine
    if base > part.length - 0.25 * half and cosine > 0.0:
        return 1.0, whole - half
    return min(max(base / part.length, 0.0), 1.0), whole - half / sine


def _frame(host: _Made, at: si.Ratio) -> tuple[si.Ratios, si.Ratios]:
    """Return direction and side of a part at a place along it."""
    turned = host.part.bend * at
    cosine, sine = math.cos(turned), math.sin(turned)
    direction = cosine * host.direction + sine * host.side
    return direction, cosine * host.side - sine * host.direction


def _angles(
    direction: si.Ratios, side: si.Ratios, way: Course
) -> tuple[si.Radian, si.Radian, si.Ratios, si.Radian]:
    """Angle, turn, own side and bend of a part, equation (1)."""
    cosine = max(-1.0, min(1.0, float(direction @ way.leaves)))
    angle = math.acos(cosine)
    over = np.cross(direction, side)
    towards = way.arrives - way.leaves * float(way.arrives @ way.leaves)
    size = float(np.linalg.norm(towards))
    if angle < _STRAIGHT_ON:
        # It goes straight on: then its side may lie to where it bends.
        out = towards if way.bend > 0.0 and size > 1e-9 else side
        out = out - direction * float(out @ direction)
        out = out / np.linalg.norm(out)
        turn = math.atan2(float(out @ over), float(out @ side))
        return 0.0, turn, np.asarray(out), way.bend
    if angle > math.pi - _STRAIGHT_ON:
        # It turns right back: no side is told from another, so it keeps that of its parent.
        bend = -way.bend * float(towards @ side) / size if way.bend > 0.0 and size > 1e-9 else 0.0
        return math.pi, 0.0, -side, bend
    out = (way.leaves - cosine * direction) / math.sin(angle)
    turn = math.atan2(float(out @ over), float(out @ side))
    own = out * cosine - direction * math.sin(angle)
    bend = way.bend * float(towards @ own) / size if way.bend > 0.0 and size > 1e-9 else 0.0
    return angle, turn, own, bend
