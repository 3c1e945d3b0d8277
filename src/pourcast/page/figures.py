"""How a number is written for the caster: how many in 100, millimetres, grams.

A chance below 1 is never written as 100 and one above 0 never as 0, so that a
forecast does not read as a promise.  A number and its unit are joined by a
space that does not break.
"""

import math
import unicodedata
from dataclasses import astuple, dataclass

import numpy as np

from pourcast import units as si
from pourcast.findings import half_up
from pourcast.findings import in_100 as in_100
from pourcast.forecast.model import Outcomes
from pourcast.speech import CELSIUS, Speech

JOIN = "\u00a0"
"""Space between a number and its unit."""

_AXIS: dict[str, float] = {"C": 200.0, "F": 400.0}
"""Degrees from one mark of an axis to the next; our own choice."""

# Marks that turn the direction of the text after them; a name must not turn the page.
_TURNS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")

_UNITS: dict[str, str] = {
    "degC": "°C",
    "C": "°C",
    "F": "°F",
    "m2": "m²",
    "m2/s": "m²/s",
    "kg/m3": "kg/m³",
    "mg/m3": "mg/m³",
    "cm3": "cm³",
    "um": "µm",
    "mPa s": "mPa·s",
    "Pa s": "Pa·s",
    "J/kg/K": "J/(kg·K)",
    "W/m/K": "W/(m·K)",
    "W/m2/K": "W/(m²·K)",
    "W s^0.5/m2/K": "W·s½/(m²·K)",
    "N/m/K": "N/(m·K)",
    "deg": "°",
    "-": "",
    "x": "times",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Hundred:
    """How 100 pours end; the four add up to 100.

    Parameters
    ----------
    whole, short_tips, short_parts, lost : int
        As in `pourcast.forecast.model.Outcomes`.
    """

    whole: int
    short_tips: int
    short_parts: int
    lost: int


def hundred(outcomes: Outcomes) -> Hundred:
    """Return the outcomes of 100 pours.

    Whole pieces are rounded as `in_100` does it, so that a count in a sentence and the
    count that is drawn are one; the others share what is left by largest remainder.

    Parameters
    ----------
    outcomes : Outcomes

    Returns
    -------
    Hundred
        Where two remainders are alike, the worse outcome gets the pour.

    Examples
    --------
    >>> third = Outcomes(whole=1 / 3, short_tips=1 / 3, short_parts=1 / 3, lost=0.0)
    >>> hundred(third)
    Hundred(whole=33, short_tips=33, short_parts=34, lost=0)
    """
    shares = (outcomes.whole, outcomes.short_tips, outcomes.short_parts, outcomes.lost)
    total = math.fsum(shares)
    exact = [100.0 * share / total for share in shares]
    whole = half_up(exact[0])
    counts = [math.floor(value) for value in exact[1:]]
    # Rounded to 9 places: remainders that differ by the last bit are alike.
    order = sorted(range(3), key=lambda k: (-round(exact[k + 1] - counts[k], 9), -k))
    for k in order[: 100 - whole - sum(counts)]:
        counts[k] += 1
    short_tips, short_parts, lost = counts
    return Hundred(whole=whole, short_tips=short_tips, short_parts=short_parts, lost=lost)


def counts(pours: Hundred) -> tuple[int, int, int, int]:
    """Return the four counts, the best outcome first."""
    whole, short_tips, short_parts, lost = astuple(pours)
    return whole, short_tips, short_parts, lost


def number(value: si.Ratio, digits: int = 3) -> str:
    """Return a number with so many figures that count, without an exponent if it can.

    Parameters
    ----------
    value : float [-]
        In the unit that will stand behind it.
    digits : int
        Figures that count; digits before the point are always written.

    Examples
    --------
    >>> number(1150.0), number(0.3456), number(8.0)
    ('1150', '0.346', '8')
    """
    if value == 0.0:
        return "0"
    power = math.floor(math.log10(abs(value)))
    if not -4 <= power <= 6:
        mantissa = number(value / 10.0**power, digits)
        raised = str(power).translate(str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"))
        return f"{mantissa}{JOIN}×{JOIN}10{raised}"
    text = f"{value:.{max(digits - 1 - power, 0)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−")


def with_unit(value: si.Ratio, unit: str, digits: int = 3) -> str:
    """Return a number and its unit, joined so that a line does not break there.

    Parameters
    ----------
    value : float [-]
        In ``unit``.
    unit : str
        As in `pourcast.units`; "" where there is none.
    digits : int
    """
    shown = unit_text(unit)
    joint = "" if shown in ("", "°") else JOIN
    return f"{number(value, digits)}{joint}{shown}"


def unit_text(unit: str) -> str:
    """Return a unit of `pourcast.units` as people write it."""
    return _UNITS.get(unit, clean(unit))


def millimetres(length: si.Metre) -> str:
    """Return a length [m] in mm with two figures that count."""
    return with_unit(si.from_si(length, "mm"), "mm", 2)


def grams(mass: si.Kilogram) -> str:
    """Return a mass [kg] in g: whole grams from 100 g, tenths below."""
    value = si.from_si(mass, "g")
    return f"{value:.0f}{JOIN}g" if abs(value) >= 100.0 else f"{value:.1f}{JOIN}g"


def degrees(temperature: si.Kelvin, speech: Speech = CELSIUS) -> str:
    """Return a temperature [K] in whole degrees of the caster's unit."""
    return speech.heat(temperature).replace(" ", JOIN)


def axis_marks(high: si.Kelvin, speech: Speech = CELSIUS) -> list[tuple[si.Kelvin, str]]:
    """Return the heats that an axis is marked at, each with its number; the last under ``high``.

    Parameters
    ----------
    high : float [K]
    speech : Speech

    Examples
    --------
    >>> [told for _, told in axis_marks(1100.0)]
    ['200', '400', '600', '800']
    """
    step = _AXIS[speech.degrees]
    return [
        (speech.at(figure), f"{figure:.0f}")
        for figure in np.arange(step, speech.exact(high), step).tolist()
    ]


def seconds(time: si.Second) -> str:
    """Return a time [s] with two figures that count."""
    return with_unit(time, "s", 2)


def clean(text: str) -> str:
    """Return a text without marks that turn its direction and without control signs.

    A line break or tab becomes a space.  What is left can stand on a page or a
    terminal and changes nothing beside it.
    """
    kept = (
        " " if sign.isspace() else sign
        for sign in text
        if sign.isspace()
        or (sign not in _TURNS and unicodedata.category(sign) not in ("Cc", "Cs", "Co"))
    )
    return " ".join("".join(kept).split())
