"""Clean: a surface without double faces, holes and faces that look the wrong way.

In this order: corners at one place become one; faces without area go; of faces
with the same corners one stays; faces that share an edge are made to look to
the same side, and each connected surface outward; holes are closed by a fan of
faces about the middle of their rim.

Without this a doubled surface with one copy inside out has the volume 0, and
nothing tells it.  A closed surface inside another one, a bubble, is turned
outward too and so counts as filled: the slurry cannot get in, but the metal can.

The fan is flat, so a hole in a bulge loses the bulge: volumes come out small.
Only holes with a rim over `SMALL_RIM` count as torn surface.
"""

import numpy as np
from scipy import sparse
from scipy.sparse import csgraph

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.scan.model import Cleaned, Mesh

LEAST_FACES = 4
"""A closed surface has four faces or more."""

SMALL_RIM = 6e-3
"""Round a hole [m]; a flat fan is taken for the true surface there (estimate)."""

_SAME_PLACE = 1e-6  # of the diagonal; corners nearer than this are one (estimate)


def clean(mesh: Mesh) -> Cleaned:
    """Return the mesh after cleaning.

    Parameters
    ----------
    mesh : Mesh

    Returns
    -------
    Cleaned

    Raises
    ------
    InputError
        If fewer than `LEAST_FACES` faces are left, or no surface.
    """
    vertices, faces = _merged(mesh)
    given = len(mesh.faces)
    kept = _different(vertices, faces)
    _require_faces(len(kept), given)
    before = kept
    kept = _wound(kept)
    vertices, kept, holes, wide = _closed(vertices, kept)
    number, shell = _shells(kept)
    kept = _outward(vertices, kept, shell, number)
    own, whole = len(before), len(kept) - wide
    area = _areas(vertices, kept)
    return Cleaned(
        mesh=Mesh(vertices=vertices, faces=kept),
        shell=shell,
        dropped=given - own,
        turned=int((kept[:own, 0] != before[:, 0]).sum()),
        holes=holes,
        hole_share=float(area[whole:].sum() / area.sum()),
        own=whole,
        seen=own,
    )


def _require_faces(left: int, given: int) -> None:
    if left < LEAST_FACES:
        lost = f" ({given} before those without area and those there twice went)"
        raise InputError(
            "faces of the mesh",
            f"{left}{lost if given != left else ''}",
            "",
            f"{LEAST_FACES} or more",
            "Export the original as a mesh, not as points.",
        )


def _merged(mesh: Mesh) -> tuple[si.Metres, si.Integers]:
    """Return corners that are all different, and the faces between them."""
    vertices = mesh.vertices
    grain = max(float(np.linalg.norm(np.ptp(vertices, axis=0))) * _SAME_PLACE, 1e-12)
    cell = np.round((vertices - vertices.min(axis=0)) / grain).astype(np.int64)
    span = int(cell.max()) + 1
    key = (cell[:, 0] * span + cell[:, 1]) * span + cell[:, 2]
    _, first, inverse = np.unique(key, return_index=True, return_inverse=True)
    return np.ascontiguousarray(vertices[first]), inverse.ravel()[mesh.faces]


def _different(vertices: si.Metres, faces: si.Integers) -> si.Integers:
    """Return the faces that have an area, each once."""
    a, b, c = faces.T
    faces = faces[(a != b) & (b != c) & (c != a)]
    faces = faces[_areas(vertices, faces) > 0.0]
    if not len(faces):
        return faces
    low, middle, high = np.sort(faces, axis=1).T
    many = len(vertices)
    if many < 2_000_000:
        key = (low * many + middle) * many + high
        _, first = np.unique(key, return_index=True)
    else:
        _, first = np.unique(np.sort(faces, axis=1), axis=0, return_index=True)
    return faces[np.sort(first)]


def _areas(vertices: si.Metres, faces: si.Integers) -> si.SquareMetres:
    a, b, c = (vertices[faces[:, k]] for k in range(3))
    areas: si.SquareMetres = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1)
    return areas


def _sides(faces: si.Integers) -> tuple[si.Integers, si.Integers, si.Booleans]:
    """Return the edge, the face and the sense of each side of each face, sorted by edge."""
    start = faces.ravel()
    end = faces[:, [1, 2, 0]].ravel()
    edge = np.minimum(start, end) * (int(faces.max()) + 1) + np.maximum(start, end)
    order = np.argsort(edge, kind="stable")
    return edge[order], order // 3, (start < end)[order]


