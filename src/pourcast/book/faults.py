"""Faults of the book: work that could not be done, though what was asked was right.

A wrong entry is an `InputError`, as everywhere.  A full disk, a book that another
program holds and a file that is damaged are none of the caster's slips: they are
a `BookError`, which says what was and what was not kept.
"""

from datetime import datetime

from pourcast.errors import PourcastError

NOTHING_LOST = "Nothing of this entry was kept; what was kept before is whole."


class BookError(PourcastError, RuntimeError):
    """The book could not be read or written."""


class ClashError(BookError):
    """Two changes met on the server and this one gave way; it may be tried again."""


class ChangedElsewhereError(BookError):
    """Another text has the place of this one, which is kept aside.

    Parameters
    ----------
    sheet_id : str
    revision : int
        Number of the text that stands.
    who : str
        Whose hand it is from.
    when : datetime
        When it was kept.
    """

    def __init__(self, sheet_id: str, *, revision: int, who: str, when: datetime) -> None:
        self.sheet_id = sheet_id
        self.revision = revision
        self.who = who
        self.when = when
        super().__init__(
            f"{who} kept text {revision} of this piece at {when:%Y-%m-%d %H:%M} UTC, after this "
            "one was opened. Nothing is lost: this text is kept aside"
        )


class KeptForGoodError(BookError):
    """Something tried to change or delete what is kept for good."""

    def __init__(self, table: str) -> None:
        super().__init__(
            f"what stands in {table} is kept for good; it is never changed or deleted. "
            "Enter it again: the later entry counts, and the earlier one stays."
        )
