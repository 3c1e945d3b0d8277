"""Strokes: which branches of the skeleton go on from each other, and what grows on what?

At each fork the two branches that run on most straightly, and are most alike in
width, are one stroke.  The stroke that begins at the foot of the original is
the first; one that ends on a fork of a stroke that is known grows there.  Where
two strokes cross in the picture neither ends, so neither grows on the other.
A stroke that hangs on others by its crossings alone is cut there.

Limits of angle and width: estimates, tried on plants of our own rule.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from pourcast.photo.model import Pixel, Pixels
from pourcast.photo.skeleton import Skeleton, away_from

_STRAIGHT = math.radians(35.0)  # more than this is a turn, not a way on
_UNLIKE = math.radians(15.0)  # an e-fold of width counts as much as this angle
_MOST = math.radians(45.0)  # angle and unlikeness together


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A chain of branches, from base to tip.

    Parameters
    ----------
    line : array [px], shape (places, 2)
    radius : array [px], shape (places,)
    nodes : tuple of int
        Forks and ends along it, the first and the last its ends.
    parent : int
        Among the strokes; -1: the foot.
    joined : int
        Stroke that its tip runs into; -1: none.
    """

    line: Pixels
    radius: Pixels
    nodes: tuple[int, ...]
    parent: int = -1
    joined: int = -1


def strokes(
    bones: Skeleton, foot: tuple[Pixel, Pixel]
) -> tuple[tuple[Stroke, ...], tuple[int, ...]]:
    """Return the strokes, a parent before its children, and the nodes where two cross.

    Parameters
    ----------
    bones : Skeleton
    foot : pair of float [px]
        Where the original meets its button.

    Returns
    -------
    tuple of Stroke
    tuple of int
    """
    ends = np.flatnonzero(bones.degree == 1)
    if not ends.size:
        ends = np.arange(len(bones.degree))
    tip = bones.place[ends] - np.array(foot)
    root = int(ends[np.argmin(np.hypot(*tip.T) - bones.radius[ends])])
    chains = list(_chains(bones, _pairs(bones)))
    return _grown(bones, chains, root)


Half = tuple[int, int]
"""A branch and one of its ends."""


def _pairs(bones: Skeleton) -> dict[Half, Half]:
    """Which branch end goes on as which, at each fork."""
    at: dict[int, list[Half]] = {}
    for number, branch in enumerate(bones.branches):
        at.setdefault(branch.ends[0], []).append((number, 0))
        at.setdefault(branch.ends[1], []).append((number, 1))
    on: dict[Half, Half] = {}
    for node, halves in at.items():
        ways = [
            away_from(bones.branches[n], end, bones.place[node], bones.radius[node])
            for n, end in halves
        ]
        choices = []
        for i, (way, wide) in enumerate(ways):
            for j in range(i):
                other, width = ways[j]
                turn = math.acos(max(-1.0, min(1.0, -float(way @ other))))
                cost = turn + _UNLIKE * abs(math.log(wide / width))
                if halves[i][0] != halves[j][0] and turn < _STRAIGHT and cost < _MOST:
                    # Of two ways on the wider is the stem.
                    choices.append((cost - 0.002 * min(wide, width), i, j))
        used: set[int] = set()
        for _, i, j in sorted(choices):
            if i not in used and j not in used:
                used |= {i, j}
                on[halves[i]], on[halves[j]] = halves[j], halves[i]
    return on


def _chains(bones: Skeleton, on: dict[Half, Half]) -> Iterator[list[Half]]:
    """Return branches in their order along each stroke, each with the end it is entered by."""
    done: set[int] = set()
    starts = [(n, e) for n in range(len(bones.branches)) for e in (0, 1) if (n, e) not in on]
    rings = [(n, 0) for n in range(len(bones.branches))]
    for start in starts + rings:
        if start[0] in done:
            continue
        chain = [start]
        done.add(start[0])
        while True:
            number, end = chain[-1]
            onward = on.get((number, 1 - end))
            if onward is None or onward[0] in done:
                break
            chain.append(onward)
            done.add(onward[0])
        yield chain


def _stroke(bones: Skeleton, chain: list[Half]) -> Stroke:
    lines, radii, nodes = [], [], []
    for number, end in chain:
        branch = bones.branches[number]
        lines.append(branch.line if end == 0 else branch.line[::-1])
        radii.append(branch.radius if end == 0 else branch.radius[::-1])
        nodes.append(branch.ends[end])
    number, end = chain[-1]
    nodes.append(bones.branches[number].ends[1 - end])
    return Stroke(line=np.concatenate(lines), radius=np.concatenate(radii), nodes=tuple(nodes))


def _turned(chain: list[Half]) -> list[Half]:
    return [(number, 1 - end) for number, end in reversed(chain)]


def _grown(
    bones: Skeleton, chains: list[list[Half]], root: int
) -> tuple[tuple[Stroke, ...], tuple[int, ...]]:
    rest = [(chain, _stroke(bones, chain)) for chain in chains]
    first = next(
        (i for i, (_, s) in enumerate(rest) if root in (s.nodes[0], s.nodes[-1])),
        next((i for i, (_, s) in enumerate(rest) if root in s.nodes), 0),
    )
    chain, stroke = rest.pop(first)
    if stroke.nodes[-1] == root:
        stroke = _stroke(bones, _turned(chain))
    made = [stroke]
    crossed: list[int] = []
    while rest:
        found = _next(made, rest)
        if found is not None:
            owner, index, turn = found
            chain, stroke = rest.pop(index)
            if turn:
                stroke = _stroke(bones, _turned(chain))
            made.append(
                Stroke(line=stroke.line, radius=stroke.radius, nodes=stroke.nodes, parent=owner)
            )
            continue
        cut = _cut(made, rest)
        if cut is None:
            break
        index, place = cut
        chain, _ = rest.pop(index)
        for piece in (chain[:place], chain[place:]):
            rest.append((piece, _stroke(bones, piece)))
    crossed = [n for n in range(len(bones.degree)) if sum(n in s.nodes[1:-1] for s in made) >= 2]
    return tuple(_joins(made)), tuple(crossed)


def _next(
    made: list[Stroke], rest: list[tuple[list[Half], Stroke]]
) -> tuple[int, int, bool] | None:
    """Return a stroke that ends on one that is known: owner, which, whether to turn it."""
    for owner, known in enumerate(made):
        for index, (_, stroke) in enumerate(rest):
            if stroke.nodes[0] in known.nodes:
                return owner, index, False
            if stroke.nodes[-1] in known.nodes:
                return owner, index, True
    return None


def _cut(made: list[Stroke], rest: list[tuple[list[Half], Stroke]]) -> tuple[int, int] | None:
    """Return a stroke that only crosses those that are known, and where."""
    known = {n for stroke in made for n in stroke.nodes}
    for index, (chain, stroke) in enumerate(rest):
        for place in range(1, len(chain)):
            if stroke.nodes[place] in known:
                return index, place
    return None


def _joins(made: list[Stroke]) -> Iterator[Stroke]:
    """Note where a tip runs into another stroke."""
    for number, stroke in enumerate(made):
        tip = stroke.nodes[-1]
        others = (
            k for k, s in enumerate(made) if k not in (number, stroke.parent) and tip in s.nodes[1:]
        )
        other = next(others, -1)
        yield Stroke(
            line=stroke.line,
            radius=stroke.radius,
            nodes=stroke.nodes,
            parent=stroke.parent,
            joined=other,
        )
