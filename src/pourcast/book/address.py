"""Address: where the book lies, in a folder of this machine or on a server.

A server is named by an address, ``postgresql://name@host/book``.  What is asked for
first counts: the option, the variable of the environment, the file in the folder.
A password in an address is never said again: not in an error, not on a page.
"""

import os
from pathlib import Path

from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError

from pourcast.errors import InputError

VARIABLE = "POURCAST_BOOK"
"""Variable of the environment that holds the address of a book."""

FILE = "shared_book"
"""File in the folder that holds the address of its book; only the caster can read it."""

HERE = "here"
"""Instead of an address: in the folder itself, whatever else is set."""

_SCHEMES = ("postgresql", "postgres")
_MUST = "an address such as postgresql://name@host/book, or here"


def find_address(folder: Path, asked: str | None = None) -> URL | None:
    """Return the address of the book of a folder; None: it lies in the folder itself.

    Parameters
    ----------
    folder : Path
    asked : str or None
        By an option.

    Raises
    ------
    InputError
        If what stands there is no address.
    """
    found = ((asked or "", "the option"), (os.environ.get(VARIABLE, ""), VARIABLE))
    said, stands = next(((text, where) for text, where in found if text), (_noted(folder), FILE))
    if said.strip() in ("", HERE):
        return None
    try:
        return read_address(said.strip())
    except InputError as fault:
        hint = f"It was read from {stands}. A folder of its own is named by --data."
        raise InputError(fault.what, fault.value, fault.unit, fault.must, hint) from None


def read_address(written: str) -> URL:
    """Return an address that a text stands for.

    Raises
    ------
    InputError
        If it is none; what was written is not said again, since it may hold a password.
    """
    try:
        url = make_url(written)
    except (ArgumentError, ValueError):
        raise InputError("address of the book", "not understood", "", _MUST) from None
    if url.drivername not in _SCHEMES:
        raise InputError("kind of the address of the book", url.drivername[:40], "", _MUST)
    if not url.database:
        raise InputError(
            "address of the book", shown(url), "", "one that names the book at its end"
        )
    inside = url.query.get("password")
    if inside:
        plain = url.difference_update_query(["password"])
        url = plain.set(password=inside if isinstance(inside, str) else inside[0])
    return url


def shown(url: URL) -> str:
    """Return an address as it may be said: without its password."""
    return url.difference_update_query(["password"]).render_as_string(hide_password=True)


def note_address(folder: Path, url: URL | None) -> None:
    """Note in a folder where its book lies; None: in the folder itself."""
    path = folder / FILE
    if url is None:
        path.unlink(missing_ok=True)
        return
    part = folder / f".{FILE}.part"
    part.unlink(missing_ok=True)
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as opened:
        opened.write(url.render_as_string(hide_password=False) + "\n")
        opened.flush()
        os.fsync(opened.fileno())
    part.replace(path)


def _noted(folder: Path) -> str:
    try:
        return (folder / FILE).read_text("utf-8").strip()
    except FileNotFoundError:
        return ""
