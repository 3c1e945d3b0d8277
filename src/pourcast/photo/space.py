"""Space: where does a stick run on the bench, from one view or two?

In one view nothing is known of the way towards the camera: all lies in the plane of the mark,
and a part that leaves it is longer than it looks.  Where other pictures tell the depth along
it, each place is laid out on the bench (`pourcast.photo.bench`), and what looks too long
because it leans is put right (`pourcast.photo.lean`).

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
from pourcast.photo.bench import TURNS, as_seen, on_bench
from pourcast.photo.lean import true_span
from pourcast.photo.model import Depth, Pixel, Pixels, Section, Stick, View

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
    line : array [m], shape (places, 3)
        From start to end.
    """

    fork: si.Metres
    start: si.Metres
    end: si.Metres
    leaves: si.Ratios
    arrives: si.Ratios
    length: si.Metre
    bend: si.Radian
    line: si.Metres


_STRAIGHT = math.radians(4.0)  # less is noise of the line


def course(
    first: View,
    stick: Stick,
    section: Section,
    *,
    camera: si.Metre | None = None,
    swapped: bool = False,
    depth: Depth | None = None,
) -> Course:
    """Return the line of a part.

    Parameters
    ----------
    first : View
    stick : Stick
        Of the first view.
    section : Section
        Of this stick.
    camera : float or None [m]
    swapped : bool
        True if ``first`` is the photograph that was taken second.
    depth : Depth or None
        Of the stick, where it is known.

    Returns
    -------
    Course
    """
    turn = TURNS[int(swapped)]
    space = _laid(first, stick, (section.start, section.end), turn, camera, depth)
    if depth is not None:
        span = true_span(stick, stick.sections.index(section), _lean(space[-5:], turn))
        space = _laid(first, stick, span, turn, camera, depth)
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
        b, c = slope, np.zeros(3)
    return Course(
        fork=space[0],
        start=np.asarray(a),
        end=line[-1],
        leaves=leaves,
        arrives=arrives,
        length=length,
        bend=bend,
        line=a + np.outer(t, b) + np.outer(t * t, c),
    )


def _laid(
    view: View,
    stick: Stick,
    span: tuple[Pixel, Pixel],
    turn: si.Radian,
    camera: si.Metre | None,
    depth: Depth | None,
) -> si.Metres:
    """Return the fork of a stick and places between two of its own, on the bench."""
    places = np.concatenate([[0.0], np.linspace(*span, 17)])
    flat = flat_places(view, stick, places)
    if depth is None:
        return on_bench(view, flat, np.zeros(len(places)), turn, camera)
    return on_bench(view, flat, depth.along(places / float(stick.along[-1])), turn, camera)


def _lean(places: si.Metres, turn: si.Radian) -> si.Radian:
    """Return by how much a line leans out of the plane of a picture."""
    way = places[-1] - places[0]
    deep = float(as_seen(way, turn)[1])
    return math.asin(min(abs(deep) / max(float(np.linalg.norm(way)), 1e-12), 1.0))


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
