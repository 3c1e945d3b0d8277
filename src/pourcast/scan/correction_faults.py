"""Faults of a corrections file: which key is wrong, on which line, and what it must be."""

from typing import Any

from pourcast.errors import Fault
from pourcast.scan.groups import KEYS as GROUP_KEYS
from pourcast.scan.groups import group_faults

_KEYS = (
    "at_mm", "name", "material", "diameter_mm", "width_mm", "thickness_mm", "length_mm", "drop",
    "join",
)  # fmt: skip
_SIZES = ("diameter_mm", "width_mm", "thickness_mm")

LEAST_MM, MOST_MM = 0.001, 3000.0
"""Between what a size of a part may lie, in mm; as in a piece file."""

LONGEST_NAME = 60
"""Characters of a name or a material."""


def tables(
    told: dict[str, Any], key: str, text: str, faults: list[Fault]
) -> list[tuple[int, dict[str, Any]]]:
    """Return the tables of a name, each with the line that it begins on.

    Parameters
    ----------
    told : dict
        As TOML gives it.
    key : str
        "part" or "group".
    text : str
        Of the file.
    faults : list of Fault
        A fault is added where the name is written in another way.

    Returns
    -------
    list of (int, dict)
    """
    tables = told.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        faults.append(Fault(line=1, key=key, text=f"must be written [[{key}]]"))
        return []
    lines = [k for k, line in enumerate(text.split("\n"), 1) if line.strip() == f"[[{key}]]"]
    return [(lines[k] if k < len(lines) else 1, table) for k, table in enumerate(tables)]


def _unknown(table: dict[str, Any], line: int, known: tuple[str, ...]) -> list[Fault]:
    return [
        Fault(line=line, key=key, text=f"is not known; known: {', '.join(known)}")
        for key in table
        if key not in known
    ]


def _name_faults(table: dict[str, Any], line: int) -> list[Fault]:
    faults = []
    must = f"a text of 1 to {LONGEST_NAME} characters on one line"
    for key in ("name", "material"):
        value = table.get(key, "x")
        if not (isinstance(value, str) and 0 < len(value) <= LONGEST_NAME and value.isprintable()):
            faults.append(_bad(table, line, key, must))
    for key in ("drop", "join"):
        if not isinstance(table.get(key, False), bool):
            faults.append(_bad(table, line, key, "true or false"))
    return faults


def _bad(table: dict[str, Any], line: int, key: str, must: str) -> Fault:
    return Fault(line=line, key=key, text=f"is {table.get(key)!r}; it must be {must}")


def faults_of_group(table: dict[str, Any], line: int) -> list[Fault]:
    """Return what is wrong with a [[group]].

    Parameters
    ----------
    table : dict
    line : int
        That it begins on.

    Returns
    -------
    list of Fault
    """
    faults = _unknown(table, line, GROUP_KEYS) + _name_faults(table, line)
    return faults + [_bad(table, line, key, must) for key, must in group_faults(table)]


def faults_of_part(table: dict[str, Any], line: int) -> list[Fault]:
    """Return what is wrong with a [[part]].

    Parameters
    ----------
    table : dict
    line : int
        That it begins on.

    Returns
    -------
    list of Fault
    """
    faults = _unknown(table, line, _KEYS) + _name_faults(table, line)

    def bad(key: str, must: str) -> None:
        faults.append(_bad(table, line, key, must))

    at = table.get("at_mm")
    if not (isinstance(at, list) and len(at) == 3 and all(map(_is_number, at))):
        bad("at_mm", "three numbers, the middle of the part in the scan")
    for key in (*_SIZES, "length_mm"):
        if key in table and not _is_size(table[key], taper=key != "length_mm"):
            bad(key, "a number of mm above 0 and up to 3000, or two for a taper")
    return faults


def _is_number(value: Any) -> bool:
    # A whole number may be too large for a float, and nan is not below anything.
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e6


def _is_size(value: Any, *, taper: bool) -> bool:
    if taper and isinstance(value, list):
        return len(value) == 2 and all(_is_size(part, taper=False) for part in value)
    return _is_number(value) and LEAST_MM <= value <= MOST_MM
