"""Read: which triangles a mesh file holds, and in which unit.

STL, PLY and OBJ say no unit.  3MF says one, glTF is in metres with y up by its
standard; it is turned so that z is up.  All meshes of a file become one.

Sources: 3MF Core Specification 1.3, units of the model; glTF 2.0 (ISO/IEC
12113:2022), section on units; both from memory.
"""

import warnings
from io import BytesIO
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.scan.beside import Beside, materials_of
from pourcast.scan.guard import MOST_FACES, kind_of
from pourcast.scan.model import UNITS, Kind, Mesh, Reading
from pourcast.scan.paint import colours_of, paint_3mf, require_small_pictures

LEAST_SIZE, MOST_SIZE = 5e-3, 0.5
"""Of the longest side of an original [m]; outside it the unit is likely wrong (estimate)."""

_3MF_UNITS = {
    "micron": ("mm", 1e-3), "millimeter": ("mm", 1.0), "centimeter": ("cm", 1.0),
    "inch": ("in", 1.0), "foot": ("in", 12.0), "meter": ("m", 1.0),
    "millimeters": ("mm", 1.0), "centimeters": ("cm", 1.0), "inches": ("in", 1.0),
    "feet": ("in", 12.0), "meters": ("m", 1.0), "microns": ("mm", 1e-3),
}  # fmt: skip


def read_mesh(content: bytes, *, beside: Beside | None = None) -> Reading:
    """Return the mesh that a file holds.

    Parameters
    ----------
    content : bytes
        The whole file.
    beside : function of a name and a number of bytes, or None
        Gives what lies beside an OBJ; None: nothing does.

    Returns
    -------
    Reading

    Raises
    ------
    InputError
        If the file is refused by `pourcast.scan.guard`, or holds no mesh that can be worked with.
    """
    kind = kind_of(content)
    # Only now: a file that is refused costs no loading of a library.
    import trimesh

    try:
        with warnings.catch_warnings():
            # Of a picture over the limit; it is refused by name before it is unpacked.
            warnings.simplefilter("ignore")
            if kind == "glb":
                require_small_pictures(content)
            more = materials_of(content, beside) if kind == "obj" and beside else None
            loaded = trimesh.load(BytesIO(content), file_type=kind, process=False, resolver=more)
        if kind == "3mf" and isinstance(loaded, trimesh.Scene):
            paint_3mf(content, list(loaded.geometry.values()))
        meshes = _meshes(loaded)
        vertices, faces = _one_mesh(meshes)
        colours = colours_of(meshes, found=kind != "obj" or more is not None)
    except InputError:
        raise
    except Exception as fault:
        # Whatever a library stumbles over in a damaged file is a fault of the file.
        raise InputError(
            "scan file",
            f"a {kind.upper()} that cannot be read ({type(fault).__name__})",
            "",
            "whole",
            "Export the original once more.",
        ) from None
    _check(vertices, faces)
    unit, factor = _unit(loaded, kind)
    if kind == "glb":
        x, y, z = vertices.T
        vertices = np.stack([x, -z, y], axis=1)
    return Reading(vertices=vertices * factor, faces=faces, unit=unit, kind=kind, colours=colours)


def _meshes(loaded: Any) -> list[Any]:
    import trimesh

    parts = loaded.dump() if isinstance(loaded, trimesh.Scene) else [loaded]
    return [part for part in parts if isinstance(part, trimesh.Trimesh)]


def _one_mesh(meshes: list[Any]) -> tuple[si.Ratios, si.Integers]:
    if not meshes:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int64)
    first = np.cumsum([0, *(len(mesh.vertices) for mesh in meshes)])
    return (
        np.concatenate([np.asarray(mesh.vertices, dtype=np.float64) for mesh in meshes]),
        np.concatenate(
            [
                np.asarray(mesh.faces, dtype=np.int64) + at
                for mesh, at in zip(meshes, first[:-1], strict=True)
            ]
        ),
    )


def _check(vertices: si.Ratios, faces: si.Integers) -> None:
    if len(faces) < 4:
        raise InputError(
            "faces of the mesh",
            len(faces),
            "",
            "4 or more",
            "Export the original as a mesh, not as points.",
        )
    if len(faces) > MOST_FACES:
        raise InputError(
            "faces of the mesh", len(faces), "", f"at most {MOST_FACES}", "Thin it out."
        )
    if faces.min() < 0 or faces.max() >= len(vertices):
        raise InputError("corner of a face", int(faces.max()), "", f"one of {len(vertices)}")
    bad = ~np.isfinite(vertices).all(axis=1)
    if bad.any():
        raise InputError(
            "places of the corners",
            f"not a number for {int(bad.sum())} of {len(vertices)}",
            "",
            "finite numbers",
            "Export the original once more.",
        )
    if float(np.abs(vertices).max()) > 1e9:
        raise InputError("place of a corner", f"{np.abs(vertices).max():.3g}", "", "at most 1e9")


def _unit(loaded: Any, kind: Kind) -> tuple[str | None, si.Ratio]:
    if kind == "glb":
        return "m", 1.0
    if kind == "3mf":
        return _3MF_UNITS.get(str(loaded.units or "millimeter").lower(), ("mm", 1.0))
    return None, 1.0


def in_metres(reading: Reading, unit: str | None) -> Mesh:
    """Return the mesh in its true size.

    Parameters
    ----------
    reading : Reading
    unit : str or None
        What the caster says, and that goes before what the file says; None: not said.

    Returns
    -------
    Mesh

    Raises
    ------
    InputError
        If neither says the unit, or the size cannot be meant.
    """
    size = float(np.ptp(reading.vertices, axis=0).max())
    if unit is not None and unit not in UNITS:
        raise InputError("unit", unit, "", f"one of {', '.join(UNITS)}")
    if unit is None and reading.unit is None:
        raise InputError(
            "unit",
            f"not in the file ({reading.kind.upper()} has none)",
            "",
            f"said with --unit. The longest side would be {sizes(reading)}; "
            "an original is 5 to 500 mm long",
        )
    used = unit or reading.unit
    assert used is not None
    metres = si.to_si(size, used)
    if not LEAST_SIZE <= metres <= MOST_SIZE:
        raise InputError(
            "longest side of the original",
            f"{1e3 * metres:.3g}",
            "mm",
            f"5 to 500 mm. Read in another unit it would be {sizes(reading)}",
            "Say the right one with --unit.",
        )
    return Mesh(vertices=reading.vertices * si.to_si(1.0, used), faces=reading.faces)


def sizes(reading: Reading) -> str:
    """Return how long the original would be in each unit, in words.

    Parameters
    ----------
    reading : Reading
    """
    size = float(np.ptp(reading.vertices, axis=0).max())
    return ", ".join(f"{_long(size, unit)} read in {unit}" for unit in UNITS)


def _long(size: si.Ratio, unit: str) -> str:
    return f"{1e3 * si.to_si(size, unit):.3g} mm"
