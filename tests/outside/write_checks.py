"""Write docs/checks.json, docs/checks.md and the summary of the README from a test run.

A quick run makes all the rows of quick tests anew.  Slow studies are run file by
file (`tools/check_long.py`), and each makes the rows of its own file anew; the others
stay as the last run left them.  A run that broke off takes no row out: those that it did
not come to are marked.  Run as
``python -m tests.outside.write_checks`` it writes the pages from the rows that are kept.
"""

import sys
from collections.abc import Collection, Iterable
from dataclasses import replace
from pathlib import Path

from tests.outside.checks_page import page, summary
from tests.outside.record import Row, merged, read_rows, write_rows

KEPT = Path("docs") / "checks.json"
PAGE = Path("docs") / "checks.md"
BEGIN = "<!-- checks: begin (written by make checks-table) -->"
END = "<!-- checks: end -->"


def joined(
    kept: Iterable[Row],
    new: Iterable[Row],
    *,
    slow: bool,
    files: Collection[str] | None = None,
    whole: bool = True,
) -> list[Row]:
    """Return the kept rows with those of one kind of run made anew.

    Parameters
    ----------
    kept : iterable of Row
    new : iterable of Row
    slow : bool
        True for a run of the slow tests.
    files : collection of str, optional
        The test files that ran; without it all did.
    whole : bool
        False: the run broke off or failed, and rows that it did not come to stay, marked as of
        an earlier run.
    """
    made = [row for row in new if row.slow == slow]
    here = {(row.stage, row.claim) for row in made}
    others: list[Row] = []
    for row in kept:
        if row.slow != slow or (files is not None and row.file not in files):
            others.append(row)
        elif not whole and (row.stage, row.claim) not in here:
            others.append(replace(row, earlier=True))
    return merged([*others, *made])


def with_summary(text: str, rows: Iterable[Row]) -> str:
    """Return a README whose part between the two markers is the summary.

    Raises
    ------
    ValueError
        If the text does not hold both markers once, in their order.
    """
    if text.count(BEGIN) != 1 or text.count(END) != 1 or text.index(BEGIN) > text.index(END):
        raise ValueError(f"the README must hold {BEGIN} and then {END}, each once")
    before, _, rest = text.partition(BEGIN)
    after = rest.partition(END)[2]
    return f"{before}{BEGIN}\n{summary(rows)}\n{END}{after}"


def write_checks(
    root: Path,
    new: Iterable[Row],
    *,
    slow: bool,
    files: Collection[str] | None = None,
    whole: bool = True,
) -> None:
    """Put the rows of a run among those kept under ``root``, as `joined`; write the pages."""
    kept = read_rows(root / KEPT) if (root / KEPT).exists() else []
    write_rows(root / KEPT, joined(kept, new, slow=slow, files=files, whole=whole))
    write_pages(root)


def write_pages(root: Path) -> None:
    """Write page and summary from the rows that are kept under ``root``."""
    rows = read_rows(root / KEPT)
    (root / PAGE).write_text(page(rows), encoding="utf-8")
    readme = root / "README.md"
    text = with_summary(readme.read_text(encoding="utf-8"), rows)
    readme.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    try:
        write_pages(Path.cwd())
    except (OSError, ValueError) as error:
        sys.exit(f"the pages were not written: {error}")
