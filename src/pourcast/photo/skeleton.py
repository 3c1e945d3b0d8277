"""Skeleton: which lines run through the middle of the silhouette, and where do they meet?

The medial axis of scikit-image, with the distance r to the ground, is taken
apart into branches between ends and forks.  A branch that sticks out of the
circle about its fork by less than half the radius of that circle is the corner
of an end or a bump of the outline, and goes, with the others of its fork.  So does one up to
0.9 of the radius whose r falls evenly to nothing: in a corner of the angle 2b it falls by sin b
a step, in a part that grows there it does not.  What is left of such a corner at the end of a
line is cut off the line.  Forks inside one circle are one fork.

Source: Blum (1967), "A transformation for extracting new descriptors of shape",
for the medial axis; the limits are estimates.
"""

import math
from dataclasses import dataclass
from typing import Any

import networkx as nx  # type: ignore[import-untyped]
import numpy as np
from scipy import ndimage
from skimage.morphology import medial_axis

from pourcast import units as si
from pourcast.photo.model import Pixel, Pixels

_BUMP = 0.5  # of the radius at the fork, see above
_LEAST_BUMP = 3.0  # pixels
_CORNER = 0.9  # of the radius, see above: corners of 63 degrees and more; tuned on seeds 0 to 19
_EVEN = 0.2  # of the radius at the fork, how evenly it falls
_SHARP = 0.35  # of the radius at the fork that is left at the tip of a corner, at most
_SAME_FORK = 0.9  # of the larger radius
_SMOOTH = 1.0  # pixels, of the outline
_STEPS = ((0, 1), (1, 0), (1, 1), (1, -1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """A line between two forks or ends.

    Parameters
    ----------
    ends : pair of int
        Numbers of its fork or end at start and end.
    line : array [px], shape (places, 2)
        Columns and rows.
    radius : array [px], shape (places,)
    """

    ends: tuple[int, int]
    line: Pixels
    radius: Pixels


@dataclass(frozen=True, slots=True, kw_only=True)
class Skeleton:
    """Branches and the places where they meet.

    Parameters
    ----------
    branches : tuple of Branch
    place : array [px], shape (nodes, 2)
    radius : array [px], shape (nodes,)
    degree : array of int, shape (nodes,)
        1: an end.
    """

    branches: tuple[Branch, ...]
    place: Pixels
    radius: Pixels
    degree: si.Integers


def skeleton(inside: si.Booleans) -> Skeleton:
    """Return the branches of the middle lines of a silhouette.

    Parameters
    ----------
    inside : array of bool, shape (rows, columns)

    Returns
    -------
    Skeleton
    """
    box = ndimage.find_objects(inside.astype(np.int8))[0]
    cut = np.pad(inside[box], 4)
    smooth = ndimage.gaussian_filter(cut.astype(np.float64), _SMOOTH) > 0.5
    # Ties between pixels are broken by chance: always by the same.
    line, distance = medial_axis(  # type: ignore[no-untyped-call]
        smooth, return_distance=True, rng=0
    )
    graph = _graph(line)
    row, column = np.nonzero(line)
    shift = np.array([box[1].start - 4, box[0].start - 4])
    place = np.stack([column, row], axis=1) + shift
    # The distance is counted to the middle of the first pixel outside: half a pixel too far.
    radius = np.maximum(distance[row, column] - 0.5, 0.5)
    knots = _knots(graph, place.astype(np.float64), radius)
    _prune(knots, place, radius)
    return _merged(knots, place.astype(np.float64), radius)


def _graph(line: si.Booleans) -> nx.Graph:
    """Join neighbouring pixels; a diagonal beside a corner pixel is no way of its own."""
    number = np.full(line.shape, -1, dtype=np.int64)
    number[line] = np.arange(line.sum())
    graph: nx.Graph = nx.Graph()
    graph.add_nodes_from(range(int(line.sum())))
    tall, wide = line.shape
    for down, right in _STEPS:
        here = number[: tall - down, max(0, -right) : wide - max(0, right)]
        there = number[down:, max(0, right) : wide + min(0, right)]
        joined = (here >= 0) & (there >= 0)
        if down and right:
            beside = number[: tall - down, max(0, right) : wide + min(0, right)]
            below = number[down:, max(0, -right) : wide - max(0, right)]
            joined &= (beside < 0) & (below < 0)
        graph.add_edges_from(zip(here[joined].tolist(), there[joined].tolist(), strict=True))
    return graph


def _knots(graph: nx.Graph, place: Pixels, radius: Pixels) -> nx.MultiGraph:
    """Return forks and ends, joined by the pixels between them."""
    # Only what hangs together with the widest place: the rest are specks of one pixel.
    whole = nx.node_connected_component(graph, int(radius.argmax()))
    knots: nx.MultiGraph = nx.MultiGraph()
    special = {n for n in whole if graph.degree(n) != 2}
    if not special:
        special = {int(max(whole, key=lambda n: place[n, 1]))}
    knots.add_nodes_from(special)
    done: set[tuple[int, int]] = set()
    for start in sorted(special):
        for first in sorted(graph.neighbors(start)):
            if (start, first) in done:
                continue
            path = [start, first]
            while path[-1] not in special:
                onward = [n for n in graph.neighbors(path[-1]) if n != path[-2]]
                path.append(onward[0])
            done |= {(path[0], path[1]), (path[-1], path[-2])}
            knots.add_edge(path[0], path[-1], path=path)
    return knots


def _prune(knots: nx.MultiGraph, place: Pixels, radius: Pixels) -> None:
    while True:
        bumps = []
        for tip in knots.nodes:
            if knots.degree(tip) != 1:
                continue
            (_, fork, key) = next(iter(knots.edges(tip, keys=True)))
            if knots.degree(fork) < 3:
                continue
            out = math.dist(place[tip], place[fork]) + radius[tip] - radius[fork]
            path = knots.edges[tip, fork, key]["path"]
            most = _CORNER if _is_corner(radius[path]) else _BUMP
            if out < max(_LEAST_BUMP, most * radius[fork]):
                bumps.append((out, tip, fork, key))
        if not bumps:
            return
        _, _, fork, _ = min(bumps)
        # Both corners of a square end go together: the one left over would bend its line.
        for _, tip, at, key in bumps:
            if at == fork:
                knots.remove_edge(tip, at, key)
                knots.remove_node(tip)
        _join(knots, fork)


def _is_corner(radius: Pixels) -> bool:
    """Tell a branch that fills a corner, from either end of it."""
    first, middle, last = radius[0], radius[len(radius) // 2], radius[-1]
    wide, thin = max(first, last), min(first, last)
    even = abs(middle - 0.5 * (wide + thin)) < _EVEN * wide
    return bool(even and thin < _SHARP * wide)


def _without_corner(path: list[int], place: Pixels, radius: Pixels) -> list[int]:
    """Return a branch without the corner that its last end runs into."""
    wide = radius[path]
    line = place[path]
    step = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    out = step[-1] - step + wide[-1] - wide
    near = np.flatnonzero((out < _CORNER * wide) & (wide[-1] < _SHARP * wide))
    for k in near[np.argsort(-wide[near])]:
        if k > 0 and wide[k] > _LEAST_BUMP and _is_corner(wide[k:]):
            return path[: int(k) + 1]
    return path


def _join(knots: nx.MultiGraph, knot: int) -> None:
    """Make one branch of two that meet where no third does any more."""
    if knots.degree(knot) != 2:
        return
    edges: list[Any] = list(knots.edges(knot, keys=True, data=True))
    if len(edges) != 2:
        return
    (_, a, ka, da), (_, b, kb, db) = edges
    left = da["path"] if da["path"][-1] == knot else da["path"][::-1]
    right = db["path"] if db["path"][0] == knot else db["path"][::-1]
    knots.remove_edge(knot, a, ka)
    knots.remove_edge(knot, b, kb)
    knots.remove_node(knot)
    knots.add_edge(a, b, path=left + right[1:])


def _merged(knots: nx.MultiGraph, place: Pixels, radius: Pixels) -> Skeleton:
    """Give each fork a number, those inside one circle the same."""
    same = nx.utils.UnionFind(knots.nodes)
    kept: list[tuple[int, int, list[int]]] = []
    for a, b, data in knots.edges(data=True):
        path: list[int] = data["path"]
        inner = knots.degree(a) > 2 and knots.degree(b) > 2
        if inner and len(path) < _SAME_FORK * max(radius[a], radius[b]):
            same.union(a, b)
        else:
            a, b = path[0], path[-1]
            if knots.degree(b) == 1:
                path = _without_corner(path, place, radius)
            if knots.degree(a) == 1:
                path = _without_corner(path[::-1], place, radius)[::-1]
            kept.append((a, b, path))
    groups = {root: i for i, root in enumerate(sorted({same[n] for n in knots.nodes}))}
    nodes = [[n for n in knots.nodes if groups[same[n]] == i] for i in range(len(groups))]
    degree = np.zeros(len(groups), dtype=np.int64)
    made = []
    for a, b, path in kept:
        ends = groups[same[a]], groups[same[b]]
        if ends[0] == ends[1] and len(path) < 2.0 * radius[a]:
            continue
        degree[ends[0]] += 1
        degree[ends[1]] += 1
        made.append(Branch(ends=ends, line=place[path], radius=radius[path]))
    return Skeleton(
        branches=tuple(made),
        place=np.array([place[n].mean(axis=0) for n in nodes]),
        radius=np.array([radius[n].max() for n in nodes]),
        degree=degree,
    )


def away_from(branch: Branch, end: int, middle: Pixels, radius: Pixel) -> tuple[Pixels, Pixel]:
    """Return where a branch heads as it leaves the circle of a fork, and its radius there.

    Parameters
    ----------
    branch : Branch
    end : {0, 1}
        Which of its ends lies in the fork.
    middle : array [px], shape (2,)
    radius : float [px]
        Of the circle.

    Returns
    -------
    array [px], shape (2,)
        A unit vector.
    float [px]
    """
    line = branch.line if end == 0 else branch.line[::-1]
    wide = branch.radius if end == 0 else branch.radius[::-1]
    out = np.hypot(*(line - middle).T)
    first = int(np.argmax(out > 1.1 * radius)) if (out > 1.1 * radius).any() else 0
    reach = min(80.0, max(12.0, 4.0 * float(wide[first])))
    stop = first + int(np.argmax(out[first:] > out[first] + reach))
    if stop == first:
        stop = len(line)
    part = line[first:stop]
    if len(part) < 3:
        part = line
    ends = part[-max(1, len(part) // 4) :].mean(axis=0), part[: max(1, len(part) // 4)].mean(axis=0)
    way = ends[0] - ends[1]
    length = float(np.hypot(*way))
    if length < 1e-9:
        way, length = line[-1] - line[0] + np.array([0.0, -1e-9]), 1.0
    return way / max(float(np.hypot(*way)), 1e-12), float(np.median(wide[first:stop]))
