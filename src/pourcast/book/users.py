"""Users: who works in a shared book, and who may do what.

A book without users is one caster's: everybody who reaches it may do what the pages
let them do anyway.  The first user that is added must be an owner, and the last owner
stays one.  A user that is forgotten is gone from the list; what they wrote keeps their
name.
"""

from dataclasses import dataclass
from datetime import datetime

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.store import Book, retried
from pourcast.book.who import LONGEST
from pourcast.book.words import ROLES
from pourcast.errors import InputError

OWNER, MAKER, READER = "owner", "maker", "reader"


@dataclass(frozen=True, slots=True, kw_only=True)
class User:
    """One who works in a shared book; ``who`` added them or changed their role."""

    name: str
    role: str
    created: datetime
    who: str


def users_of(book: Book) -> tuple[User, ...]:
    """Return the users of a book, by name."""
    table = tables.users
    asked = sa.select(*tables.told(table, who=True)).order_by(table.c.name)
    with book.reading() as connection:
        return tuple(User(**row) for row in connection.execute(asked).mappings())


def role_of(book: Book, name: str) -> str | None:
    """Return the role of a user; None: there is none of that name."""
    table = tables.users.c
    with book.reading() as connection:
        return connection.execute(sa.select(table.role).where(table.name == name)).scalar()


def has_users(book: Book) -> bool:
    """Return whether a book is shared by users."""
    with book.reading() as connection:
        return connection.execute(sa.select(tables.users.c.name).limit(1)).first() is not None


@retried
def add_user(book: Book, name: str, role: str, *, at: datetime) -> User:
    """Add a user, and return them.

    Raises
    ------
    InputError
        If the name is empty, too long or taken, if there is no such role, or if the
        first user is no owner.
    """
    plain = " ".join(name.split())
    if not 1 <= len(plain) <= LONGEST:
        raise InputError("name of the user", plain[:LONGEST], "", f"1 to {LONGEST} signs")
    _require_role(role)
    with book.writing() as connection:
        held = _roles(connection)
        if plain.casefold() in {each.casefold() for each in held}:
            raise InputError("name of the user", plain, "", "one that nobody has yet")
        if not held and role != OWNER:
            raise InputError("role of the first user", role, "", f"{OWNER}; others come after")
        row = {"name": plain, "role": role, "created": at}
        connection.execute(tables.users.insert(), row)
        return _read(connection, plain)


@retried
def change_role(book: Book, name: str, role: str) -> User:
    """Give a user another role, and return them.

    Raises
    ------
    InputError
        If there is no such user or role, or if the last owner would be none any more.
    """
    _require_role(role)
    table = tables.users
    with book.writing() as connection:
        before = _read(connection, name)
        if role != OWNER:
            _require_another_owner(connection, before)
        connection.execute(table.update().where(table.c.name == name).values(role=role))
        return _read(connection, name)


@retried
def forget_user(book: Book, name: str) -> None:
    """Take a user off the list; what they wrote stays under their name.

    Raises
    ------
    InputError
        If there is no such user, or if they are the last owner while others are there.
    """
    table = tables.users
    with book.writing() as connection:
        before = _read(connection, name)
        _require_another_owner(connection, before)
        connection.execute(table.delete().where(table.c.name == name))


def _roles(connection: Connection) -> dict[str, str]:
    table = tables.users.c
    return {row.name: row.role for row in connection.execute(sa.select(table.name, table.role))}


def _read(connection: Connection, name: str) -> User:
    table = tables.users
    asked = sa.select(*tables.told(table, who=True)).where(table.c.name == name)
    row = connection.execute(asked).mappings().first()
    if row is None:
        raise InputError("user", name[:LONGEST], "", "one of the book")
    return User(**row)


def _require_role(role: str) -> None:
    if role not in ROLES:
        raise InputError("role", role[:LONGEST], "", "one of " + ", ".join(ROLES))


def _require_another_owner(connection: Connection, user: User) -> None:
    owners = [name for name, role in _roles(connection).items() if role == OWNER]
    if owners == [user.name]:
        raise InputError("last owner", user.name, "", "an owner; make another one first")
