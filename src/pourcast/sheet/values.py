"""Values: what one table of a piece file says, in SI.

Each key is held against `pourcast.sheet.keys`.  What cannot be used becomes a
fault and is left out, so that one reading finds all the faults of a file.
"""

import unicodedata
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from pourcast import materials
from pourcast import units as si
from pourcast.errors import InputError, SourceError
from pourcast.sheet.faults import Faults, listed, shown
from pourcast.sheet.keys import LISTS, SECTIONS, TOP, bare
from pourcast.sheet.lines import Path
from pourcast.sheet.takes import (
    Choice,
    Count,
    Flag,
    Keys,
    Material,
    Matter,
    Number,
    Takes,
    Text,
    in_its_unit,
    limits_as_told,
    speech_of_value,
)
from pourcast.trade_units import read

Table = Mapping[str, Any]
Values = dict[str, Any]

_PRINTED = {"d": "days", "C": "°C", "C/h": "°C/h", "1/h": "per h", "-": ""}
_SLACK = 1e-9  # a limit written in another unit may miss itself by a rounding
_MARKS_OF_UNITS = "°%'\"′″:½¼¾⅛⅜⅝⅞"


def read_table(
    table: Table, keys: Keys, path: Path, faults: Faults, *, others: tuple[str, ...] = ()
) -> Values:
    """Return the values of a table by key without unit, in SI; faulty ones are left out.

    Parameters
    ----------
    table : mapping
        As `tomllib` gives it.
    keys : mapping of str to Number, Count, Flag, Text, Choice or Material
        What may stand in it.
    path : tuple
        Where the table stands in the file.
    faults : Faults
        Takes the faults found.
    others : tuple of str
        Keys that somebody else reads.

    Returns
    -------
    dict
        "inside_diameter": 0.076 [m]; a taper is a pair.
    """
    names = {bare(key): key for key, takes in keys.items() if isinstance(takes, Number)}
    for written in table:
        if written not in keys and written not in names and written not in others:
            hint = in_its_unit(written, table[written], names, keys) or _home(written, keys, faults)
            faults.add((*path, written), "is not a key of this place", hint)
    values: Values = {}
    for key, takes in keys.items():
        found = [name for name in {key: None, bare(key): None} if name in table]
        if len(found) == 2:
            faults.add((*path, found[1]), f"stands beside {key}; it must stand once", "keep one")
        elif found:
            value = _read(table[found[0]], takes, (*path, found[0]), key, faults)
            if value is not None:
                values[bare(key)] = value
        elif takes.needed:
            faults.add((*path, key), "is missing", f"it takes {_asked(takes)}")
    return values


def _home(written: str, keys: Keys, faults: Faults) -> str:
    """Return where an unknown key belongs, or what it may have been meant for."""
    # A key that is right in another section must not be taken for a slip in this one.
    near = faults.guess(written, keys, near=0.7)
    if near:
        return near
    for name, others in SECTIONS.items():
        if written in others:
            return f"it belongs to [{name}]"
    for name, others in LISTS.items():
        if written in others:
            return f"it belongs to [[{name}]]"
    if written in TOP:
        return "it belongs to the top of the file, before the first section"
    return f"known here: {', '.join(keys)}"


def _asked(takes: Takes) -> str:
    if isinstance(takes, Number):
        unit = _PRINTED.get(takes.unit, takes.unit)
        return f"a {takes.quantity}, as a number{f' in {unit}' if unit else ''}"
    if isinstance(takes, Count):
        return f"a whole number, 1 to {takes.most}"
    if isinstance(takes, Flag):
        return "true or false"
    if isinstance(takes, Choice):
        return listed(takes.words)
    if isinstance(takes, Matter):
        return 'a list of words, as in ["wire", "bone"]'
    return "a text in quotes" if isinstance(takes, Text) else f"the name of {_OF_KIND[takes.kind]}"


def _read(value: Any, takes: Takes, path: Path, key: str, faults: Faults) -> Any:
    if isinstance(takes, Number):
        if isinstance(value, list) and takes.taper:
            return _taper(value, takes, path, key, faults)
        return _number(value, takes, path, key, faults)
    return _READERS[type(takes)](value, takes, path, faults)


def _taper(
    value: list[Any], takes: Number, path: Path, key: str, faults: Faults
) -> tuple[float, float] | None:
    if len(value) != 2:
        must = "it must be one number, or two as in [start, end]"
        faults.add(path, f"is a list of {len(value)}; {must}")
        return None
    first, last = (
        _number(item, takes, (*path, place), key, faults) for place, item in enumerate(value)
    )
    return None if first is None or last is None else (first, last)


def _number(value: Any, takes: Number, path: Path, key: str, faults: Faults) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        faults.add(path, f"is {shown(value)}; it must be {_asked(takes)}")
        return None
    unit = _PRINTED.get(takes.unit, takes.unit)
    if key not in path and not _has_unit(value):
        must = f"a text with its unit, or stand beside the key {key}"
        faults.add(path, f"is {shown(value)} without a unit; it must be {must}")
        return None
    written = shown(value) if isinstance(value, str) else f"{shown(value)} {unit}".rstrip()
    try:
        amount = read(value, takes.quantity, default_unit=takes.unit)
    except InputError as fault:
        faults.add(path, f"is {written}; it must be {fault.must}", fault.hint)
        return None
    inside = value if isinstance(value, int | float) else si.from_si(amount, takes.unit)
    low, high = takes.low, takes.high
    if not low - _SLACK * abs(low) <= inside <= high + _SLACK * abs(high):
        also = f" ({f'{inside:.6g} {unit}'.rstrip()})" if isinstance(value, str) else ""
        limits = f"{low:g} to {high:g} {unit}".rstrip()
        told = limits_as_told(takes, speech_of_value(value, takes.quantity))
        if told:
            also, limits = "", told
        faults.add(path, f"is {written}{also}; it must be {limits}", takes.hint)
        return None
    return amount if low <= inside <= high else si.to_si(min(max(inside, low), high), takes.unit)


