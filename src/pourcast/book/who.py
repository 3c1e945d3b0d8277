"""Who: whose hand an entry is from, as each row of the book notes it.

A door that knows its visitor says so with `acting` round the work; the store asks
`named` when it writes.  Where nobody was named, it is the caster at a book in a
file, and the account of the system at a book on a server, where several write.

Left out: proof.  A name is what the door says; who holds the password of the
server can write any.
"""

import getpass
import os
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

UNKNOWN = "unknown"
"""Of rows that were written before the book noted names."""

CASTER = "caster"
"""Of a book in a file, where nobody else writes."""

NAME = "POURCAST_WHO"
"""Variable of the environment that names the hand at this machine."""

LONGEST = 60
"""Signs of a name; own choice."""

_acting: ContextVar[str | None] = ContextVar("acting", default=None)


@contextmanager
def acting(name: str | None) -> Iterator[None]:
    """Let all that is written inside be from one hand; None: the one of this machine."""
    before = _acting.set(name)
    try:
        yield
    finally:
        _acting.reset(before)


def worth_saying(name: str) -> bool:
    """Return whether a name tells anything: that of a caster alone and an unknown one do not."""
    return name not in ("", CASTER, UNKNOWN)


def given_name() -> str | None:
    """Return the name that a door has given; None: none."""
    return _acting.get()


def hand_here(*, shared: bool) -> str:
    """Return the name of the hand at this machine.

    Parameters
    ----------
    shared : bool
        True: of a book on a server.
    """
    said = os.environ.get(NAME, "").strip()[:LONGEST]
    if said or not shared:
        return said or CASTER
    try:
        return getpass.getuser()[:LONGEST]
    except (OSError, KeyError):
        return UNKNOWN


def named(context: Any) -> str:
    """Return the name for a row; the store hands in what it is about to execute."""
    return given_name() or hand_here(shared=context.dialect.name != "sqlite")
