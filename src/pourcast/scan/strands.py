"""Strands: which pieces follow each other as one stem, branch or leaf.

The tree of pieces is pruned first: an end shorter than half the width of what
it leaves is the wave front that splits at a corner, not a part.  A strand then
runs from a fork to an end; at a fork it goes on into the child that is straight
on, if there is one.  A short, wide way from fork to fork is several parts that
are not yet apart, and they all grow on the strand before it.

The limits here are our own choice, tried on a few drawn plants (estimate).
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.scan.model import Pieces
from pourcast.scan.slices import Slices

_STRAIGHT = 0.93  # cosine of 22°; a child more to the side is a part of its own
_LOOK = 8  # pieces looked at on both sides of a fork
_PULLED = 1.12  # of the usual width, from which a piece holds the foot of a child
_LIMB = 2.0  # widths of a body over that of one that bends on from it, at most; estimate
_LEAST = 1.5  # bands; a shorter end is none
_END_OF_WIDTH = 0.5
_END_OF_WALL = 0.6
_BUNDLE = 1.45  # width over thickness of rods that are not yet apart
_NOT_APART = 1.2  # of the width


@dataclass(frozen=True, slots=True, kw_only=True)
class Strand:
    """Pieces from a fork to an end, in their order.

    Parameters
    ----------
    pieces : tuple of int
    parent : int
        Strand that it grows on; -1: the gate.
    leaves : int
        Piece of the parent that it leaves from; -1: the gate.
    """

    pieces: tuple[int, ...]
    parent: int
    leaves: int


def pruned(pieces: Pieces, slices: Slices) -> tuple[si.Integers, list[list[int]], int]:
    """Return the tree without ends that are no parts.

    Parameters
    ----------
    pieces : Pieces
    slices : Slices

    Returns
    -------
    into : array of int, shape (pieces,)
        Piece that each piece belongs to now; its own number where it stays.
    children : list of lists of int
        Of the pieces that stay.
    dropped : int
        How many ends went.
    """
    many = len(pieces.parent)
    parent = pieces.parent
    children: list[list[int]] = [[] for _ in range(many)]
    for k in range(many):
        if parent[k] >= 0:
            children[parent[k]].append(k)
    into = np.arange(many)
    dropped = 0
    feet = _feet(pieces)
    ends = [k for k in range(many) if not children[k]]
    # Short ends first: what a short end leaves behind may be an end in its turn.
    ends.sort(key=lambda k: -int(pieces.band[k]))
    while ends:
        end = ends.pop()
        chain = [end]
        while parent[chain[-1]] >= 0 and len(children[parent[chain[-1]]]) == 1:
            chain.append(int(parent[chain[-1]]))
        fork = int(parent[chain[-1]])
        if fork < 0:
            continue
        if pieces.shell[chain[-1]] != pieces.shell[fork]:
            # A body of its own is a part, however short; but it has one foot.
            foot = feet.get(int(pieces.shell[end]), chain[-1])
            if foot != chain[-1] and _is_corner(chain, pieces, slices):
                children[fork].remove(chain[-1])
                into[chain] = foot
                dropped += 1
            continue
        length = len(chain) * pieces.step
        wall = slices.through[fork]
        least = max(
            _LEAST * pieces.step,
            _END_OF_WIDTH * float(slices.wide[fork]),
            _END_OF_WALL * float(wall) if np.isfinite(wall) else 0.0,
        )
        if length < least:
            children[fork].remove(chain[-1])
            for k in chain:
                into[k] = fork
                children[k] = []
            dropped += 1
            if not children[fork]:
                ends.append(fork)
    for k in range(many):
        while into[into[k]] != into[k]:
            into[k] = into[into[k]]
    return into, children, dropped


def _feet(pieces: Pieces) -> dict[int, int]:
    """Return the piece by which most of each body hangs on another one."""
    parent, shell = pieces.parent, pieces.shell
    held = np.array(pieces.volume, dtype=np.float64)
    # Farthest from the gate first, so that each piece hands on all that it bears.
    order = np.argsort(-pieces.band, kind="stable")
    best: dict[int, int] = {}
    for k in order.tolist():
        if parent[k] >= 0 and shell[parent[k]] == shell[k]:
            held[parent[k]] += held[k]
        elif parent[k] >= 0 and held[k] > held[best.get(int(shell[k]), k)] * (1 - 1e-12):
            best[int(shell[k])] = k
    return best


def _is_corner(chain: list[int], pieces: Pieces, slices: Slices) -> bool:
    """Say whether a second foot of a body is a corner of its base.

    A corner is no farther from the middle of the foot than half the body is wide, and
    twice as far out the body is seen in its whole width.
    """
    near = pieces.band <= pieces.band[chain[0]] + len(chain)
    wide = float(slices.wide[near & (pieces.shell == pieces.shell[chain[0]])].max())
    return len(chain) * pieces.step < max(_LEAST, 1.0) * pieces.step + _END_OF_WIDTH * wide


def strands_of(pieces: Pieces, slices: Slices, children: list[list[int]]) -> list[Strand]:
    """Return the strands, each after the one that it grows on.

    Parameters
    ----------
    pieces : Pieces
    slices : Slices
    children : list of lists of int
        From `pruned`.

    Returns
    -------
    list of Strand
    """
    roots = [k for k in range(len(pieces.parent)) if pieces.parent[k] < 0]
    made: list[Strand] = []
    waiting = [(root, -1, -1) for root in roots]
    while waiting:
        start, parent, leaves = waiting.pop(0)
        line = [start]
        off: list[tuple[int, int]] = []
        while True:
            grown = _apart(line[-1], line, pieces, slices, children)
            if not grown:
                break
            onward = _onward(line, grown, pieces, slices, children)
            off += [(k, line[-1]) for k in grown if k != onward]
            if onward is None:
                break
            # Pieces that are skipped on the way to a child that was not yet apart belong to it.
            line += [*_between(line[-1], onward, pieces), onward]
        me = len(made)
        made.append(Strand(pieces=tuple(line), parent=parent, leaves=leaves))
        waiting += [(k, me, fork) for k, fork in off]
    return made


def _between(fork: int, child: int, pieces: Pieces) -> list[int]:
    way: list[int] = []
    k = int(pieces.parent[child])
    while k not in (fork, -1):
        way.append(k)
        k = int(pieces.parent[k])
    return way[::-1]


def _chain(first: int, children: list[list[int]]) -> list[int]:
    """Return the pieces from one up to the next fork."""
    line = [first]
    while len(children[line[-1]]) == 1:
        line.append(children[line[-1]][0])
    return line


def _apart(
    fork: int, line: list[int], pieces: Pieces, slices: Slices, children: list[list[int]]
) -> list[int]:
    """Return the children of a piece, those that are not yet apart taken apart."""
    grown: list[int] = []
    waiting = list(children[fork])
    if len(waiting) < 2:
        return waiting
    wall = _median(slices.through[line[-_LOOK:]])
    while waiting:
        child = waiting.pop(0)
        chain = _chain(child, children)
        inner = len(children[chain[-1]]) > 1
        short = len(chain) * pieces.step < max(
            3 * pieces.step, _NOT_APART * _median(slices.wide[chain])
        )
        thick = _median(slices.through[chain])
        # Several rods side by side are wider than they are thick, a head is not.
        bundle = _median(slices.wide[chain]) > _BUNDLE * thick and thick < 0.75 * wall
        same = pieces.shell[child] == pieces.shell[fork]
        if inner and short and bundle and same:
            waiting += children[chain[-1]]
        else:
            grown.append(child)
    return grown


def _onward(
    line: list[int],
    grown: list[int],
    pieces: Pieces,
    slices: Slices,
    children: list[list[int]],
) -> int | None:
    """Return the child that a strand goes on into; None: it ends in a fork."""
    own = [k for k in grown if pieces.shell[k] == pieces.shell[line[-1]]]
    # A body goes on in itself; what else touches it grows on it.
    among = own or grown
    if len(among) == 1 and (own or not _thinner(line, among[0], slices, children)):
        return among[0]
    return _straight_on(line, among, pieces, slices, children)


def _thinner(line: list[int], child: int, slices: Slices, children: list[list[int]]) -> bool:
    """Say whether a body is too thin to go on where another one ends, unless straight on.

    A shin is nearly as thick as its thigh; a feeler on the side of a head is not.
    """
    ahead = _chain(child, children)[:_LOOK]
    return _median(slices.wide[line[-_LOOK:]]) > _LIMB * _median(slices.wide[ahead])


def _straight_on(
    line: list[int],
    grown: list[int],
    pieces: Pieces,
    slices: Slices,
    children: list[list[int]],
) -> int | None:
    """Return the child that goes straight on; None: there is none."""
    # The foot of a child pulls the middle of the last pieces aside: they are passed over.
    recent = line[-2 * _LOOK :]
    usual = _median(slices.wide[recent])
    back = [k for k in recent if slices.wide[k] < _PULLED * usual][-_LOOK:]
    if len(back) < 2:
        back = recent
    came = pieces.middle[back[-1]] - pieces.middle[back[0]]
    long = float(np.linalg.norm(came))
    best: tuple[float, int] | None = None
    for child in grown:
        chain = _chain(child, children)
        while len(chain) < _LOOK and children[chain[-1]]:
            heaviest = max(children[chain[-1]], key=lambda k: float(pieces.volume[k]))
            chain.append(heaviest)
        ahead = chain[1:_LOOK] or chain
        goes = pieces.middle[ahead].mean(axis=0) - pieces.middle[back[-1]]
        far = float(np.linalg.norm(goes))
        if long == 0.0 or far == 0.0:
            cosine = 1.0 if child == max(grown, key=lambda k: float(pieces.volume[k])) else 0.0
        else:
            cosine = float(came @ goes) / long / far
        if cosine > _STRAIGHT and (best is None or cosine > best[0]):
            best = (cosine, child)
    return None if best is None else best[1]


def _median(values: si.Metres) -> si.Metre:
    good = values[np.isfinite(values)]
    return float(np.median(good)) if len(good) else 0.0
