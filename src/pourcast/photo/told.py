"""Told: what do the other pictures tell of a stick that one of them shows?

One that two pictures show has its line in space from both, see `pourcast.photo.lines`; a
third picture that shows it too is held against both.  One that only one of the first two
shows is looked for among the sticks of the third; there its depth follows from where the two
show its tip, and its line must lie within the dark of the picture that does not show it.
What no other picture shows has its depth from the dark of the others, see
`pourcast.photo.hull`.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.photo.bench import TURNS, in_picture, on_bench
from pourcast.photo.host import STEM, host_of
from pourcast.photo.hull import depth_of, from_the_dark, out_of_dark
from pourcast.photo.lines import NOT_ONE, Other, beside, by_line, fork_depth
from pourcast.photo.model import Depth, Pixels, Stick, View
from pourcast.photo.space import flat_places
from pourcast.photo.work import Told, Work, parent_of
from pourcast.piece.model import NINE_OF_TEN

_GUESS = 0.05  # of a length in a whorl that is not one; estimate
_OUT = 1.2e-3  # m out of the dark of another picture, from which they are not; estimate
_HIGHER = 4e-3  # m, that the stem of one view ends over that of another; estimate
_LATE = 0.8  # of the stem, beyond which what grows there may be the stem; estimate
_BESIDE = 0.5e-3  # m, within which a stick of the third picture is one of the others; estimate
_SAME_TIP = 1.5e-3  # m, the same of its tip; estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictures:
    """Two or three views and how far each of their pixels lies from what is dark.

    Parameters
    ----------
    views : tuple of View
    dark : tuple of array [px]
    camera : float or None [m]
    third : set of int
        Sticks of the third view that are made.
    """

    views: tuple[View, ...]
    dark: tuple[Pixels, ...]
    camera: si.Metre | None
    third: set[int]

    @classmethod
    def of(cls, views: Sequence[View], camera: si.Metre | None) -> "Pictures":
        """Return the views with the way from their dark.

        Parameters
        ----------
        views : sequence of View
        camera : float or None [m]
        """
        dark = tuple(from_the_dark(view) for view in views)
        return cls(views=tuple(views), dark=dark, camera=camera, third=set())

    def showing(self, first: Sequence[View]) -> "Pictures":
        """Return these with other sections in the first two views.

        Parameters
        ----------
        first : sequence of View
        """
        return replace(self, views=(*first, *self.views[2:]))


def of_pair(
    work: Work, pictures: Pictures, v: int, here: int, there: int, *, whorl: bool = False
) -> Told | None:
    """Return what is told of a stick that the first two pictures show; None: it is not one.

    Parameters
    ----------
    work : Work
    pictures : Pictures
    v : int
        View that is read.
    here, there : int
        Stick of that view and of the other.
    whorl : bool
        True if others have the same heights.

    Returns
    -------
    Told or None
    """
    view, other = pictures.views[v], pictures.views[1 - v]
    same = other, other.sticks[there], TURNS[1 - v]
    told = (
        parent_of(work, pictures.views, v, here, 0),
        parent_of(work, pictures.views, 1 - v, there, 0),
    )
    shown = [same]
    if here == there == 0:
        # The stem may go on there as what seems to grow at its end.
        shown += [(other, other.sticks[n], TURNS[1 - v]) for n in _onward(view, other)]
    depth, parent = _in_space(work, pictures, v, here, shown, told, there)
    stick = view.sticks[here]
    stem = stick.parent < 0
    if not stem and (depth.off > NOT_ONE or _out(pictures, v, here, depth, {v, 1 - v}) > _OUT):
        return None
    if len(pictures.views) > 2:
        found = _shown_by_third(pictures, v, here, depth)
        if found is not None:
            pictures.third.add(found)
            also = pictures.views[2], pictures.views[2].sticks[found], TURNS[2]
            depth, parent = _in_space(work, pictures, v, here, [*shown, also], told, there)
    return Told(
        second=other,
        other=same[1],
        depth=depth,
        unsure=math.hypot(_GUESS if whorl else 0.0, depth.apart / max(_length(view, stick), 2e-3)),
        note="others have the same heights; which is which is a guess" if whorl else None,
        parent=parent,
    )


def _onward(view: View, other: View) -> tuple[int, ...]:
    """Return what goes on from the stem of another view, as high as this one shows its tip."""
    heights = [
        (each.foot[1] - each.sticks[0].line[-1, 1]) * each.scale.size for each in (view, other)
    ]
    if heights[0] - heights[1] < _HIGHER:
        return ()
    end = float(other.sticks[0].along[-1])
    near = [
        (abs((other.foot[1] - stick.line[-1, 1]) * other.scale.size - heights[0]), n)
        for n, stick in enumerate(other.sticks)
        if stick.parent == 0 and stick.fork > _LATE * end
    ]
    apart, n = min(near, default=(1.0, 0))
    return (n,) if apart < _HIGHER else ()


def by_third(work: Work, pictures: Pictures, v: int, index: int) -> Told | None:
    """Return what the third picture tells of a stick; None: it does not show it.

    Parameters
    ----------
    work : Work
    pictures : Pictures
    v, index : int
        View and stick.

    Returns
    -------
    Told or None
    """
    if len(pictures.views) < 3 or index == 0:
        return None
    third = pictures.views[2]
    stick = pictures.views[v].sticks[index]
    lump = bool(stick.sections) and stick.sections[-1].shape == "lump"
    told = (parent_of(work, pictures.views, v, index, 0),)
    best: tuple[si.Metre, int, Depth, int | None] | None = None
    for n, other in enumerate(third.sticks):
        ends = other.sections[-1].shape == "lump" if other.sections else None
        if n == 0 or n in pictures.third or ends != lump:
            continue
        same = third, other, TURNS[2]
        depth, parent = _in_space(work, pictures, v, index, [same], told, -1)
        out = _out(pictures, v, index, depth, {v, 2})
        if max(depth.off, depth.apart) < _SAME_TIP and out < _OUT:
            cost = depth.off + depth.apart + out
            if best is None or cost < best[0]:
                best = cost, n, depth, parent
    if best is None:
        return None
    pictures.third.add(best[1])
    return Told(
        second=third,
        other=third.sticks[best[1]],
        depth=best[2],
        note="not found in one of the photographs",
        parent=best[3],
    )


def _in_space(
    work: Work,
    pictures: Pictures,
    v: int,
    index: int,
    others: Sequence[Other],
    told: Sequence[int | None],
    same: int,
) -> tuple[Depth, int | None]:
    """Return the depth along a stick, and the part that it then grows on."""
    view, camera, turn = pictures.views[v], pictures.camera, TURNS[v]
    stick = view.sticks[index]
    if stick.parent < 0 or not work.made:
        return by_line(view, stick, turn, others, STEM, camera, same), None
    depth = by_line(view, stick, turn, others, None, camera, same)
    shown = [number for number in told if number is not None and number >= 0]
    parent = host_of(work.made, view, stick, turn, depth, camera, shown)
    host = work.made[parent].line
    return by_line(view, stick, turn, others, host, camera, same), parent


def _length(view: View, stick: Stick) -> si.Metre:
    return float(stick.along[-1]) * view.scale.size


def _laid(pictures: Pictures, v: int, index: int, depth: Depth) -> si.Metres:
    """Return the line of a stick on the bench, from where it leaves its parent."""
    view = pictures.views[v]
    stick = view.sticks[index]
    along = np.linspace(stick.hidden, float(stick.along[-1]), 31)
    deep = depth.along(along / float(stick.along[-1]))
    return on_bench(view, flat_places(view, stick, along), deep, TURNS[v], pictures.camera)


def _out(pictures: Pictures, v: int, index: int, depth: Depth, seen: set[int]) -> si.Metre:
    """Return how far a stick lies out of the dark of the pictures that do not show it."""
    line = _laid(pictures, v, index, depth)
    out = [
        float(np.quantile(out_of_dark(view, away, place), 0.9))
        for k, (view, away) in enumerate(zip(pictures.views, pictures.dark, strict=True))
        if k not in seen
        for place in [in_picture(view, line, TURNS[k], pictures.camera)]
    ]
    return max(out, default=0.0)


def _shown_by_third(pictures: Pictures, v: int, index: int, depth: Depth) -> int | None:
    """Return the stick of the third picture that runs where this one is seen from there."""
    third = pictures.views[2]
    line = in_picture(third, _laid(pictures, v, index, depth), TURNS[2], pictures.camera)
    best: tuple[si.Metre, int] | None = None
    for n, stick in enumerate(third.sticks):
        if n in pictures.third or (n == 0) != (index == 0):
            continue
        off, tip = (third.scale.size * each for each in beside(line, stick))
        if off < _BESIDE and tip < _SAME_TIP and (best is None or off + tip < best[0]):
            best = off + tip, n
    return None if best is None else best[1]


def by_hull(work: Work, pictures: Pictures, v: int, index: int, free: Mapping[int, Pixels]) -> Told:
    """Return what the dark of the other views tells of a stick that they do not show.

    Parameters
    ----------
    work : Work
    pictures : Pictures
    v, index : int
        View and stick.
    free : dict of int to array [px], shape (2,)
        Tips of the other view that are no other stick's.

    Returns
    -------
    Told
    """
    views = pictures.views
    view, stick = views[v], views[v].sticks[index]
    note = "found in one photograph only"
    parent = parent_of(work, views, v, index, 0)
    if parent is None:
        return Told(note=note)
    fork = 0.0
    if parent >= 0:
        fork = fork_depth(work.made[parent].line, view, stick, TURNS[v], pictures.camera)
    depth = depth_of(
        view,
        stick,
        views[1 - v],
        pictures.dark[1 - v],
        fork,
        free,
        camera=pictures.camera,
        swapped=v == 1,
        between=(views[2], pictures.dark[2]) if len(views) > 2 else None,
    )
    if depth is None:
        return Told(note=note)
    if depth.same >= 0:
        note = "its base was found in one photograph only"
        told = of_pair(work, pictures, v, index, depth.same)
        if told is not None:
            return Told(
                second=told.second,
                other=told.other,
                depth=told.depth,
                note=note,
                parent=told.parent,
            )
    seen = float(np.hypot(*np.diff(flat_places(view, stick, stick.along[[0, -1]]), axis=0)[0]))
    ends = [math.hypot(seen, tip - fork) for tip in (depth.low, depth.tip, depth.high)]
    unsure = (max(ends) - min(ends)) / (2.0 * NINE_OF_TEN * max(ends[1], 1e-3))
    return Told(depth=depth, unsure=unsure, note=note)
