"""Rows of the book of checks, from what the tests have written."""

import json
from pathlib import Path
from typing import Any

ROWS = Path(__file__).parents[1] / "checks.json"


def checks(*stages: str) -> str:
    """Return the rows of some stages; of all where none is named."""
    rows = json.loads(ROWS.read_text(encoding="utf-8"))
    kept = [row for row in rows if not stages or row["stage"] in stages]
    if not kept:
        return "No row of the book of checks is of this stage.\n"
    head = [
        "| stage | what is compared | outside | ours | kind | source |",
        "|---|---|---|---|---|---|",
    ]
    return "\n".join([*head, *map(_line, kept)]) + "\n"


def _line(row: dict[str, Any]) -> str:
    unit = f" {row['unit']}" if row["unit"] else ""
    cells = (
        row["stage"],
        row["claim"],
        f"{row['want']:.4g}{unit}",
        f"{row['got']:.4g}{unit}",
        row["kind"],
        row["source"],
    )
    plain = (cell.replace("|", "/").replace("$", r"\$") for cell in cells)
    return f"| {' | '.join(plain)} |"
