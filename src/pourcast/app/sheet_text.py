"""Sheet text: from the boxes of the form to a piece file, and its faults back to the boxes."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

import tomlkit

from pourcast.app.look import Look
from pourcast.app.reading import plain_number
from pourcast.app.sheet_fields import END, MOST, REPEATED, SECTIONS, Box, Section, boxes
from pourcast.errors import Fault, SheetError
from pourcast.sheet import read_plan
from pourcast.sheet.faults import PlacedFault
from pourcast.sheet.takes import Count, Matter, Number

Fields = Mapping[str, str]
"""Text of each box by its name."""

_PLAIN = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")
_WHOLE = re.compile(r"[+-]?\d{1,15}")
_NOT_OF_SHAPE = {
    "rod": ("width_mm", "thickness_mm"),
    "blade": ("diameter_mm",),
}
"""Boxes that are out of sight for a shape, and so are not written."""


def places(fields: Fields, key: str) -> int:
    """Return how many parts, vents or steps a form has."""
    found = re.compile(re.escape(key) + r"\.(\d{1,4})\.")
    numbers = [int(hit[1]) for name in fields if (hit := found.match(name))]
    return min(MOST, max(numbers, default=-1) + 1)


def document(fields: Fields, look: Look) -> dict[str, Any]:
    """Return what the boxes say as the tables of a piece file; empty boxes are left out."""
    made: dict[str, Any] = {}
    for section in SECTIONS:
        table = _table(fields, boxes(section), look)
        if not section.key:
            made |= table
        elif table or any(box.takes.needed for box in boxes(section)):
            # An empty section says of each of its boxes that it is missing.
            made[section.key] = table
    for key, section in REPEATED.items():
        tables = [
            _of_shape(_table(fields, boxes(section, place), look))
            for place in range(places(fields, key))
        ]
        if key == "kiln.step":
            kept = [table for table in tables if table]
            if kept:
                made.setdefault("kiln", {})["step"] = kept
        elif tables:
            made[key] = tables
    return made


def text_of(fields: Fields, look: Look) -> str:
    """Return the piece file that the boxes say."""
    whole = tomlkit.document()
    for key, value in document(fields, look).items():
        whole[key] = value
    return tomlkit.dumps(whole)


def faults_of(fields: Fields, look: Look) -> dict[str, list[Fault]]:
    """Return the faults by the name of the box they belong beside; {} where there are none.

    A fault of a whole section stands at its first box that must be filled in.
    """
    try:
        read_plan(text_of(fields, look))
    except SheetError as refused:
        found: dict[str, list[Fault]] = {}
        known = set(_names(fields))
        kept_steps = _step_places(fields, look)
        for fault in refused.faults:
            path = fault.path if isinstance(fault, PlacedFault) else ()
            if path[:2] == ("kiln", "step") and len(path) > 2 and isinstance(path[2], int):
                path = (*path[:2], kept_steps[path[2]], *path[3:])
            found.setdefault(_box(path, known), []).append(fault)
        return found
    return {}


def _step_places(fields: Fields, look: Look) -> list[int]:
    """Return the places in the form of those steps that are written."""
    section = REPEATED["kiln.step"]
    return [
        place
        for place in range(places(fields, "kiln.step"))
        if _table(fields, boxes(section, place), look)
    ]


def _names(fields: Fields) -> Iterator[str]:
    for section in SECTIONS:
        yield from (box.name for box in boxes(section))
    for key, section in REPEATED.items():
        for place in range(places(fields, key)):
            yield from (box.name for box in boxes(section, place))


def _box(path: tuple[str | int, ...], known: set[str]) -> str:
    """Return the box a path leads to, or the first one of its section."""
    while path:
        name = ".".join(str(step) for step in path)
        if name in known:
            return name
        first = next((box for box in _first_of(name, known)), None)
        if first is not None:
            return first
        path = path[:-1]
    return "name"


def _first_of(name: str, known: set[str]) -> Iterator[str]:
    for section in (*SECTIONS, *REPEATED.values()):
        if section.key == name:
            needed = [box.name for box in boxes(section) if getattr(box.takes, "needed", False)]
            yield from (box for box in needed if box in known)
    if f"{name}.0.name" in known:
        yield f"{name}.0.name"


def _table(fields: Fields, asked: tuple[Box, ...], look: Look) -> dict[str, Any]:
    table: dict[str, Any] = {}
    for box in asked:
        value = _value(box, fields, look)
        if value is not None:
            table[box.name.rpartition(".")[2]] = value
    return table


def _value(box: Box, fields: Fields, look: Look) -> Any:
    written = fields.get(box.name, "").strip()
    if box.has_end:
        end = fields.get(f"{box.name}.{END}", "").strip()
        if written and end:
            return [_number(box, written, look), _number(box, end, look)]
        written = written or end
    if not written:
        return None
    if isinstance(box.takes, Number):
        return _number(box, written, look)
    if isinstance(box.takes, Count):
        return int(written) if _WHOLE.fullmatch(written) else written
    if isinstance(box.takes, Matter):
        return [word for each in written.split(",") if (word := each.strip())]
    return fields[box.name].replace("\r\n", "\n") if box.name == "note" else written


def _number(box: Box, written: str, look: Look) -> int | float | str:
    """Return a plain number as one, anything else as it was typed."""
    plain = plain_number(written, look)
    if not _PLAIN.fullmatch(plain) or len(plain) > 40:
        return plain
    # A length is measured in what the caster has chosen; the file says so.
    if box.unit == "mm" and look.lengths == "in":
        return f"{plain} in"
    return int(plain) if _WHOLE.fullmatch(plain) else float(plain)


def _of_shape(table: dict[str, Any]) -> dict[str, Any]:
    hidden = _NOT_OF_SHAPE.get(str(table.get("shape")), ())
    return {key: value for key, value in table.items() if key not in hidden}


def moved(fields: Fields, section: Section, place: int, *, by: int) -> dict[str, str]:
    """Return fields with one part, vent or step taken out (by 0), or moved up or down by 1."""
    count = places(fields, section.key)
    order = list(range(count))
    if 0 <= place < count:
        order.remove(place)
        if by and 0 <= place + by < count:
            order.insert(place + by, place)
        elif by:
            order.insert(place, place)
    start = section.key + "."
    kept = {name: text for name, text in fields.items() if not _is_of(name, start)}
    for new, old in enumerate(order):
        before = f"{start}{old}."
        kept |= {
            f"{start}{new}." + name[len(before) :]: text
            for name, text in fields.items()
            if name.startswith(before)
        }
    return kept


def _is_of(name: str, start: str) -> bool:
    return name.startswith(start) and name[len(start) : len(start) + 1].isdigit()
