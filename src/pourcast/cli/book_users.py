"""Book users: who works in a shared book, and moving a book to a server and back."""

from datetime import UTC, datetime
from typing import Annotated

import typer

from pourcast.cli.outcome import Data
from pourcast.cli.plain_help import PlainGroup

users_app = typer.Typer(
    name="users",
    cls=PlainGroup,
    help="Who works in a shared book, and who may do what; left alone: lists them.",
    invoke_without_command=True,
    rich_markup_mode=None,
)

Name = Annotated[str, typer.Argument(metavar="NAME", help="As it stands beside what they write.")]
Role = Annotated[str, typer.Argument(metavar="ROLE", help="owner, maker or reader.")]


@users_app.callback()
def list_(context: typer.Context, data: Data = None) -> None:
    """List the users of the book."""
    if context.invoked_subcommand is not None:
        return
    from pourcast.book.store import open_book
    from pourcast.book.users import users_of

    with open_book(data) as book:
        found = users_of(book)
    lines = [f"{each.role:7} {each.name}, since {each.created:%Y-%m-%d}" for each in found]
    _write(lines or ["Nobody is listed. The first must be an owner: pourcast book users add NAME"])


@users_app.command()
def add(
    name: Name,
    role: Annotated[str, typer.Option(metavar="ROLE", help="owner, maker or reader.")] = "owner",
    data: Data = None,
) -> None:
    """Put a user on the list."""
    from pourcast.book.store import open_book
    from pourcast.book.users import add_user

    with open_book(data) as book:
        made = add_user(book, name, role, at=datetime.now(UTC))
    _write([f"{made.name} is {made.role}."])


@users_app.command()
def role(name: Name, role: Role, data: Data = None) -> None:
    """Give a user another role."""
    from pourcast.book.store import open_book
    from pourcast.book.users import change_role

    with open_book(data) as book:
        made = change_role(book, name, role)
    _write([f"{made.name} is {made.role}."])


@users_app.command()
def forget(name: Name, data: Data = None) -> None:
    """Take a user off the list; what they wrote keeps their name."""
    from pourcast.book.store import open_book
    from pourcast.book.users import forget_user

    with open_book(data) as book:
        forget_user(book, name)
    _write([f"{name} is forgotten. Their phones are shut out."])


def carry(
    to: Annotated[
        str,
        typer.Option(
            "--to", metavar="PLACE", help="postgresql://name@host/book, a folder, or here."
        ),
    ],
    data: Data = None,
) -> None:
    """Move the whole book to a server, or from a server into a folder; the old one is left."""
    from pourcast.app.carry import carry_book
    from pourcast.book.store import default_folder

    _write(carry_book(data or default_folder(), to, at=datetime.now(UTC)))


def _write(lines: list[str]) -> None:
    from pourcast.cli.signs import write_out

    write_out("\n".join(lines) + "\n")
