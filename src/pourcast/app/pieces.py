"""Pieces: the piece files of a studio, every earlier text of each kept.

A piece is a folder of numbered texts, ``pieces/<id>/000001.toml`` and on; the
highest number is the text that stands.  A change is a new number, made only if
that number is free, so that of two devices that change one piece the later one
is told, and nothing is written over.
"""

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from pourcast.app.faults import ConflictError, NotThereError
from pourcast.app.keep import create_text, replace_text
from pourcast.book.store import new_id

_ID = re.compile(r"[0-9a-hjkmnp-tv-z]{16}")
_FIGURES = 6
BOOK_PIECE = "book_piece"
"""File that names the piece of the book that the plans of this piece are kept under."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceText:
    """One text of a piece.

    Parameters
    ----------
    id : str
    revision : int
        From 1; the highest stands.
    text : str
        The piece file.
    written : datetime
        When it was kept.
    """

    id: str
    revision: int
    text: str
    written: datetime


class Pieces:
    """The folder of piece files.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def ids(self) -> list[str]:
        """Return the ids of all pieces, the one changed last first."""
        if not self._folder.is_dir():
            return []
        found = [
            (revisions[-1][1].stat().st_mtime, place.name)
            for place in self._folder.iterdir()
            if _ID.fullmatch(place.name) and (revisions := self._revisions(place.name))
        ]
        return [name for _, name in sorted(found, reverse=True)]

    def read(self, piece_id: str, revision: int | None = None) -> PieceText:
        """Return a text of a piece; None: the one that stands.

        Raises
        ------
        NotThereError
        """
        if not _ID.fullmatch(piece_id):
            raise NotThereError("There is no such piece.")
        kept = dict(self._revisions(piece_id))
        number = max(kept, default=0) if revision is None else revision
        if number not in kept:
            raise NotThereError("There is no such piece.")
        return _text(piece_id, number, kept[number])

    def earlier(self, piece_id: str) -> list[PieceText]:
        """Return all texts of a piece, the newest first."""
        self.read(piece_id)
        return [
            _text(piece_id, number, path) for number, path in reversed(self._revisions(piece_id))
        ]

    def add(self, text: str) -> PieceText:
        """Keep the first text of a new piece."""
        piece_id = new_id()
        create_text(self._path(piece_id, 1), text)
        return self.read(piece_id)

    def save(self, piece_id: str, text: str, *, base: int) -> PieceText:
        """Keep a changed text; the same text again changes nothing.

        Parameters
        ----------
        piece_id, text : str
        base : int
            Revision that the change was made from.

        Raises
        ------
        ConflictError
            If the piece was changed since.
        NotThereError
        """
        now = self.read(piece_id)
        if now.revision == base:
            if now.text == text:
                return now
            try:
                create_text(self._path(piece_id, base + 1), text)
                return self.read(piece_id, base + 1)
            except FileExistsError:
                now = self.read(piece_id)
        if now.text == text:
            return now
        raise ConflictError(piece_id, yours=text, theirs=now.text, base=base, revision=now.revision)

    def noted(self, piece_id: str, name: str) -> str | None:
        """Return what is noted beside the texts of a piece; None: nothing."""
        try:
            return (self._folder / piece_id / name).read_text("utf-8")
        except FileNotFoundError:
            return None

    def note(self, piece_id: str, name: str, text: str) -> None:
        """Note something beside the texts of a piece, in the place of what was there."""
        self.read(piece_id)
        replace_text(self._folder / piece_id / name, text)

    def book_piece(self, piece_id: str) -> str | None:
        """Return the id under which the book keeps the plans of a piece."""
        return self.noted(piece_id, BOOK_PIECE)

    def set_book_piece(self, piece_id: str, book_piece: str) -> None:
        """Note under which id the book keeps the plans of a piece."""
        self.note(piece_id, BOOK_PIECE, book_piece)

    def _path(self, piece_id: str, revision: int) -> Path:
        return self._folder / piece_id / f"{revision:0{_FIGURES}d}.toml"

    def _revisions(self, piece_id: str) -> list[tuple[int, Path]]:
        return sorted(
            (int(path.stem), path)
            for path in (self._folder / piece_id).glob("*.toml")
            if path.stem.isdecimal()
        )


def _text(piece_id: str, revision: int, path: Path) -> PieceText:
    return PieceText(
        id=piece_id,
        revision=revision,
        text=path.read_bytes().decode("utf-8"),
        written=datetime.fromtimestamp(path.stat().st_mtime, UTC),
    )
