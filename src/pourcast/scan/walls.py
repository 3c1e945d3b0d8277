"""Walls: how thick the original is at each place of its surface.

From places spread evenly over the surface a ray goes inward and ends where it
leaves through a face that looks the other way.  Its direction is the mean of
the directions of the faces about, not that of its own face alone: a rough scan
would else send the rays askew, and an askew ray is too long in a sheet and too
short in a rod.  The places themselves are not moved, so that no volume is lost.

A place inside another body of the file is no surface of the original: no ray
starts there, and none ends there.
"""

import numpy as np
import trimesh
from scipy.spatial import cKDTree
from trimesh.ray.ray_pyembree import RayMeshIntersector

from pourcast import units as si
from pourcast.scan.model import Cleaned, Field, Walls

SAMPLES = 60_000
"""Places on the surface; a leaf of 1 cm² of 100 cm² in all has 600 of them."""

_ABOUT = 16  # places whose faces are averaged
_ALIKE = 0.5  # cosine; a face across an edge is not averaged in
_BURIED_FACES = 8  # that a ray goes through at most; our own choice
_AWAY = 0.3  # cosine; the far face must look away at least so much
_SCALE = 1e3  # the ray library works in single precision; millimetres keep its limits small


def walls_of(
    cleaned: Cleaned, field: Field, rng: np.random.Generator, *, samples: int = SAMPLES
) -> Walls:
    """Return places on the surface with the way through to the other side.

    Parameters
    ----------
    cleaned : Cleaned
    field : Field
        Of the same mesh.
    rng : numpy.random.Generator
        Spreads the places.
    samples : int

    Returns
    -------
    Walls
    """
    mesh = cleaned.mesh
    corners = mesh.vertices[mesh.faces] * _SCALE
    square = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(square, axis=1)
    outward = square / np.maximum(area, 1e-300)[:, None]
    edge = np.cumsum(area)
    # One place in each of as many strips of equal area, so that none is far from the next.
    strip = (np.arange(samples) + rng.random(samples)) / samples * edge[-1]
    face = np.minimum(np.searchsorted(edge, strip), len(area) - 1)
    a, b = rng.random((2, samples))
    over = a + b > 1.0
    a[over], b[over] = 1.0 - a[over], 1.0 - b[over]
    first, second, third = (corners[face, k] for k in range(3))
    place = first + a[:, None] * (second - first) + b[:, None] * (third - first)
    free = ~_buried(place / _SCALE + 1.2 * field.cell * outward[face], field)
    place, own, face = place[free], outward[face][free], face[free]
    _, about = cKDTree(place).query(place, k=min(_ABOUT, len(place)))
    near = own[about]
    alike = np.einsum("ijk,ik->ij", near, own) > _ALIKE
    mean = (near * alike[:, :, None]).sum(axis=1)
    inward = -mean / np.linalg.norm(mean, axis=1)[:, None]
    way, far = _through(corners, place, inward, outward, field)
    return Walls(
        place=place / _SCALE,
        inward=inward,
        way=way / _SCALE,
        closed=(face >= cleaned.seen) | (far >= cleaned.seen),
        area=float(edge[-1]) / 2 / _SCALE**2 / samples,
    )


def _buried(place: si.Metres, field: Field) -> si.Booleans:
    index = np.floor((place - field.origin) / field.cell).astype(np.int64)
    index = np.clip(index, 0, np.array(field.share.shape) - 1)
    full: si.Booleans = field.share[tuple(index.T)] > 0.999
    return full


def _through(
    corners: si.Metres,
    place: si.Metres,
    inward: si.Ratios,
    outward: si.Ratios,
    field: Field,
) -> tuple[si.Metres, si.Integers]:
    """Return the way from each place to the other side, and the face there; -1: none.

    Lengths but those of the field in mm.
    """
    body = trimesh.Trimesh(
        corners.reshape(-1, 3), np.arange(3 * len(corners)).reshape(-1, 3), process=False
    )
    caster = RayMeshIntersector(body, scale_to_box=False)
    skin = 1e-4
    way = np.full(len(place), np.nan)
    far = np.full(len(place), -1, dtype=np.int64)
    left, begin = np.arange(len(place)), place
    for _ in range(_BURIED_FACES):
        hit, ray, face = caster.intersects_location(
            begin + skin * inward[left], inward[left], multiple_hits=False
        )
        buried = _buried(hit / _SCALE + 1.2 * field.cell * outward[face], field)
        ends, at = left[ray[~buried]], hit[~buried]
        away = np.einsum("ij,ij->i", outward[face[~buried]], inward[ends]) > _AWAY
        way[ends[away]] = np.linalg.norm(at[away] - place[ends[away]], axis=1)
        far[ends[away]] = face[~buried][away]
        left, begin = left[ray[buried]], hit[buried]
        if not len(left):
            break
    return way, far
