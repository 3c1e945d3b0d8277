"""Parts: which pieces and which places of the surface make up one part.

Strands are cut into parts; the parts of one strand grow on each other.  Blades
of like thickness that lie on a blade are its lobes and go back to it.  Where a
part leaves another one the pieces do not tell the two apart: what lies outside
the section of the parent goes to the nearest child.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.scan.cuts import cut, is_flat
from pourcast.scan.lines import Line, line_through
from pourcast.scan.model import Cells, Field, Pieces, Walls
from pourcast.scan.slices import Slices, cell_of
from pourcast.scan.strands import Strand

_LOBE_WALL = 1.5  # ratio of thickness of a lobe and its blade
_SLIGHT = 0.35  # of the parent's wall; the foot of a thinner child is not seen in it
_BESIDE = 0.5  # cosine of 60°
_OUTSIDE = 1.15  # of the half section of the parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Gathered:
    """One part, before it is measured.

    Parameters
    ----------
    pieces : tuple of int
        In their order along the part.
    parent : int
        -1: the gate.
    serial : bool
        True if it goes on where its parent ends.
    line : Line
    flat : bool
    lobes : tuple of int
        Pieces of the lobes, and of ends that are no parts.
    """

    pieces: tuple[int, ...]
    parent: int
    serial: bool
    line: Line
    flat: bool
    lobes: tuple[int, ...] = ()


def gathered(
    strands: list[Strand], into: si.Integers, pieces: Pieces, slices: Slices
) -> list[Gathered]:
    """Return the parts, each after its parent.

    Parameters
    ----------
    strands : list of Strand
    into : array of int, shape (pieces,)
        From `pourcast.scan.strands.pruned`.
    pieces : Pieces
    slices : Slices

    Returns
    -------
    list of Gathered
    """
    forks = feet(strands, pieces, slices)
    owner = np.full(len(pieces.parent), -1, dtype=np.int64)
    made: list[tuple[list[int], int, bool]] = []
    for strand in strands:
        parent = int(owner[strand.leaves]) if strand.leaves >= 0 else -1
        hidden = 0.5 * _middle(slices.through[made[parent][0]]) if parent >= 0 else 0.0
        passed = _passed(strand, pieces)
        for k, part in enumerate(cut(strand, pieces, slices, forks, hidden=hidden, passed=passed)):
            owner[part] = len(made)
            made.append((part, parent if k == 0 else len(made) - 1, k > 0))
    return _with_lines(_without_lobes(made, slices), into, pieces, slices, forks)


def _passed(strand: Strand, pieces: Pieces) -> int:
    """Return how many bands lie between a strand and the place that it leaves its parent."""
    if strand.leaves < 0:
        return 0
    return max(0, int(pieces.band[strand.pieces[0]] - pieces.band[strand.leaves]) - 1)


def feet(strands: list[Strand], pieces: Pieces, slices: Slices) -> si.Booleans:
    """Say which pieces hold the foot of another strand.

    Parameters
    ----------
    strands : list of Strand
    pieces : Pieces
    slices : Slices

    Returns
    -------
    array of bool, shape (pieces,)
    """
    marks = np.zeros(len(pieces.parent), dtype=bool)
    for strand in strands:
        if strand.leaves < 0:
            continue
        line = strands[strand.parent].pieces
        at = line.index(strand.leaves)
        # A foot at a slant is about twice as long as the part is thick.
        half = _middle(slices.through[list(strand.pieces[1:7])])
        wide = _middle(slices.wide[list(strand.pieces[1:7])])
        if wide < _SLIGHT * _middle(slices.through[list(line[max(0, at - 6) : at + 7])]):
            continue
        reach = int(np.ceil(half / pieces.step)) + 1
        marks[list(line[max(0, at - reach) : at + reach + 1])] = True
    return marks


def _without_lobes(
    made: list[tuple[list[int], int, bool]], slices: Slices
) -> list[tuple[list[int], int, bool, list[int]]]:
    """Give lobes back to their blades."""
    home = list(range(len(made)))
    lobes: list[list[int]] = [[] for _ in made]
    for k, (part, parent, _) in enumerate(made):
        if parent < 0 or home[parent] == k:
            continue
        blade = home[parent]
        both = is_flat(part, slices) and is_flat(made[blade][0], slices)
        wall = _middle(slices.through[part]) / _middle(slices.through[made[blade][0]])
        # The broad way of a short lobe is not well told; it need not lie in the plane.
        alike = len(part) < 0.5 * len(made[blade][0]) or _coplanar(part, made[blade][0], slices)
        if both and 1 / _LOBE_WALL < wall < _LOBE_WALL and alike:
            home[k] = blade
            lobes[blade] += part
    kept = [k for k in range(len(made)) if home[k] == k]
    number = {k: i for i, k in enumerate(kept)}
    return [
        (
            made[k][0],
            number[home[made[k][1]]] if made[k][1] >= 0 else -1,
            made[k][2] and home[made[k][1]] == made[k][1],
            lobes[k],
        )
        for k in kept
    ]


def _coplanar(part: list[int], other: list[int], slices: Slices) -> bool:
    """Say whether two blades lie in one plane, as far as their broad ways tell."""
    normal = [_normal(line, slices) for line in (part, other)]
    return abs(float(normal[0] @ normal[1])) > 0.8


def _normal(part: list[int], slices: Slices) -> si.Ratios:
    square = np.cross(slices.direction[part], slices.across[part])
    # Normals of the two sides count alike.
    spread = square.T @ square
    out: si.Ratios = np.linalg.eigh(spread)[1][:, -1]
    return out


def _middle(values: si.Metres) -> si.Metre:
    good = values[np.isfinite(values)]
    return float(np.median(good)) if len(good) else 1e-9


def _with_lines(
    made: list[tuple[list[int], int, bool, list[int]]],
    into: si.Integers,
    pieces: Pieces,
    slices: Slices,
    forks: si.Booleans,
) -> list[Gathered]:
    reach = float(slices.wide.max()) + 3 * pieces.step
    ends: dict[int, list[int]] = {}
    for k in np.flatnonzero(into != np.arange(len(into))).tolist():
        ends.setdefault(int(into[k]), []).append(k)
    out = []
    for part, parent, serial, lobes in made:
        line = np.array(part)
        clear = ~forks[line]
        if clear.sum() < 2:
            clear = np.ones(len(line), dtype=bool)
        weights = np.where(clear, 1.0, 0.02)
        # The first piece leans to the parent, the last is cut off askew.
        if len(line) > 3:
            weights[[0, -1]] *= 0.1
        out.append(
            Gathered(
                pieces=tuple(part),
                parent=parent,
                serial=serial,
                line=line_through(
                    pieces.middle[line],
                    weights,
                    beyond=reach,
                    toward=slices.direction[line].mean(axis=0) + 1e-9,
                ),
                flat=is_flat(part, slices),
                lobes=tuple(lobes + [e for k in [*part, *lobes] for e in ends.get(k, [])]),
            )
        )
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class Owners:
    """Part of each place of the surface and of each cell; -1: none."""

    sample: si.Integers
    cell: si.Integers


def owners(
    parts: list[Gathered], cells: Cells, field: Field, pieces: Pieces, slices: Slices, walls: Walls
) -> Owners:
    """Return which part each place of the surface and each cell belongs to.

    Parameters
    ----------
    parts : list of Gathered
    cells : Cells
    field : Field
    pieces : Pieces
    slices : Slices
    walls : Walls

    Returns
    -------
    Owners
    """
    of_piece = np.full(len(pieces.parent), -1, dtype=np.int64)
    for k, part in enumerate(parts):
        of_piece[[*part.pieces, *part.lobes]] = k
    cell = np.where(pieces.of_cell >= 0, of_piece[np.maximum(pieces.of_cell, 0)], -1)
    under = cell_of(walls, cells, field)
    sample = np.where(under >= 0, cell[np.maximum(under, 0)], -1)
    middle = field.origin + field.cell * (cells.place + 0.5)
    for k, part in enumerate(parts):
        children = [j for j, other in enumerate(parts) if other.parent == k and not other.serial]
        if not children or part.flat:
            continue
        half = 0.5 * _middle(slices.through[list(part.pieces)])
        for owner, place, loose in (
            (cell, middle, 0.5 * field.cell),
            (sample, walls.place, 0.0),
        ):
            own = np.flatnonzero(owner == k)
            _, off = part.line.feet(place[own])
            apart = np.linalg.norm(off, axis=1)
            out = own[apart > _OUTSIDE * half + loose]
            if len(out):
                owner[out] = _nearest(place[out], k, children, parts, slices)
            if owner is sample:
                _give_skin(owner, own[apart <= _OUTSIDE * half], k, children, parts, slices, place)
    return Owners(sample=sample, cell=cell)


def _give_skin(
    owner: si.Integers,
    own: si.Integers,
    parent: int,
    children: list[int],
    parts: list[Gathered],
    slices: Slices,
    place: si.Metres,
) -> None:
    """Give a child the surface about its line, where its foot hides the end of the parent."""
    for child in children:
        line = parts[child].line
        half = 0.5 * _middle(slices.through[list(parts[child].pieces)])
        if parts[child].flat:
            continue
        along, off = line.feet(place[own])
        apart = np.linalg.norm(off, axis=1)
        skin = (apart > 0.6 * half) & (apart < 1.2 * half) & (along < line.end)
        heading = parts[parent].line.toward(parts[parent].line.end)
        # Only where the child runs on beside its parent; at the side its foot is short.
        if float(line.toward(0.0) @ heading) > _BESIDE:
            owner[own[skin]] = child


def _nearest(
    place: si.Metres, parent: int, children: list[int], parts: list[Gathered], slices: Slices
) -> si.Integers:
    """Return the child whose line comes nearest, or the parent where none is near."""
    best = np.full(len(place), np.inf)
    who = np.full(len(place), parent)
    for child in children:
        line = parts[child].line
        along, off = line.feet(place)
        half = 0.5 * _middle(slices.wide[list(parts[child].pieces)])
        apart = np.linalg.norm(off, axis=1)
        good = (apart < 1.6 * half + 5e-4) & (along < line.end) & (apart < best)
        best[good], who[good] = apart[good], child
    return who
