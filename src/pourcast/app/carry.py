"""Carry: move a studio's book from its folder to a server, and back.

The book is built whole beside its new place and looked over before it is put there.
What it came from is left as it is; of a folder that has a book already, that one goes
among the copies.  At the end the folder notes where its book lies from now on.
"""

import os
import shutil
from datetime import UTC, datetime
from pathlib import Path

from pourcast.app.pieces import Pieces
from pourcast.book.address import FILE as NOTE
from pourcast.book.address import HERE, VARIABLE, note_address, read_address, shown
from pourcast.book.carry import SheetFiles, carry, require_empty
from pourcast.book.pictures import store_file
from pourcast.book.store import BACKUPS, FILE, PICTURES, Book, new_id, open_book
from pourcast.errors import InputError

PIECES = "pieces"


def carry_book(folder: Path, to: str, *, at: datetime) -> list[str]:
    """Move the book of a folder, and return what to say of it.

    Parameters
    ----------
    folder : Path
        Of the studio.
    to : str
        Address of a server, "here", or a folder.
    at : datetime
        Now, with its zone.

    Raises
    ------
    InputError
        If the place holds a book already, or is no place for one.
    BookError
        If the move does not work; both places are then as they were.
    """
    with open_book(folder) as source:
        before = source.place
        if "://" in to:
            url = read_address(to)
            with open_book(folder, address=to) as target:
                _refuse_same(source, target)
                counts = carry(source, target, _sheets_beside(source))
            note_address(folder, url)
            after = shown(url)
        else:
            final = folder if to == HERE else Path(to)
            if not source.on_server and final.resolve() == folder.resolve():
                raise InputError("place", to, "", "another one; the book lies there already")
            counts = _into_folder(source, final, in_place=to == HERE, at=at)
            after = str(final / FILE)
    said = [
        f"Moved {sum(counts.values())} rows of {len(counts)} tables, looked over row by row.",
        f"From: {before} (left as it is)",
        f"To: {after}",
    ]
    if "://" not in to and to != HERE:
        said.append(f"Use it with --data {to}")
    elif os.environ.get(VARIABLE):
        said.append(f"The variable {VARIABLE} is set and goes before what the folder says.")
    return said


def _into_folder(source: Book, final: Path, *, in_place: bool, at: datetime) -> dict[str, int]:
    if not in_place and (final / FILE).exists():
        with open_book(final, address=HERE) as there, there.reading() as connection:
            require_empty(connection)
    final.mkdir(mode=0o700, parents=True, exist_ok=True)
    building = final / f".moving-{new_id()}"
    try:
        with open_book(building, address=HERE) as target:
            counts = carry(source, target)
            pieces = Pieces(building / PIECES)
            pieces.take_out_of(target)
            if not source.on_server and (source.folder / PIECES).is_dir():
                shutil.copytree(source.folder / PIECES, building / PIECES)
        _put_in_place(building, final, at)
    finally:
        shutil.rmtree(building, ignore_errors=True)
    return counts


def _put_in_place(building: Path, final: Path, at: datetime) -> None:
    """Put a book that was built where it belongs; the one that lies there is set aside.

    The note of the address goes last: until then the book in use is the one on the server.
    """
    aside = final / BACKUPS / f"before-move-{at.astimezone(UTC):%Y%m%dT%H%M%S%fZ}"
    for name in (FILE, f"{FILE}-wal", f"{FILE}-shm", PIECES):
        if (final / name).exists():
            aside.mkdir(mode=0o700, parents=True, exist_ok=True)
            (final / name).rename(aside / name)
    for picture in sorted((building / PICTURES).glob("*.*")):
        store_file(final / PICTURES / picture.name, picture.read_bytes())
    for name in (PIECES, FILE):
        if (building / name).exists():
            (building / name).rename(final / name)
    (final / NOTE).unlink(missing_ok=True)


def _sheets_beside(source: Book) -> list[SheetFiles]:
    return [] if source.on_server else Pieces(source.folder / PIECES).for_carrying()


def _refuse_same(source: Book, target: Book) -> None:
    if source.on_server and source.place == target.place:
        raise InputError("place", target.place, "", "another one; the book lies there already")
