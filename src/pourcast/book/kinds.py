"""Kinds of column: what may stand in the book, checked before it reaches the store.

Each kind refuses what the store would keep wrongly or not at all: a number that
is not finite (SQLite turns it into nothing), a money amount that went through a
binary fraction, a time without its zone, a text with signs that no file holds.

What is stored is also what an export writes: numbers as they are, money, days
and moments as text in one fixed form, so that texts sort like times.
"""

import math
import re
from datetime import UTC, date, datetime
from decimal import Decimal, InvalidOperation
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

from pourcast.errors import InputError

NAME_LENGTH = 200
"""Signs of a name; own choice."""

NOTE_LENGTH = 1_000_000
"""Signs of a note; own choice.  A book of words is half of that."""

DOCUMENT_LENGTH = 50_000_000
"""Signs of a forecast; own choice.  One of 400 parts takes 300 000."""

MONEY_PLACES = 4
MOST_MONEY = Decimal(10) ** 12
MOST_WHOLE = 2**53
"""Largest whole number that every reader of JSON gives back unchanged."""

_MONEY = re.compile(r"-?[0-9]{1,13}(\.[0-9]{1,4})?")
_STORED_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{6}Z")


class Words(TypeDecorator[str]):
    """A text of at most so many signs."""

    impl = sa.Text
    cache_ok = True

    def __init__(self, what: str, longest: int = NAME_LENGTH) -> None:
        self.what = what
        self.longest = longest
        super().__init__()

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Return the text, or raise `InputError`."""
        del dialect
        if value is None:
            return None
        if not isinstance(value, str):
            raise InputError(self.what, type(value).__name__, "", "a text")
        if len(value) > self.longest:
            raise InputError(
                f"length of {self.what}", len(value), "signs", f"{self.longest} or less"
            )
        if "\0" in value or any("\ud800" <= sign <= "\udfff" for sign in value):
            raise InputError(self.what, ascii(value[:40]), "", "a text of whole signs, without NUL")
        return value


class Choice(Words):
    """One of the words of a list."""

    cache_ok = True

    def __init__(self, what: str, words: tuple[str, ...]) -> None:
        self.words = words
        super().__init__(what)

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Return the word, or raise `InputError`."""
        if value is None or value in self.words:
            return value
        super().process_bind_param(value, dialect)
        raise InputError(self.what, _short(value), "", "one of " + ", ".join(self.words))


class Whole(TypeDecorator[int]):
    """A whole number between limits."""

    impl = sa.BigInteger
    cache_ok = True

    def __init__(self, what: str, low: int = 0, high: int = MOST_WHOLE) -> None:
        self.what = what
        self.low = low
        self.high = high
        super().__init__()

    def process_bind_param(self, value: int | None, dialect: Dialect) -> int | None:
        """Return the number, or raise `InputError`."""
        del dialect
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int):
            raise InputError(self.what, _short(value), "", "a whole number")
        if not self.low <= value <= self.high:
            raise InputError(self.what, _short(value), "", f"{self.low} to {self.high}")
        return value


class Number(TypeDecorator[float]):
    """A finite number between limits."""

    impl = sa.Double
    cache_ok = True

    def __init__(self, what: str, low: float = -1e12, high: float = 1e12) -> None:
        self.what = what
        self.low = low
        self.high = high
        super().__init__()

    def process_bind_param(self, value: float | None, dialect: Dialect) -> float | None:
        """Return the number, or raise `InputError`."""
        del dialect
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise InputError(self.what, _short(value), "", "a number")
        if not math.isfinite(value):
            raise InputError(self.what, value, "", "a finite number")
        if not self.low <= value <= self.high:
            raise InputError(self.what, value, "", f"{self.low:g} to {self.high:g}")
        return float(value)


class Money(TypeDecorator[Decimal]):
    """An amount of the currency of the book, exact, with at most four places."""

    impl = sa.Text
    cache_ok = True

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__()

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:
        """Return the amount as plain text, or raise `InputError`."""
        del dialect
        if value is None:
            return None
        if not isinstance(value, Decimal):
            raise InputError(self.what, _short(value), "", "a decimal amount")
        if not value.is_finite() or abs(value) >= MOST_MONEY:
            raise InputError(self.what, value, "", f"an amount below {MOST_MONEY:f}")
        written = f"{value.normalize() + 0:f}"
        if not _MONEY.fullmatch(written):
            raise InputError(self.what, value, "", f"an amount of at most {MONEY_PLACES} places")
        return written

    def process_result_value(self, value: Any | None, dialect: Dialect) -> Decimal | None:
        """Return the amount that a stored text stands for."""
        del dialect
        if value is None:
            return None
        if not isinstance(value, str) or not _MONEY.fullmatch(value):
            raise InputError(self.what, _short(value), "", "an amount such as 12.50")
        return Decimal(value)


def as_kept(moment: datetime) -> str:
    """Return a moment as it is kept: text that sorts by time.

    Parameters
    ----------
    moment : datetime
        With its zone.
    """
    universal = moment.astimezone(UTC).replace(tzinfo=None)
    return universal.isoformat(timespec="microseconds") + "Z"


class Moment(TypeDecorator[datetime]):
    """A moment in universal time (UTC), to the microsecond."""

    impl = sa.Text
    cache_ok = True

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__()

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:
        """Return the moment as text that sorts by time, or raise `InputError`."""
        del dialect
        if value is None:
            return None
        if not isinstance(value, datetime) or value.tzinfo is None:
            raise InputError(self.what, _short(value), "", "a time with its zone")
        return as_kept(value)

    def process_result_value(self, value: Any | None, dialect: Dialect) -> datetime | None:
        """Return the moment that a stored text stands for."""
        del dialect
        if value is None:
            return None
        try:
            if _STORED_MOMENT.fullmatch(value):
                return datetime.fromisoformat(value)
        except (TypeError, ValueError):
            pass
        must = "a time such as 2026-03-01T09:30:00.000000Z"
        raise InputError(self.what, _short(value), "", must)


class Day(TypeDecorator[date]):
    """A day as the caster's calendar has it."""

    impl = sa.Text
    cache_ok = True

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__()

    def process_bind_param(self, value: date | None, dialect: Dialect) -> str | None:
        """Return the day as text that sorts by time, or raise `InputError`."""
        del dialect
        if value is None:
            return None
        if not isinstance(value, date) or isinstance(value, datetime):
            raise InputError(self.what, _short(value), "", "a day")
        return value.isoformat()

    def process_result_value(self, value: Any | None, dialect: Dialect) -> date | None:
        """Return the day that a stored text stands for."""
        del dialect
        if value is None:
            return None
        try:
            found = date.fromisoformat(value)
        except (TypeError, ValueError):
            found = None
        if found is None or found.isoformat() != value:
            raise InputError(self.what, _short(value), "", "a day such as 2026-03-01")
        return found


def amount(written: str, what: str) -> Decimal:
    """Return the amount that a text stands for.

    Raises
    ------
    InputError
        If it is no plain decimal number.

    Examples
    --------
    >>> amount("12.50", "price")
    Decimal('12.50')
    """
    try:
        found = Decimal(written.strip())
    except InvalidOperation:
        found = Decimal("NaN")
    if not found.is_finite() or not _MONEY.fullmatch(written.strip()):
        raise InputError(what, _short(written), "", "an amount such as 12.50")
    return found


def _short(value: object) -> str:
    try:
        said = ascii(value)
    except ValueError:  # a whole number of more figures than Python writes out
        return "a number of very many figures"
    return said if len(said) <= 60 else said[:57] + "..."
