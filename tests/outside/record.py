"""The table of outside numbers: what a test got, what its source says.

A test that holds a number of ours against one from outside calls `record`
before it asserts.  The rows of all workers of a test run end in one file, and
`tests.outside.write_table` turns that file into the table of the README.
"""

import json
import math
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path

TABLE_FILE = Path("out") / "checks.json"
"""Where a test run leaves its rows, under the root of the repository."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One number of ours beside one from outside; see `record`."""

    stage: str
    claim: str
    source: str
    got: float
    want: float
    unit: str
    tolerance: float

    @property
    def miss(self) -> float:
        """How far ``got`` lies from ``want``, in ``unit``; never below 0."""
        return abs(self.got - self.want)


_rows: list[Row] = []


def record(
    stage: str,
    claim: str,
    source: str,
    got: float,
    want: float,
    unit: str,
    tolerance: float,
) -> None:
    """Keep one row of the table; it asserts nothing.

    Parameters
    ----------
    stage : str
        Folder name of the stage, such as "mould".
    claim : str
        What is compared, in one line; one row is kept for each stage and claim.
    source : str
        Author, year and table, or "common practice, no source".
    got, want : float
        Ours and theirs, in ``unit``.
    unit : str
        As a reader wants it, such as "kg/m³" or "%"; "" for a pure number.
    tolerance : float
        Greatest miss that the test lets pass, in ``unit`` (not a share).
    """
    row = Row(
        stage=stage,
        claim=claim,
        source=source,
        got=float(got),
        want=float(want),
        unit=unit,
        tolerance=float(tolerance),
    )
    if not all(map(math.isfinite, (row.got, row.want, row.tolerance))):
        raise ValueError(f"{stage}: {claim}: a number of this row is not finite")
    _rows.append(row)


def kept_rows() -> list[dict[str, object]]:
    """Return the rows of this process as plain values, ready to be sent or written."""
    return [asdict(row) for row in _rows]


def merged(rows: Iterable[Row]) -> list[Row]:
    """Return one row for each stage and claim, that with the largest miss, in order."""
    worst: dict[tuple[str, str], Row] = {}
    for row in rows:
        key = (row.stage, row.claim)
        if key not in worst or row.miss > worst[key].miss:
            worst[key] = row
    return [worst[key] for key in sorted(worst)]


def write_rows(file: Path, rows: Iterable[Row]) -> None:
    """Write the merged rows to a file, in an order that does not depend on the run."""
    file.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps([asdict(row) for row in merged(rows)], ensure_ascii=False, indent=1)
    file.write_text(text + "\n", encoding="utf-8")


def read_rows(file: Path) -> list[Row]:
    """Return the rows of a file that `write_rows` wrote."""
    return [Row(**kept) for kept in json.loads(file.read_text(encoding="utf-8"))]
