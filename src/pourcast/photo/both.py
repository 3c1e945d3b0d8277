"""Both: the sticks of two views are made one original.

The view that shows more sticks clear of each other is read first.  A stick that both views show
has its place from both; one that only one of them shows has its depth from the dark of the
other, see `pourcast.photo.hull`; what only the second view shows is added last.  Nothing is
added that ends where a part ends already, or that other parts explain.  A third view, half way
between, says how deep what only one of the two shows may run; its own sticks are not read.
Limits: estimates, tried on twigs of the seeds 0 to 23.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.photo.explained import explained
from pourcast.photo.grown import Made
from pourcast.photo.hull import Depth, depth_of, from_the_dark
from pourcast.photo.match import matched
from pourcast.photo.model import NINE_OF_TEN, Pixels, Stick, View
from pourcast.photo.space import flat_places, middle_of, unlike_heights
from pourcast.photo.work import Told, Work, parent_of, take

_GUESS = 0.05  # of a length in a whorl that is not one; estimate
_APART = 0.2  # of the length of a stick: tips that differ more in height are two; estimate
_LONGER = 1.25  # times: what looks shorter by this points at the camera; estimate
_SAME_END = 2.5e-3  # m between the ends of two parts that are one


@dataclass(frozen=True, slots=True, kw_only=True)
class _Both:
    """One stick of the original: its numbers in the view that is read first and the other."""

    sticks: tuple[int, int]
    whorl: bool = False


def of_two(work: Work, views: Sequence[View]) -> None:
    """Make the parts of two views, each stick once what it grows on is made.

    Parameters
    ----------
    work : Work
        Parts and notes are added.
    views : sequence of View
        Two, a quarter turn apart; a third, half way between, tells of depths.
    """
    between = (views[2], from_the_dark(views[2])) if len(views) > 2 else None
    views = views[:2]
    a = int(_clear(views[1]) > _clear(views[0]))
    first, second = views[a], views[1 - a]
    found, guess = matched(first, second, camera=work.asked.camera, swapped=a == 1)
    pairs = {i: j for i, j in found.items() if i == 0 or _alike(first, i, second, j)}
    free = _tips(second, set(pairs.values()))
    rest = [_Both(sticks=(i, pairs.get(i, -1)), whorl=i in guess) for i in range(len(first.sticks))]
    rest += [_Both(sticks=(-1, j)) for j in free]
    away = [from_the_dark(view) for view in views]
    while rest:
        ready = _next(work, views, a, rest)
        if ready is None:
            return
        both, lead = ready
        rest.remove(both)
        v = a if lead == 0 else 1 - a
        here, there = both.sticks[lead], both.sticks[1 - lead]
        if there >= 0 and (here > 0 or _alike(first, 0, second, 0)):
            told = _of_pair(work, views, v, here, there, whorl=both.whorl)
        else:
            tips = free if lead == 0 and here > 0 else {}
            told = _by_hull(work, views, away, v, here, tips, between)
            depth = told.depth
            if depth is not None and depth.same >= 0:
                there = depth.same
                del free[there]
                rest = [each for each in rest if each.sticks != (-1, there)]
            elif there < 0:
                parent = parent_of(work, views, v, here, 0)
                same = explained(
                    work.made,
                    views[v],
                    views[v].sticks[here],
                    seen_second=v == 1,
                    camera=work.asked.camera,
                    parent=-1 if parent is None else parent,
                )
                if same is not None:
                    for k, part in enumerate(same):
                        work.where[v, here, k] = part
                    continue
                twin = _twin(work, views, v, here, depth)
                if twin is not None or _is_doubtful(views[v].sticks[here], depth, lead):
                    parent = parent_of(work, views, v, here, 0)
                    _point(work, views, (v, here), parent if twin is None else twin)
                    continue
        take(work, views, v, here, told)
        if there >= 0:
            _also(work, views, (1 - v, there), (v, here))


def _next(
    work: Work, views: Sequence[View], a: int, rest: Sequence[_Both]
) -> tuple[_Both, int] | None:
    """Return what may be made next, and which of its views is read.

    Of a pair that view is read where it grows farther out, for what lies before the stem seems
    to grow on it; then that which shows it longer; then that which shows it in fewer parts, for
    what lies before a part makes it wider there.
    """
    for rank in range(4):
        for both in rest:
            kind = 0 if min(both.sticks) >= 0 else 1 if both.sticks[0] >= 0 else 2
            if kind != (0, 1, 2, 0)[rank]:
                continue
            leads = _leads(views, a, both)
            for lead in leads if rank == 3 else leads[:1]:
                v = a if lead == 0 else 1 - a
                if parent_of(work, views, v, both.sticks[lead], 0) is not None:
                    return both, lead
    return None


def _leads(views: Sequence[View], a: int, both: _Both) -> tuple[int, ...]:
    i, j = both.sticks
    if j < 0:
        return (0,)
    if i < 0:
        return (1,)
    first, second = views[a], views[1 - a]
    one, two = first.sticks[i], second.sticks[j]
    if i == 0 and not _alike(first, 0, second, 0):
        ends = [view.sticks[0].along[-1] * view.scale.size for view in (first, second)]
        return (0, 1) if ends[0] >= ends[1] else (1, 0)
    out = _order(second, j) - _order(first, i)
    if not one.sections or not two.sections:
        return (0, 1) if one.sections else (1, 0)
    long = [s.along[-1] * v.scale.size for s, v in ((one, first), (two, second))]
    fewer = len(one.sections) - len(two.sections)
    if max(long) > _LONGER * min(long):
        fewer = int(long[1] > long[0]) - int(long[0] > long[1])
    return (1, 0) if (out or fewer) > 0 else (0, 1)


def _order(view: View, index: int) -> int:
    order = 0
    while view.sticks[index].parent >= 0:
        index, order = view.sticks[index].parent, order + 1
    return order


def _alike(first: View, i: int, second: View, j: int) -> bool:
    stick = first.sticks[i]
    long = float(stick.along[-1]) * first.scale.size
    return unlike_heights(first, stick, second, second.sticks[j]) <= _APART * long


def _tips(view: View, taken: set[int]) -> dict[int, Pixels]:
    return {n: s.line[-1] for n, s in enumerate(view.sticks) if n not in taken and s.sections}


def _of_pair(
    work: Work, views: Sequence[View], v: int, here: int, there: int, *, whorl: bool
) -> Told:
    first, second = views[v], views[1 - v]
    stick, other = first.sticks[here], second.sticks[there]
    long = max(float(stick.along[-1]) * first.scale.size, 2e-3)
    stem = stick.parent < 0 and other.parent < 0
    unsure = 0.0 if stem else unlike_heights(first, stick, second, other) / long
    note = "others have the same heights; which is which is a guess" if whorl else None
    depth = None
    parent = parent_of(work, views, v, here, 0)
    if parent is not None and parent >= 0:
        # The other view may not show where it leaves its parent, but it shows the tip.
        place = flat_places(first, stick, stick.along[[0, -1]])
        fork = _depth_at(work.made[parent], place[0], v)
        sign = -1.0 if v == 1 else 1.0
        right = float(flat_places(second, other, other.along[-1:])[0, 0])
        middle = float(middle_of(second)[0])
        camera = work.asked.camera
        far = 1.0 if camera is None else 1.0 - sign * float(place[1, 0]) / camera
        tip = sign * (middle + (right - middle) * far)
        depth = Depth(fork=fork, tip=tip, low=tip, high=tip, same=there)
    return Told(
        second=second,
        other=other,
        depth=depth,
        unsure=math.hypot(unsure, _GUESS) if whorl else unsure,
        note=note,
    )


def _by_hull(
    work: Work,
    views: Sequence[View],
    away: Sequence[Pixels],
    v: int,
    index: int,
    free: Mapping[int, Pixels],
    between: tuple[View, Pixels] | None,
) -> Told:
    """Return what the dark of the other view tells of a stick that it does not show."""
    view, stick = views[v], views[v].sticks[index]
    note = "found in one photograph only"
    parent = parent_of(work, views, v, index, 0)
    if parent is None:
        return Told(note=note)
    fork = 0.0
    if parent >= 0:
        fork = _depth_at(work.made[parent], flat_places(view, stick, stick.along[:1])[0], v)
    swapped = v == 1
    camera = work.asked.camera
    depth = depth_of(
        view,
        stick,
        views[1 - v],
        away[1 - v],
        fork,
        free,
        camera=camera,
        swapped=swapped,
        between=between,
    )
    if depth is None:
        return Told(note=note)
    seen = float(np.hypot(*np.diff(flat_places(view, stick, stick.along[[0, -1]]), axis=0)[0]))
    ends = [math.hypot(seen, tip - fork) for tip in (depth.low, depth.tip, depth.high)]
    unsure = (max(ends) - min(ends)) / (2.0 * NINE_OF_TEN * max(ends[1], 1e-3))
    if depth.same >= 0:
        note = "its base was found in one photograph only"
    return Told(depth=depth, unsure=unsure, note=note)


def _depth_at(host: Made, place: si.Metres, v: int) -> si.Metre:
    """Return how deep a part lies at a place of one view, away from its camera."""
    start, way = _as_seen(host.start, v), _as_seen(host.end - host.start, v)
    flat = way[[0, 2]]
    along = float((place - start[[0, 2]]) @ flat) / max(float(flat @ flat), 1e-12)
    return float(start[1] + min(max(along, 0.0), 1.0) * way[1])


def _as_seen(place: si.Metres, v: int) -> si.Metres:
    """Turn a place on the bench to right, away and up as a view has them."""
    x, y, z = place
    return np.array([x, y, z]) if v == 0 else np.array([y, -x, z])


def _twin(work: Work, views: Sequence[View], v: int, index: int, depth: Depth | None) -> int | None:
    """Return the part that ends already where a stick ends; where its depth is not known, any."""
    if not work.made:
        return None
    stick = views[v].sticks[index]
    right, up = flat_places(views[v], stick, stick.along[-1:])[0]
    away = np.array([_as_seen(each.end, v) for each in work.made])
    away -= np.array([right, 0.0 if depth is None else depth.tip, up])
    if depth is None:
        away[:, 1] = 0.0
    apart = np.linalg.norm(away, axis=1)
    nearest = int(apart.argmin())
    return nearest if apart[nearest] < _SAME_END else None


def _is_doubtful(stick: Stick, depth: Depth | None, lead: int) -> bool:
    """Tell what is rather a shape that others make together than a part.

    A stick that only one view shows begins with a stalk; and what only the second shows lies
    within the dark of the first.
    """
    if not stick.sections or stick.sections[0].shape == "lump":
        return stick.parent >= 0
    return lead == 1 and depth is None


def _point(work: Work, views: Sequence[View], stick: tuple[int, int], part: int | None) -> None:
    """Let what grows on a stick that is left out grow on a part that is there."""
    if part is not None:
        for k in range(len(views[stick[0]].sticks[stick[1]].sections)):
            work.where[(*stick, k)] = part


def _also(work: Work, views: Sequence[View], here: tuple[int, int], there: tuple[int, int]) -> None:
    """Note which parts the sections of a stick are that the other view has given."""
    stick, same = (views[v].sticks[n] for v, n in (here, there))
    for k, section in enumerate(stick.sections):
        share = 0.5 * (section.start + section.end) / float(stick.along[-1])
        for n, other in enumerate(same.sections):
            if share * float(same.along[-1]) < other.end or n == len(same.sections) - 1:
                found = work.where.get((*there, n))
                if found is not None:
                    work.where[(*here, k)] = found
                break


def _clear(view: View) -> int:
    """Count the sticks of a view, less those that are in each other's way."""
    tangled = len(view.crossings) + sum(stick.joined >= 0 for stick in view.sticks)
    return len(view.sticks) - 2 * tangled
