"""Keeps one plan, in one transaction, for each line it is sent, and says when it is kept.

Run as ``python -m tests.book.kill.stepper FOLDER``.
"""

import sys
from datetime import UTC, datetime
from pathlib import Path

from pourcast.book.store import open_book
from tests.book.conftest import kept

PARTS = 12


def main(folder: Path) -> None:
    """Write one plan for each line."""
    chances = {f"part {number}": 0.5 for number in range(PARTS)}
    with open_book(folder) as book:
        for number, _ in enumerate(sys.stdin):
            name = f"piece {number % 50}"
            plan = kept(book, at=datetime.now(UTC), name=name, chances=chances)
            sys.stdout.write(plan.id + "\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
