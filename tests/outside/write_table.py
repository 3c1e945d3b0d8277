"""Write the table "How it is checked" of the README from the rows of a test run.

Run as ``python -m tests.outside.write_table`` in the root of the repository,
after a whole test run; ``make checks-table`` does both.
"""

import sys
from collections.abc import Iterable
from pathlib import Path

from tests.outside.record import TABLE_FILE, Row, read_rows

BEGIN = "<!-- checks: begin (written by make checks-table) -->"
END = "<!-- checks: end -->"


def table(rows: Iterable[Row]) -> str:
    """Return the rows as a Markdown table."""
    lines = [
        "| stage | what is compared | outside | ours | miss | may miss | source |",
        "|---|---|---|---|---|---|---|",
    ]
    for row in rows:
        unit = f" {row.unit}" if row.unit else ""
        cells = (
            row.stage,
            row.claim,
            f"{_short(row.want)}{unit}",
            f"{_short(row.got)}{unit}",
            _miss(row),
            f"{row.tolerance:.2g}{unit}",
            row.source,
        )
        lines.append("| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |")
    return "\n".join(lines)


def with_table(text: str, rows: Iterable[Row]) -> str:
    """Return a README whose part between the two markers is the table.

    Raises
    ------
    ValueError
        If the text does not hold both markers once, in their order.
    """
    if text.count(BEGIN) != 1 or text.count(END) != 1 or text.index(BEGIN) > text.index(END):
        raise ValueError(f"the README must hold {BEGIN} and then {END}, each once")
    before, _, rest = text.partition(BEGIN)
    after = rest.partition(END)[2]
    return f"{before}{BEGIN}\n{table(rows)}\n{END}{after}"


def write_table(root: Path) -> None:
    """Write the table of the last test run into the README of ``root``."""
    readme = root / "README.md"
    text = with_table(readme.read_text(encoding="utf-8"), read_rows(root / TABLE_FILE))
    readme.write_text(text, encoding="utf-8")


def _short(number: float) -> str:
    return f"{number:.4g}" if abs(number) < 1e4 else f"{number:.0f}"


def _miss(row: Row) -> str:
    signed = row.got - row.want
    if row.want == 0.0:
        return f"{signed:+.2g}"
    return f"{100.0 * signed / abs(row.want):+.1f} %"


if __name__ == "__main__":
    try:
        write_table(Path.cwd())
    except (OSError, ValueError) as error:
        sys.exit(f"the table was not written: {error}")
