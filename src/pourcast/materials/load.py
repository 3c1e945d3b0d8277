"""Which values the library holds, and whether each of them has its source.

Reads the data files that come with the package, each once and when it is first
asked for.  A record that lacks its unit, range, kind or source is refused, and
so is the file it stands in: a number without a source is not used.

A source counts as checkable, and its record may be called published, if it
names at least one of

- a year from 1700 on, which a book, paper or rule is found by;
- a standard or rule by its letters and number, such as "ISO 7490" or "29 CFR 1910";
- an article by its number in an archive, such as "PMC11876593";
- a handbook by name: CRC, Perry, Smithells, Idelchik;
- a data sheet of an alloy by its designation, such as "data sheet C95400".

A number that was written down from memory is never published, whoever it is
ascribed to.
"""

import functools
import importlib.resources
import math
import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any, cast, get_args

from pourcast import units as si
from pourcast.errors import InputError, SourceError
from pourcast.findings import Kind
from pourcast.materials.facts import Burns, Fact, Matter
from pourcast.materials.model import Group, Library, Material, Value
from pourcast.speech import as_written

FILES: dict[str, str] = {
    "alloys": "alloys.toml",
    "elements": "elements.toml",
    "investment": "investment.toml",
    "waxes": "waxes.toml",
    "plants": "plants.toml",
    "coatings": "coatings.toml",
    "kiln": "kiln.toml",
    "pour": "pouring.toml",
    "freeze": "freezing.toml",
    "finish": "finish.toml",
    "matter": "matter.toml",
    "safety": "safety.toml",
}
"""Group: the file that holds it."""

_KINDS = frozenset(get_args(Kind))
_NEEDED = ("value", "low", "high", "unit", "kind", "source")
_ALLOWED = frozenset((*_NEEDED, "condition", "note"))
_TEXTS = ("name", "designation", "flag")
_BURNS = get_args(Burns)
_TOLD = ("reason", "hazard", "act")
_OF_MATTER = ("name", "burns", "reason", "hazard", "act", "source", "kind")

_CHECKABLE = re.compile(
    r"""
      \b(?:1[789]|20)\d\d\b(?!\s?(?:F|C|K|degC|kg)\b)        # a year, not a temperature
    | \b(?:ISO|EN|ASTM|ADA|EH|CFR|SI)\s?[A-Z]?\d+            # a standard or rule
    | \bPMC\d{5,}\b                                          # an article in an archive
    | \b(?:CRC|Perry|Smithells|Idelchik)\b                   # a handbook
    | \bdata\ sheets?\ (?:[A-Z]{1,2}\d{2,5}|\d{3}\.\d)       # the data sheet of an alloy
    """,
    re.VERBOSE,
)
_REMEMBERED = re.compile(r"\b(?:memory|remembered)\b", re.IGNORECASE)


@functools.cache
def library() -> Library:
    """Return all materials that come with the package; files are read when needed."""
    return Library(groups=_Files())


def alloy(key_or_designation: str) -> Material:
    """Return the alloy of a key, designation or name; see `Library.alloy`.

    Raises
    ------
    SourceError
        If no alloy has that name; it says which names come near.

    Examples
    --------
    >>> alloy("UNS C87300").key
    'si_bronze_c87300'
    """
    return library().alloy(key_or_designation)


class _Files(Mapping[str, Group]):
    """The groups of the package, each read at its first use."""

    def __getitem__(self, group: str) -> Group:
        if group not in FILES:
            raise KeyError(group)
        return _read(group)

    def __iter__(self) -> Iterator[str]:
        return iter(FILES)

    def __len__(self) -> int:
        return len(FILES)


@functools.cache
def _read(group: str) -> Group:
    file = FILES[group]
    data = importlib.resources.files("pourcast.materials").joinpath("data", file)
    return parse(group, file, data.read_text(encoding="utf-8"))


def parse(group: str, file: str, text: str) -> Group:
    """Return the materials of one data file.

    Parameters
    ----------
    group : str
        First part of the keys.
    file : str
        Name of the file, for messages.
    text : str
        TOML: one table for each material, and in it one line for each value.

    Returns
    -------
    Group

    Raises
    ------
    SourceError
        With file, key and fault, at the first record that is refused.
    """
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise SourceError(f"{file}: {fault}") from fault
    facts = {entry["id"]: _fact(file, entry) for entry in tables.pop("facts", ())}
    fume_limits = {word: tuple(keys) for word, keys in tables.pop("fume_limits", {}).items()}
    if group == "matter":
        return Group(materials={}, matter={key: _matter(file, key, tables[key]) for key in tables})
    materials = {key: _material(group, file, key, table) for key, table in tables.items()}
    return Group(materials=materials, facts=facts, fume_limits=fume_limits)


