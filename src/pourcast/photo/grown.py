"""Grown: one part of a piece file from the line that was read and the part that it grows on.

Directions become the angles of `pourcast.piece.model`.  Of a parent with the
direction d and the side u, v = d × u, a child with the direction c has

    angle a = arccos c·d,  e = (c - d cos a) / sin a,  turn = atan2(e·v, e·u)   (1)

and the side e cos a - d sin a; a bend turns d towards u.  The base of the child
lies on the surface of the parent, half its width R from its middle line:

    length = |tip - fork| - R / sin a                                           (2)
    at = (fork + R / tan a) / length of the parent                              (3)

and at the end of the parent |tip - fork| - R.  In one picture the fork is where the two lines
cross; where two show a part, it is where its line in space, carried back, passes the line of
its parent nearest.

Errors, as one standard deviation: of a length, that of the scale, of a cut or a
tip (1.5 pixels, tuned on plants of the seeds 0 to 99), and 2 % where the camera
may be nearer to the part than to the mark (20 mm at 1 m; estimate).  A length from two
pictures has 3 % more, one whose depth only the dark of the other tells 9 %: so many that the
range held 97 % of 294 and 90 % of 72 parts of twigs of the seeds 0 to 41, for on others it
holds less (docs/photographs.md).
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.photo.cross import Cross
from pourcast.photo.model import Asked, PhotoPart, View
from pourcast.photo.nearest import nearest
from pourcast.photo.space import Course, longest_of_twenty

_STRAIGHT_ON = math.radians(4.0)
_LEAST_SINE = 0.2
_END_ERROR = 1.5  # pixels, see above
_NEAR_ERROR = 0.02  # see above
_PAIRED = 0.03  # of a length from two pictures, see above
_BY_DARK = 0.09  # of a length whose depth the dark of another picture tells, see above
_PAIRED_STEM = 0.02  # of the first part, which stands upright; estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A part with its frame at the base, and how much longer its stick may be than it looks.

    Parameters
    ----------
    part : PhotoPart
    start, end : array [m], shape (3,)
    line : array [m], shape (places, 3)
        From start to end.
    direction, side : array [-], shape (3,)
    stretch : float [-]
    """

    part: PhotoPart
    start: si.Metres
    end: si.Metres
    line: si.Metres
    direction: si.Ratios
    side: si.Ratios
    stretch: si.Ratio


def grown(
    way: Course,
    host: Made | None,
    cross: Cross,
    *,
    name: str,
    parent: int,
    place: tuple[int, int, int],
    view: View,
    twice: bool,
    known: bool,
    unsure: si.Ratio,
    asked: Asked,
) -> Made:
    """Return a part on the part that it grows on.

    Parameters
    ----------
    way : Course
    host : Made or None
        None: the button.
    cross : Cross
    name : str
    parent : int
        Number of the host; -1: the button.
    place : tuple of int
        View, stick and section.
    view : View
    twice : bool
        True if both pictures show it.
    known : bool
        True if its depth is known, from two pictures or the dark of the other.
    unsure : float [-]
        One standard deviation of its length beside those of the picture, over it.
    asked : Asked

    Returns
    -------
    Made
    """
    size = view.scale.size
    direction, side = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    at, length = 1.0, way.length
    if host is not None:
        if place[2] == 0:
            at, length = _on_surface(_met(way, host) if twice else way, host)
        direction, side = _frame(host, at)
    angle, turn, own, bend = angles_of(direction, side, way.leaves, way.arrives, way.bend)
    stretch = 1.0
    if not known and host is not None and not asked.flat:
        stretch = host.stretch if place[2] > 0 else longest_of_twenty(angle)
    length = max(length, size)
    error = math.hypot(math.hypot(view.scale.error, unsure), _END_ERROR * size / length)
    if known:
        part = _PAIRED if twice else _BY_DARK
        error = math.hypot(error, part if parent >= 0 else _PAIRED_STEM)
    if asked.camera is None or not twice:
        error = math.hypot(error, _NEAR_ERROR)
    material = {"rod": asked.stalk, "lump": asked.bud, "blade": asked.leaf.material}
    return Made(
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
            middle=_middle(way),
        ),
        start=way.start,
        end=way.end,
        line=way.line,
        direction=way.leaves,
        side=own,
        stretch=stretch,
    )


