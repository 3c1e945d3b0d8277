"""Sticks: the middle line of each stroke, from where it leaves its parent to its tip.

Inside the circle about a fork the medial axis bends from one part into the
other and belongs to neither.  So a child begins outside that circle, and its
line is carried back, straight, until it meets the middle line of its parent:
that place is the fork.  From the fork the child lies in its parent for

    hidden = (w / 2) / sin a                                                   (1)

with w the width of the parent there and a the angle between the two; a caliper
reads from where that ends.  It leaves the surface w/2 / tan a further along the
parent than the fork.  The tip is carried on, straight, to the edge.

Two rays that lie over each other in the picture part late.  A ray whose line
leads back to the base of the ray that it parts from grows where that one grows.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from scipy import ndimage

from pourcast import units as si
from pourcast.photo.model import Pixel, Pixels, Stick
from pourcast.photo.outline import chords, end_of, headings
from pourcast.photo.skeleton import Skeleton
from pourcast.photo.strokes import Stroke

_SHORTEST = 6.0  # pixels of a line that can be carried back
_STEP = 2.0  # pixels between places where a line is carried on
_FLAT = math.radians(12.0)  # two lines that meet at less than this have no sure crossing


def sticks(light: si.Ratios, bones: Skeleton, found: Sequence[Stroke]) -> tuple[Stick, ...]:
    """Return the sticks of a picture with their widths, not yet cut into parts.

    Parameters
    ----------
    light : array [-], shape (rows, columns)
        Over that of the ground.
    bones : Skeleton
    found : sequence of Stroke

    Returns
    -------
    tuple of Stick
    """
    made: list[Stick] = []
    radii: list[Pixels] = []
    number: dict[int, int] = {-1: -1}
    split: list[Pixels] = []
    for index, stroke in enumerate(found):
        parent = number.get(stroke.parent)
        if parent is None:
            continue  # its parent was too short to be told from a bump
        begun = _begun(light, bones, stroke, made, radii, parent)
        if begun is None:
            continue
        number[index] = len(made)
        stick, radius = begun
        made.append(stick)
        radii.append(radius)
        split.append(bones.place[stroke.nodes[0]])
    made = [
        replace(stick, joined=number.get(stroke.joined, -1))
        for stick, stroke in zip(made, [found[k] for k in number if k >= 0], strict=True)
    ]
    return tuple(
        replace(stick, width=_widths(light, index, made, radii, split))
        for index, stick in enumerate(made)
    )


def _begun(
    light: si.Ratios,
    bones: Skeleton,
    stroke: Stroke,
    made: Sequence[Stick],
    radii: Sequence[Pixels],
    parent: int,
) -> tuple[Stick, Pixels] | None:
    raw, radius = stroke.line, stroke.radius
    node = stroke.nodes[0]
    if parent >= 0:
        out = np.hypot(*(raw - bones.place[node]).T) > 1.15 * bones.radius[node] + 2.0
        if not out.any():
            return None
        first = int(np.argmax(out))
        raw, radius = raw[first:], radius[first:]
    line = _smoothed(raw, radius)
    reach = float(np.hypot(*np.diff(line, axis=0).T).sum()) if len(line) > 1 else 0.0
    if reach < (_SHORTEST if parent >= 0 else 2.0):
        return None
    last = _end_way(line[::-1], float(np.median(radius[-max(1, len(radius) // 5) :])))
    on = end_of(light, line[-1], last, 3.0 * float(radius[-1]) + 10.0)
    steps = np.linspace(0.0, on, max(1, int(on / _STEP)) + 1)[1:, None]
    line = np.concatenate([line, line[-1] + steps * last])
    back = _end_way(line, float(np.median(radius[: max(1, len(radius) // 5)])))
    radius = np.concatenate([radius, np.repeat(radius[-1:], len(steps))])
    if parent < 0:
        off = end_of(light, line[0], back, 3.0 * float(radius[0]) + 10.0)
        line = np.concatenate([[line[0] + off * back], line])
        radius = np.concatenate([radius[:1], radius])
        return Stick(parent=-1, line=line, along=_along(line), width=np.zeros(len(line))), radius
    return _carried_back(bones, line, back, radius, node, made, radii, parent)


def _carried_back(
    bones: Skeleton,
    line: Pixels,
    back: Pixels,
    radius: Pixels,
    node: int,
    made: Sequence[Stick],
    radii: Sequence[Pixels],
    parent: int,
) -> tuple[Stick, Pixels]:
    near = bones.place[node]
    fork, angle = _meet(line[0], back, made[parent], near)
    while made[parent].parent >= 0 and fork < made[parent].hidden + 3.0 * float(radius[0]):
        parent = made[parent].parent
        fork, angle = _meet(line[0], back, made[parent], near)
    host = made[parent]
    half = _half_at(host, radii[parent], fork)
    place = _at(host, fork)
    sine = max(math.sin(angle), math.sin(_FLAT))
    hidden = half / sine
    leaves = fork + half * math.cos(angle) / sine
    if leaves > host.along[-1]:
        leaves = float(host.along[-1])
        hidden = max(0.0, (leaves - fork) / max(math.cos(angle), 0.2))
    whole = np.concatenate([[place], line])
    return (
        Stick(
            parent=parent,
            line=whole,
            along=_along(whole),
            width=np.zeros(len(whole)),
            fork=fork,
            on_parent=leaves,
            hidden=min(hidden, 0.9 * float(_along(whole)[-1])),
        ),
        np.concatenate([radius[:1], radius]),
    )


def _smoothed(line: Pixels, radius: Pixels) -> Pixels:
    """Take the steps of the pixels out of a line; its ends stay."""
    if len(line) < 5:
        return line.astype(np.float64)
    spread = min(max(2.0, 0.5 * float(np.median(radius))), len(line) / 4)
    # Both coordinates go on straight over the ends, so that these do not draw in.
    smooth = 2 * line[0] - line[1:][::-1], line, 2 * line[-1] - line[:-1][::-1]
    whole = ndimage.gaussian_filter1d(np.concatenate(smooth), spread, axis=0)
    return np.asarray(whole[len(line) - 1 : 2 * len(line) - 1])


def _end_way(line: Pixels, radius: Pixel) -> Pixels:
    """Return the direction out of the first end of a line, over a few radii of it."""
    reach = max(10.0, 2.5 * radius)
    away = _along(line)
    part = line[: max(3, int(np.searchsorted(away, reach)))]
    middle = part.mean(axis=0)
    _, _, ways = np.linalg.svd(part - middle)
    way = ways[0] if ways[0] @ (part[0] - part[-1]) > 0 else -ways[0]
    return np.asarray(way)


def _along(line: Pixels) -> Pixels:
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])


def _at(stick: Stick, along: Pixel) -> Pixels:
    """Return a place on a line, which goes on straight over its ends."""
    line, way = stick.line, stick.along
    if along < 0.0:
        unit = (line[0] - line[1]) / max(way[1], 1e-9)
        return np.asarray(line[0] - along * unit)
    if along > way[-1]:
        unit = (line[-1] - line[-2]) / max(way[-1] - way[-2], 1e-9)
        return np.asarray(line[-1] + (along - way[-1]) * unit)
    return np.array([np.interp(along, way, line[:, 0]), np.interp(along, way, line[:, 1])])


def _meet(start: Pixels, back: Pixels, host: Stick, near: Pixels) -> tuple[Pixel, si.Radian]:
    """Return where a line carried back meets that of its parent, along it, and the angle."""
    far = 40.0
    line = np.concatenate([[_at(host, -far)], host.line, [_at(host, host.along[-1] + far)]])
    along = np.concatenate([[-far], host.along, [host.along[-1] + far]])
    square = np.array([-back[1], back[0]])
    side = (line - start) @ square
    ahead = (line - start) @ back
    k = np.flatnonzero((side[:-1] * side[1:] <= 0.0) & (side[:-1] != side[1:]))
    way = headings(host.line, np.full(len(host.line), 8.0))
    nearest = int(np.argmin(np.hypot(*(host.line - near).T)))
    if k.size:
        share = side[k] / (side[k] - side[k + 1])
        places = along[k] + share * (along[k + 1] - along[k])
        on = ahead[k] + share * (ahead[k + 1] - ahead[k])
        score = np.abs(places - host.along[nearest]) + np.where(on < -2.0, 1e6, 0.0)
        best = int(np.argmin(score))
        heading = way[int(np.clip(np.searchsorted(host.along, places[best]), 0, len(way) - 1))]
        angle = math.acos(max(-1.0, min(1.0, -float(heading @ back))))
        if score[best] < 1e6 and min(angle, math.pi - angle) > _FLAT:
            return float(places[best]), angle
    angle = math.acos(max(-1.0, min(1.0, -float(way[nearest] @ back))))
    return float(host.along[nearest]), angle


def _half_at(host: Stick, radius: Pixels, along: Pixel) -> Pixel:
    """Return half the width of a parent beside a fork."""
    about = float(np.median(radius))
    near = np.abs(host.along - along) < 6.0 * about
    chosen = radius[near] if near.any() else radius
    return float(np.percentile(chosen, 40)) + 0.5


def _widths(
    light: si.Ratios,
    index: int,
    made: Sequence[Stick],
    radii: Sequence[Pixels],
    split: Sequence[Pixels],
) -> Pixels:
    """Return the width at each place of a stick; nan where another is in the way."""
    stick, radius = made[index], radii[index]
    way = headings(stick.line, np.maximum(3.0, radius))
    reach = np.maximum(_reach(stick.along, radius), 1.5)
    left, right = chords(light, stick.line, way, np.maximum(radius, 1.5), reach)
    width = left + right
    # Two sides that are much unlike have run into something.
    width[np.abs(left - right) > 2.0 + 0.5 * np.minimum(left, right)] = np.nan
    if stick.parent >= 0:
        begin = stick.hidden + float(np.median(radius[: max(2, len(radius) // 4)])) + 2.0
        seen = float(np.hypot(*(stick.line[1] - stick.line[0])))
        width[stick.along < max(begin, seen)] = np.nan
    for child, size, start in zip(made, radii, split, strict=True):
        if child.parent == index:
            _hide(width, stick, child, float(np.median(size)), start)
    return width


def _reach(along: Pixels, radius: Pixels) -> Pixels:
    """Return the radius of the largest circle on the line that a place lies in.

    Beside a square end or a step of the outline the circle about a place is small and the part
    is wide.
    """
    within = np.abs(along[:, None] - along[None, :]) < radius[None, :]
    return np.asarray(np.where(within, radius[None, :], radius[:, None]).max(axis=1))


def _hide(width: Pixels, stick: Stick, child: Stick, half: Pixel, start: Pixels) -> None:
    """Take out the places beside which a child leaves."""
    parts_at = float(stick.along[int(np.argmin(np.hypot(*(stick.line - start).T)))])
    first = min(child.fork, parts_at)
    last = max(child.on_parent, parts_at)
    pad = 2.0 * half + 4.0
    width[(stick.along > first - pad) & (stick.along < last + pad)] = np.nan
