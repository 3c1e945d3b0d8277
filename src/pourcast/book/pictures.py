"""Pictures: photographs of the book, each under the hash of its content.

Those of a book in a folder are files beside it; those of a book on a server are rows
of it, so that every machine sees them.

A file is copied and flushed to the disk before the book names it, so an entry
never points at nothing.  Its name comes from its content alone; the name that
the caster gave it is a text in the book and never part of a path.  What kind of
picture it is, is read from its first bytes, not from its name.

Left out: whether the rest of the file is a whole picture.
"""

import hashlib
import os
import re
from datetime import datetime
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import sqlite, tables
from pourcast.book.model import Photograph
from pourcast.book.outcomes import load_pour
from pourcast.book.plans import base_name
from pourcast.book.store import PICTURES, Book, find_id, new_id, retried
from pourcast.errors import InputError, PourcastError

MOST_BYTES = 25_000_000
"""Largest file that is taken; own choice.  A telephone's picture has 2 to 12 million."""

_PNG = b"\x89PNG\r\n\x1a\n"  # PNG specification (W3C, 2003), 5.2
_JPG = b"\xff\xd8\xff"  # start of image and first marker, ITU-T T.81 (1992), annex B

_SHA256 = re.compile(r"[0-9a-f]{64}")


@retried
def keep_photograph(
    book: Book,
    content: bytes,
    original_name: str,
    *,
    piece_id: str,
    at: datetime,
    pour_id: str | None = None,
) -> Photograph:
    """Keep a photograph of a piece, or of one of its pours, and return its entry.

    Parameters
    ----------
    book : Book
    content : bytes
        The file.
    original_name : str
        As the caster has it; folders are left off.
    piece_id : str
    at : datetime
        Now, with its zone.
    pour_id : str or None

    Raises
    ------
    InputError
        If it is no PNG, JPEG or WebP picture, or too large.
    """
    kind = kind_of(content)
    sha256 = hashlib.sha256(content).hexdigest()
    made = new_id()
    with book.writing() as connection:
        row = {
            "id": made,
            "piece_id": find_id(connection, tables.pieces, piece_id),
            "pour_id": None,
            "created": at,
            "sha256": sha256,
            "kind": kind,
            "size_bytes": len(content),
            "original_name": base_name(original_name),
        }
        if pour_id is not None:
            pour = load_pour(connection, find_id(connection, tables.pours, pour_id))
            row["pour_id"] = pour.id
        put_content(book, connection, sha256, kind, content)
        connection.execute(tables.photographs.insert(), row)
    return Photograph(**row)  # type: ignore[arg-type]


def photographs_of(book: Book, piece_id: str) -> tuple[Photograph, ...]:
    """Return the photographs of a piece, the oldest first."""
    kept = tables.photographs
    asked = sa.select(*tables.told(kept)).where(kept.c.piece_id == piece_id)
    with book.reading() as connection:
        rows = connection.execute(asked.order_by(kept.c.created, kept.c.id)).mappings()
        return tuple(Photograph(**row) for row in rows)


def read_file(book: Book, photograph: Photograph) -> bytes:
    """Return the content of a photograph.

    Raises
    ------
    InputError
        If the file is gone, or is not what was kept.
    """
    if book.on_server:
        with book.reading() as connection:
            return get_content(book, connection, photograph.sha256, photograph.kind)
    return _read(book.folder, photograph.sha256, photograph.kind)


def put_content(book: Book, connection: Connection, sha256: str, kind: str, content: bytes) -> None:
    """Keep the content of a photograph, before a row names it; the same twice is kept once.

    Parameters
    ----------
    book : Book
    connection : Connection
        Of the change that it belongs to.
    sha256, kind : str
        Of the content.
    content : bytes
    """
    if not book.on_server:
        store_file(picture_path(book.folder, sha256, kind), content)
        return
    table = tables.picture_contents
    asked = sa.select(table.c.sha256).where(table.c.sha256 == sha256)
    if connection.execute(asked).first() is None:
        connection.execute(table.insert(), {"sha256": sha256, "content": content})


def get_content(book: Book, connection: Connection, sha256: str, kind: str) -> bytes:
    """Return the content of a photograph, once it is seen to be what was kept.

    Raises
    ------
    InputError
        If it is gone, or is not what was kept.
    """
    if not book.on_server:
        return _read(book.folder, sha256, kind)
    table = tables.picture_contents.c
    found = connection.execute(sa.select(table.content).where(table.sha256 == sha256)).scalar()
    if found is None or hashlib.sha256(found).hexdigest() != sha256:
        raise InputError("photograph", sha256[:12], "", "in the book, as it was kept")
    return bytes(found)


def _read(folder: Path, sha256: str, kind: str) -> bytes:
    path = picture_path(folder, sha256, kind)
    try:
        content = path.read_bytes()
    except OSError as fault:
        why = fault.strerror or str(fault)
        raise InputError("photograph", path, "", f"a file that can be read ({why})") from None
    if hashlib.sha256(content).hexdigest() != sha256:
        raise InputError("photograph", path, "", "the file that was kept; it has been changed")
    return content


def kind_of(content: bytes) -> str:
    """Return the kind of a picture by its first bytes.

    Raises
    ------
    InputError
        If it is none that is known, or too large.

    Examples
    --------
    >>> kind_of(bytes.fromhex("ffd8ffe0"))
    'jpg'
    """
    if len(content) > MOST_BYTES:
        raise InputError(
            "photograph", len(content) / 1e6, "MB", f"{MOST_BYTES / 1e6:.0f} MB or less"
        )
    if content.startswith(_PNG):
        return "png"
    if content.startswith(_JPG):
        return "jpg"
    # A RIFF file of the form WEBP: RFC 9649 (2024), 2.4.
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "webp"
    raise InputError("photograph", content[:8].hex(" "), "", "a PNG, JPEG or WebP file")


def picture_path(folder: Path, sha256: str, kind: str) -> Path:
    """Return where a photograph lies; built from figures and a known word alone.

    Raises
    ------
    InputError
        If the hash is none.
    """
    if not _SHA256.fullmatch(sha256):
        raise InputError("hash of a photograph", sha256[:80], "", "64 figures from 0 to f")
    if kind not in ("png", "jpg", "webp"):
        raise InputError("kind of a photograph", kind[:80], "", "png, jpg or webp")
    return folder / PICTURES / f"{sha256}.{kind}"


def store_file(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, and flush it and its folder to the disk.

    Raises
    ------
    PourcastError
        If it cannot be written.
    """
    if path.exists() and path.read_bytes() == content:
        return
    part = path.with_name(f".{new_id()}.part")
    try:
        path.parent.mkdir(mode=0o700, exist_ok=True)
        with part.open("xb") as opened:
            opened.write(content)
            opened.flush()
            os.fsync(opened.fileno())
        part.replace(path)
        sqlite.flush(path.parent)
    except OSError as fault:
        part.unlink(missing_ok=True)
        meant = sqlite.meaning(fault, path.parent.parent)
        raise meant or PourcastError(str(fault)) from None
