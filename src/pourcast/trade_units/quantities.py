"""Quantities: which units may stand behind a number, and how they are spelled.

Each quantity lists symbols of `pourcast.units`; the factors stay there.  A
spelling belongs to a quantity, so "C" is a temperature in one box and unknown
in another, and "oz" is a mass and never a volume.

An ounce is the avoirdupois ounce; the troy ounce is written "ozt".  Capital
letters are forgiven, but not where they change the prefix: "Mg" is no "mg".
Left out: units that differ between countries (gallon, quart, fluid ounce) and
sizes by number (gauge of wire or sheet); they are refused.
"""

import difflib
from collections.abc import Mapping
from functools import cache
from itertools import product
from typing import Literal

Quantity = Literal[
    "length",
    "mass",
    "temperature",
    "temperature difference",
    "ramp",
    "time",
    "pressure",
    "vacuum",
    "volume",
    "angle",
    "ratio",
    "rate",
    "power",
]
"""What a number measures.  Pressure is absolute; vacuum counts down from the air outside."""

SIGNED: frozenset[Quantity] = frozenset({"temperature", "temperature difference", "ramp", "angle"})
"""Quantities that may be negative."""

SUCH_AS: Mapping[Quantity, str] = {
    "length": "a length such as 12 mm, 3/16 in or 2 ft 3 in",
    "mass": "a mass such as 850 g or 7 lb 4 oz",
    "temperature": "a temperature such as 760 °C or 1400 °F",
    "temperature difference": "a temperature difference in kelvin, such as 25 K",
    "ramp": "a ramp such as 100 °C/h or 12 K/min",
    "time": "a time such as 90 min or 2 h 30 min",
    "pressure": "an absolute pressure such as 101 kPa",
    "vacuum": "a vacuum counted down from the air outside, such as 90 kPa or 27 inHg",
    "volume": "a volume such as 2.5 l or 40 ml",
    "angle": "an angle such as 30 deg",
    "ratio": "a ratio such as 0.40, 40 % or 40:100",
    "rate": "a rate such as 6 per h",
    "power": "a power such as 3.5 kW",
}
"""What each quantity must be, to follow "it must be"."""

CHAINS: tuple[tuple[str, ...], ...] = (
    ("ft", "in"),
    ("m", "cm", "mm"),
    ("lb", "oz"),
    ("ozt", "dwt"),
    ("kg", "g"),
    ("d", "h", "min", "s"),
    ("l", "ml"),
)
"""Units that may stand in one text, each a whole number of the next."""

_LENGTHS: dict[str, tuple[str, ...]] = {
    "mm": ("millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("metre", "metres", "meter", "meters"),
    "um": ("micrometre", "micrometres", "micrometer", "micrometers"),
    "in": ('"', "inch", "inches"),
    "ft": ("'", "foot", "feet"),
}
_MASSES: dict[str, tuple[str, ...]] = {
    "kg": ("kilogram", "kilograms"),
    "g": ("gram", "grams"),
    "mg": ("milligram", "milligrams"),
    "lb": ("lbs", "pound", "pounds"),
    "oz": ("ounce", "ounces"),
    "dwt": ("pennyweight", "pennyweights"),
    "ozt": ("oz t", "troy oz", "troy ounce", "troy ounces"),
}
_TEMPERATURES: dict[str, tuple[str, ...]] = {
    "C": ("°C", "degC", "deg C", "degrees C", "Celsius"),
    "F": ("°F", "degF", "deg F", "degrees F", "Fahrenheit"),
    "K": ("kelvin",),
}
_TIMES: dict[str, tuple[str, ...]] = {
    "s": ("sec", "secs", "second", "seconds"),
    "min": ("mins", "minute", "minutes"),
    "h": ("hr", "hrs", "hour", "hours"),
    "d": ("day", "days"),
}
_PRESSURES: dict[str, tuple[str, ...]] = {
    "Pa": ("pascal", "pascals"),
    "kPa": (),
    "mbar": ("hPa", "millibar", "millibars"),  # a hectopascal is a millibar
    "bar": (),
    "inHg": ("in Hg", '"Hg', '" Hg', "inch Hg", "inches Hg"),
    "mmHg": ("mm Hg",),
    "psi": (),
}
_RAMPS: dict[str, tuple[str, ...]] = {
    f"{step}/{span}": tuple(
        f"{spelled}/{per}"
        for spelled, per in product((step, *_TEMPERATURES[step]), (span, *_TIMES[span]))
    )
    for step, span in (*product("CFK", ("min", "h")), ("K", "s"))
}
_UNITS: dict[Quantity, dict[str, tuple[str, ...]]] = {
    "length": _LENGTHS,
    "mass": _MASSES,
    "temperature": _TEMPERATURES,
    "temperature difference": {"K": _TEMPERATURES["K"]},
    "ramp": _RAMPS,
    "time": _TIMES,
    "pressure": _PRESSURES,
    "vacuum": _PRESSURES,
    "volume": {
        "l": ("litre", "litres", "liter", "liters"),
        "ml": ("cc", "millilitre", "millilitres", "milliliter", "milliliters"),
        "cm3": ("cm³",),
        "m3": ("m³",),
        "in3": ("in³", "cu in"),
        "ft3": ("ft³", "cu ft"),
    },
    "angle": {"deg": ("°", "degree", "degrees"), "rad": ("radian", "radians")},
    "ratio": {"-": (), "%": ("percent", "pct")},
    "rate": {"1/h": tuple(f"{of}/{h}" for of in ("", "1") for h in ("h", *_TIMES["h"]))},
    "power": {"kW": ("kilowatt", "kilowatts"), "W": ("watt", "watts")},
}
_MILLI = frozenset({"mm", "mg", "ml", "mbar", "mmHg"})


def symbols(quantity: Quantity) -> tuple[str, ...]:
    """Return the symbols of `pourcast.units` that ``quantity`` may be written in."""
    return tuple(_UNITS[quantity])


@cache
def spellings(quantity: Quantity) -> dict[str, str]:
    """Return each spelling of a unit of ``quantity`` with its symbol."""
    return {
        spelled: symbol
        for symbol, others in _UNITS[quantity].items()
        for spelled in (symbol, *others)
    }


@cache
def _forgiving(quantity: Quantity) -> dict[str, str]:
    # A capital M means a million where the small one means a thousandth, so the
    # symbols with milli are read as they stand.
    return {
        spelled.casefold(): symbol
        for spelled, symbol in spellings(quantity).items()
        if spelled not in _MILLI
    }


def find_symbol(written: str, quantity: Quantity) -> str | None:
    """Return the symbol of a unit as it was ``written``, or None.

    Examples
    --------
    >>> find_symbol("inches", "length")
    'in'
    >>> find_symbol("KG", "mass")
    'kg'
    >>> find_symbol("Mg", "mass") is None
    True
    """
    exact = spellings(quantity).get(written)
    return exact or _forgiving(quantity).get(written.casefold())


def hint_for(written: str, quantity: Quantity) -> str:
    """Return what to say about a unit that ``quantity`` does not know.

    Examples
    --------
    >>> hint_for("oz", "volume")
    'oz is a unit of mass'
    >>> hint_for("mmm", "length")
    'did you mean mm?'
    """
    for other in _UNITS:
        if find_symbol(written, other) is not None:
            return f"{written} is a unit of {other}"
    words = [spelled for spelled in spellings(quantity) if spelled.isalnum()]
    near = difflib.get_close_matches(written, words, n=1, cutoff=0.6)
    if near:
        return f"did you mean {near[0]}?"
    return f"known here: {', '.join(symbols(quantity))}"
