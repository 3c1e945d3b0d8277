"""Meshes: a test plant as a scanner would hand it over, good and bad.

All in millimetres.  The clean mesh holds one closed shell for each member, and
the shells overlap; each fault is put on by its own seed.

Uses `tests.plants.shells`, trimesh, and scipy for the nearest points.
"""

from collections.abc import Callable, Mapping

import numpy as np
import trimesh

from pourcast import units as si
from pourcast.piece.model import Piece
from tests.plants.shells import Outline, member_shells


def clean(piece: Piece, *, spacing: float = 0.8, outline: Outline | None = None) -> trimesh.Trimesh:
    """All shells in one mesh, closed and overlapping."""
    shells = member_shells(piece, spacing=spacing, outline=outline)
    first = np.cumsum([0, *(len(shell.vertices) for shell in shells)])
    return trimesh.Trimesh(
        np.concatenate([shell.vertices for shell in shells]),
        np.concatenate([shell.faces + at for shell, at in zip(shells, first[:-1], strict=True)]),
        process=False,
    )


def noisy(mesh: trimesh.Trimesh, *, sd: float = 0.05, seed: int = 0) -> trimesh.Trimesh:
    """Every point moved by chance, ``sd`` [mm] in each direction."""
    rng = np.random.default_rng(seed)
    return _with(mesh, vertices=mesh.vertices + rng.normal(0.0, sd, mesh.vertices.shape))


def torn(
    mesh: trimesh.Trimesh, *, share: float = 0.03, seed: int = 0, patch: int = 1
) -> trimesh.Trimesh:
    """Lose a share of the faces: one by one, or in patches of ``patch`` neighbours."""
    rng = np.random.default_rng(seed)
    faces = len(mesh.faces)
    lost = np.zeros(faces, dtype=bool)
    if patch == 1:
        lost[rng.choice(faces, int(share * faces), replace=False)] = True
    else:
        from scipy.spatial import cKDTree

        middle = mesh.triangles_center
        tree = cKDTree(middle)
        while lost.sum() < share * faces:
            lost[tree.query(middle[rng.integers(faces)], k=patch)[1]] = True
    return _with(mesh, faces=mesh.faces[~lost])


def decimated(mesh: trimesh.Trimesh, *, cell: float = 0.4) -> trimesh.Trimesh:
    """Fewer faces: points of one cell of ``cell`` [mm] become one, flat faces go."""
    keys = np.floor(mesh.vertices / cell).astype(np.int64)
    _, which = np.unique(keys, axis=0, return_inverse=True)
    which = which.ravel()
    count = np.bincount(which)
    middle = np.column_stack([np.bincount(which, mesh.vertices[:, k]) / count for k in range(3)])
    faces = which[mesh.faces]
    a, b, c = faces.T
    return trimesh.Trimesh(middle, faces[(a != b) & (b != c) & (c != a)], process=False)


def flipped(mesh: trimesh.Trimesh, *, share: float = 0.2, seed: int = 0) -> trimesh.Trimesh:
    """Wind a share of the faces the wrong way round."""
    rng = np.random.default_rng(seed)
    turn = rng.random(len(mesh.faces)) < share
    faces = np.where(turn[:, None], mesh.faces[:, ::-1], mesh.faces)
    return _with(mesh, faces=faces)


def doubled(mesh: trimesh.Trimesh, *, inside_out: bool = False) -> trimesh.Trimesh:
    """Return the same shell twice; inside out, the two cancel for whoever counts crossings."""
    again = mesh.faces[:, ::-1] if inside_out else mesh.faces
    return trimesh.Trimesh(
        np.concatenate([mesh.vertices, mesh.vertices]),
        np.concatenate([mesh.faces, again + len(mesh.vertices)]),
        process=False,
    )


def shuffled(mesh: trimesh.Trimesh, *, seed: int = 0) -> trimesh.Trimesh:
    """Corners that no longer share points, in an order of chance, as in an STL."""
    rng = np.random.default_rng(seed)
    corners = mesh.triangles[rng.permutation(len(mesh.faces))].reshape(-1, 3)
    return trimesh.Trimesh(corners, np.arange(len(corners)).reshape(-1, 3), process=False)


def posed(mesh: trimesh.Trimesh, turn: si.Ratios, shift: si.Ratios) -> trimesh.Trimesh:
    """Return the mesh turned by a 3 x 3 matrix and moved, as it lay on the scanner."""
    return _with(mesh, vertices=mesh.vertices @ np.asarray(turn).T + shift)


FAULTS: Mapping[str, Callable[..., trimesh.Trimesh]] = {
    "noisy": noisy,
    "torn": torn,
    "decimated": decimated,
    "flipped": flipped,
    "doubled": doubled,
    "shuffled": shuffled,
}


def _with(
    mesh: trimesh.Trimesh,
    *,
    vertices: si.Ratios | None = None,
    faces: si.Integers | None = None,
) -> trimesh.Trimesh:
    return trimesh.Trimesh(
        mesh.vertices if vertices is None else vertices,
        mesh.faces if faces is None else faces,
        process=False,
    )
