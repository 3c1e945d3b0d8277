"""Rows of the table of outside numbers, from the README, where the tests have written it."""

import re
from pathlib import Path

README = Path(__file__).parents[2] / "README.md"
_TABLE = re.compile(r"<!-- checks: begin.*?-->\n(.*?)<!-- checks: end -->", re.S)


def checks(*stages: str) -> str:
    """Return the rows of some stages; of all where none is named."""
    found = _TABLE.search(README.read_text(encoding="utf-8"))
    if found is None:
        raise RuntimeError("README.md has no table of outside numbers")
    head, rule, *rows = found[1].strip().splitlines()
    kept = [row for row in rows if not stages or row.split("|")[1].strip() in stages]
    return "\n".join([head, rule, *(row.replace("$", r"\$") for row in kept)]) + "\n"
