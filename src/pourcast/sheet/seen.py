"""Seen: a piece file that names a scan or photographs in place of its parts.

The section says where the picture of the original lies and how to read it.  The
door reads it, and the parts it finds are written into the text; from there on
the piece file is one like any other, and the book keeps the parts, not the name
of a file that may change.
"""

from dataclasses import dataclass
from typing import Any, Literal, get_args

from pourcast import units as si
from pourcast.errors import SheetError
from pourcast.piece.model import Shape
from pourcast.sheet.faults import Faults
from pourcast.sheet.keys import SEEN
from pourcast.sheet.lines import line_map
from pourcast.sheet.text import parse
from pourcast.sheet.values import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What the section says.

    Parameters
    ----------
    kind : str
        "scan" or "photo".
    name : str
        Of the piece.
    file : str
        Beside the piece file, or its whole path.
    unit : str or None
        Of a scan; None: as its file says.
    gate : str
        Where the button goes: "lowest", "highest", or "x,y,z" in the unit of the scan.
    cell : float or None [m]
        Side of a cell of a scan; None: not said.
    second : str or None
        Photograph a quarter turn about the stem.
    scales : tuple of str
        Of the photographs, as the caster wrote them.
    camera : float or None [m]
        From the lens to the stem.
    leaf : float or None [m]
        Thickness of what is flat.
    flat : bool
        True if all of it lies square to the camera.
    feet : tuple of str
        Where the button goes in each photograph, "column,row"; empty: at the lowest place.
    materials : tuple of (str, str)
        Shape of a part, and what parts of that shape are made of.
    """

    kind: Literal["scan", "photo"]
    name: str
    file: str
    unit: str | None = None
    gate: str = "lowest"
    cell: si.Metre | None = None
    second: str | None = None
    scales: tuple[str, ...] = ()
    camera: si.Metre | None = None
    leaf: si.Metre | None = None
    flat: bool = False
    feet: tuple[str, ...] = ()
    materials: tuple[tuple[str, str], ...] = ()


def read_seen(text: str, *, file: str) -> Seen | None:
    """Return what a piece file says of its scan or photographs; None where it has neither.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Its name, for the messages.

    Raises
    ------
    SheetError
        If the section has a fault, stands beside another or beside parts; it lists all of them.
    """
    document = parse(text, file=file)
    named: list[Literal["scan", "photo"]] = [kind for kind in SEEN if kind in document]
    if not named:
        return None
    faults = Faults(document, text)
    kind = named[0]
    for other in (*named[1:], *(("part",) if "part" in document else ())):
        faults.add((other,), f"stands beside {kind}; one of them must stand", "take out the other")
    table = document[kind]
    if not isinstance(table, dict):
        faults.add((kind,), "must be one section", f"write [{kind}] with single brackets, once")
        raise SheetError(file, faults.found())
    values = read_table(_one_line(table), SEEN[kind], (kind,), faults)
    if ("foot" in values or "second_foot" in values) and not (
        "foot" in values and ("second" in values) == ("second_foot" in values)
    ):
        faults.add(
            (kind, "foot" if "foot" in values else "second_foot"),
            "must be said for each photograph, or for none",
            "foot goes with file, second_foot with second",
        )
    if faults.found():
        raise SheetError(file, faults.found())
    scales, feet = (
        tuple(values[key] for key in (name, f"second_{name}") if key in values)
        for name in ("scale", "foot")
    )
    title = document.get("name")
    return Seen(
        kind=kind,
        name=title if isinstance(title, str) else "piece",
        file=values["file"],
        unit=values.get("unit"),
        gate=values.get("gate", "lowest"),
        cell=values.get("cell"),
        second=values.get("second"),
        scales=scales,
        camera=values.get("camera"),
        leaf=values.get("leaf_thickness"),
        flat=values.get("flat", False),
        feet=feet,
        materials=tuple(
            (shape, values[f"{shape}_material"])
            for shape in get_args(Shape)
            if f"{shape}_material" in values
        ),
    )


def _one_line(table: dict[str, Any]) -> dict[str, Any]:
    """Return the table with places that are lists of numbers as one text."""
    out = dict(table)
    for key in ("gate", "foot", "second_foot"):
        place = table.get(key)
        if isinstance(place, list) and all(isinstance(each, int | float) for each in place):
            out[key] = ",".join(str(each) for each in place)
    return out


def with_parts(text: str, kind: str, parts: str) -> str:
    r"""Return the text with its section set aside as a note, and the parts at its end.

    Parameters
    ----------
    text : str
        A piece file in which the section stands.
    kind : str
        "scan" or "photo".
    parts : str
        As they are written in a piece file.

    Returns
    -------
    str
        All that was written stays on its line.

    Examples
    --------
    >>> print(with_parts('[scan]\nfile = "x.stl"\n[flask]', "scan", "[[part]]"))
    # [scan]
    # file = "x.stl"
    [flask]
    <BLANKLINE>
    [[part]]
    """
    written = text.replace("\r\n", "\n").split("\n")
    lines = line_map(text)
    first = lines[(kind,)]
    after = [line for path, line in lines.items() if path[0] != kind and line > first]
    last = min(after, default=len(written) + 1)
    aside = [f"# {line}".rstrip() if line else line for line in written[first - 1 : last - 1]]
    return "\n".join([*written[: first - 1], *aside, *written[last - 1 :], "", parts])
