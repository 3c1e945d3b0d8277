"""Faults of the book: work that could not be done, though what was asked was right.

A wrong entry is an `InputError`, as everywhere.  A full disk, a book that another
program holds and a file that is damaged are none of the caster's slips: they are
a `BookError`, which says what was and what was not kept.
"""

from pourcast.errors import PourcastError

NOTHING_LOST = "Nothing of this entry was kept; what was kept before is whole."


class BookError(PourcastError, RuntimeError):
    """The book could not be read or written."""


class KeptForGoodError(BookError):
    """Something tried to change or delete what is kept for good."""

    def __init__(self, table: str) -> None:
        super().__init__(
            f"what stands in {table} is kept for good; it is never changed or deleted. "
            "Enter it again: the later entry counts, and the earlier one stays."
        )
