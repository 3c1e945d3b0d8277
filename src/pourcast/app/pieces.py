"""Pieces: the piece files of a studio, every earlier text of each kept.

A piece is a folder of numbered texts, ``pieces/<id>/000001.toml`` and on; the
highest number is the text that stands.  A change is a new number, made only if
that number is free, so that of two devices that change one piece the later one
is told, and nothing is written over.  The text that had no place is kept aside.

Of a book on a server the texts are rows of it: `pourcast.app.pieces_shared`.
"""

import difflib
import os
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from pourcast.app.faults import ConflictError, NotThereError
from pourcast.app.keep import create_text, replace_text
from pourcast.book.carry import SheetFiles
from pourcast.book.sheets import Aside, SheetText, asides_of, link_of, sheet_ids, texts_of
from pourcast.book.store import Book, new_id
from pourcast.book.who import UNKNOWN, given_name

_ID = re.compile(r"[0-9a-hjkmnp-tv-z]{16}")
_FIGURES = 6
_ASIDE = "aside"
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
    who : str
        Whose hand it is from, where that is known.
    """

    id: str
    revision: int
    text: str
    written: datetime
    who: str = UNKNOWN


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
        _sign(self._path(piece_id, 1), given_name())
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
                _sign(self._path(piece_id, base + 1), given_name())
                return self.read(piece_id, base + 1)
            except FileExistsError:
                now = self.read(piece_id)
        if now.text == text:
            return now
        aside = self._aside(piece_id, base, new_id())
        create_text(aside, text)
        _sign(aside, given_name())
        raise conflict(text, now, self.read_or_none(piece_id, base), base=base)

    def read_or_none(self, piece_id: str, revision: int) -> PieceText | None:
        """Return a text of a piece; None: there is none of that number."""
        path = dict(self._revisions(piece_id)).get(revision)
        return None if path is None else _text(piece_id, revision, path)

    def asides(self, piece_id: str) -> list[PieceText]:
        """Return the texts that had no place, under the number they were made from."""
        self.read(piece_id)
        found = (self._folder / piece_id / _ASIDE).glob("*.toml")
        made = [_text(piece_id, int(path.name[:_FIGURES]), path) for path in found]
        return sorted(made, key=lambda each: each.written, reverse=True)

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

    def for_carrying(self) -> list[SheetFiles]:
        """Return every piece with all its texts, as a book on a server takes them."""
        return [
            SheetFiles(
                sheet_id=piece_id,
                piece_id=self.book_piece(piece_id),
                texts=tuple(
                    SheetText(
                        sheet_id=piece_id,
                        revision=each.revision,
                        text=each.text,
                        created=each.written,
                        who=each.who,
                    )
                    for each in reversed(self.earlier(piece_id))
                ),
                asides=tuple(
                    Aside(
                        id=new_id(),
                        sheet_id=piece_id,
                        base=each.revision,
                        text=each.text,
                        created=each.written,
                        who=each.who,
                    )
                    for each in self.asides(piece_id)
                ),
            )
            for piece_id in self.ids()
        ]

    def take_out_of(self, book: Book) -> None:
        """Write the pieces that stand in a book as rows, and not in the folder yet, as files.

        A book in a folder has such rows where it was moved there from a server.
        """
        here = set(self.ids())
        for piece_id in sheet_ids(book):
            if piece_id in here or not _ID.fullmatch(piece_id):
                continue
            # The newest comes last: a piece that is half written is not on the shelf whole.
            for each in reversed(texts_of(book, piece_id)):
                path = self._path(piece_id, each.revision)
                replace_text(path, each.text)
                _sign(path, each.who)
                _date(path, each.created)
            for aside in asides_of(book, piece_id):
                path = self._aside(piece_id, aside.base, aside.id)
                replace_text(path, aside.text)
                _sign(path, aside.who)
                _date(path, aside.created)
            known = link_of(book, piece_id)
            if known is not None:
                self.set_book_piece(piece_id, known)

    def _aside(self, piece_id: str, base: int, named: str) -> Path:
        return self._folder / piece_id / _ASIDE / f"{base:0{_FIGURES}d}-{named}.toml"

    def _path(self, piece_id: str, revision: int) -> Path:
        return self._folder / piece_id / f"{revision:0{_FIGURES}d}.toml"

    def _revisions(self, piece_id: str) -> list[tuple[int, Path]]:
        return sorted(
            (int(path.stem), path)
            for path in (self._folder / piece_id).glob("*.toml")
            if path.stem.isdecimal()
        )


def conflict(yours: str, now: PieceText, before: PieceText | None, *, base: int) -> ConflictError:
    """Return what the later of two writers is told: who has changed what, and when."""
    changed: tuple[str, ...] = ()
    if before is not None:
        lines = difflib.ndiff(before.text.splitlines(), now.text.splitlines())
        changed = tuple(line for line in lines if line.startswith(("+ ", "- ")))
    return ConflictError(
        now.id,
        yours=yours,
        theirs=now.text,
        base=base,
        revision=now.revision,
        who=now.who,
        when=now.written,
        changed=changed,
    )


def _sign(path: Path, who: str | None) -> None:
    """Note whose hand a text is from; that of the caster alone needs no note."""
    if who is not None and who != UNKNOWN:
        replace_text(path.with_suffix(".who"), who)


def _date(path: Path, moment: datetime) -> None:
    os.utime(path, (moment.timestamp(), moment.timestamp()))


def _text(piece_id: str, revision: int, path: Path) -> PieceText:
    signed = path.with_suffix(".who")
    return PieceText(
        id=piece_id,
        revision=revision,
        text=path.read_bytes().decode("utf-8"),
        written=datetime.fromtimestamp(path.stat().st_mtime, UTC),
        who=signed.read_text("utf-8") if signed.is_file() else UNKNOWN,
    )
