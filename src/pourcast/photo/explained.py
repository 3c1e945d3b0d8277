"""Explained: which parts that are made already show a stick of a picture?

What both pictures show is made first.  A stick that is left over in one of them may be one of
those parts once more: its other stick was taken for another, or a part of it is hidden behind
something and it looks cut in two.  So each part is seen from this camera as well.  Where it covers
a section of the stick, along the same way, or lump on lump, nothing new is there to be made.

Limits: estimates, tuned on twigs of the seeds 0 to 41.
"""

import math
from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.photo.bench import shown
from pourcast.photo.grown import Made
from pourcast.photo.model import Section, Stick, View
from pourcast.photo.space import flat_places

_ALONG = math.cos(math.radians(20.0))  # between the ways of a section and of what covers it
_COVERED = 0.6  # of the places of a section
_ALL = 0.95  # of those of a section on the part that it seems to grow on
_ROOM = 0.5e-3  # m that a middle line may lie outside the other part
_SHORT = 1.3  # times: a section that is longer than what covers it is more than that


def explained(
    made: Sequence[Made],
    view: View,
    stick: Stick,
    *,
    turn: si.Radian,
    camera: si.Metre | None,
    parent: int,
) -> tuple[int, ...] | None:
    """Return the part that each section of a stick is; None: some of it is new.

    Parameters
    ----------
    made : sequence of Made
    view : View
        That shows the stick.
    stick : Stick
    turn : float [rad]
        By which the original was turned for it.
    camera : float or None [m]
    parent : int
        Part that it grows on, which runs beside it for a while.

    Returns
    -------
    tuple of int or None
    """
    out = []
    for section in stick.sections:
        found = _covers(made, view, stick, section, turn, camera, parent)
        if found is None:
            return None
        out.append(found)
    return tuple(out) or None


def _covers(
    made: Sequence[Made],
    view: View,
    stick: Stick,
    section: Section,
    turn: si.Radian,
    camera: si.Metre | None,
    parent: int,
) -> int | None:
    places = flat_places(view, stick, np.linspace(section.start, section.end, 15))
    way = places[-1] - places[0]
    long = max(float(np.hypot(*way)), 1e-9)
    best: tuple[float, int] | None = None
    for number, part in enumerate(made):
        lump = part.part.shape == "lump"
        if lump != (section.shape == "lump"):
            continue
        start, end = (shown(view, p, turn, camera) for p in (part.start, part.end))
        there = end - start
        size = max(float(np.hypot(*there)), 1e-9)
        if long > _SHORT * size + 2.0 * _ROOM:
            continue
        if not lump and abs(float(way @ there)) < _ALONG * long * size:
            continue
        share = np.clip((places - start) @ there / size**2, 0.0, 1.0)
        off = np.hypot(*(places - start - share[:, None] * there).T)
        half = 0.5 * max(part.part.width)
        covered = float((off < half + _ROOM).mean())
        # What grows on a part runs beside it for a while.
        if covered >= (_ALL if number == parent and not lump else _COVERED) and (
            best is None or covered > best[0]
        ):
            best = covered, number
    return None if best is None else best[1]
