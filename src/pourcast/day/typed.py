"""Typed: what does a line mean that the caster types with gloves on?

A reading is a number with or without its unit, and the place of the thermometer before
it where it is not the kiln: "1250 F", "672", "flask 540 C".  A number alone takes the
unit of the last reading.  An act is a word or two: "turned to 3", "out", "in".  Behind
either may stand when it was: "poured 16:40", "out 5 min ago"; the time of the clock may
also stand before it, as in a log: "16:40 672 C".  The gauge of the pump is named and has
its unit: "gauge 24 inHg".

Nothing is guessed: a line that is neither is refused with what may be typed.
"""

import re
from dataclasses import dataclass

from pourcast import units as si
from pourcast.burnout.places import PARTS
from pourcast.day.checks import LONGEST_HOLD
from pourcast.day.model import Act, Place
from pourcast.errors import InputError, require_between
from pourcast.trade_units import read

SUCH_AS = (
    "a reading (1250 F, 672 C, flask 540 C, core 300 C, metal 1120 C; of the pump gauge 24 inHg or "
    "gauge 81 kPa), an act (turned to 3, off, out, blew, in, sealed, lit, molten, poured, "
    "quenched), right or wrong of the last reading, undo, or wrong day where it was begun on the "
    "wrong piece; behind it may stand a time (16:40 or 5 min ago)"
)
"""All that may be typed."""

PLACES: dict[str, Place] = {
    "kiln": "kiln",
    "air": "kiln",
    "flask": "wall",
    "wall": "wall",
    "core": "core",
    "block": "core",
    "metal": "metal",
    "pot": "metal",
}
"""What a place may be called."""

_ACTS: dict[str, Act] = {
    "out": "out",
    "took out": "out",
    "taken out": "out",
    "blew": "blew",
    "blew out": "blew",
    "blown out": "blew",
    "in": "in",
    "back in": "in",
    "back": "in",
    "sealed": "sealed",
    "set down": "sealed",
    "lit": "lit",
    "furnace lit": "lit",
    "molten": "molten",
    "metal ready": "molten",
    "poured": "poured",
    "quenched": "quenched",
    "right": "right",
    "wrong": "wrong",
}

_DAYS = {
    "wrong day": "wrong day",
    "wrong piece": "wrong day",
    "right day": "right day",
    "right piece": "right day",
}
"""What is said of the whole day: that it was begun by mistake, or that it was not."""

