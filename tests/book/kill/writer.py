"""Writes into a book without end, and says after each entry that it was kept.

A line is written only after the call came back, so each line is a promise.  Run
as ``python -m tests.book.kill.writer FOLDER``.
"""

import sys
from datetime import UTC, datetime
from pathlib import Path

from pourcast.book.days import keep_note
from pourcast.book.outcomes import keep_first_outcome
from pourcast.book.pictures import keep_photograph
from pourcast.book.store import open_book
from tests.book.conftest import DAY, kept

PARTS = 12
"""Parts of each plan; a plan with fewer in the book is torn."""


def picture(number: int) -> bytes:
    """Return a picture that is like no other."""
    return bytes.fromhex("89504e470d0a1a0a") + f"{number} {datetime.now(UTC)}".encode() * 200


def main(folder: Path) -> None:
    """Write until killed."""
    chances = {f"part {number}": 0.5 for number in range(PARTS)}
    with open_book(folder) as book:
        number = 0
        while True:
            number += 1
            at = datetime.now(UTC)
            plan = kept(book, at=at, name=f"piece {number % 50}", chances=chances)
            _kept("plans", plan.id)
            outcome = keep_first_outcome(book, plan.id, [], poured=DAY, seen=DAY, at=at)
            _kept("outcomes", outcome.id)
            note = keep_note(book, plan.piece_id, "x" * (number % 5000 + 1), at=at)
            _kept("notes", note.id)
            made = keep_photograph(book, picture(number), "a.png", piece_id=plan.piece_id, at=at)
            _kept("photographs", made.id)


def _kept(table: str, row: str) -> None:
    sys.stdout.write(f"{table} {row}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
