"""Taking: from a scan or photographs of the original to a piece file.

The readers of meshes and pictures need libraries that are an extra of their
own; where these are not installed, their forms are not shown.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import PurePath
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.sheet import new_sheet, read_plan

if TYPE_CHECKING:
    from pourcast.photo.model import Reading, View
    from pourcast.scan.corrections import Corrections
    from pourcast.scan.model import Scanned, ScannedPart

UNITS = ("mm", "cm", "m", "in")
ENDS: dict[str, Literal["lowest", "highest"]] = {"lowest": "lowest", "highest": "highest"}
"""Where a button may go on a scan, beside a place."""

_NOTHING: Mapping[str, bytes] = MappingProxyType({})

Gate: TypeAlias = Literal["lowest", "highest"] | si.Floats
Foot: TypeAlias = tuple[float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured on something seen, before anything is put right.

    Parameters
    ----------
    name : str
        Of the piece.
    source : str
        Name of the file, for the comment in the piece file of a scan.
    materials : dict of str to str
        Key of the record by shape, where it is known.
    parts : tuple of ScannedPart
        As the corrections find them.
    seen : Scanned or Reading
        Of photographs without the pictures themselves, which are large.
    pictures : tuple of str
        The check pictures, SVG, each part named as in ``parts``.
    """

    name: str
    source: str
    materials: Mapping[str, str]
    parts: "tuple[ScannedPart, ...]"
    seen: "Scanned | Reading"
    pictures: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A piece file that was made of something seen.

    Parameters
    ----------
    text : str
    parts : int
    findings : tuple of Finding
        What the reader says of its own work.
    lost : tuple of (Correction or Group)
        Corrections whose part was not found.
    """

    text: str
    parts: int
    findings: tuple[Finding, ...]
    lost: "Corrections" = ()


def called(name: str, file_name: str) -> str:
    """Return what a piece is called: as its caster says, or as the file of its scan.

    Parameters
    ----------
    name, file_name : str
    """
    return name or PurePath(file_name).stem.strip() or "scan"


@cache
def can_scan() -> bool:
    """Return whether meshes can be read here."""
    try:
        import pourcast.scan.checks
        import pourcast.scan.paper
        import pourcast.scan.read
        import pourcast.scan.solve  # noqa: F401
    except ImportError:
        return False
    return True


@cache
def can_photograph() -> bool:
    """Return whether photographs can be read here."""
    try:
        import pourcast.photo.paper
        import pourcast.photo.solve  # noqa: F401
    except ImportError:
        return False
    return True


def measured_scan(
    content: bytes,
    *,
    file_name: str,
    name: str,
    unit: str | None,
    gate: Gate,
    materials: Mapping[str, str],
    beside: Mapping[str, bytes] = _NOTHING,
) -> Measured:
    """Return what is measured on a scan.

    Parameters
    ----------
    content : bytes
    file_name : str
        For the comment in the piece file.
    name : str
        Of the piece; "": as the file.
    unit : str or None
        One of `UNITS`; None: as the file says.
    gate : {"lowest", "highest"} or array, shape (3,)
        Where the button goes; a place is in the unit of the file.
    materials : dict of str to str
        Key of the record that rods, blades and lumps are made of, where it is known.
    beside : dict of str to bytes
        Material file and pictures of an OBJ, by the last step of their names.

    Raises
    ------
    InputError
        If the file cannot be read, or is no original.
    """
    from pourcast.scan.colours import coloured
    from pourcast.scan.guard import require_size
    from pourcast.scan.picture import check_picture
    from pourcast.scan.read import in_metres, read_mesh
    from pourcast.scan.solve import solve

    require_size(len(content))
    reading = read_mesh(content, beside=lambda asked, _: beside.get(_last_step(asked)))
    mesh = in_metres(reading, unit)
    at = gate if isinstance(gate, str) else gate * si.to_si(1.0, unit or reading.unit or "mm")
    solved = solve(mesh, gate=at, rng=np.random.default_rng(0))
    seen = coloured(solved, mesh, reading.colours)
    return Measured(
        name=called(name, file_name),
        source=PurePath(file_name).name,
        materials=materials,
        parts=seen.parts,
        seen=seen,
        pictures=(check_picture(seen),),
    )


def _last_step(name: str) -> str:
    return name.replace("\\", "/").rpartition("/")[2]


def measured_photographs(
    contents: Sequence[bytes],
    *,
    name: str,
    mark: si.Metre,
    leaf: si.Metre,
    materials: Mapping[str, str],
    feet: Sequence[Foot],
) -> Measured:
    """Return what is measured on one photograph, two a quarter turn apart, or three.

    Parameters
    ----------
    contents : sequence of bytes
    name : str
        Of the piece.
    mark : float [m]
        Length of the dark bar that lies in each picture.
    leaf : float [m]
        Thickness of what is flat, measured.
    materials : dict of str to str
        Key of the record that rods, blades and lumps are made of.
    feet : sequence of (pair of float or None)
        Column and row of the button in each picture; None: the lowest place.

    Raises
    ------
    InputError
        If a picture cannot be read, or shows no mark or no original.
    """
    from pourcast.photo.corrected import as_scanned
    from pourcast.photo.model import Asked, Mark, Thickness
    from pourcast.photo.picture import check_picture
    from pourcast.photo.solve import solve

    blade = materials["blade"]
    asked = Asked(
        name=name,
        scales=tuple(Mark(length=mark) for _ in contents),
        leaf=Thickness.by_caliper(leaf, blade),
        stalk=materials["rod"],
        bud=materials["lump"],
        foot=tuple(feet) if any(foot is not None for foot in feet) else None,
    )
    reading = solve(contents, asked)
    pictures = tuple(check_picture(reading, view=k) for k in range(len(contents)))
    return Measured(
        name=name,
        source="",
        materials=materials,
        parts=as_scanned(reading.parts),
        seen=replace(reading, views=tuple(_without_light(view) for view in reading.views)),
        pictures=pictures,
    )


def _without_light(view: "View") -> "View":
    """Return a view without its pixels, which no piece file needs."""
    none = np.zeros((0, 0))
    bare = replace(view.silhouette, light=none, inside=none.astype(bool))
    return replace(view, silhouette=bare)


def made(measured: Measured, corrections: "Corrections" = ()) -> Taken:
    """Return the piece file of what was measured, put right.

    Parameters
    ----------
    measured : Measured
    corrections : tuple of (Correction or Group)
        What the caster has put right; it goes before the materials of the shapes.

    Raises
    ------
    SheetError
        If what was put right makes no piece.
    """
    from pourcast.scan.model import Scanned

    seen = measured.seen
    if isinstance(seen, Scanned):
        return _of_scan(measured, seen, corrections)
    return _of_photographs(measured, seen, corrections)


def _of_scan(measured: Measured, seen: "Scanned", corrections: "Corrections") -> Taken:
    from pourcast.scan.checks import findings
    from pourcast.scan.corrections import corrected
    from pourcast.scan.paper import written

    scanned, own, lost = corrected(seen, corrections)
    text = written(
        scanned,
        new_sheet(measured.name),
        source=measured.source,
        materials=tuple(
            said or measured.materials.get(part.shape)
            for said, part in zip(own, scanned.parts, strict=True)
        ),
    )
    read_plan(text)
    return Taken(text=text, parts=len(scanned.parts), findings=findings(scanned), lost=lost)


def _of_photographs(measured: Measured, seen: "Reading", corrections: "Corrections") -> Taken:
    from pourcast.photo.corrected import corrected
    from pourcast.photo.paper import piece_file
    from pourcast.scan.corrections import chosen_of

    chosen, lost = chosen_of(measured.parts, corrections)
    reading = corrected(seen, chosen)
    text = piece_file(reading)
    read_plan(text)
    return Taken(text=text, parts=len(reading.parts), findings=reading.findings, lost=tuple(lost))
