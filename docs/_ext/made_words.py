"""Text of the program as Markdown that means what it says."""

import re
from collections.abc import Iterable, Sequence

_SIGNS = re.compile(r"([\\`*_{}\[\]<>|$#~])")


def plain(text: str) -> str:
    """Return a text on one line, with every sign that Markdown would take for itself guarded."""
    return _SIGNS.sub(r"\\\1", " ".join(text.split()))


def code(text: str) -> str:
    """Return a text as code; a bar in it would end a cell of a table."""
    return "`" + text.replace("|", "¦") + "`" if text else ""


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table; the cells are Markdown already."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines) + "\n"
