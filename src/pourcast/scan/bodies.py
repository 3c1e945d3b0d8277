"""Bodies: which closed surfaces of a file hang on which.

A file of an insect often holds a closed surface for each leg and for the trunk,
pushed into each other.  Each is a body.  A cell belongs to the body nearest to
the gate that fills half of it or more, else to the one that fills most of it,
so that a leg begins where it comes out of the trunk.

Two bodies touch where they share a cell or stand in neighbouring ones.  Bodies
that touch nothing but come within `GAP` are joined by a row of empty cells.
What is still apart is loose.

From the gate on, the body with the most contact to what is joined already is
joined next, and hangs on the body that it has that contact with.
"""

import numpy as np
from scipy import ndimage
from scipy.spatial import cKDTree

from pourcast import units as si
from pourcast.scan.model import Cleaned, Field, Mesh
from pourcast.scan.share import share_of

GAP = 2
"""Cells between two bodies that are still joined; estimate: 1 mm in cells of 0.5 mm."""

MOST_BODIES = 400
"""A file with more closed surfaces is taken as a whole; our own choice."""

_LEAST_CELLS = 2.0  # a body of less volume, in cells, is none; estimate
_TORN = 0.02  # of the area in holes: surfaces in pieces are then no bodies; estimate


def bodies_of(cleaned: Cleaned, field: Field) -> tuple[si.Integers, si.Integers, si.Ratios]:
    """Return the cells of each body.

    Parameters
    ----------
    cleaned : Cleaned
    field : Field
        Of the whole mesh.

    Returns
    -------
    place : array of int, shape (entries, 3)
        A cell that lies in two bodies stands there twice.
    body : array of int, shape (entries,)
    share : array [-], shape (entries,)
        Of the cell in that body alone.
    """
    shells = int(cleaned.shell.max()) + 1
    if shells == 1 or shells > MOST_BODIES or cleaned.hole_share > _TORN or field.by_winding:
        return _in_one_piece(field)
    places, shares = [], []
    for shell in range(shells):
        faces = cleaned.mesh.faces[cleaned.shell == shell]
        used, faces = np.unique(faces, return_inverse=True)
        mesh = Mesh(vertices=cleaned.mesh.vertices[used], faces=faces.reshape(-1, 3))
        own = share_of(mesh, cell=field.cell)
        place = np.argwhere(own.share > 0)
        share = own.share[tuple(place.T)]
        if float(share.sum()) < _LEAST_CELLS:
            continue
        places.append(place + np.rint((own.origin - field.origin) / field.cell).astype(np.int64))
        shares.append(share)
    if not places:
        return _in_one_piece(field)
    order = np.argsort([-float(share.sum()) for share in shares], kind="stable")
    body = np.repeat(np.arange(len(order)), [len(places[k]) for k in order])
    return (
        np.concatenate([places[k] for k in order]),
        body,
        np.concatenate([shares[k] for k in order]),
    )


def _in_one_piece(field: Field) -> tuple[si.Integers, si.Integers, si.Ratios]:
    """Return the pieces that the cells of the whole mesh fall into, as bodies."""
    label, number = ndimage.label(field.share > 0, structure=np.ones((3, 3, 3)))
    volume = np.bincount(label.ravel(), weights=field.share.ravel(), minlength=number + 1)
    volume[0] = 0.0
    rank = np.empty(number + 1, dtype=np.int64)
    rank[np.argsort(-volume, kind="stable")] = np.arange(number + 1)
    keep = volume >= min(_LEAST_CELLS, volume.max())
    place = np.argwhere(label > 0)
    of_cell = label[tuple(place.T)]
    good = keep[of_cell]
    place, of_cell = place[good], of_cell[good]
    return place, rank[of_cell], field.share[tuple(place.T)]


def contacts(place: si.Integers, body: si.Integers, shape: tuple[int, ...]) -> si.Integers:
    """Return how many cells each two bodies share or have beside each other.

    Parameters
    ----------
    place : array of int, shape (entries, 3)
    body : array of int, shape (entries,)
    shape : tuple of int
        Of the grid.

    Returns
    -------
    array of int, shape (bodies, bodies)
    """
    many = int(body.max()) + 1
    found = np.zeros((many, many), dtype=np.int64)
    if many == 1:
        return found
    flat = np.ravel_multi_index(tuple(place.T), shape)
    order = np.argsort(flat, kind="stable")
    flat, owner = flat[order], body[order]
    for way in (0, 1, shape[2], shape[1] * shape[2]):
        # A cell holds few bodies; look at the first four entries of the neighbour.
        at = np.searchsorted(flat, flat + way)
        for k in range(4):
            index = np.minimum(at + k, len(flat) - 1)
            met = (flat[index] == flat + way) & (owner[index] != owner)
            np.add.at(found, (owner[met], owner[index[met]]), 1)
    return found + found.T


def hung(touch: si.Integers, first: int) -> si.Integers:
    """Return the body that each body hangs on.

    Parameters
    ----------
    touch : array of int, shape (bodies, bodies)
        From `contacts`.
    first : int
        Body that the gate is on.

    Returns
    -------
    array of int, shape (bodies,)
        -1 for the first; -2 for one that nothing leads to.
    """
    hangs = np.full(len(touch), -2, dtype=np.int64)
    hangs[first] = -1
    best, over = touch[first].copy(), np.full(len(touch), first)
    best[first] = 0
    while best.any():
        # The strongest contact first: a leg that grazes its neighbour still hangs on the trunk.
        body = int(best.argmax())
        hangs[body] = over[body]
        best[body] = 0
        more = (touch[body] > best) & (hangs == -2)
        best[more], over[more] = touch[body][more], body
    return hangs


def bridged(
    place: si.Integers, body: si.Integers, touch: si.Integers, hangs: si.Integers
) -> tuple[si.Integers, si.Integers, si.Integers]:
    """Join bodies that come within `GAP` of what hangs on the gate.

    Parameters
    ----------
    place : array of int, shape (entries, 3)
    body : array of int, shape (entries,)
    touch : array of int, shape (bodies, bodies)
    hangs : array of int, shape (bodies,)
        From `hung`.

    Returns
    -------
    place : array of int, shape (bridges, 3)
        Cells to be added.
    body : array of int, shape (bridges,)
    touch : array of int, shape (bodies, bodies)
        With the contacts that the bridges make.
    """
    added: list[si.Integers] = []
    owners: list[si.Integers] = []
    touch = touch.copy()
    near = hangs != -2
    while not near.all():
        tree_entries = np.flatnonzero(near[body])
        tree = cKDTree(place[tree_entries])
        left = np.flatnonzero(~near[body])
        apart, nearest = tree.query(place[left], distance_upper_bound=GAP + 1.8)
        if not np.isfinite(apart).any():
            break
        best = int(apart.argmin())
        child, parent = body[left[best]], body[tree_entries[nearest[best]]]
        start, end = place[tree_entries[nearest[best]]], place[left[best]]
        steps = int(np.abs(end - start).max())
        row = start + np.rint(np.arange(1, steps)[:, None] / steps * (end - start)).astype(np.int64)
        added.append(row)
        owners.append(np.full(len(row), child))
        touch[child, parent] = touch[parent, child] = max(1, touch[child, parent])
        near[child] = True
        while True:
            more = touch[near].any(axis=0) & ~near
            if not more.any():
                break
            near |= more
    none = np.zeros((0, 3), dtype=np.int64)
    return (
        np.concatenate([none, *added]),
        np.concatenate([np.zeros(0, dtype=np.int64), *owners]),
        touch,
    )
