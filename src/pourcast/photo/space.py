"""Space: where does a stick run on the bench, from one view or two?

In one view nothing is known of the way towards the camera: all lies in the
plane of the mark, and a part that leaves it is longer than it looks.  In two,
a quarter turn about the stem apart, the second picture shows it.  At the
distance D of the camera, and with (x, z) and (y, z) as the pictures show them
about their middles,

    x = x₁ (D + y) / D,   y = y₂ (D - x) / D,   z likewise                     (1)

solved by turns; without D nearness is left out.  For the second picture the
original is turned clockwise as seen from above: what was behind is to the right.

How much longer a part may be than it looks in one view: it grows at any turn
about its parent with the same chance, at any angle from 10 to 100 degrees
(estimate).  Of all such parts that would show the angle that is seen, 19 of 20
are shorter than the length that is told: one of 20 is left for the misreadings,
so that the whole range holds nine of ten.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.photo.model import Pixels, Section, Stick, View

_SETTLED = 4  # turns of (1); each gains a factor of D over the depth
_SAME = math.radians(4.0)  # angles in a picture that look alike


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """The line of one part on the bench.

    Parameters
    ----------
    fork : array [m], shape (3,)
        Where the line of its stick meets the middle of the parent.
    start, end : array [m], shape (3,)
    leaves, arrives : array [-], shape (3,)
        Directions at start and end.
    length : float [m]
        Along the line.
    bend : float [rad]
        Between the two directions.
    """

    fork: si.Metres
    start: si.Metres
    end: si.Metres
    leaves: si.Ratios
    arrives: si.Ratios
    length: si.Metre
    bend: si.Radian


_STRAIGHT = math.radians(4.0)  # less is noise of the line


def course(
    first: View,
    stick: Stick,
    section: Section,
    *,
    second: View | None = None,
    other: Stick | None = None,
    camera: si.Metre | None = None,
    swapped: bool = False,
    depth: tuple[si.Metre, si.Metre] | None = None,
) -> Course:
    """Return the line of a part.

    Parameters
    ----------
    first : View
    stick : Stick
        Of the first view.
    section : Section
        Of this stick.
    second : View or None
    other : Stick or None
        The same stick in the second view.
    camera : float or None [m]
    swapped : bool
        True if ``first`` is the photograph that was taken second.
    depth : pair of float or None [m]
        Of fork and tip of the stick, away from the first camera, where no other stick tells it.

    Returns
    -------
    Course
    """
    places = np.concatenate([[0.0], np.linspace(section.start, section.end, 17)])
    flat = flat_places(first, stick, places)
    space = np.column_stack([flat[:, 0], np.zeros(len(flat)), flat[:, 1]])
    if second is not None and other is not None and depth is None:
        total = float(stick.along[-1])
        share = places / total * float(other.along[-1])
        if stick.parent < 0:
            share = _as_high(first, stick, second, other, places)
        beside = flat_places(second, other, share)
        space = _both(first, second, flat, beside, camera, -1.0 if swapped else 1.0)
    elif depth is not None:
        deep = depth[0] + (depth[1] - depth[0]) * places / float(stick.along[-1])
        far = 1.0 if camera is None else (1.0 + deep / camera)[:, None]
        centre = middle_of(first)
        near = centre + (flat - centre) * far
        space = np.column_stack([near[:, 0], deep, near[:, 1]])
    if swapped:
        # Right of the second picture is away from the first camera.
        space = np.column_stack([-space[:, 1], space[:, 0], space[:, 2]])
    line = space[1:]
    t = np.linspace(0.0, 1.0, len(line))
    c, b, a = np.polyfit(t, line, 2)
    leaves, arrives = _unit(b), _unit(b + 2.0 * c)
    bend = math.acos(max(-1.0, min(1.0, float(leaves @ arrives))))
    speed = np.linalg.norm(b + 2.0 * np.outer(t, c), axis=1)
    length = float(np.trapezoid(speed, t))
    if bend < _STRAIGHT or section.shape == "lump":
        slope, a = np.polyfit(t, line, 1)
        leaves = arrives = _unit(slope)
        length, bend = float(np.linalg.norm(slope)), 0.0
    return Course(
        fork=space[0],
        start=np.asarray(a),
        end=line[-1],
        leaves=leaves,
        arrives=arrives,
        length=length,
        bend=bend,
    )


def _as_high(first: View, stick: Stick, second: View, other: Stick, places: Pixels) -> Pixels:
    """Return the places along the stem of the second view that are as high as these."""
    high = flat_places(first, stick, places)[:, 1]
    rising = np.maximum.accumulate(flat_places(second, other, other.along)[:, 1])
    rising = rising + 1e-9 * np.arange(len(rising))
    return np.asarray(np.interp(high, rising, other.along))


def _unit(way: si.Ratios) -> si.Ratios:
    return np.asarray(way / max(float(np.linalg.norm(way)), 1e-12))


def flat_places(view: View, stick: Stick, along: Pixels) -> si.Metres:
    """Return places along a stick in the plane of the mark: right of the foot and over it.

    Parameters
    ----------
    view : View
    stick : Stick
    along : array [px], shape (places,)

    Returns
    -------
    array [m], shape (places, 2)
    """
    size = view.scale.size
    column = np.interp(along, stick.along, stick.line[:, 0])
    row = np.interp(along, stick.along, stick.line[:, 1])
    return np.column_stack([(column - view.foot[0]) * size, (view.foot[1] - row) * size])


def middle_of(view: View) -> si.Metres:
    """Return the middle of the picture, right of the foot and over it.

    Parameters
    ----------
    view : View

    Returns
    -------
    array [m], shape (2,)
    """
    rows, columns = view.silhouette.light.shape
    size = view.scale.size
    right = (0.5 * (columns - 1) - view.foot[0]) * size
    return np.array([right, (view.foot[1] - 0.5 * (rows - 1)) * size])


def _both(
    first: View,
    second: View,
    one: si.Metres,
    two: si.Metres,
    camera: si.Metre | None,
    sign: si.Ratio,
) -> si.Metres:
    """Solve equation (1); ``sign`` is -1 where the second view was taken first."""
    x, y = one[:, 0], sign * two[:, 0]
    z1, z2 = one[:, 1], two[:, 1]
    if camera is not None:
        (u1, w1), (u2, w2) = middle_of(first), middle_of(second)
        for _ in range(_SETTLED):
            far1, far2 = 1.0 + y / camera, 1.0 - sign * x / camera
            x = u1 + (one[:, 0] - u1) * far1
            y = sign * (u2 + (two[:, 0] - u2) * far2)
        z1 = w1 + (one[:, 1] - w1) * far1
        z2 = w2 + (two[:, 1] - w2) * far2
    return np.column_stack([x, y, 0.5 * (z1 + z2)])


def unlike_heights(first: View, stick: Stick, second: View, other: Stick) -> si.Metre:
    """Return by how much the tip of a stick has another height in the second view.

    Parameters
    ----------
    first : View
    stick : Stick
    second : View
    other : Stick

    Returns
    -------
    float [m]
    """
    one = flat_places(first, stick, stick.along[-1:])[0, 1]
    two = flat_places(second, other, other.along[-1:])[0, 1]
    return abs(float(one - two))


def longest_of_twenty(seen: si.Radian) -> si.Ratio:
    """Return the length that 19 of 20 parts stay under, over the length that is seen.

    Parameters
    ----------
    seen : float [rad]
        Angle between the part and its parent in the picture.

    Returns
    -------
    float [-]
        At least 1.
    """
    angle = np.radians(np.arange(10.0, 100.5, 0.5))[:, None]
    turn = np.radians(np.arange(0.5, 90.0, 1.0))[None, :]
    ahead = np.cos(angle) * np.ones_like(turn)
    beside = np.sin(angle) * np.cos(turn)
    shows = np.arctan2(beside, ahead)
    ratio = 1.0 / np.hypot(ahead, beside)
    near = np.abs(shows - min(max(abs(seen), 0.0), math.pi)) < _SAME
    if not near.any():
        return 1.0
    return float(np.quantile(ratio[near], 0.95))