_CLOCK = re.compile(r"^(?P<rest>.*?)\s*(?:\bat\s+)?(?P<hour>[0-2]?[0-9]):(?P<minute>[0-5][0-9])$")
_CLOCK_FIRST = re.compile(r"^(?P<hour>[0-2]?[0-9]):(?P<minute>[0-5][0-9])\s+(?P<rest>.+)$")
_AGO = re.compile(r"^(?P<rest>.*?)\s+(?P<count>[0-9]{1,3})\s*min(?:utes)?\s+ago$")
_TURNED = re.compile(
    r"^(?:turned|turn|dial|set)(?:\s+(?:to|at|on))?\s+"
    r"(?P<to>off|[0-9]+(?:[.,][0-9]+)?|[0-9]*\s?[¼½¾]|(?:[0-9]+\s)?(?:1/4|1/2|3/4))$"
)
_PARTS = {**PARTS, "1/4": 0.25, "1/2": 0.5, "3/4": 0.75}
_NUMBER = re.compile(r"^(?P<number>-?[0-9]+(?:[.,][0-9]+)?)\s*(?P<unit>°?\s*[A-Za-z]+)?$")
_GAUGE = re.compile(r"^(?:gauge|vacuum)\s+(?P<shown>.+)$")
_UNITS = {"c": "degC", "f": "F", "k": "K", "degc": "degC", "degf": "F"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """A line that was understood.

    Parameters
    ----------
    act : str or None
        None: a reading; "undo" takes the last entry back, and "wrong day" and "right day"
        are said of the whole day.
    place : str or None
        Of a reading.
    temperature : float or None [K]
    vacuum : float or None [Pa]
        Below the air outside, where the gauge of the pump was read.
    unit : str
        That was used, for the next line; "" where none was.
    setting : float or None [-]
    clock : float or None [s]
        When it was, since midnight on the wall; None: not said.
    ago : float [s]
        Before now; 0 where it is not said.
    """

    act: Act | str | None
    place: Place | None = None
    temperature: si.Kelvin | None = None
    vacuum: si.Pascal | None = None
    unit: str = ""
    setting: si.Ratio | None = None
    clock: si.Second | None = None
    ago: si.Second = 0.0


def typed(line: str, *, unit: str) -> Typed:
    """Return what a line means.

    Parameters
    ----------
    line : str
    unit : str
        Of a number alone: that of the last reading, or "" where none was taken.

    Returns
    -------
    Typed

    Raises
    ------
    InputError
        If it is neither a reading nor an act.

    Examples
    --------
    >>> typed("1250 F", unit="").temperature
    949.8166666666667
    >>> typed("poured 16:40", unit="").clock
    60000.0
    >>> typed("7:30 300 F", unit="").clock
    27000.0
    """
    plain = " ".join(line.strip().lower().split()).rstrip(".")
    clock: float | None = None
    ago = 0.0
    if found := _CLOCK.match(plain) or _CLOCK_FIRST.match(plain):
        if int(found["hour"]) > 23:
            raise InputError("time", f"{found['hour']}:{found['minute']}", "", "0:00 to 23:59")
        clock = 3600.0 * int(found["hour"]) + 60.0 * int(found["minute"])
        plain = found["rest"].rstrip()
    elif found := _AGO.match(plain):
        ago, plain = 60.0 * int(found["count"]), found["rest"].rstrip()
    if plain in ("undo", "take back"):
        return Typed(act="undo")
    if plain in _DAYS:
        return Typed(act=_DAYS[plain])
    if plain in ("off", "turned off"):
        return Typed(act="turned", setting=0.0, clock=clock, ago=ago)
    if found := _TURNED.match(plain):
        return Typed(act="turned", setting=_place(found["to"]), clock=clock, ago=ago)
    if plain in _ACTS:
        return Typed(act=_ACTS[plain], clock=clock, ago=ago)
    if found := _GAUGE.match(plain):
        shown = _gauge(found["shown"])
        return Typed(act=None, vacuum=shown, unit=unit, clock=clock, ago=ago)
    return _reading(line, plain, unit, clock, ago)


def longer_typed(span: str) -> si.Second:
    """Return by how much a hold is asked for longer; an hour where nothing is typed.

    Parameters
    ----------
    span : str

    Raises
    ------
    InputError
        If it is no time, or longer than `LONGEST_HOLD`.

    Examples
    --------
    >>> longer_typed("90 min")
    5400.0
    """
    hold = read(span or "1 h", "time", default_unit="h")
    require_between("longer hold", si.from_si(hold, "h"), "h", 0.0, si.from_si(LONGEST_HOLD, "h"))
    return hold


def _place(written: str) -> si.Ratio:
    """Return a place of the dial: "off", "3", "2.5", "2½" or "2 1/2"."""
    if written == "off":
        return 0.0
    for part, value in _PARTS.items():
        if written.endswith(part):
            whole = written.removesuffix(part).strip()
            return value + (float(whole) if whole else 0.0)
    return float(written.replace(",", "."))


def _gauge(shown: str) -> si.Pascal:
    """Return what the gauge of the pump shows below the air outside [Pa]; it needs its unit."""
    if not any(mark.isalpha() or mark == '"' for mark in shown):
        hint = f'Such as "gauge {shown} kPa".'
        raise InputError("gauge", shown, "", "with its unit: kPa, inHg, mmHg or mbar", hint)
    return read(shown, "vacuum", default_unit="kPa")


def _reading(line: str, plain: str, unit: str, clock: float | None, ago: float) -> Typed:
    first, _, rest = plain.partition(" ")
    place: Place = PLACES.get(first, "kiln")
    number = _NUMBER.match(rest if first in PLACES else plain)
    if number is None:
        raise InputError("entry", line.strip()[:60] or "nothing", "", SUCH_AS)
    written = (number["unit"] or "").replace("°", "").strip()
    if written and written not in _UNITS:
        raise InputError("unit of the reading", written, "", "C, F or K")
    used = _UNITS[written] if written else unit
    if not used:
        raise InputError(
            "reading", plain, "", "with its unit the first time", f'Such as "{plain} C".'
        )
    kelvin = read(number["number"].replace(",", "."), "temperature", default_unit=used)
    return Typed(act=None, place=place, temperature=kelvin, unit=used, clock=clock, ago=ago)
