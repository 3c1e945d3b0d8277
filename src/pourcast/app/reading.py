"""Reading: numbers as they are typed into a box, in the way that the caster has chosen."""

import math

from pourcast.app.look import Look
from pourcast.errors import InputError


def plain_number(text: str, look: Look) -> str:
    """Return a typed text with a point between whole and parts.

    A comma is taken for that sign only where the caster has chosen it, so that
    "1,200" is never read as a little over one without a word.
    """
    return text.strip().replace(",", ".") if look.decimal == "comma" else text.strip()


def read_number(what: str, text: str, look: Look, *, low: float, high: float) -> float:
    """Return a typed number.

    Raises
    ------
    InputError
        If it is none, or outside its limits.
    """
    must = f"a number, {low:g} to {high:g}"
    try:
        value = float(plain_number(text, look))
    except ValueError:
        hint = "Write a point, or choose the comma under This studio." if "," in text else ""
        raise InputError(what, text[:40] or "empty", "", must, hint) from None
    if not math.isfinite(value) or not low <= value <= high:
        raise InputError(what, text[:40], "", must)
    return value
