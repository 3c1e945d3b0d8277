"""Log columns: which column of a kiln log is what, and in which unit?

The head of a column is one of our words, with its unit behind it where numbers
need one: "time", "time_min", "Temperature (°F)", "dial".  A unit is never guessed:
370 is a heat in °C and in °F.
"""

import re
from dataclasses import dataclass
from typing import Literal

from pourcast.errors import InputError
from pourcast.trade_units import Quantity
from pourcast.trade_units.quantities import find_symbol, symbols

Meaning = Literal["date", "time", "temperature", "dial"]

_WORDS: dict[str, Meaning] = {
    "date and time": "time",
    "time of day": "time",
    "kiln temperature": "temperature",
    "dial setting": "dial",
    "temperature": "temperature",
    "timestamp": "time",
    "elapsed": "time",
    "setting": "dial",
    "clock": "time",
    "date": "date",
    "temp": "temperature",
    "time": "time",
    "dial": "dial",
}
"""Longer words first, since a shorter one may begin them."""

_QUANTITY: dict[Meaning, Quantity] = {
    "time": "time",
    "temperature": "temperature",
    "dial": "ratio",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Where the columns of a log stand, and the unit of plain numbers in them.

    Parameters
    ----------
    count : int
        Columns in all.
    time, temperature : int
        Counted from 0.
    date, dial : int or None
        None: there is none.
    time_unit : str
        "" where clock times stand in the column.
    temperature_unit, dial_unit : str
    strange : tuple of str
        Heads that are none of our words.
    """

    count: int
    time: int
    temperature: int
    date: int | None
    dial: int | None
    time_unit: str
    temperature_unit: str
    dial_unit: str
    strange: tuple[str, ...]


def columns_of(heads: list[str]) -> Columns:
    """Return what the columns of a log are by their heads.

    Parameters
    ----------
    heads : list of str

    Returns
    -------
    Columns

    Raises
    ------
    InputError
        If a column is missing, stands twice, or lacks its unit.
    """
    places: dict[Meaning, int] = {}
    units: dict[Meaning, str] = {}
    strange: list[str] = []
    for place, head in enumerate(heads):
        known = _meaning(head)
        if known is None:
            strange.append(head.strip() or f"column {place + 1} without a head")
            continue
        meaning, unit = known
        if meaning in places:
            raise InputError("head of the log", head.strip(), "", f"the only one for {meaning}")
        places[meaning] = place
        units[meaning] = _symbol(head, meaning, unit)
    for needed in ("time", "temperature"):
        if needed not in places:
            shown = ", ".join(head.strip() for head in heads)[:80] or "(empty)"
            raise InputError(
                "head of the log",
                shown,
                "",
                f"one with a column {needed}",
                "Write a first line such as: time, temperature_C, dial.",
            )
    if not units["temperature"]:
        raise InputError(
            "head of the log",
            heads[places["temperature"]].strip(),
            "",
            "one with °C or °F",
            "Write temperature_C or temperature_F.",
        )
    if "date" in places and units["time"]:
        raise InputError(
            "head of the log",
            heads[places["time"]].strip(),
            "",
            "without a unit beside a date, which goes with clock times",
        )
    return Columns(
        count=len(heads),
        time=places["time"],
        temperature=places["temperature"],
        date=places.get("date"),
        dial=places.get("dial"),
        time_unit=units["time"],
        temperature_unit=units["temperature"],
        dial_unit=units.get("dial") or "-",
        strange=tuple(strange),
    )


def _meaning(head: str) -> tuple[Meaning, str] | None:
    """Return what a head means and its unit as written; None: none of our words."""
    plain = " ".join(re.sub(r"[_()\[\]]", " ", head).split())
    for word, meaning in _WORDS.items():
        if re.match(rf"{word}(?![a-z])", plain, re.IGNORECASE):
            return meaning, plain[len(word) :].strip(" ,:")
    return None


def _symbol(head: str, meaning: Meaning, unit: str) -> str:
    if not unit:
        return ""
    if meaning == "date":
        raise InputError("head of the log", head.strip(), "", "date alone")
    quantity = _QUANTITY[meaning]
    symbol = find_symbol(unit, quantity)
    if symbol is None:
        known = ", ".join(symbols(quantity))
        raise InputError("head of the log", head.strip(), "", f"{meaning} with one of {known}")
    return symbol
