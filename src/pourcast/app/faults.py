"""Faults of the pages: what a request asked for that cannot be given."""

from datetime import datetime

from pourcast.book.who import UNKNOWN
from pourcast.errors import PourcastError


class NotThereError(PourcastError, LookupError):
    """A piece, draft or page that is not on this machine."""

    def __str__(self) -> str:
        return " ".join(str(part) for part in self.args)


class ConflictError(PourcastError):
    """A piece that was changed elsewhere since it was shown; nothing was written.

    Parameters
    ----------
    piece_id : str
    yours : str
        The text that was to be kept.
    theirs : str
        The text that stands now.
    base : int
        Revision that ``yours`` was made from.
    revision : int
        Revision of ``theirs``.
    who : str
        Whose hand ``theirs`` is from.
    when : datetime or None
        When it was kept.
    changed : tuple of str
        Lines that went (-) and came (+) since ``base``.
    """

    def __init__(
        self,
        piece_id: str,
        *,
        yours: str,
        theirs: str,
        base: int,
        revision: int,
        who: str = UNKNOWN,
        when: datetime | None = None,
        changed: tuple[str, ...] = (),
    ) -> None:
        self.piece_id = piece_id
        self.who = who
        self.when = when
        self.changed = changed
        self.yours = yours
        self.theirs = theirs
        self.base = base
        self.revision = revision
        super().__init__(
            f"piece {piece_id} was changed elsewhere: it stands at revision {revision}, "
            f"and this change was made from revision {base}"
        )
