"""A piece file written in °F, and what is told in the wrong unit."""

import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from pourcast import units as si

EXAMPLES = Path(__file__).parents[2] / "examples"

_HEAT = re.compile(r"^(\w+)_C = (-?[\d.]+)", re.MULTILINE)
_RAMP = re.compile(r"^ramp_C_per_h = ([\d.]+)", re.MULTILINE)
_CELSIUS = re.compile(r".{0,40}(?:°C|\d[ \u00a0]C\b|\d[ \u00a0]K\b).{0,20}")
_FAHRENHEIT = re.compile(r".{0,40}(?:°F|\d[ \u00a0]F\b).{0,20}")


def in_fahrenheit(text: str) -> str:
    """Return a piece file that says each of its heats and ramps in °F."""

    def heat(found: re.Match[str]) -> str:
        told = si.from_si(si.to_si(float(found[2]), "degC"), "F")
        return f'{found[1]} = "{told:.6g} F"'

    def ramp(found: re.Match[str]) -> str:
        return f'ramp = "{si.from_si(si.to_si(float(found[1]), "C/h"), "F/h"):.6g} F/h"'

    return _RAMP.sub(ramp, _HEAT.sub(heat, text))


@cache
def example(name: str, *, fahrenheit: bool = False) -> str:
    """Return a demo piece as it is written, or in °F."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    return in_fahrenheit(text) if fahrenheit else text


def in_celsius_left(text: str, quoted: Iterable[str] = ()) -> list[str]:
    """Return what of a text is told in °C or K; what a source is quoted with is left out."""
    return _CELSIUS.findall(_without(text, quoted))


def in_fahrenheit_left(text: str, quoted: Iterable[str] = ()) -> list[str]:
    """Return what of a text is told in °F; what a source is quoted with is left out."""
    return _FAHRENHEIT.findall(_without(text, quoted))


def _without(text: str, quoted: Iterable[str]) -> str:
    # A terminal breaks lines where it likes.
    plain = " ".join(text.split())
    for each in sorted({" ".join(each.split()) for each in quoted}, key=len, reverse=True):
        plain = plain.replace(each, "…") if each else plain
    return plain
