"""Solve: from a mesh to the network of parts."""

from collections.abc import Callable
from dataclasses import replace
from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.scan.clean import clean
from pourcast.scan.measure import measured_parts
from pourcast.scan.model import Cleaned, Field, Mesh, Scanned, ScannedPart
from pourcast.scan.neighbours import narrow_gaps, touching_parts
from pourcast.scan.parts import gathered, owners
from pourcast.scan.pieces import Gate, cells_of, slice_up
from pourcast.scan.share import mended, share_of
from pourcast.scan.slices import measured
from pourcast.scan.solids import with_volumes
from pourcast.scan.strands import pruned, strands_of
from pourcast.scan.walls import walls_of

CELL = 5e-4
"""Side of a cell [m]: fine enough for stalks of 1 mm, and finer finds no more parts."""

Step = Literal["surface", "inside", "ways", "walls", "parts"]
"""Of the work, in this order."""

LEAST_LENGTH = 2.4
"""Cells; a shorter part is left with its parent (estimate)."""


def solve(
    mesh: Mesh,
    *,
    gate: Gate = "lowest",
    cell: si.Metre = CELL,
    rng: np.random.Generator,
    begun: Callable[[Step], None] = lambda _: None,
) -> Scanned:
    """Return the parts of a mesh, with what was lost on the way.

    Parameters
    ----------
    mesh : Mesh
        In its true size, z up.
    gate : "lowest", "highest" or array [m], shape (3,)
        Where the metal comes in.
    cell : float [m]
        Side of a cell.
    rng : numpy.random.Generator
        Spreads the places on the surface where the wall is read.
    begun : function of a `Step`
        Told as each step of the work begins.

    Returns
    -------
    Scanned

    Raises
    ------
    InputError
        If the mesh has too few faces, is torn, or holds nothing.
    """
    begun("surface")
    cleaned = clean(mesh)
    begun("inside")
    field = _field(cleaned, cell)
    begun("ways")
    cells, hangs, at_gate = cells_of(cleaned, field, gate)
    pieces = slice_up(cells, field, hangs)
    begun("walls")
    walls = walls_of(cleaned, field, rng)
    begun("parts")
    slices = measured(cells, field, pieces, walls)
    into, children, dropped = pruned(pieces, slices)
    strands = strands_of(pieces, slices, children)
    parts = gathered(strands, into, pieces, slices)
    owned = owners(parts, cells, field, pieces, slices, walls)
    seen = measured_parts(parts, owned, cells, field, walls)
    found, number = _kept(seen, cell)
    part_of_cell = np.where(owned.cell >= 0, number[np.maximum(owned.cell, 0)], -1)
    part_of_sample = np.where(owned.sample >= 0, number[np.maximum(owned.sample, 0)], -1)
    volume = float(field.share.sum(dtype=np.float64)) * field.cell**3
    joined = np.isfinite(cells.distance)
    return Scanned(
        parts=with_volumes(found),
        gate=at_gate,
        size=np.ptp(cleaned.mesh.vertices, axis=0),
        cell=cell,
        mesh_volume=volume,
        area=walls.area * len(walls.place),
        bodies=len(hangs),
        loose=int((hangs == -2).sum()),
        loose_share=1.0 - float(cells.share[joined].sum()) * field.cell**3 / volume,
        unseen_share=float((part_of_sample < 0).mean()),
        too_small=dropped + len(seen) - len(found),
        loops=pieces.loops,
        touching=touching_parts(cells, field, part_of_cell, found),
        narrow=narrow_gaps(walls, part_of_sample, found),
        bad_lines=field.bad_lines,
        by_winding=field.by_winding,
        cleaned=cleaned,
    )


def _field(cleaned: Cleaned, cell: si.Metre) -> Field:
    """Return the share field; holes are counted before they are closed."""
    field = share_of(cleaned.mesh, cell=cell)
    if cleaned.own == len(cleaned.mesh.faces):
        return field
    own = Mesh(vertices=cleaned.mesh.vertices, faces=cleaned.mesh.faces[: cleaned.own])
    torn = share_of(own, cell=cell, finer=1)
    return mended(replace(field, bad_lines=torn.bad_lines), own)


def _kept(
    measured_: list[ScannedPart | None], cell: si.Metre
) -> tuple[tuple[ScannedPart, ...], si.Integers]:
    """Leave out parts that are too short to be measured; all of theirs goes to their parents."""
    number = np.full(len(measured_), -1, dtype=np.int64)
    kept: list[ScannedPart] = []
    count = {"rod": 0, "blade": 0, "lump": 0}
    parent_of = [-1 if part is None else part.parent for part in measured_]
    for k, part in enumerate(measured_):
        parent = int(number[parent_of[k]]) if parent_of[k] >= 0 else -1
        if part is None or (part.length < LEAST_LENGTH * cell and kept):
            number[k] = parent
            continue
        number[k] = len(kept)
        count[part.shape] += 1
        name = "stem" if not kept and part.shape == "rod" else f"{part.shape} {count[part.shape]}"
        kept.append(replace(part, name=name, parent=parent if kept else -1))
    return tuple(kept), number
