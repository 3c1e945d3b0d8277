"""Look: how figures and days are shown and read, as the caster has chosen."""

import json
from dataclasses import asdict, dataclass, fields
from datetime import date
from pathlib import Path
from typing import Literal

from pourcast import units as si
from pourcast.app.keep import replace_text
from pourcast.errors import InputError
from pourcast.page.as_chosen import Chosen

LENGTHS = ("mm", "in")
DECIMALS = ("point", "comma")
DAYS = ("year first", "day first", "month first")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How figures and days are shown.

    Parameters
    ----------
    lengths : {"mm", "in"}
        Of a number that is typed without its unit, and of lengths that are shown.
    decimal : {"point", "comma"}
    days : {"year first", "day first", "month first"}
    """

    lengths: Literal["mm", "in"] = "mm"
    decimal: Literal["point", "comma"] = "point"
    days: Literal["year first", "day first", "month first"] = "year first"

    @property
    def chosen(self) -> Chosen:
        """What is asked of texts that are told in mm and with a point."""
        return Chosen(lengths=self.lengths, decimal=self.decimal)

    def figures(self, text: str) -> str:
        """Return figures with the chosen sign between whole and parts."""
        return text.replace(".", ",") if self.decimal == "comma" else text

    def day(self, day: date) -> str:
        """Return a day, such as 2026-03-01, 1.3.2026 or 3/1/2026."""
        if self.days == "day first":
            return f"{day.day}.{day.month}.{day.year}"
        if self.days == "month first":
            return f"{day.month}/{day.day}/{day.year}"
        return day.isoformat()

    def length(self, length: si.Metre) -> str:
        """Return a length [m] with its unit and three figures that count."""
        return self.figures(f"{si.from_si(length, self.lengths):.3g}\u00a0{self.lengths}")


def checked(choices: dict[str, str]) -> Look:
    """Return a look of chosen words.

    Raises
    ------
    InputError
        If a word is not one of its choices.
    """
    allowed = {"lengths": LENGTHS, "decimal": DECIMALS, "days": DAYS}
    for name, word in choices.items():
        if name not in allowed or word not in allowed[name]:
            must = "one of " + ", ".join(allowed.get(name, allowed))
            raise InputError(name[:40], word[:40], "", must)
    return Look(**choices)  # type: ignore[arg-type]


def read_look(path: Path) -> Look:
    """Return the look that was chosen; the usual one where there is none."""
    try:
        kept = json.loads(path.read_text("utf-8"))
    except FileNotFoundError:
        return Look()
    known = {each.name for each in fields(Look)}
    return checked({name: word for name, word in kept.items() if name in known})


def write_look(path: Path, look: Look) -> None:
    """Keep a look."""
    replace_text(path, json.dumps(asdict(look)))
