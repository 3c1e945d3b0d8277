"""Meshes of plain solids, as files and as records."""

import struct
from typing import Any

import numpy as np
import trimesh

from pourcast import units as si
from pourcast.scan.clean import clean
from pourcast.scan.model import Mesh
from pourcast.scan.share import share_of

TURN = np.array([0.3, 0.6, 0.2])
"""Of a solid that shall not lie along the grid; the three numbers of a random rotation."""


def record(mesh: Any) -> Mesh:
    """Return the record of a trimesh mesh in millimetres."""
    return Mesh(
        vertices=np.asarray(mesh.vertices, dtype=np.float64) * 1e-3,
        faces=np.asarray(mesh.faces, dtype=np.int64),
    )


def turned(mesh: Any) -> Any:
    """Return a copy that stands askew to the grid."""
    out = mesh.copy()
    out.apply_transform(trimesh.transformations.random_rotation_matrix(TURN))
    return out


def one_surface(mesh: Any, cell_mm: float = 0.2) -> Any:
    """Return a mesh of many shells as a scanner sees it: one closed surface about all of it.

    The surface is that of half filled cells, by marching cubes of a general-purpose library,
    and is smoothed as the programs of scanners do.  What comes nearer than a cell is joined.
    """
    from skimage.measure import marching_cubes

    field = share_of(clean(record(mesh)).mesh, cell=1e-3 * cell_mm)
    places, faces, _, _ = marching_cubes(np.pad(field.share, 1), 0.5)  # type: ignore[no-untyped-call]
    # The first cell is one of the rim that was put on.
    out = trimesh.Trimesh(1e3 * field.origin + cell_mm * (places - 0.5), faces[:, ::-1])
    if out.volume < 0:
        out.invert()
    whole = max(out.split(only_watertight=False), key=lambda part: len(part.faces))
    trimesh.smoothing.filter_taubin(whole, iterations=4)  # type: ignore[no-untyped-call]
    return whole


def stem(length: float = 40.0, diameter: float = 3.0) -> Any:
    """Return a rod that stands on the origin, with short faces."""
    rings = max(2, round(length / 0.8))
    return tube_of(np.linspace(0.0, length, rings + 1), np.full(rings + 1, diameter / 2))


def tube_of(height: si.Floats, radius: si.Floats, sides: int = 48) -> Any:
    """Return a round solid by its radii at heights; polygons of the same area as the circles."""
    grow = np.sqrt(2 * np.pi / (sides * np.sin(2 * np.pi / sides)))
    angle = 2 * np.pi * np.arange(sides) / sides
    rings = np.stack(
        [
            np.outer(radius * grow, np.cos(angle)),
            np.outer(radius * grow, np.sin(angle)),
            np.repeat(height[:, None], sides, axis=1),
        ],
        axis=-1,
    )
    vertices = np.concatenate([rings.reshape(-1, 3), [[0, 0, height[0]], [0, 0, height[-1]]]])
    here = np.arange(len(height) * sides).reshape(len(height), sides)
    there = np.roll(here, -1, axis=1)
    a, b, c, d = here[:-1], there[:-1], there[1:], here[1:]
    skin = np.concatenate([np.stack([a, b, c], -1), np.stack([a, c, d], -1)]).reshape(-1, 3)
    low, high = len(vertices) - 2, len(vertices) - 1
    caps = [
        np.stack([there[0], here[0], np.full(sides, low)], -1),
        np.stack([here[-1], there[-1], np.full(sides, high)], -1),
    ]
    return trimesh.Trimesh(vertices, np.concatenate([skin, *caps]), process=False)


def binary_stl(faces: int, said: int | None = None) -> bytes:
    """Return a binary STL of so many like faces, and what its header says of them."""
    one = struct.pack("<12fH", 0, 0, 1, 0, 0, 0, 10, 0, 0, 0, 10, 0, 0)
    return b"\0" * 80 + struct.pack("<I", faces if said is None else said) + faces * one


def joined(*meshes: Any) -> Any:
    """Return meshes as one, each with its own corners."""
    return trimesh.util.concatenate(list(meshes))
