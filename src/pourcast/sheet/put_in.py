"""Put in: one more table before another of its kind, in a piece file.

What stands above a table belongs to it: comments without an empty line between
them and its header go on standing there, and the new table comes before them.

    [[kiln.step]]
    to_C = 150
                            <- here
    # now the wax burns
    [[kiln.step]]
    to_C = 370

Source: arrays of tables, TOML 1.0.0.
"""

from collections.abc import Mapping
from typing import Any

import tomlkit

from pourcast.sheet.lines import Path, line_map


def put_in(text: str, path: Path, place: int, table: Mapping[str, Any]) -> str:
    """Return the text of a piece file with one more table of several.

    Parameters
    ----------
    text : str
        TOML that holds at least ``place`` + 1 tables at ``path``, each under a header.
    path : tuple of str and int
        Of the section with double brackets.
    place : int
        From 0; the table that stands there comes after the new one.
    table : mapping
        Of plain values.

    Returns
    -------
    str
        The file with everything else as it was.
    """
    lines = text.splitlines(keepends=True)
    at = line_map(text)[(*path, place)] - 1
    while at > 0 and lines[at - 1].lstrip().startswith("#"):
        at -= 1
    rows = [f"{key} = {tomlkit.item(value).as_string()}" for key, value in table.items()]
    end = "\r\n" if "\r\n" in text else "\n"
    new = [f"[[{'.'.join(str(step) for step in path)}]]", *rows, ""]
    return "".join([*lines[:at], *(row + end for row in new), *lines[at:]])
