"""The page of the command line: what each command says of itself under --help."""

from collections.abc import Iterator

import typer
from typer.testing import CliRunner

from pourcast.cli.main import app

NAME = "pourcast"
COLUMNS = "88"


def commands() -> str:
    """Return each command under its own heading, with its help as the terminal shows it."""
    return "\n".join(
        f"## {' '.join((NAME, *words))}\n\n```text\n{asked(words)}```\n" for words in names()
    )


def names(of: typer.Typer = app, before: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Yield the words of each command behind the name of the program, groups first."""
    yield before
    for command in of.registered_commands:
        assert command.callback is not None
        yield (*before, command.name or command.callback.__name__.replace("_", "-"))
    for group in of.registered_groups:
        assert group.name is not None
        assert group.typer_instance is not None
        yield from names(group.typer_instance, (*before, group.name))


def asked(words: tuple[str, ...]) -> str:
    """Return what a command prints under --help."""
    answer = CliRunner().invoke(
        app, [*words, "--help"], env={"COLUMNS": COLUMNS, "NO_COLOR": "1"}, prog_name=NAME
    )
    if answer.exit_code:
        raise RuntimeError(f"{' '.join(words)} --help ended with {answer.exit_code}")
    return answer.output