def _has_unit(value: object) -> bool:
    return isinstance(value, str) and any(
        mark.isalpha() or mark in _MARKS_OF_UNITS for mark in value
    )


def _count(value: Any, takes: Count, path: Path, faults: Faults) -> int | None:
    whole = isinstance(value, int) or (isinstance(value, float) and value.is_integer())
    if isinstance(value, bool) or not whole or not 1 <= value <= takes.most:
        faults.add(path, f"is {shown(value)}; it must be {_asked(takes)}")
        return None
    return int(value)


def _flag(value: Any, takes: Flag, path: Path, faults: Faults) -> bool | None:
    if isinstance(value, bool):
        return value
    faults.add(path, f"is {shown(value)}; it must be {_asked(takes)}", "without quotes")
    return None


def _text(value: Any, takes: Text, path: Path, faults: Faults) -> str | None:
    if not isinstance(value, str):
        faults.add(path, f"is {shown(value)}; it must be {_asked(takes)}")
    elif not value.strip() and not takes.lines:
        faults.add(path, f"is {shown(value)}; it must be {_asked(takes)}", "nothing is written")
    elif len(value) > takes.longest:
        must = f"it must have at most {takes.longest}"
        faults.add(path, f"has {len(value)} characters; {must}", "put more into the note")
    elif any(is_control(mark) and not (takes.lines and mark in "\t\r\n") for mark in value):
        must = "it must stand on one line, without tabs" if not takes.lines else "it must be text"
        faults.add(path, f"holds a control character; {must}")
    else:
        return value
    return None


def is_control(mark: str) -> bool:
    """Return whether a character is none to be seen, or ends a line."""
    return unicodedata.category(mark) in ("Cc", "Cs", "Zl", "Zp")


def _choice(value: Any, takes: Choice, path: Path, faults: Faults) -> str | None:
    if isinstance(value, str) and value in takes.words:
        return value
    hint = faults.guess(value, takes.words) if isinstance(value, str) else ""
    faults.add(path, f"is {shown(value)}; it must be {listed(takes.words)}", hint)
    return None


def _material(value: Any, takes: Material, path: Path, faults: Faults) -> str | None:
    must = f"it must be the name of {_OF_KIND[takes.kind]}"
    if not isinstance(value, str) or not value.strip() or len(value) > _LONGEST_NAME:
        faults.add(path, f"is {shown(value)}; {must}")
        return None
    if takes.kind == "alloy":
        return _alloy(value, must, path, faults)
    known = _known(takes.kind)
    if value in known:
        return value
    hint, names = faults.guess(value, known), f"nown: {', '.join(known)}"
    faults.add(path, f"is {shown(value)}; {must}", f"{hint} K{names}" if hint else f"k{names}")
    return None


def _alloy(value: str, must: str, path: Path, faults: Faults) -> str | None:
    try:
        return materials.alloy(value).key
    except SourceError as fault:
        near = str(fault).partition("; ")[2]
        known = f"known: {', '.join(materials.library().alloys)}"
        faults.add(path, f"is {shown(value)}; {must}", near or known)
        return None


def _matter(value: Any, takes: Matter, path: Path, faults: Faults) -> tuple[str, ...] | None:
    """Return the keys of the matter that is named; a word that is not known is a fault."""
    if not isinstance(value, list):
        hint = f"write [{shown(value)}]" if isinstance(value, str) else ""
        faults.add(path, f"is {shown(value)}; it must be {_asked(takes)}", hint)
        return None
    if len(value) > takes.most:
        faults.add(path, f"is a list of {len(value)}; it must be of at most {takes.most}")
        return None
    keys = {materials.plain(name): kept.key for kept in _matters() for name in kept.names}
    named: dict[str, None] = {}
    for place, word in enumerate(value):
        key = keys.get(materials.plain(word)) if isinstance(word, str) else None
        if key is not None:
            named[key] = None
            continue
        hint = ""
        if isinstance(word, str):
            # Keys first: of two words that are as near, the key is the one to learn.
            words = [name for kept in _matters() for name in kept.names]
            hint = faults.guess(word, [kept.key for kept in _matters()]) or faults.guess(
                word, words
            )
        known = f"known: {', '.join(kept.key for kept in _matters())}"
        faults.add(
            (*path, place),
            f"is {shown(word)}; it must be a word for matter in or on an original",
            hint or known,
        )
    return tuple(named)


def _matters() -> Iterable[materials.Matter]:
    return materials.library().matter.values()


def _known(kind: str) -> tuple[str, ...]:
    library = materials.library()
    if kind == "powder":
        return library.powders
    waxes = tuple(library.waxes)
    return waxes if kind == "wax" else (*library.organs, *waxes)


_LONGEST_NAME = 60  # characters; our own choice, no record has a longer name
_OF_KIND = {
    "alloy": "an alloy, by its key or designation",
    "powder": "an investment powder",
    "wax": "a wax",
    "original": "a plant, insect or wax record",
}
_READERS: Mapping[type, Callable[[Any, Any, Path, Faults], Any]] = {
    Count: _count,
    Flag: _flag,
    Text: _text,
    Choice: _choice,
    Material: _material,
    Matter: _matter,
}
