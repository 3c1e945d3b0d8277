"""Lines: what does a thermometer say in one line or message?

Three shapes are read:

    371.5                        a number, in the unit that was said of this thermometer
    kiln 371.5 C 10:42:07Z       a name, a number, a unit, a moment; all but the number may lack
    {"temperature": 371.5, "time": 1796450527}      JSON, with the way to the number

Between the words may stand blanks, commas, semicolons, ``=`` or ``:`` behind the name.
A moment is a date and a time with its zone (ISO 8601), or seconds since 1970; one
without a zone says nothing certain and the line is refused.  A number without a moment
was read as it came.

A line that is none of these is refused and told.  Nothing is guessed: two numbers, or a
name that was not said, are refused too.
"""

import json
import math
import re
from datetime import UTC, datetime
from typing import Any

from pourcast import units as si
from pourcast.day.typed import PLACES
from pourcast.errors import InputError
from pourcast.probe.address import UNITS
from pourcast.probe.model import Heard, Source

LONGEST = 2000
"""Signs of a line or message; a longer one is no reading; our own choice."""

SHAPES = 'a number (371.5), a line (kiln 371.5 C), or JSON ({"temperature": 371.5})'

_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_GLUED = re.compile(r"(?P<number>[+-]?[0-9]+(?:\.[0-9]+)?)\s*°?(?P<unit>[CFK])", re.IGNORECASE)
_PARTS = re.compile(r"[\s,;=]+")
_LATEST = 1e11
_OF_VALUE, _OF_TIME = ("temperature", "value"), ("time", "at")


def heard(text: str, source: Source) -> Heard:
    """Return the reading of a line.

    Parameters
    ----------
    text : str
    source : Source

    Returns
    -------
    Heard

    Raises
    ------
    InputError
        If it is none of the shapes.

    Examples
    --------
    >>> from pourcast.probe.address import source_of
    >>> heard("core: 300.0 K", source_of("serial:/dev/ttyUSB0")).temperature
    300.0
    """
    plain = text.strip().strip("\x00").strip()
    if not plain or len(plain) > LONGEST:
        raise _refused(text)
    if plain[0] in "{[":
        return _of_json(plain, source)
    return _of_words(plain, source)


def _of_words(plain: str, source: Source) -> Heard:
    place, unit = source.place, source.unit
    number: float | None = None
    at: datetime | None = None
    names = {**PLACES, **dict(source.names)}
    for word in _PARTS.split(plain):
        bare = word.removesuffix(":").lower()
        if not word:
            continue
        if number is None and _NUMBER.fullmatch(word):
            number = float(word)
        elif number is None and (glued := _GLUED.fullmatch(word)):
            number, unit = float(glued["number"]), UNITS[glued["unit"].upper()]
        elif number is None and bare in names:
            place = names[bare]
        elif number is not None and word.lstrip("°").upper() in UNITS:
            unit = UNITS[word.lstrip("°").upper()]
        elif number is not None and at is None:
            at = _moment(word)
        else:
            raise _refused(plain)
    if number is None:
        raise _refused(plain)
    return Heard(place=place, temperature=_kelvin(number, unit, plain), at=at)


def _of_json(plain: str, source: Source) -> Heard:
    try:
        tree = json.loads(plain)
    except (ValueError, RecursionError) as fault:
        raise _refused(plain) from fault
    value = _down(tree, source.path, _OF_VALUE)
    if isinstance(value, str):
        found = _of_words(value, source)
        number, unit = found.temperature, "K"
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        number, unit = float(value), source.unit
        said = _down(tree, (), ("unit",))
        if isinstance(said, str):
            if said.lstrip("°").upper() not in UNITS:
                raise _refused(plain)
            unit = UNITS[said.lstrip("°").upper()]
    else:
        raise _refused(plain)
    named = _down(tree, (), ("place", "name"))
    names = {**PLACES, **dict(source.names)}
    place = source.place
    if isinstance(named, str):
        if named.lower() not in names:
            raise _refused(plain)
        place = names[named.lower()]
    moment = _down(tree, source.time_path, _OF_TIME)
    if source.time_path and moment is None:
        raise _refused(plain)
    at = None if moment is None else _moment(str(moment))
    return Heard(place=place, temperature=_kelvin(number, unit, plain), at=at)


def _down(tree: Any, path: tuple[str, ...], usual: tuple[str, ...]) -> Any:
    """Return what stands at the end of a way into a tree; None where there is nothing."""
    if not path:
        return next((tree[key] for key in usual if isinstance(tree, dict) and key in tree), None)
    for key in path:
        if isinstance(tree, dict) and key in tree:
            tree = tree[key]
        elif isinstance(tree, list) and key.isdigit() and int(key) < len(tree):
            tree = tree[int(key)]
        else:
            return None
    return tree


def _moment(word: str) -> datetime:
    if _NUMBER.fullmatch(word):
        seconds = float(word)
        if not 0.0 < seconds < _LATEST:
            raise _refused(word)
        return datetime.fromtimestamp(seconds, UTC)
    try:
        found = datetime.fromisoformat(word)
    except ValueError as fault:
        raise _refused(word) from fault
    if found.tzinfo is None:
        raise InputError("time of the thermometer", word, "", "with its zone, such as Z or +01:00")
    return found.astimezone(UTC)


def _kelvin(number: float, unit: str, plain: str) -> si.Kelvin:
    kelvin = si.to_si(number, unit)
    if not math.isfinite(kelvin):
        raise _refused(plain)
    return kelvin


def _refused(text: str) -> InputError:
    return InputError("line of the thermometer", repr(text[:60]), "", SHAPES)
