"""Edit: a piece file with one value changed, and all that the caster wrote kept.

Comments, order, spaces and units of what is not touched stay as they are.  An
edit names its place by the path of its keys:

    ("flask", "temperature_C")          a key of a section
    ("part", "Spines", "coat_mm")       a key of the part of that name
    ("kiln", "step", 0, "hold_h")       a key of the first step
    ("vent",)                           with a table as its value: one more vent
    ("kiln", "step", 1)                 with a table as its value: one more, before the second
    ("vent", 0)                         with None as its value: the first vent goes

What the changed file says is not looked at here: `pourcast.sheet.read_plan`
tells its faults with their lines, as for any file.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.items import AoT, Array, InlineTable, Table

from pourcast.errors import InputError
from pourcast.sheet.in_units import in_units
from pourcast.sheet.keys import bare
from pourcast.sheet.lines import Path
from pourcast.sheet.model import Edit
from pourcast.sheet.put_in import put_in
from pourcast.sheet.spoken import speech_of_any
from pourcast.sheet.text import parse

__all__ = ["Edit", "edited", "puts_in"]

_STEP = ("kiln", "step")
_LISTS = (("part",), ("vent",), _STEP)
"""Sections with double brackets."""

_NAMED = ("part",)
"""Those whose tables have a name of their own."""


def edited(text: str, edits: Sequence[Edit], *, file: str = "piece file") -> str:
    """Return the text of a piece file with edits made, in their order.

    Parameters
    ----------
    text : str
        The whole file.
    edits : sequence of Edit
        A number that is a heat in °C is written in °F where the caster writes so.
    file : str
        Its name, for the messages.

    Returns
    -------
    str
        The file with everything else as it was.

    Raises
    ------
    SheetError
        If the text is no TOML.
    InputError
        If a path leads nowhere, or a value cannot be written.
    """
    speech = speech_of_any(parse(text, file=file))
    document = tomlkit.parse(text)
    for edit in in_units(edits, speech):
        if puts_in(edit):
            document = _with_one_more(document, edit)
        else:
            _make(document, edit)
    return tomlkit.dumps(document)


def puts_in(edit: Edit) -> bool:
    """Return whether an edit is one more table before another of its kind.

    Parameters
    ----------
    edit : Edit
    """
    return edit.path[:-1] in _LISTS and isinstance(edit.value, Mapping)


def _with_one_more(document: Any, edit: Edit) -> Any:
    """Return the document with one more table before another, or at the end."""
    path, place, value = edit.path[:-1], edit.path[-1], edit.value
    assert isinstance(value, Mapping)
    tables: Any = document
    for step in path:
        tables = tables.get(step, {})
    if place == len(tables):
        _append(document, path, value)
        return document
    before = _index(tables, place, edit, named=False)
    table = {key: _plain(edit, item) for key, item in value.items()}
    if isinstance(tables, Array):
        tables.insert(before, _in_one_line(table))
        return document
    return tomlkit.parse(put_in(tomlkit.dumps(document), path, before, table))


def _in_one_line(table: Mapping[str, Any]) -> InlineTable:
    row = tomlkit.inline_table()
    row.update(table)
    return row


def _make(document: Any, edit: Edit) -> None:
    path = edit.path
    if not path or not isinstance(path[0], str):
        raise _nowhere(edit, "it must begin with the name of a section or of a key")
    if path in _LISTS and isinstance(edit.value, Mapping):
        _append(document, path, edit.value)
        return
    holder, key = _holder(document, edit)
    if edit.value is None:
        if isinstance(key, str) and key not in holder:
            return
        del holder[key]
    else:
        holder[key] = _plain(edit, edit.value)
        # The same key may stand without its unit, as in `diameter = "3/16 in"`.
        if isinstance(key, str) and bare(key) != key and bare(key) in holder:
            del holder[bare(key)]


def _holder(document: Any, edit: Edit) -> tuple[Any, str | int]:
    """Return the table or list that an edit changes, and under which key."""
    place: Any = document
    done: Path = ()
    for step in edit.path[:-1]:
        if done in _LISTS:
            place = place[_index(place, step, edit, named=done in _NAMED_PATHS)]
        elif isinstance(step, str) and step in place:
            place = place[step]
        elif isinstance(step, str) and not done and edit.value is not None:
            # A section that the caster left out is made; its keys have usual values.
            place[step] = tomlkit.table()
            place = place[step]
        else:
            raise _nowhere(edit, f"there is no {step!r}")
        if not isinstance(place, (Mapping, Sequence)) or isinstance(place, str):
            raise _nowhere(edit, f"{step!r} is a value, not a section")
        done = (*done, step)
    last = edit.path[-1]
    if done in _LISTS:
        return place, _index(place, last, edit, named=done in _NAMED_PATHS)
    if not isinstance(last, str):
        raise _nowhere(edit, "its last step must be the name of a key")
    return place, last


_NAMED_PATHS = tuple((name,) for name in _NAMED)


def _index(tables: Any, step: str | int, edit: Edit, *, named: bool) -> int:
    if isinstance(step, int):
        if 0 <= step < len(tables):
            return step
        raise _nowhere(edit, f"there are {len(tables)} of them, counted from 0")
    names = [table.get("name") for table in tables]
    if named and names.count(step) == 1:
        return names.index(step)
    if not named:
        raise _nowhere(edit, "these have no names; it must be their place from 0")
    raise _nowhere(edit, "known: " + ", ".join(str(name) for name in names))


def _append(document: Any, path: Path, value: Mapping[str, Any]) -> None:
    table = tomlkit.table()
    for key, item in value.items():
        table[key] = _plain(Edit(path=(*path, key), value=item), item)
    holder, name = document, path[-1]
    if path == _STEP:
        if "kiln" not in document:
            document["kiln"] = tomlkit.table()
        holder = document["kiln"]
    tables = holder.get(name)
    if isinstance(tables, Array):
        tables.append(_in_one_line(table))
        return
    if tables is None or not isinstance(tables, AoT):
        holder[name] = tomlkit.aot()
        tables = holder[name]
    elif len(tables):
        _blank_line_after(tables[-1])
    tables.append(table)


def _blank_line_after(table: Table) -> None:
    """Keep tables apart: a table that ends its file has no empty line after it."""
    if not table.as_string().endswith("\n\n"):
        table.add(tomlkit.nl())


def _plain(edit: Edit, value: Any) -> Any:
    """Return a value as TOML holds it; numbers of numpy become plain ones."""
    if isinstance(value, Mapping):
        return {str(key): _plain(edit, item) for key, item in value.items()}
    if isinstance(value, (str, bool)):
        return value
    if isinstance(value, int):
        return int(value)
    if isinstance(value, Sequence):
        return [_plain(edit, item) for item in value]
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise _unwritable(edit, value) from None
    if not math.isfinite(number):
        raise _unwritable(edit, value)
    return number


def _unwritable(edit: Edit, value: object) -> InputError:
    return InputError(
        _named(edit), repr(value), "", "a word, a finite number, yes or no, or a list"
    )


def _nowhere(edit: Edit, why: str) -> InputError:
    return InputError("edit of a piece file", _named(edit), "", f"a place that is there: {why}")


def _named(edit: Edit) -> str:
    return ".".join(str(step) for step in edit.path)