def _material(group: str, file: str, key: str, table: dict[str, Any]) -> Material:
    texts: dict[str, Any] = {name: as_written(table.pop(name, "")) for name in _TEXTS}
    if not texts["name"]:
        raise SourceError(f"{file}: {key}: name is missing")
    fume = tuple(table.pop("fume", ()))
    material = Material(key=key, group=group, fume=fume, **texts)
    values = {
        name: _value(file, f"{material.path}.{name}", record) for name, record in table.items()
    }
    return Material(key=key, group=group, fume=fume, values=values, **texts)


def _value(file: str, key: str, record: object) -> Value:
    fault = _fault(record)
    if fault:
        raise SourceError(f"{file}: {key}: {fault}")
    assert isinstance(record, dict)
    return Value(key=key, **record)


def _fault(record: object) -> str:
    """Return what is wrong with a record; "" where nothing is."""
    if not isinstance(record, dict):
        return f"{record!r} is not a record"
    missing = [name for name in _NEEDED if name not in record]
    unknown = [name for name in record if name not in _ALLOWED]
    if missing or unknown:
        return ", ".join(
            [f"{name} is missing" for name in missing]
            + [f"{name} is not a field of a record" for name in unknown]
        )
    value, low, high = record["value"], record["low"], record["high"]
    for number in (value, low, high):
        if type(number) not in (int, float) or not math.isfinite(number):
            return f"{number!r} is not a finite number"
    if not low <= value <= high:
        return f"{value} is not within {low} to {high}"
    for name in ("unit", "kind", "source", "condition", "note"):
        if not isinstance(record.get(name, ""), str):
            return f"{name} is not a text"
    return _fault_of_texts(record)


def _fault_of_texts(record: Mapping[str, str]) -> str:
    try:
        si.si_symbol(record["unit"])
    except InputError:
        return f'unit "{record["unit"]}" is not known'
    return _fault_of_source(record["kind"], record["source"])


def _fault_of_source(kind: str, source: str) -> str:
    if kind not in _KINDS:
        return f'kind "{kind}" is not one of {", ".join(sorted(_KINDS))}'
    if not source.strip():
        return "source is empty"
    if kind == "published" and _REMEMBERED.search(source):
        return f'kind is published, but the source says it is from memory: "{source}"'
    if kind == "published" and not _CHECKABLE.search(source):
        return f'kind is published, but the source names nothing that can be checked: "{source}"'
    return ""


def _fact(file: str, entry: Mapping[str, str]) -> Fact:
    fault = _fault_of_source(entry["kind"], entry["source"])
    if fault:
        raise SourceError(f"{file}: facts.{entry['id']}: {fault}")
    kind = cast(Kind, entry["kind"])
    return Fact(key=entry["id"], text=as_written(entry["text"]), source=entry["source"], kind=kind)


def _matter(file: str, key: str, entry: object) -> Matter:
    fault = _fault_of_matter(entry)
    if fault:
        raise SourceError(f"{file}: {key}: {fault}")
    assert isinstance(entry, dict)
    told = {name: as_written(text) for name, text in entry.items() if name in _TOLD}
    return Matter(key=key, also=tuple(entry.pop("also", ())), **{**entry, **told})


def _fault_of_matter(entry: object) -> str:
    if not isinstance(entry, dict):
        return f"{entry!r} is not a record"
    missing = [name for name in _OF_MATTER if not isinstance(entry.get(name), str)]
    unknown = [name for name in entry if name not in (*_OF_MATTER, "also")]
    if missing or unknown:
        return ", ".join(
            [f"{name} is missing or not a text" for name in missing]
            + [f"{name} is not a field of a record" for name in unknown]
        )
    empty = [name for name in ("name", "reason", "act") if not entry[name].strip()]
    if empty:
        return f"{empty[0]} is empty"
    if entry["burns"] not in _BURNS:
        return f'burns is "{entry["burns"]}", not one of {", ".join(_BURNS)}'
    return _fault_of_source(entry["kind"], entry["source"])
