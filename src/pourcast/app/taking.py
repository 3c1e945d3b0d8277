"""Taking: from a scan or photographs of the original to a piece file.

The readers of meshes and pictures need libraries that are an extra of their
own; where these are not installed, their forms are not shown.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import PurePath
from typing import TYPE_CHECKING, Literal, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.sheet import new_sheet, read_plan

if TYPE_CHECKING:
    from pourcast.scan.corrections import Corrections

UNITS = ("mm", "cm", "m", "in")
ENDS: dict[str, Literal["lowest", "highest"]] = {"lowest": "lowest", "highest": "highest"}
"""Where a button may go on a scan, beside a place."""

Gate: TypeAlias = Literal["lowest", "highest"] | si.Floats
Foot: TypeAlias = tuple[float, float] | None


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


def from_scan(
    content: bytes,
    *,
    file_name: str,
    name: str,
    unit: str | None,
    gate: Gate,
    materials: Mapping[str, str],
    corrections: "Corrections" = (),
) -> Taken:
    """Return the piece file of a scan.

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
    corrections : tuple of (Correction or Group)
        What the caster has put right; it goes before ``materials``.

    Raises
    ------
    InputError
        If the file cannot be read, or is no original.
    """
    from pourcast.scan.checks import findings
    from pourcast.scan.colours import coloured
    from pourcast.scan.corrections import corrected
    from pourcast.scan.guard import require_size
    from pourcast.scan.paper import written
    from pourcast.scan.read import in_metres, read_mesh
    from pourcast.scan.solve import solve

    require_size(len(content))
    reading = read_mesh(content)
    mesh = in_metres(reading, unit)
    at = gate if isinstance(gate, str) else gate * si.to_si(1.0, unit or reading.unit or "mm")
    solved = solve(mesh, gate=at, rng=np.random.default_rng(0))
    seen = coloured(solved, mesh, reading.colours)
    scanned, own, lost = corrected(seen, corrections)
    text = written(
        scanned,
        new_sheet(called(name, file_name)),
        source=PurePath(file_name).name,
        materials=tuple(
            said or materials.get(part.shape) for said, part in zip(own, scanned.parts, strict=True)
        ),
    )
    read_plan(text)
    return Taken(text=text, parts=len(scanned.parts), findings=findings(scanned), lost=lost)


def from_photographs(
    contents: Sequence[bytes],
    *,
    name: str,
    mark: si.Metre,
    leaf: si.Metre,
    materials: Mapping[str, str],
    feet: Sequence[Foot],
    corrections: "Corrections" = (),
) -> Taken:
    """Return the piece file of one photograph, or of two a quarter turn apart.

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
    corrections : tuple of (Correction or Group)
        What the caster has put right.

    Raises
    ------
    InputError
        If a picture cannot be read, or shows no mark or no original.
    """
    from pourcast.photo.corrected import as_scanned, corrected
    from pourcast.photo.model import Asked, Mark, Thickness
    from pourcast.photo.paper import piece_file
    from pourcast.photo.solve import solve
    from pourcast.scan.corrections import chosen_of

    blade = materials["blade"]
    asked = Asked(
        name=name,
        scales=tuple(Mark(length=mark) for _ in contents),
        leaf=Thickness.by_caliper(leaf, blade),
        stalk=materials["rod"],
        bud=materials["lump"],
        foot=tuple(feet) if any(foot is not None for foot in feet) else None,
    )
    solved = solve(contents, asked)
    chosen, lost = chosen_of(as_scanned(solved.parts), corrections)
    reading = corrected(solved, chosen)
    text = piece_file(reading)
    read_plan(text)
    return Taken(text=text, parts=len(reading.parts), findings=reading.findings, lost=tuple(lost))
