"""Takes: what one key of a piece file may hold."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal, TypeAlias

from pourcast import units as si
from pourcast.findings import half_up
from pourcast.sheet.faults import shown
from pourcast.speech import CELSIUS, FAHRENHEIT, GAUGES, Speech
from pourcast.trade_units import Quantity
from pourcast.trade_units.grammar import split, tidy
from pourcast.trade_units.quantities import find_symbol

InUnitOfKey: TypeAlias = Annotated[float, si.Unit("unit of the key")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A key that takes a number, or a text with its unit.

    Parameters
    ----------
    quantity : str
        As `pourcast.trade_units` knows it.
    unit : str
        Of a plain number.
    low, high : float [unit of the key]
        Limits.
    taper : bool
        True if a list of two, [start, end], is accepted too.
    needed : bool
    hint : str
        What to do about a value outside the limits.
    """

    quantity: Quantity
    unit: str
    low: InUnitOfKey
    high: InUnitOfKey
    taper: bool = False
    needed: bool = False
    hint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """A key that takes a whole number from 1 on."""

    most: int
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """A key that takes true or false."""

    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A key that takes any text on one line, or on more where ``lines`` is True."""

    longest: int
    lines: bool = False
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A key that takes one of a few words."""

    words: tuple[str, ...]
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A key that names a material record."""

    kind: Literal["alloy", "powder", "wax", "original"]
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """A key that takes a list of words, each of them matter in or on an original."""

    most: int
    needed: bool = False


Takes: TypeAlias = Number | Count | Flag | Text | Choice | Material | Matter
Keys: TypeAlias = Mapping[str, Takes]


HEATS: tuple[Quantity, ...] = ("temperature", "ramp")
"""Quantities that may be written in °F."""

SPOKEN: tuple[Quantity, ...] = (*HEATS, "vacuum")
"""Quantities of which a caster is told in the unit in which he writes them."""


def speech_of_value(value: object, quantity: Quantity) -> Speech:
    """Return how one who writes a value so is spoken to.

    Parameters
    ----------
    value : object
        As it stands in the file.
    quantity : str
        As `pourcast.trade_units` knows it.

    Raises
    ------
    InputError
        If it is a text that does not follow the grammar of trade units.

    Examples
    --------
    >>> speech_of_value("1200 F", "temperature").unit, speech_of_value(650, "temperature").unit
    ('°F', '°C')
    >>> speech_of_value("25 inHg", "vacuum").gauge
    'inHg'
    """
    if quantity not in SPOKEN or not isinstance(value, str):
        return CELSIUS
    _, terms = split(tidy(value, quantity), quantity)
    symbols = [find_symbol(term.unit, quantity) or "" for term in terms]
    if quantity == "vacuum":
        return Speech(gauge=next((unit for unit in GAUGES if unit in symbols), "kPa"))
    return FAHRENHEIT if any(symbol.startswith("F") for symbol in symbols) else CELSIUS


def limits_as_told(takes: Number, speech: Speech) -> str:
    """Return the limits of a heat in °F or of a vacuum on another gauge; "" for all else.

    Parameters
    ----------
    takes : Number
    speech : Speech
        How one is spoken to who writes the value so.

    Examples
    --------
    >>> pump = Number(quantity="vacuum", unit="kPa", low=0.001, high=101.4)
    >>> limits_as_told(pump, Speech(gauge="inHg")), limits_as_told(pump, CELSIUS)
    ('0.0003 to 29.9 inHg', '')
    """
    ends = (takes.low, takes.high)
    if speech.degrees == "F":
        (least, unit), (most, _) = (speech.measure(end, takes.unit) for end in ends)
        return f"{half_up(least)} to {half_up(most)} {unit}"
    if speech.gauge != CELSIUS.gauge:
        least, most = (si.from_si(si.to_si(end, takes.unit), speech.gauge) for end in ends)
        return f"{least:.1g} to {most:.3g} {speech.gauge}"
    return ""


def in_its_unit(written: str, value: Any, names: Mapping[str, str], keys: Keys) -> str:
    """Return how to write a value in the unit that an unknown key says; "" where it says none.

    Parameters
    ----------
    written : str
        The key as it stands in the file.
    value : object
    names : mapping of str to str
        Each key of the table by its name without a unit.
    keys : mapping of str to Number, Count, Flag, Text, Choice, Material or Matter
        What may stand in the table.

    Examples
    --------
    >>> mass = Number(quantity="mass", unit="g", low=0.0, high=1e6)
    >>> in_its_unit("poured_oz", 7, {"poured": "poured_g"}, {"poured_g": mass})
    'write poured = "7 oz"'
    """
    # "Did you mean length_mm?" for length_in would turn inches into millimetres.
    for name, key in names.items():
        takes = keys[key]
        unit = written.removeprefix(f"{name}_").replace("_per_", "/")
        if unit != written and isinstance(takes, Number) and find_symbol(unit, takes.quantity):
            # Only a plain number goes on as it is: a text has a unit of its own.
            plain = isinstance(value, int | float) and not isinstance(value, bool)
            return f'write {name} = "{shown(value) if plain else "…"} {unit}"'
    return ""
