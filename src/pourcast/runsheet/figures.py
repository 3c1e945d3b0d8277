"""How a number and a name are written on the run sheet."""

import unicodedata

from pourcast import units as si
from pourcast.findings import Kind
from pourcast.runsheet.model import MARKS
from pourcast.speech import Speech

JOIN = "\u00a0"
"""Space between a number and its unit; a line does not break there."""

# Marks that turn the direction of the text after them; a name must not turn the sheet.
_TURNS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def marked(text: str, kind: Kind | None) -> str:
    """Return a text with the letter of its kind; without one where the caster chose it.

    Examples
    --------
    >>> marked("2 h", "estimate").split()
    ['2', 'h', '(e)']
    """
    return text if kind is None else f"{text}{JOIN}({MARKS[kind]})"


def grams(mass: si.Kilogram) -> str:
    """Return a mass in g: whole grams from 100 g, tenths below.

    Parameters
    ----------
    mass : float [kg]
    """
    value = si.from_si(mass, "g")
    return f"{value:.0f}{JOIN}g" if abs(value) >= 100.0 else f"{value:.1f}{JOIN}g"


def degrees(temperature: si.Kelvin, speech: Speech) -> str:
    """Return a temperature in whole degrees of the caster's unit.

    Parameters
    ----------
    temperature : float [K]
    speech : Speech
    """
    return speech.heat(temperature).replace(" ", JOIN)


def degrees_an_hour(ramp: si.KelvinPerSecond, speech: Speech) -> str:
    """Return a ramp in whole degrees of the caster's unit.

    Parameters
    ----------
    ramp : float [K/s]
    speech : Speech
    """
    return speech.ramp(ramp).replace(" ", JOIN, 1)


def gauge(vacuum: si.Pascal, speech: Speech) -> str:
    """Return a vacuum below the air outside in the unit of the caster's gauge.

    Parameters
    ----------
    vacuum : float [Pa]
    speech : Speech
    """
    return speech.vacuum(vacuum).replace(" ", JOIN)


def span(time: si.Second) -> str:
    """Return a length of time: seconds under 10 min, then minutes, and hours.

    Parameters
    ----------
    time : float [s]

    Examples
    --------
    >>> [span(time).replace(JOIN, " ") for time in (45.0, 210.0, 600.0, 5400.0)]
    ['45 s', '3 min 30 s', '10 min', '1 h 30 min']
    """
    seconds = round(time) if time < 600.0 else 60 * round(time / 60.0)
    parts = ((seconds // 3600, "h"), (seconds // 60 % 60, "min"), (seconds % 60, "s"))
    told = [f"{count}{JOIN}{unit}" for count, unit in parts if count]
    return JOIN.join(told) or f"0{JOIN}s"


def clean(text: str) -> str:
    """Return a text without control signs and marks that turn its direction."""
    kept = (
        " " if sign.isspace() else sign
        for sign in text
        if sign.isspace()
        or (sign not in _TURNS and unicodedata.category(sign) not in ("Cc", "Cs", "Co"))
    )
    return " ".join("".join(kept).split())