def _middle(way: Course) -> tuple[si.Metre, si.Metre, si.Metre]:
    x, y, z = (float(k) for k in 0.5 * (way.start + way.end))
    return x, y, z


def _on_surface(way: Course, host: Made) -> tuple[si.Ratio, si.Metre]:
    """Return where on its parent a part begins, and its length: equations (2) and (3)."""
    part = host.part
    along = _along(host.line, way.fork)
    share = min(max(along / part.length, 0.0), 1.0)
    axis, _ = _frame(host, share)
    cosine = max(-1.0, min(1.0, float(axis @ way.leaves)))
    sine = max(math.sqrt(1.0 - cosine * cosine), _LEAST_SINE)
    half = 0.5 * (part.width[0] + (part.width[1] - part.width[0]) * share)
    whole = float((way.start - way.fork) @ way.leaves) + way.length
    base = along + half * cosine / sine
    if base > part.length - 0.25 * half and cosine > 0.0:
        return 1.0, whole - half
    return min(max(base / part.length, 0.0), 1.0), whole - half / sine


def _met(way: Course, host: Made) -> Course:
    """Return a course whose fork lies where its line, carried back, passes its parent nearest."""
    back = way.start + np.linspace(-1.0, 0.3, 131)[:, None] * way.length * way.leaves
    _, _, off = nearest(back, host.line, over=True)
    return replace(way, fork=back[int(np.linalg.norm(off, axis=1).argmin())])


def _along(line: si.Metres, place: si.Metres) -> si.Metre:
    """Return how far along a line the place of it lies that is nearest to another."""
    (k,), (share,), _ = nearest(place[None], line, over=True)
    long = np.linalg.norm(np.diff(line, axis=0), axis=1)
    return float(long[:k].sum() + share * long[k])


def _frame(host: Made, at: si.Ratio) -> tuple[si.Ratios, si.Ratios]:
    """Return direction and side of a part at a place along it."""
    return bent_by(host.direction, host.side, host.part.bend * at)


def bent_by(direction: si.Ratios, side: si.Ratios, angle: si.Radian) -> tuple[si.Ratios, si.Ratios]:
    """Return direction and side where a part has turned by an angle towards its side.

    Parameters
    ----------
    direction, side : array [-], shape (3,)
        At its base.
    angle : float [rad]

    Returns
    -------
    pair of array [-], shape (3,)
    """
    cosine, sine = math.cos(angle), math.sin(angle)
    return cosine * direction + sine * side, cosine * side - sine * direction


def angles_of(
    direction: si.Ratios,
    side: si.Ratios,
    leaves: si.Ratios,
    arrives: si.Ratios,
    bent: si.Radian,
) -> tuple[si.Radian, si.Radian, si.Ratios, si.Radian]:
    """Return angle, turn, own side and bend of a part, equation (1).

    Parameters
    ----------
    direction, side : array [-], shape (3,)
        Of the parent where the part begins.
    leaves, arrives : array [-], shape (3,)
        Directions of the part at its base and its tip.
    bent : float [rad]
        Between those two.

    Returns
    -------
    angle, turn : float [rad]
    own : array [-], shape (3,)
    bend : float [rad]
    """
    cosine = max(-1.0, min(1.0, float(direction @ leaves)))
    angle = math.acos(cosine)
    over = np.cross(direction, side)
    towards = arrives - leaves * float(arrives @ leaves)
    size = float(np.linalg.norm(towards))
    if angle < _STRAIGHT_ON:
        # It goes straight on: then its side may lie to where it bends.
        out = towards if bent > 0.0 and size > 1e-9 else side
        out = out - direction * float(out @ direction)
        out = out / np.linalg.norm(out)
        turn = math.atan2(float(out @ over), float(out @ side))
        return 0.0, turn, np.asarray(out), bent
    if angle > math.pi - _STRAIGHT_ON:
        # It turns right back: no side is told from another, so it keeps that of its parent.
        bend = -bent * float(towards @ side) / size if bent > 0.0 and size > 1e-9 else 0.0
        return math.pi, 0.0, -side, bend
    out = (leaves - cosine * direction) / math.sin(angle)
    turn = math.atan2(float(out @ over), float(out @ side))
    own = out * cosine - direction * math.sin(angle)
    bend = bent * float(towards @ own) / size if bent > 0.0 and size > 1e-9 else 0.0
    return angle, turn, own, bend
