"""As written: in which unit does each of two sheets say what differs?

Two plans are compared in SI.  A caster who wrote "24 inHg" asks for 24 inHg, and not for
81.2733 kPa: here a difference is told once more as the two sheets say it.  What a sheet
gives as a plain number keeps the unit of its key.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from pourcast.change.compared import Comparison, Difference, PlanFigures
from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, bare
from pourcast.sheet.spoken import speech_of_text
from pourcast.sheet.takes import Number, Takes

_PLAIN = re.compile(r"[-+\d.\s]*")
"""A text that says no unit: it is in that of its key."""


def as_the_sheets_say(said: Comparison, one: str, other: str) -> Comparison:
    """Return a comparison whose differences are told in the units of the two sheets.

    Parameters
    ----------
    said : Comparison
    one, other : str
        Texts of the two piece files, which `pourcast.sheet.read_plan` has read without a fault.

    Returns
    -------
    Comparison
    """
    written = as_written(one), as_written(other)
    return replace(
        said,
        one=_spoken(said.one, one),
        other=_spoken(said.other, other),
        differences=tuple(_told(each, *written) for each in said.differences),
    )


def _spoken(figures: PlanFigures, text: str) -> PlanFigures:
    """Return what stops a plan, in the unit in which its own sheet says its heats."""
    return replace(figures, stops=tuple(map(speech_of_text(text).text, figures.stops)))


def as_written(text: str) -> dict[str, str]:
    r"""Return each number of a piece file that is written as a text with its unit.

    Parameters
    ----------
    text : str
        Of a piece file without a fault.

    Returns
    -------
    dict of str to str
        By its place, as a `Difference` names it; the key with its unit.

    Examples
    --------
    >>> as_written('[assist]\nvacuum = "24 inHg"\n[flask]\nheight_mm = 100')
    {'assist.vacuum_kPa': '24 inHg'}
    """
    document = tomllib.loads(text)
    found: dict[str, str] = {}
    for name, keys in SECTIONS.items():
        found.update(_of_table(name, document.get(name, {}), keys))
    for number, step in enumerate(document.get("kiln", {}).get("step", []), start=1):
        found.update(_of_table(f"kiln.step.{number}", step, KILN_STEP))
    for part in document.get("part", []):
        found.update(_of_table(f"part.{part.get('name')}", part, LISTS["part"]))
    for vent in document.get("vent", []):
        found.update(_of_table(f"vent.{vent.get('on')}", vent, LISTS["vent"]))
    return found


def _of_table(
    place: str, table: Mapping[str, Any], keys: Mapping[str, Takes]
) -> Iterator[tuple[str, str]]:
    for key, takes in keys.items():
        value = table.get(key, table.get(bare(key)))
        if not isinstance(takes, Number) or value is None:
            continue
        ends = value if isinstance(value, list) else [value]
        if any(isinstance(end, str) and not _PLAIN.fullmatch(end) for end in ends):
            said = [_with_unit(end, takes.unit) for end in ends]
            yield f"{place}.{key}", " to ".join(dict.fromkeys(said))


def _with_unit(end: object, unit: str) -> str:
    said = " ".join(str(end).split())
    return f"{said} {unit}" if _PLAIN.fullmatch(said) and unit != "-" else said


def _told(each: Difference, one: Mapping[str, str], other: Mapping[str, str]) -> Difference:
    if each.key not in one and each.key not in other:
        return each
    return replace(
        each,
        one=one.get(each.key) or with_its_unit(each.one, each),
        other=other.get(each.key) or with_its_unit(each.other, each),
        unit="",
    )


def with_its_unit(value: str, each: Difference) -> str:
    """Return one of two differing values as it stands alone: "600 °C", "not said".

    Parameters
    ----------
    value : str
    each : Difference
    """
    unit = each.unit if value.lstrip("-−")[:1].isdigit() else ""
    return f"{value}{unit if unit in ('', '°') else f' {unit}'}"
