"""Reading: what a number or a text of the trade comes to in SI.

A number, or a text that holds nothing but a decimal number, is in the unit of
its box or key.  Everything else says its unit.  A text with two readings is
refused, with the way to write it: a wrong length that is read without a word
costs the original.

Source of the factors: `pourcast.units`.
"""

import math
import re

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.trade_units.grammar import Term, refuse, split, tidy
from pourcast.trade_units.quantities import (
    CHAINS,
    SIGNED,
    SUCH_AS,
    Quantity,
    find_symbol,
    hint_for,
    symbols,
)

_PART = r"([0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_OF_TO = re.compile(rf"{_PART} ?: ?{_PART}")
_CLOCK = re.compile(r"([0-9]+):([0-9]{2}) ?([A-Za-z]+)\.?")
_BELOW = {"h": "min", "min": "s"}


def read(text: str | float | int, quantity: Quantity, *, default_unit: str) -> float:
    """Return what ``text`` measures, in SI.

    Parameters
    ----------
    text : str, float or int
        A plain number is in ``default_unit``; a text carries its unit.  A
        fraction always needs its unit, except in a ratio.
    quantity : Quantity
        What is measured.  "pressure" is absolute, "vacuum" counts down from
        the air outside, "temperature difference" is in kelvin.
    default_unit : str
        The unit of the key or box: "mm" for ``diameter_mm``, "-" for a ratio.

    Returns
    -------
    float
        [m], [kg], [K], [K/s], [s], [Pa], [m³], [rad], [-], [1/s] or [W], as
        ``quantity`` asks.

    Raises
    ------
    InputError
        If the text has no reading or more than one, or its value is not
        possible: not finite, negative, below absolute zero.

    Examples
    --------
    >>> read(12.0, "length", default_unit="mm")
    0.012
    >>> round(read("1 3/16 in", "length", default_unit="mm"), 7)
    0.0301625
    >>> round(read("1400 F", "temperature", default_unit="C"), 2)
    1033.15
    >>> read("2 h 30 min", "time", default_unit="h")
    9000.0
    >>> read("40:100", "ratio", default_unit="-")
    0.4
    >>> read("1400 F 20 C", "temperature", default_unit="C")
    Traceback (most recent call last):
        ...
    pourcast.errors.InputError: temperature is 1400 F 20 C; it must be a temperature such as \
760 °C or 1400 °F. write one number with one unit
    """
    if quantity not in SUCH_AS:
        raise InputError("quantity", quantity, "", "one of " + ", ".join(SUCH_AS))
    symbol = find_symbol(default_unit, quantity)
    if symbol is None:
        known = ", ".join(symbols(quantity))
        raise InputError("default_unit", default_unit, "", f"a unit of {quantity}: {known}")
    if isinstance(text, str):
        value = _from_text(text, quantity, symbol)
    elif isinstance(text, int | float) and not isinstance(text, bool):
        value = si.to_si(_finite(text, quantity), symbol)
    else:
        raise refuse(text, quantity, "write a number, or a text with a unit")
    return _within_limits(value, text, quantity)


def _finite(number: float, quantity: Quantity) -> float:
    try:
        return float(number)
    except OverflowError:
        raise refuse(number, quantity, "the number is too large") from None


def _within_limits(value: float, text: object, quantity: Quantity) -> float:
    if not math.isfinite(value):
        raise refuse(text, quantity, "the number is too large, or not a number")
    if quantity == "temperature" and value < 0.0:
        raise refuse(text, quantity, "this is below absolute zero")
    if quantity == "vacuum" and value < 0.0:
        raise refuse(text, quantity, "write how far below the air it is, without a sign")
    if value < 0.0 and quantity not in SIGNED:
        raise refuse(text, quantity, "it cannot be negative")
    return value + 0.0  # turns -0.0 into 0.0


def _from_text(text: str, quantity: Quantity, default: str) -> float:
    plain = tidy(text, quantity)
    if quantity == "ratio" and (pair := _OF_TO.fullmatch(plain)):
        return _of_to(float(pair[1]), float(pair[2]), plain)
    if quantity == "time" and ":" in plain:
        return _clock(plain)
    sign, terms = split(plain, quantity)
    if len(terms) == 1:
        return _single(sign * terms[0].count, terms[0], plain, quantity, default)
    return sign * _compound(terms, plain, quantity)


def _of_to(of: float, to: float, plain: str) -> float:
    if to == 0.0:
        raise refuse(plain, "ratio", "it divides by zero")
    return of / to


def _clock(plain: str) -> float:
    found = _CLOCK.fullmatch(plain)
    unit = find_symbol(found[3], "time") if found else None
    if found is None or unit not in _BELOW or int(found[2]) >= 60:
        raise refuse(plain, "time", "write it as 1 h 30 min, or as 1:30 h")
    return si.to_si(float(found[1]), unit) + si.to_si(float(found[2]), _BELOW[unit])


def _single(count: float, term: Term, plain: str, quantity: Quantity, default: str) -> float:
    if term.unit:
        return si.to_si(count, _symbol(term.unit, plain, quantity, count))
    if term.fraction and quantity != "ratio":
        # 3/16 in a box for millimetres is most likely a fraction of an inch.
        raise refuse(plain, quantity, "say the unit behind the fraction")
    return si.to_si(count, default)


def _symbol(written: str, plain: str, quantity: Quantity, count: float) -> str:
    symbol = find_symbol(written, quantity)
    if symbol is not None:
        return symbol
    scale = find_symbol(written, "temperature")
    if quantity == "temperature difference" and scale is not None:
        step = si.to_si(count, scale) - si.to_si(0.0, scale)
        raise refuse(plain, quantity, f"for a difference of {plain} write {step:.6g} K")
    raise refuse(plain, quantity, hint_for(written, quantity))


def _compound(terms: list[Term], plain: str, quantity: Quantity) -> float:
    written = [_symbol(term.unit, plain, quantity, term.count) for term in terms]
    chain = next((chain for chain in CHAINS if written[0] in chain), ())
    if not chain:
        raise refuse(plain, quantity, "write one number with one unit")
    if len(set(written)) < len(written):
        raise refuse(plain, quantity, "the same unit stands twice")
    if not set(written) <= set(chain):
        raise refuse(plain, quantity, f"do not mix units: {' and '.join(chain)} go together")
    if written != sorted(written, key=chain.index):
        raise refuse(plain, quantity, "write the larger unit first")
    for term in terms[:-1]:
        if not term.digits_only:
            raise refuse(plain, quantity, "only the last number may have a fraction")
    for larger, smaller, term in zip(written, written[1:], terms[1:], strict=False):
        # Every step of a chain is a whole number; rounding takes off the last bits.
        makes_one = round(si.to_si(1.0, larger) / si.to_si(1.0, smaller))
        if term.count >= makes_one:
            raise refuse(plain, quantity, f"{makes_one} {smaller} make 1 {larger}; carry them over")
    return sum(si.to_si(term.count, symbol) for term, symbol in zip(terms, written, strict=True))
