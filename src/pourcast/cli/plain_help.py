"""Plain help: what ``--help`` says, for somebody who never wrote a program.

The library that reads the command line names kinds of values as a programmer does
("int range", "x>=0") and cuts the sentence about a command where its line ends.  Here
a number is a NUMBER, a span is "4 to 100000", and a sentence goes on in the next line.
"""

import re
from functools import partial
from typing import Any

from typer.core import TyperGroup

_KINDS = {
    "NUMBER": r"<(?:int|float)(?: range)?>|\b(?:INTEGER|FLOAT)(?: RANGE)?\b",
    "FILE": r"<(?:path|file|list\[Path\])>",
    "WORDS": r"<(?:str|list\[str\])>",
}
"""What stands for a value, and how the library writes it."""

_LONGEST = 400  # characters of the sentence about one command; none is that long


class PlainGroup(TyperGroup):
    """Commands whose help is said plainly, theirs and that of each of them."""

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Return a command that speaks plainly; None if there is none of this name."""
        command = super().get_command(ctx, cmd_name)
        if command is not None and not isinstance(command, PlainGroup):
            asked = type(command).get_help
            command.get_help = lambda ctx: plain(asked(command, ctx))  # type: ignore[method-assign]
        return command

    def get_help(self, ctx: Any) -> str:
        """Return the help of the group itself."""
        return plain(super().get_help(ctx))

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Write each command with its whole sentence."""
        commands = [(name, self.get_command(ctx, name)) for name in self.list_commands(ctx)]
        rows = [
            (name, command.get_short_help_str(_LONGEST))
            for name, command in commands
            if command is not None and not command.hidden
        ]
        if rows:
            with formatter.section("Commands"):
                formatter.write_dl(rows)


def plain(text: str) -> str:
    """Return the help of a command in plain words; columns stay where they are."""
    # The name of an argument says what it is.
    text = re.sub(r"^(  \[?[A-Z_]+\]?(?:\.\.\.)?) (<[^>]+>)", _without, text, flags=re.M)
    for word, pattern in _KINDS.items():
        text = re.sub(pattern, partial(_instead, word), text)
    number = r"(-?[\d.]+)"
    text = re.sub(rf"{number}<=x<={number}", _span, text)
    text = re.sub(rf"x>={number}", lambda found: f"{_short(found[1])} or more", text)
    return re.sub(rf"x<={number}", lambda found: f"{_short(found[1])} or less", text)


def _without(found: re.Match[str]) -> str:
    return found[1].ljust(len(found[0]))


def _instead(word: str, found: re.Match[str]) -> str:
    return word.ljust(len(found[0]))


def _span(found: re.Match[str]) -> str:
    return f"{_short(found[1])} to {_short(found[2])}"


def _short(number: str) -> str:
    return number.removesuffix(".0")
