"""Knob edits: what is typed at a knob, as edits of the piece file."""

import re
import tomllib

from pourcast.app.knob import Knob
from pourcast.app.words import say
from pourcast.errors import InputError
from pourcast.sheet.edit import Edit
from pourcast.sheet.keys import bare
from pourcast.sheet.lines import Path
from pourcast.speech import CELSIUS, GAUGES

_COMMA = re.compile(r"[+-]?\d*,\d+")
_SAID = ("in", "F", *(gauge for gauge in GAUGES if gauge != CELSIUS.gauge))
"""Units that stand with the number in the file, since that of the key is another."""

LONGEST = 60
"""Characters of a value that is typed."""


def path_of(knob_id: str) -> Path:
    """Return the path of a knob in the piece file."""
    return tuple(int(step) if step.isdecimal() else step for step in knob_id.split("."))


def edits_for(knob: Knob, typed: str, text: str) -> list[Edit]:
    """Return the edits that put what was typed in the place of a knob's key.

    Parameters
    ----------
    knob : Knob
    typed : str
        A number in the unit of the knob, or a number with a unit of its own.
    text : str
        Of the piece file; where it says the key without its unit, that goes.

    Raises
    ------
    InputError
        If nothing was typed, or too much.
    """
    typed = typed.strip()
    if not typed or len(typed) > LONGEST:
        raise InputError(knob.label, typed[:LONGEST], "", say("piece.type_a_number"))
    path = path_of(knob.id)
    value: object = typed
    plain = typed.replace(",", ".") if _COMMA.fullmatch(typed) else typed
    try:
        figure = float(plain)
    except ValueError:
        figure = None
    if knob.choices:
        figure = None
    if figure is not None:
        value = f"{plain} {knob.unit}" if knob.unit in _SAID else _whole(figure)
    if knob.tail:
        value = [value, *knob.tail]
    edits = [Edit(path=path, value=value)]
    plain_key = bare(str(path[-1]))
    if plain_key != path[-1] and _stands(text, (*path[:-1], plain_key)):
        edits.insert(0, Edit(path=(*path[:-1], plain_key), value=None))
    return edits


def _whole(figure: float) -> int | float:
    return int(figure) if figure == int(figure) and abs(figure) < 1e9 else figure


def _stands(text: str, path: Path) -> bool:
    place: object = tomllib.loads(text)
    for step in path:
        if isinstance(place, dict):
            place = place.get(step)
        elif isinstance(place, list) and isinstance(step, int) and step < len(place):
            place = place[step]
        else:
            return False
    return place is not None