def _wound(faces: si.Integers) -> si.Integers:
    """Return the faces, those that share an edge looking to the same side."""
    edge, face, sense = _sides(faces)
    pairs = np.flatnonzero(edge[1:] == edge[:-1])
    # Of an edge with more than two faces nobody knows which belong together.
    lone = np.ones(len(pairs), dtype=bool)
    lone[1:] &= pairs[1:] != pairs[:-1] + 1
    lone[:-1] &= pairs[:-1] != pairs[1:] - 1
    pairs = pairs[lone]
    one, other, against = face[pairs], face[pairs + 1], sense[pairs] == sense[pairs + 1]
    # Each face stands twice, as it is and turned round; joined are those that go together.
    many = len(faces)
    swap = np.where(against, many, 0)
    ways = np.concatenate([one, one + many]), np.concatenate([other + swap, other + many - swap])
    graph = sparse.coo_matrix((np.ones(len(ways[0]), dtype=bool), ways), (2 * many, 2 * many))
    _, together = csgraph.connected_components(graph, directed=False)
    as_is, round_ = together[:many], together[many:]
    turned = as_is > round_
    # Of each surface the larger half keeps its side.
    surface = np.minimum(as_is, round_)
    all_of = np.bincount(surface)
    flips = np.bincount(surface, weights=turned)
    turned ^= (2 * flips > all_of)[surface] & (as_is != round_)
    out = faces.copy()
    out[turned] = out[turned][:, ::-1]
    return out


def _closed(vertices: si.Metres, faces: si.Integers) -> tuple[si.Metres, si.Integers, int, int]:
    """Return corners and faces with a fan in each hole; how many holes, and faces in wide ones.

    The fans of wide holes come last.
    """
    start, end = _rim(faces)
    if not len(start):
        return vertices, faces, 0, 0
    order = np.argsort(start, kind="stable")
    start, end = start[order], end[order]
    following: dict[int, list[int]] = {corner: [] for corner in start.tolist()}
    for a, b in zip(start.tolist(), end.tolist(), strict=True):
        following[a].append(b)
    middles: list[si.Metres] = []
    fans: list[tuple[int, int, int]] = []
    wide: list[tuple[int, int, int]] = []
    for corner in list(following):
        while following[corner]:
            ring = [corner]
            while following.get(ring[-1]):
                ring.append(following[ring[-1]].pop())
                if ring[-1] == corner:
                    break
            if ring[-1] != corner or len(ring) < 3:
                continue
            ring.pop()
            hub = len(vertices) + len(middles)
            middles.append(vertices[ring].mean(axis=0))
            # The rim is walked as its faces walk it; the fan must walk it the other way.
            after = [*ring[1:], ring[0]]
            rim = float(np.linalg.norm(vertices[after] - vertices[ring], axis=1).sum())
            some = fans if rim <= SMALL_RIM else wide
            some += [(b, a, hub) for a, b in zip(ring, after, strict=True)]
    if not middles:
        return vertices, faces, 0, 0
    return (
        np.concatenate([vertices, np.array(middles)]),
        np.concatenate([faces, np.array(fans + wide, dtype=np.int64)]),
        len(middles),
        len(wide),
    )


def _rim(faces: si.Integers) -> tuple[si.Integers, si.Integers]:
    """Return start and end of each side that no other face walks the other way."""
    edge, _, sense = _sides(faces)
    first = np.flatnonzero(np.concatenate([[True], edge[1:] != edge[:-1]]))
    balance = np.add.reduceat(np.where(sense, 1, -1), first)
    open_ = balance != 0
    many = int(faces.max()) + 1
    low, high = edge[first][open_] // many, edge[first][open_] % many
    times = np.abs(balance[open_])
    upward = balance[open_] > 0
    start, end = np.where(upward, low, high), np.where(upward, high, low)
    return np.repeat(start, times), np.repeat(end, times)


def _shells(faces: si.Integers) -> tuple[int, si.Integers]:
    """Return how many surfaces there are, and that of each face; they join over edges."""
    edge, face, _ = _sides(faces)
    pairs = np.flatnonzero(edge[1:] == edge[:-1])
    ways = face[pairs], face[pairs + 1]
    many = len(faces)
    graph = sparse.coo_matrix((np.ones(len(pairs), dtype=bool), ways), (many, many))
    number, of_face = csgraph.connected_components(graph, directed=False)
    return int(number), of_face.astype(np.int64)


def _outward(
    vertices: si.Metres, faces: si.Integers, shell: si.Integers, number: int
) -> si.Integers:
    """Return the faces, each surface turned so that its volume is positive."""
    a, b, c = (vertices[faces[:, k]] - vertices.mean(axis=0) for k in range(3))
    six = np.einsum("ij,ij->i", a, np.cross(b, c))
    inside_out = (np.bincount(shell, weights=six, minlength=number) < 0.0)[shell]
    out = faces.copy()
    out[inside_out] = out[inside_out][:, ::-1]
    return out
