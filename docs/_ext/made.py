"""Pages that are made from the program itself, so that they cannot fall behind it.

Where a page holds a line such as `<!-- made: commands -->`, the text that the word
stands for is put in its place before the page is read.  What each word gives is a
plain function of this package's own code; the tests call the same functions.
"""

import re
from typing import Any

from made_checks import checks
from made_code import docstrings
from made_commands import commands
from made_notebook import notebook
from made_others import others
from made_schema import schema
from made_values import groups, hazards, limits, values
from sphinx.application import Sphinx

WORDS = {
    "checks": checks,
    "commands": commands,
    "docstrings": docstrings,
    "groups": groups,
    "hazards": hazards,
    "limits": limits,
    "notebook": notebook,
    "others": others,
    "schema": schema,
    "values": values,
}
"""What may stand behind "made:", with the function that gives the text."""

MARK = re.compile(r"^<!-- made: (\w+)((?: [\w./-]+)*) -->$", re.M)


def filled(text: str) -> str:
    """Return a page with every mark put in place; raise `KeyError` for an unknown word."""
    return MARK.sub(lambda found: WORDS[found[1]](*found[2].split()), text)


def _fill(_app: Sphinx, _name: str, source: list[str]) -> None:
    source[0] = filled(source[0])


def setup(app: Sphinx) -> dict[str, Any]:
    """Fill the marks of each page as it is read."""
    app.connect("source-read", _fill)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
