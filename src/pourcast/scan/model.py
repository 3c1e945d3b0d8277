"""Scan records: what a mesh file holds, and what was found in it.

Inside all lengths are metres.  What a file holds before its unit is known has
no unit; it is a ratio to that unit.  The frame is that of the file, with z up.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.piece.model import Shape

Kind = Literal["stl", "ply", "obj", "3mf", "glb"]

UNITS = ("mm", "cm", "m", "in")
"""Units that a mesh may be in, as `pourcast.units` knows them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A mesh as its file gives it.

    Parameters
    ----------
    vertices : array [-], shape (vertices, 3)
        In the unit of the file, z up.
    faces : array of int, shape (faces, 3)
    unit : str or None
        Of the vertices, where the file says it.
    kind : {"stl", "ply", "obj", "3mf", "glb"}
    colours : array of int, shape (faces, 3), or None
        Red, green and blue of each face, 0 to 255, where the file says them.
    """

    vertices: si.Ratios
    faces: si.Integers
    unit: str | None
    kind: Kind
    colours: si.Integers | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A surface of triangles in its true size.

    Parameters
    ----------
    vertices : array [m], shape (vertices, 3)
    faces : array of int, shape (faces, 3)
    """

    vertices: si.Metres
    faces: si.Integers


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleaned:
    """A mesh after cleaning, and what the cleaning did.

    Parameters
    ----------
    mesh : Mesh
    shell : array of int, shape (faces,)
        Which connected surface a face belongs to.
    dropped : int
        Faces without area, or there twice.
    turned : int
        Faces that looked the other way.
    holes : int
        Closed with a fan of faces.
    hole_share : float [-]
        Area of the fans in wide holes over the area of all faces.
    own : int
        Faces before those of the fans in wide holes.
    seen : int
        Faces before those of all fans: what the file gave.
    """

    mesh: Mesh
    shell: si.Integers
    dropped: int
    turned: int
    holes: int
    hole_share: si.Ratio
    own: int
    seen: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """Share of each cell of a grid that lies inside the surface.

    Parameters
    ----------
    share : array [-], shape (x, y, z)
    origin : array [m], shape (3,)
        Lower corner of the first cell.
    cell : float [m]
        Side of a cell.
    bad_lines : float [-]
        Share of the scan lines that met a hole, of those that met a face.
    by_winding : bool
        True if the share was filled in by the winding of the surface about each place.
    """

    share: si.Ratios
    origin: si.Metres
    cell: si.Metre
    bad_lines: si.Ratio
    by_winding: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """Cells that hold some of the original, as a list.

    Parameters
    ----------
    place : array of int, shape (cells, 3)
        In the grid.
    share : array [-], shape (cells,)
    shell : array of int, shape (cells,)
        Body that the cell belongs to.
    distance : array [m], shape (cells,)
        From the gate, inside the original; infinite where it is not joined to it.
    """

    place: si.Integers
    share: si.Ratios
    shell: si.Integers
    distance: si.Metres


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """Slices of the original, each at one distance from the gate and in one piece.

    Parameters
    ----------
    of_cell : array of int, shape (cells,)
        Piece of each cell; -1: none, the cell is loose.
    parent : array of int, shape (pieces,)
        Piece that it is joined to on the way to the gate; -1: the gate itself.
    band : array of int, shape (pieces,)
        Number of the distance band.
    step : float [m]
        Width of a band.
    shell : array of int, shape (pieces,)
    volume : array [m³], shape (pieces,)
    middle : array [m], shape (pieces, 3)
    loops : int
        Rings that the slices close.
    """

    of_cell: si.Integers
    parent: si.Integers
    band: si.Integers
    step: si.Metre
    shell: si.Integers
    volume: si.CubicMetres
    middle: si.Metres
    loops: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Walls:
    """Places on the surface, each with the way through to the other side.

    Parameters
    ----------
    place : array [m], shape (samples, 3)
    inward : array [-], shape (samples, 3)
    way : array [m], shape (samples,)
        Nan where the ray found no other side.
    closed : array of bool, shape (samples,)
        True where the place or the other side lies on a fan that closes a hole.
    area : float [m²]
        That one sample stands for.
    """

    place: si.Metres
    inward: si.Ratios
    way: si.Metres
    closed: si.Booleans
    area: si.SquareMetre


