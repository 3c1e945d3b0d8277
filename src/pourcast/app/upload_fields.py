"""Upload fields: what is said beside a scan or photographs, as it was typed, and what is wrong.

All faults of a form are found before a file is read, each by the name of its box, so that
the caster puts them right in one go.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import get_args

import numpy as np

from pourcast import units as si
from pourcast.app.look import Look
from pourcast.app.reading import read_number
from pourcast.app.taking import ENDS, UNITS, Gate
from pourcast.app.words import say
from pourcast.errors import InputError
from pourcast.materials import library
from pourcast.piece.model import USUAL_MATERIALS, Shape
from pourcast.trade_units import read

SCAN = ("name", "unit", "gate", "place", "rod", "blade", "lump")
PHOTOGRAPHS = (
    "name",
    "mark",
    "thickness",
    "blade",
    "rod",
    "lump",
    "foot",
    "foot2",
    "foot3",
)
"""Boxes of each form, files apart."""

SHAPES = get_args(Shape)

PLACE = "place"
_FARTHEST = 1e6  # of a place, in the unit of the file; more is a slip
_MOST_PIXELS = 100_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A form of the upload, read.

    Parameters
    ----------
    name : str
        Of the piece; "": as the file.
    unit : str or None
        Of the figures of a scan; None: as the file says.
    gate : {"lowest", "highest"} or array, shape (3,)
        Where the button goes; a place is in the unit of the file.
    materials : dict of str to str
        Key of the record by shape; a shape of which nothing was said is left out.
    mark, leaf : float [m]
        Length of the bar in the picture, thickness of what is flat; 0 in the form of a scan.
    feet : tuple of (pair of float or None)
        Column and row of the button in each photograph; None: the lowest.
    faults : dict of str to str
        What is wrong, by the name of the box; with any, the other values say nothing.
    """

    name: str = ""
    unit: str | None = None
    gate: Gate = "lowest"
    materials: Mapping[str, str] = field(default_factory=dict)
    mark: si.Metre = 0.0
    leaf: si.Metre = 0.0
    feet: tuple[tuple[float, float] | None, ...] = ()
    faults: Mapping[str, str] = field(default_factory=dict)


def read_scan_form(fields: Mapping[str, str], look: Look) -> Said:
    """Return what is said beside a scan.

    Parameters
    ----------
    fields : dict of str to str
        By the names of `SCAN`, as they were typed; one that is missing is empty.
    look : Look
    """
    faults: dict[str, str] = {}
    unit = fields.get("unit", "") or None
    if unit is not None and unit not in UNITS:
        faults["unit"] = str(InputError("unit", unit[:20], "", "one of " + ", ".join(UNITS)))
    gate: Gate = "lowest"
    asked = fields.get("gate", "") or "lowest"
    if asked == PLACE:
        try:
            gate = np.array(_numbers("place", fields.get("place", ""), 3, look, _FARTHEST))
        except InputError as fault:
            faults["place"] = str(fault)
    elif asked in ENDS:
        gate = ENDS[asked]
    else:
        must = "one of " + ", ".join((*ENDS, PLACE))
        faults["gate"] = str(InputError("gate", asked[:20], "", must))
    return Said(
        name=fields.get("name", "").strip(),
        unit=unit,
        gate=gate,
        materials=_materials(fields, {}, faults),
        faults=faults,
    )


def read_photograph_form(fields: Mapping[str, str], look: Look, pictures: int) -> Said:
    """Return what is said beside photographs.

    Parameters
    ----------
    fields : dict of str to str
        By the names of `PHOTOGRAPHS`, as they were typed; one that is missing is empty.
    look : Look
    pictures : int
        1 to 3.
    """
    faults: dict[str, str] = {}
    lengths = {}
    for box in ("mark", "thickness"):
        try:
            lengths[box] = _length(box, fields.get(box, ""), look)
        except InputError as fault:
            faults[box] = str(fault)
    feet: list[tuple[float, float] | None] = []
    for box in ("foot", "foot2", "foot3")[:pictures]:
        written = fields.get(box, "").strip()
        try:
            place = _numbers(box, written, 2, look, _MOST_PIXELS) if written else None
        except InputError as fault:
            faults[box] = str(fault)
        else:
            feet.append(None if place is None else (place[0], place[1]))
    return Said(
        name=fields.get("name", "").strip(),
        materials=_materials(fields, USUAL_MATERIALS, faults),
        mark=lengths.get("mark", 0.0),
        leaf=lengths.get("thickness", 0.0),
        feet=tuple(feet),
        faults=faults,
    )


def _materials(
    fields: Mapping[str, str], usual: Mapping[str, str], faults: dict[str, str]
) -> dict[str, str]:
    known = {*library().organs, *library().waxes}
    found = {}
    for shape in SHAPES:
        key = fields.get(shape, "") or usual.get(shape, "")
        if not key:
            continue
        if key not in known:
            faults[shape] = str(InputError("material", key[:40], "", "one of the list"))
        found[shape] = key
    return found


def _length(box: str, written: str, look: Look) -> si.Metre:
    what = say(f"upload.what.{box}")
    if not written.strip():
        raise InputError(what, "empty", "", f"a length, such as 50 {look.lengths}")
    try:
        length = read(written, "length", default_unit=look.lengths)
    except InputError as fault:
        raise InputError(what, written[:40], "", fault.must, fault.hint) from None
    if not 0.0 < length <= 100.0:
        raise InputError(what, written[:40], "", "over 0 and up to 100 m")
    return length


def _numbers(box: str, written: str, count: int, look: Look, most: float) -> list[float]:
    """Return numbers with a comma between them, or a semicolon where a comma is the sign."""
    what, mark = say(f"upload.what.{box}"), ";" if ";" in written else ","
    words = written.split(mark) if written.strip() else []
    if len(words) != count:
        must = say(f"upload.must.{box}")
        raise InputError(what, written[:40] or "empty", "", must)
    return [read_number(what, word, look, low=-most, high=most) for word in words]
