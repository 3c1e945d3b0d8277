"""Take a scan: read the file, find its parts, and put them right by the corrections beside it."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from pourcast import units as si
    from pourcast.scan.corrections import Corrections
    from pourcast.scan.model import Scanned
    from pourcast.scan.pieces import Gate


def parts_of_scan(
    file: Path,
    *,
    unit: str | None,
    gate: str,
    cell: "si.Metre | None",
    piece: Path,
    made_of: Mapping[str, str],
    tell: Callable[[str], object],
) -> "tuple[Scanned, tuple[str | None, ...], Corrections, Corrections]":
    """Return the parts of a scan, put right by the corrections beside a piece file.

    Parameters
    ----------
    file : Path
        The scan.
    unit : str or None
        Of its figures; None: as it says.
    gate : str
        As it is typed, see `read_gate`.
    cell : float or None [m]
        Side of a cell; None: the usual one.
    piece : Path
        The piece file, which need not be there.
    made_of : dict of str to str
        Key of the record by shape, of parts that the corrections say nothing of.
    tell : callable
        Told how many faces there are, before the work.

    Returns
    -------
    scanned : Scanned
    materials : tuple of (str or None)
        Of each part; None: not said.
    corrections, lost : tuple of (Correction or Group)
        All of them, and those whose part was not found.

    Raises
    ------
    InputError
        If the scan cannot be read, or is no original.
    """
    from pourcast.scan.read import in_metres, read_mesh

    reading = read_mesh(read_scan(file), beside=lambda name, most: read_beside(file, name, most))
    mesh = in_metres(reading, unit)
    at = read_gate(gate, unit or reading.unit or "mm")

    # What works with the mesh is loaded only once the file has been let in.
    import numpy as np

    from pourcast.scan.colours import coloured
    from pourcast.scan.corrections import corrected
    from pourcast.scan.solve import CELL, solve

    faces = len(mesh.faces)
    tell(f"{faces} faces; finding the parts.\n")
    scanned = solve(
        mesh,
        gate=at,
        cell=CELL if cell is None else cell,
        rng=np.random.default_rng(0),
        begun=lambda step: write_step(step, faces),
    )
    corrections = read_corrections_of(piece)
    scanned, materials, lost = corrected(coloured(scanned, mesh, reading.colours), corrections)
    said = tuple(
        own or made_of.get(part.shape) for own, part in zip(materials, scanned.parts, strict=True)
    )
    return scanned, said, corrections, lost


STEPS = {
    "surface": "1 of 5: putting the surface in order",
    "inside": "2 of 5: finding what lies inside",
    "ways": "3 of 5: finding the ways from the gate",
    "walls": "4 of 5: measuring the walls",
    "parts": "5 of 5: telling the parts apart",
}

LONG = 200_000
"""Faces; of a smaller scan nobody waits long enough to be told (our own choice)."""


def write_step(step: str, faces: int) -> None:
    """Tell which step of a long take has begun; apart from what the take comes to."""
    if faces >= LONG:
        typer.echo(STEPS[step], err=True)


def read_scan(path: Path) -> bytes:
    """Return the content of a scan file; one that is too long is not read.

    Raises
    ------
    InputError
        If it cannot be read, or is too long.
    """
    from pourcast.errors import InputError
    from pourcast.scan.guard import MOST_BYTES, require_size

    try:
        require_size(path.stat().st_size)
        with path.open("rb") as opened:
            content = opened.read(MOST_BYTES + 1)
    except OSError as fault:
        why = fault.strerror or str(fault)
        raise InputError("scan file", path, "", f"a file that can be read ({why})") from None
    require_size(len(content))
    return content


def read_beside(scan: Path, name: str, most: int) -> bytes | None:
    """Return the content of a file beside a scan, one byte more than ``most`` at most.

    None: there is no such file, or a link leads out of the folder of the scan.
    """
    folder = scan.resolve().parent
    try:
        path = (folder / name).resolve()
        if not path.is_relative_to(folder) or not path.is_file():
            return None
        with path.open("rb") as opened:
            return opened.read(most + 1)
    except (OSError, ValueError, RuntimeError):
        return None


def read_gate(written: str, unit: str) -> "Gate":
    """Return where the gate is: an end, or a place in metres."""
    import numpy as np

    from pourcast import units as si
    from pourcast.errors import InputError

    word = written.strip().lower()
    if word == "lowest":
        return "lowest"
    if word == "highest":
        return "highest"
    try:
        place = np.array([float(part) for part in written.split(",")])
    except ValueError:
        place = np.zeros(0)
    if place.shape != (3,) or not np.isfinite(place).all():
        raise InputError(
            "--gate", written, "", "lowest, highest, or three numbers such as 1.5,0,12"
        )
    return place * si.to_si(1.0, unit)


def read_corrections_of(piece: Path) -> "Corrections":
    """Return the corrections beside a piece file; none where there is no such file."""
    from pourcast.cli.files import read_text
    from pourcast.scan.corrections import read_corrections

    path = corrections_file(piece)
    if not path.exists():
        return ()
    return read_corrections(read_text(str(path)), file=str(path))


def corrections_file(piece: Path) -> Path:
    """Return the name of the file that holds the corrections of a piece."""
    return piece.with_name(f"{piece.stem}.corrections.toml")
