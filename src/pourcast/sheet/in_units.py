"""In units: an edit of a heat or a vacuum, written as the caster of the file writes them.

Levers and other answers set heats in °C and a vacuum in kPa, by a key with its unit.  Who writes
"2050 F" would find a number of another scale in his file, and be spoken to in °C once it was
the last.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeAlias

from pourcast import units as si
from pourcast.sheet.keys import KILN_STEP, SECTIONS, bare
from pourcast.sheet.lines import Path
from pourcast.sheet.model import Edit
from pourcast.sheet.takes import Keys, Number
from pourcast.speech import CELSIUS, Speech

_UNITS: Mapping[str, tuple[str, str]] = {"temperature": ("degC", "F"), "ramp": ("C/h", "F/h")}
"""Of a heat: the unit of its key, and the one in which it is written in °F."""

Units: TypeAlias = Mapping[str, tuple[str, str]]

_STEP = ("kiln", "step")
_DIGITS = 9
"""Decimals: a tenth of a degree comes out as such, and nothing that could be read is lost."""


def in_units(edits: Sequence[Edit], speech: Speech) -> list[Edit]:
    """Return edits with what turns as a text in the caster's unit, under its key without unit.

    Parameters
    ----------
    edits : sequence of Edit
    speech : Speech

    Returns
    -------
    list of Edit
        As they came where heats are in °C and the vacuum in kPa.
    """
    if speech == CELSIUS:
        return list(edits)
    units = _units(speech)
    turned = {(*edit.path[:-1], short) for edit in edits for short in _short_key(edit, units)}
    made: list[Edit] = []
    for edit in edits:
        keys = _keys_at(edit.path[:-1])
        if isinstance(edit.value, Mapping):
            rows = dict(_row(edit.value, _keys_at(edit.path), units))
            made.append(replace(edit, value=rows))
            continue
        if edit.value is None and edit.path in turned:
            continue
        for short in _short_key(edit, units):
            made.append(replace(edit, value=None))
            told = _told(edit.value, keys[str(edit.path[-1])], units)
            edit = replace(edit, path=(*edit.path[:-1], short), value=told)
        made.append(edit)
    return made


def _units(speech: Speech) -> Units:
    """Return of each quantity that turns the unit of its key, and the one it is written in."""
    units = dict(_UNITS) if speech.degrees == "F" else {}
    if speech.gauge != CELSIUS.gauge:
        units["vacuum"] = (CELSIUS.gauge, speech.gauge)
    return units


def _row(row: Mapping[str, object], keys: Keys, units: Units) -> Iterator[tuple[str, object]]:
    for key, value in row.items():
        told = _told(value, keys.get(key), units)
        yield (key, value) if told is None else (bare(key), told)


def _short_key(edit: Edit, units: Units) -> Iterator[str]:
    """Yield the key without its unit, if an edit sets what turns by a number."""
    key = str(edit.path[-1]) if edit.path else ""
    if _told(edit.value, _keys_at(edit.path[:-1]).get(key), units) is not None:
        yield bare(key)


def _keys_at(path: Path) -> Keys:
    """Return what may stand in a table that can hold heats; elsewhere nothing."""
    if path[:2] == _STEP:
        return KILN_STEP
    return SECTIONS.get(str(path[0]), {}) if len(path) == 1 else {}


def _told(value: object, takes: object, units: Units) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    if not isinstance(takes, Number) or takes.quantity not in units:
        return None
    of_key, written = units[takes.quantity]
    figure = round(si.from_si(si.to_si(float(value), of_key), written), _DIGITS)
    return f"{figure:.12g} {written}"
