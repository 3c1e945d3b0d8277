"""Pieces of a shared book: the texts are rows of the book, for every machine alike.

What is of one machine alone, such as a chance that was worked out or a form that is
half filled in, is noted in its folder as before.
"""

from datetime import UTC, datetime
from pathlib import Path

from pourcast.app.faults import NotThereError
from pourcast.app.keep import replace_text
from pourcast.app.pieces import BOOK_PIECE, PieceText, conflict
from pourcast.book.faults import ChangedElsewhereError
from pourcast.book.sheets import (
    Aside,
    SheetText,
    add_sheet,
    asides_of,
    keep_text,
    link,
    link_of,
    read_sheet,
    sheet_ids,
    texts_of,
)
from pourcast.book.store import Book

_NONE = "There is no such piece."


class SharedPieces:
    """The piece files of a book on a server; it does what `Pieces` does.

    Parameters
    ----------
    book : Book
    folder : Path
        For notes of this machine.
    """

    def __init__(self, book: Book, folder: Path) -> None:
        self._book = book
        self._folder = folder

    def ids(self) -> list[str]:
        """Return the ids of all pieces, the one changed last first."""
        return sheet_ids(self._book)

    def read(self, piece_id: str, revision: int | None = None) -> PieceText:
        """Return a text of a piece; None: the one that stands.

        Raises
        ------
        NotThereError
        """
        found = read_sheet(self._book, piece_id, revision)
        if found is None:
            raise NotThereError(_NONE)
        return _text(found)

    def earlier(self, piece_id: str) -> list[PieceText]:
        """Return all texts of a piece, the newest first."""
        found = texts_of(self._book, piece_id)
        if not found:
            raise NotThereError(_NONE)
        return [_text(each) for each in found]

    def asides(self, piece_id: str) -> list[PieceText]:
        """Return the texts that had no place, under the number they were made from."""
        return [_aside(each) for each in asides_of(self._book, piece_id)]

    def add(self, text: str) -> PieceText:
        """Keep the first text of a new piece."""
        return _text(add_sheet(self._book, text, at=datetime.now(UTC)))

    def save(self, piece_id: str, text: str, *, base: int) -> PieceText:
        """Keep a changed text; the same text again changes nothing.

        Raises
        ------
        ConflictError
            If the piece was changed since; the text is then kept aside.
        NotThereError
        """
        self.read(piece_id)
        try:
            return _text(keep_text(self._book, piece_id, text, base=base, at=datetime.now(UTC)))
        except ChangedElsewhereError as fault:
            before = read_sheet(self._book, piece_id, base)
            now = self.read(piece_id, fault.revision)
            raise conflict(text, now, _text(before) if before else None, base=base) from None

    def noted(self, piece_id: str, name: str) -> str | None:
        """Return what this machine has noted of a piece; None: nothing."""
        try:
            return (self._folder / piece_id / name).read_text("utf-8")
        except FileNotFoundError:
            return None

    def note(self, piece_id: str, name: str, text: str) -> None:
        """Note something of a piece on this machine, in the place of what was there."""
        if name == BOOK_PIECE:
            self.set_book_piece(piece_id, text)
            return
        self.read(piece_id)
        replace_text(self._folder / piece_id / name, text)

    def book_piece(self, piece_id: str) -> str | None:
        """Return the id under which the book keeps the plans of a piece."""
        return link_of(self._book, piece_id)

    def set_book_piece(self, piece_id: str, book_piece: str) -> None:
        """Note under which id the book keeps the plans of a piece."""
        link(self._book, piece_id, book_piece)


def _text(found: SheetText) -> PieceText:
    return PieceText(
        id=found.sheet_id,
        revision=found.revision,
        text=found.text,
        written=found.created,
        who=found.who,
    )


def _aside(found: Aside) -> PieceText:
    return PieceText(
        id=found.sheet_id,
        revision=found.base,
        text=found.text,
        written=found.created,
        who=found.who,
    )
