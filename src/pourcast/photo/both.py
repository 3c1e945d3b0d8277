"""Both: the sticks of two views are made one original.

A stick that both views show has its place from both, and from a third, half way between, if
that shows it too.  One that only one of the two shows is looked for among what other parts
explain, then in the third, and else has its depth from the dark of the others, see
`pourcast.photo.told`.  Nothing is added that ends where a part ends already.  What the third
view alone shows is not read.  Limits: estimates, tried on twigs of the seeds 0 to 41.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.photo.bench import TURNS, as_seen
from pourcast.photo.cuts import with_fewer_cuts
from pourcast.photo.explained import explained
from pourcast.photo.match import matched
from pourcast.photo.model import Depth, Pixels, Stick, View
from pourcast.photo.space import flat_places, unlike_heights
from pourcast.photo.told import Pictures, by_hull, by_third, of_pair
from pourcast.photo.work import Work, parent_of, take

_APART = 0.2  # of the length of a stick: tips that differ more in height are two; estimate
_LONGER = 1.1  # times: what looks shorter by this points at the camera; estimate
_SAME_END = 2.5e-3  # m between the ends of two parts that are one


@dataclass(frozen=True, slots=True, kw_only=True)
class _Both:
    """One stick of the original: its numbers in the view that is read first and the other."""

    sticks: tuple[int, int]
    whorl: bool = False


def of_two(work: Work, views: Sequence[View]) -> tuple[View, ...]:
    """Make the parts of two views, each stick once what it grows on is made.

    Parameters
    ----------
    work : Work
        Parts and notes are added.
    views : sequence of View
        Two, a quarter turn apart; a third, half way between, tells of depths.

    Returns
    -------
    tuple of View
        With the sections that the parts are made of.
    """
    pictures = Pictures.of(views, work.asked.camera)
    views = views[:2]
    a = int(_clear(views[1]) > _clear(views[0]))
    first, second = views[a], views[1 - a]
    found, guess = matched(first, second, camera=work.asked.camera, swapped=a == 1)
    pairs = {i: j for i, j in found.items() if i == 0 or _alike(first, i, second, j)}
    views = _cut_alike(views, a, pairs, work.asked.camera)
    pictures = pictures.showing(views)
    first, second = views[a], views[1 - a]
    free = _tips(second, set(pairs.values()))
    rest = [_Both(sticks=(i, pairs.get(i, -1)), whorl=i in guess) for i in range(len(first.sticks))]
    rest += [_Both(sticks=(-1, j)) for j in free]
    while rest:
        ready = _next(work, views, a, rest)
        if ready is None:
            break
        both, lead = ready
        rest.remove(both)
        v = a if lead == 0 else 1 - a
        here, there = both.sticks[lead], both.sticks[1 - lead]
        if there >= 0:
            told = of_pair(work, pictures, v, here, there, whorl=both.whorl)
            if told is None:
                # They run beside each other: two sticks, not one.
                i, j = both.sticks
                rest += [_Both(sticks=(i, -1)), _Both(sticks=(-1, j))]
                free[j] = second.sticks[j].line[-1]
                continue
        else:
            tips = free if lead == 0 and here > 0 else {}
            told = by_hull(work, pictures, v, here, tips)
            depth = told.depth
            if told.other is not None and depth is not None:
                there = depth.same
                del free[there]
                rest = [each for each in rest if each.sticks != (-1, there)]
            elif there < 0:
                same = _explained(work, views, v, here)
                if same is not None:
                    for k, part in enumerate(same):
                        work.where[v, here, k] = part
                    continue
                told = by_third(work, pictures, v, here) or told
            if told.other is None and there < 0:
                twin = _twin(work, views, v, here, depth)
                if twin is not None or _is_doubtful(views[v].sticks[here], depth, lead):
                    parent = parent_of(work, views, v, here, 0)
                    _point(work, views, (v, here), parent if twin is None else twin)
                    continue
        take(work, views, v, here, told)
        if there >= 0:
            _also(work, views, (1 - v, there), (v, here))
    return pictures.views


def _cut_alike(
    views: Sequence[View], a: int, pairs: Mapping[int, int], camera: si.Metre | None
) -> tuple[View, ...]:
    """Return the views with the cuts of the view that shows fewer along a stick."""
    sticks = [list(view.sticks) for view in views]
    for i, j in pairs.items():
        if i == 0 and not _alike(views[a], 0, views[1 - a], 0):
            continue
        for v, here, there in ((a, i, j), (1 - a, j, i)):
            other = views[1 - v], views[1 - v].sticks[there], TURNS[1 - v]
            stick = views[v].sticks[here]
            sticks[v][here] = with_fewer_cuts(views[v], stick, TURNS[v], other, camera)
    return tuple(
        replace(view, sticks=tuple(each)) for view, each in zip(views, sticks, strict=True)
    )


def _explained(work: Work, views: Sequence[View], v: int, index: int) -> tuple[int, ...] | None:
    parent = parent_of(work, views, v, index, 0)
    return explained(
        work.made,
        views[v],
        views[v].sticks[index],
        turn=TURNS[v],
        camera=work.asked.camera,
        parent=-1 if parent is None else parent,
    )


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
            known = [
                parent_of(work, views, a if lead == 0 else 1 - a, both.sticks[lead], 0) is not None
                for lead in leads
            ]
            if all(known) or (rank == 3 and any(known)):
                return both, leads[0]
    return None


def _leads(views: Sequence[View], a: int, both: _Both) -> tuple[int, ...]:
    i, j = both.sticks
    if j < 0:
        return (0,)
    if i < 0:
        return (1,)
    first, second = views[a], views[1 - a]
    one, two = first.sticks[i], second.sticks[j]
    if not one.sections or not two.sections:
        return (0, 1) if one.sections else (1, 0)
    if (one.joined >= 0) != (two.joined >= 0):
        return (1, 0) if one.joined >= 0 else (0, 1)
    long = [s.along[-1] * v.scale.size for s, v in ((one, first), (two, second))]
    if max(long) > _LONGER * min(long):
        return (0, 1) if long[0] > long[1] else (1, 0)
    return (1, 0) if len(one.sections) > len(two.sections) else (0, 1)


def _alike(first: View, i: int, second: View, j: int) -> bool:
    stick = first.sticks[i]
    long = float(stick.along[-1]) * first.scale.size
    return unlike_heights(first, stick, second, second.sticks[j]) <= _APART * long


def _tips(view: View, taken: set[int]) -> dict[int, Pixels]:
    return {n: s.line[-1] for n, s in enumerate(view.sticks) if n not in taken and s.sections}


def _twin(work: Work, views: Sequence[View], v: int, index: int, depth: Depth | None) -> int | None:
    """Return the part that ends already where a stick ends; where its depth is not known, any."""
    if not work.made:
        return None
    stick = views[v].sticks[index]
    right, up = flat_places(views[v], stick, stick.along[-1:])[0]
    away = as_seen(np.array([each.end for each in work.made]), TURNS[v])
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