@dataclass(frozen=True, slots=True, kw_only=True)
class ScannedPart:
    """One part as it was found.

    Parameters
    ----------
    name : str
    parent : int
        Among the parts; -1: the gate.
    shape : {"rod", "blade", "lump"}
    line : array [m], shape (places, 3)
        Middle line from the surface of the parent to the tip.
    length : float [m]
        From the surface of the parent to the tip, along the line.
    width, thickness : pair of float [m]
        At base and tip, of the solid of like volume; a rod has its diameter in both.
    across : array [-], shape (3,)
        Direction of the width.
    widest : float [m]
        Largest way across, as a caliper reads it.
    volume : float [m³]
        Of the solid that the piece file will hold.
    seen_volume : float [m³]
        Of the cells that were given to the part.
    length_error, thickness_error : float [m]
        One standard deviation, estimated.
    walls_read : float [-]
        Share of its surface from which the other side could be seen.
    hollow : bool
        True if it is a tube; its width is then the girth of the wall.
    colour : tuple of int or None
        Red, green and blue, 0 to 255, where the file says them.
    unseen : float [-]
        Share of its walls of which one side or both lie in a hole that was closed.
    section_error : float or None [-]
        One standard deviation of width and thickness, over them, from
        `pourcast.scan.unseen`; None: as of a caliper.
    """

    name: str
    parent: int
    shape: Shape
    line: si.Metres
    length: si.Metre
    width: tuple[si.Metre, si.Metre]
    thickness: tuple[si.Metre, si.Metre]
    across: si.Ratios
    widest: si.Metre
    volume: si.CubicMetre
    seen_volume: si.CubicMetre
    length_error: si.Metre
    thickness_error: si.Metre
    walls_read: si.Ratio
    hollow: bool
    colour: tuple[int, int, int] | None = None
    unseen: si.Ratio = 0.0
    section_error: si.Ratio | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """What a scan came to.

    Parameters
    ----------
    parts : tuple of ScannedPart
        Each after its parent.
    gate : array [m], shape (3,)
    size : array [m], shape (3,)
        Of the box about the original.
    cell : float [m]
        Side of a cell of the grid that was used.
    mesh_volume : float [m³]
        Of the original, by scan lines.
    area : float [m²]
        Of its surface.
    bodies : int
        Closed surfaces that overlap or touch.
    loose : int
        Bodies that are not joined to the gate.
    loose_share : float [-]
        Of the volume.
    unseen_share : float [-]
        Of the surface that belongs to no part.
    too_small : int
        Ends that were too short to be parts of their own.
    loops : int
    touching : tuple of (int, int)
        Parts that meet away from their joint.
    narrow : tuple of (int, int, float [m])
        Neighbours with a gap that slurry hardly enters, and the gap.
    bad_lines : float [-]
        Share of the scan lines that met a hole.
    by_winding : bool
    cleaned : Cleaned
    """

    parts: tuple[ScannedPart, ...]
    gate: si.Metres
    size: si.Metres
    cell: si.Metre
    mesh_volume: si.CubicMetre
    area: si.SquareMetre
    bodies: int
    loose: int
    loose_share: si.Ratio
    unseen_share: si.Ratio
    too_small: int
    loops: int
    touching: tuple[tuple[int, int], ...]
    narrow: tuple[tuple[int, int, si.Metre], ...]
    bad_lines: si.Ratio
    by_winding: bool
    cleaned: Cleaned


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What is to be put right on one part; None: as it was measured.

    Parameters
    ----------
    at : array [m], shape (3,)
        Middle of the part in the scan.
    name, material : str or None
    width, thickness : pair of float or None [m]
        A diameter is both.
    length : float or None [m]
    drop, join : bool
    """

    at: si.Metres
    name: str | None = None
    material: str | None = None
    width: tuple[si.Metre, si.Metre] | None = None
    thickness: tuple[si.Metre, si.Metre] | None = None
    length: si.Metre | None = None
    drop: bool = False
    join: bool = False

    def sizes(
        self, shape: Shape, width: tuple[si.Metre, si.Metre], thickness: tuple[si.Metre, si.Metre]
    ) -> tuple[tuple[si.Metre, si.Metre], tuple[si.Metre, si.Metre]]:
        """Return width and thickness of a part at both ends, put right; of a rod both are one.

        Parameters
        ----------
        shape : {"rod", "blade", "lump"}
        width, thickness : pair of float [m]
            As they were measured.

        Returns
        -------
        pair of (pair of float) [m]
        """
        width, thickness = self.width or width, self.thickness or thickness
        if shape == "rod":
            return width, width
        if shape == "lump":
            return (max(width),) * 2, (max(thickness),) * 2
        return width, thickness


def all_different(names: Iterable[str]) -> list[str]:
    """Return names with a number behind those that stand there already; no part is the button.

    Parameters
    ----------
    names : iterable of str

    Returns
    -------
    list of str
    """
    seen = {"button"}
    out = []
    for wanted in names:
        name, k = wanted, 2
        while name in seen:
            name, k = f"{wanted} {k}", k + 1
        seen.add(name)
        out.append(name)
    return out
