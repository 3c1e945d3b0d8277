"""Roles: who a joined phone belongs to, and what that person may change.

A book without users is one caster's, and every joined phone may do what it always
could.  As soon as there are users, each phone belongs to one of them; one that was
joined before belongs to nobody and only looks.  The machine that serves the pages is an
owner's: whoever sits at it holds the book itself.

This is looked at before any page is asked, in one place for all of them.  A route that
changes something is a POST; what a reader may send is the code by which a phone joins.
"""

from dataclasses import dataclass

from pourcast.app.devices import Devices
from pourcast.book.store import Book
from pourcast.book.users import MAKER, OWNER, READER, has_users, role_of

FOR_ALL = ("/join",)
"""Changes that every role may ask for."""

FOR_OWNERS = ("/studio", "/values", "/tests/learn", "/tests/switch")
"""First parts of the paths under which an owner alone changes something: they hold for all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Belongs:
    """Who a phone belongs to.

    Parameters
    ----------
    name : str
        Of the user, or of the phone where the book has no users.
    role : str
        Of the user; "" where the book has no users.
    """

    name: str
    role: str


class Roles:
    """Who may do what in a book.

    Parameters
    ----------
    book : Book
    devices : Devices
    """

    def __init__(self, book: Book, devices: Devices) -> None:
        self._book = book
        self._devices = devices

    def of(self, device_id: str) -> Belongs | None:
        """Return who a phone belongs to; None: to one who was forgotten."""
        device = self._devices.get(device_id)
        if device is None:
            return None
        if device.user:
            role = role_of(self._book, device.user)
            if role is not None:
                return Belongs(name=device.user, role=role)
            return None
        return Belongs(name=device.name, role=READER if has_users(self._book) else "")


def refusal(role: str, path: str) -> str | None:
    """Return the key of the sentence that refuses a change; None: it may be made.

    Parameters
    ----------
    role : str
        "" of one who is not a user of a shared book.
    path : str
        Of a request that changes something.
    """
    if role in ("", OWNER) or _under(path, FOR_ALL):
        return None
    if role == MAKER:
        return "guard.owner_only" if _under(path, FOR_OWNERS) else None
    return "guard.reader"


def _under(path: str, firsts: tuple[str, ...]) -> bool:
    return any(path == first or path.startswith(first + "/") for first in firsts)
