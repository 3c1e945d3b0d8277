"""Neighbours: which parts touch away from their joint, and between which the slurry hardly goes.

Two parts touch where their cells stand side by side and neither grows on the
other.  A gap is the distance between places on the surfaces of two parts that
face each other; near a joint all gaps are small, so parts that share a joint
are compared only away from it.
"""

import numpy as np
from scipy.spatial import cKDTree

from pourcast import units as si
from pourcast.scan.model import Cells, Field, ScannedPart, Walls
from pourcast.scan.reach import STEPS

NARROW = 1e-3
"""A gap that slurry hardly enters [m]; common practice, no source."""

_ASIDE = 4  # cells from a joint, within which a contact is that of the joint
_FEWEST = 3  # contacts or places, fewer are noise
_FACING = -0.3  # cosine between the two surfaces


def touching_parts(
    cells: Cells, field: Field, part: si.Integers, parts: tuple[ScannedPart, ...]
) -> tuple[tuple[int, int], ...]:
    """Return the pairs of parts that touch away from their joint.

    Parameters
    ----------
    cells : Cells
    field : Field
    part : array of int, shape (cells,)
        -1: none.
    parts : tuple of ScannedPart

    Returns
    -------
    tuple of (int, int)
    """
    grid = np.full(tuple(n + 2 for n in field.share.shape), -1, dtype=np.int32)
    grid[tuple((cells.place + 1).T)] = part
    met: dict[tuple[int, int], list[si.Metres]] = {}
    middle = field.origin + field.cell * (cells.place + 0.5)
    for step in STEPS[len(STEPS) // 2 :]:
        other = grid[tuple((cells.place + 1 + step).T)]
        apart = np.flatnonzero((other >= 0) & (part >= 0) & (other != part))
        for a, b, at in zip(part[apart], other[apart], middle[apart], strict=True):
            pair = (int(min(a, b)), int(max(a, b)))
            if parts[pair[0]].parent != pair[1] and parts[pair[1]].parent != pair[0]:
                met.setdefault(pair, []).append(at)
    aside = _ASIDE * field.cell
    found = []
    for (a, b), places in met.items():
        base = np.stack([parts[a].line[0], parts[b].line[0]])
        near = aside + 0.5 * max(parts[a].widest, parts[b].widest)
        apart_ = np.linalg.norm(np.array(places)[:, None] - base[None], axis=2).min(axis=1)
        if (apart_ > near).sum() >= _FEWEST:
            found.append((a, b))
    return tuple(sorted(found))


def narrow_gaps(
    walls: Walls, part: si.Integers, parts: tuple[ScannedPart, ...]
) -> tuple[tuple[int, int, si.Metre], ...]:
    """Return neighbours with a gap below `NARROW`, and the gap.

    Parameters
    ----------
    walls : Walls
    part : array of int, shape (samples,)
        -1: none.
    parts : tuple of ScannedPart

    Returns
    -------
    tuple of (int, int, float [m])
    """
    good = np.flatnonzero(part >= 0)
    place = walls.place[good]
    own, inward = part[good], walls.inward[good]
    pairs = cKDTree(place).query_pairs(NARROW, output_type="ndarray")
    a, b = pairs[:, 0], pairs[:, 1]
    other = own[a] != own[b]
    a, b = a[other], b[other]
    way = place[b] - place[a]
    size = np.linalg.norm(way, axis=1)
    facing = np.einsum("ij,ij->i", inward[a], inward[b]) < _FACING
    # The way from one to the other must leave the first and enter the second.
    out = np.einsum("ij,ij->i", way, inward[a]) < -0.5 * size
    a, b, size = a[facing & out], b[facing & out], size[facing & out]
    best: dict[tuple[int, int], list[float]] = {}
    for p, q, at, gap in zip(own[a], own[b], place[a], size, strict=True):
        pair = (int(min(p, q)), int(max(p, q)))
        reach = max(parts[p].widest, parts[q].widest) + NARROW
        joint = min(
            float(np.linalg.norm(at - parts[p].line[0])),
            float(np.linalg.norm(at - parts[q].line[0])),
        )
        if joint > reach:
            best.setdefault(pair, []).append(float(gap))
    return tuple((*pair, min(gaps)) for pair, gaps in sorted(best.items()) if len(gaps) >= _FEWEST)
