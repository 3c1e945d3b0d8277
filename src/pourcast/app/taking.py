"""Taking: from a scan or photographs of the original to a piece file.

The readers of meshes and pictures need libraries that are an extra of their
own; where these are not installed, their forms are not shown.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import PurePath
from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.findings import Finding
from pourcast.materials import library
from pourcast.sheet import new_sheet, read_plan

UNITS = ("mm", "cm", "m", "in")
GATES = ("lowest", "highest")


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """A piece file that was made of something seen.

    Parameters
    ----------
    text : str
    parts : int
    findings : tuple of Finding
        What the reader says of its own work.
    """

    text: str
    parts: int
    findings: tuple[Finding, ...]


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


def from_scan(content: bytes, *, file_name: str, name: str, unit: str | None, gate: str) -> Taken:
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
    gate : str
        One of `GATES`: where the button goes.

    Raises
    ------
    InputError
        If the file cannot be read, or is no original.
    """
    from pourcast.scan.checks import findings
    from pourcast.scan.guard import require_size
    from pourcast.scan.paper import written
    from pourcast.scan.read import in_metres, read_mesh
    from pourcast.scan.solve import solve

    if unit is not None and unit not in UNITS:
        raise InputError("unit", unit[:20], "", "one of " + ", ".join(UNITS))
    ends: dict[str, Literal["lowest", "highest"]] = {"lowest": "lowest", "highest": "highest"}
    if gate not in ends:
        raise InputError("gate", gate[:20], "", "one of " + ", ".join(ends))
    require_size(len(content))
    mesh = in_metres(read_mesh(content), unit)
    scanned = solve(mesh, gate=ends[gate], rng=np.random.default_rng(0))
    called = name.strip() or PurePath(file_name).stem.strip() or "scan"
    text = written(scanned, new_sheet(called), source=PurePath(file_name).name)
    read_plan(text)
    return Taken(text=text, parts=len(scanned.parts), findings=findings(scanned))


def from_photographs(
    contents: Sequence[bytes],
    *,
    name: str,
    mark: si.Metre,
    leaf: si.Metre,
    leaf_material: str,
    stalk_material: str,
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
    leaf_material, stalk_material : str
        Keys of records that an original can be made of.

    Raises
    ------
    InputError
        If a picture cannot be read, or shows no mark or no original.
    """
    from pourcast.photo.model import Asked, Mark, Thickness
    from pourcast.photo.paper import piece_file
    from pourcast.photo.solve import solve

    known = (*library().organs, *library().waxes)
    for material in (leaf_material, stalk_material):
        if material not in known:
            raise InputError("material", material[:40], "", "one of the list")
    asked = Asked(
        name=name.strip(),
        scales=tuple(Mark(length=mark) for _ in contents),
        leaf=Thickness(value=leaf, low=leaf, high=leaf, material=leaf_material, measured=True),
        stalk=stalk_material,
    )
    reading = solve(contents, asked)
    text = piece_file(reading)
    read_plan(text)
    return Taken(text=text, parts=len(reading.parts), findings=reading.findings)
