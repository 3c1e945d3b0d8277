"""Writer: a day that is entered line by line, and says what it was told is kept.

Each line has a key, as a telephone would send it; it begins where the book ends.
"""

import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from pourcast.book.day_entries import enter
from pourcast.book.kiln_days import begin_day, day_begun, day_log
from pourcast.book.store import open_book
from tests.book.conftest import kept

START = datetime(2026, 12, 5, 5, 0, tzinfo=UTC)
LINES = 120
"""Of one day: readings, a turn of the dial every eighth of them."""


def line_of(number: int) -> tuple[str, datetime]:
    """Return what is typed, and when."""
    at = START + timedelta(minutes=10 * number)
    if number % 8 == 7:
        return f"turned to {number // 8 % 5 + 1}", at
    return f"{20.0 + 4.0 * number:.1f} C", at


def day_of(folder: Path) -> None:
    """Enter the day, from the first line that is not in the book."""
    with open_book(folder) as book:
        with book.reading() as connection:
            plans = connection.exec_driver_sql("SELECT id FROM plans").scalars().all()
        plan_id = plans[0] if plans else kept(book).id
        pour = day_begun(book, plan_id, START) or begin_day(book, plan_id, start=START, at=START)
        log = day_log(book, pour.id)
        # One line more than what is there is sent again, as after a lost answer.
        first = max(len(log.readings) + len(log.events) - 1, 0)
        sys.stdout.write(f"pour {pour.id}\n")
        sys.stdout.flush()
        for number in range(first, LINES):
            line, at = line_of(number)
            enter(book, pour.id, line, now=at, zone=UTC, unit="degC", key=f"line {number}")
            sys.stdout.write(f"kept {number}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    day_of(Path(sys.argv[1]))
