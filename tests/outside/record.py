"""The table of outside numbers: what a test got, what its source says.

A test that holds a number of ours against one from outside calls `record`
before it asserts.  The rows of all workers of a test run end in one file, and
`tests.outside.write_checks` turns that file into docs/checks.md.
"""

import json
import math
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal, get_args

Kind = Literal[
    "measured", "table", "reference library", "closed form", "common practice", "by construction"
]
"""What stands on the other side: others' experiment; a handbook, a standard or an assessed
data base; an open library that solves the same; a formula that is exact or derived elsewhere; what
the trade says; or a test object whose truth is known for it was made so."""

KINDS: tuple[Kind, ...] = get_args(Kind)

TABLE_FILE = Path("out") / "checks.json"
"""Where a test run leaves its rows, under the root of the repository."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One number of ours beside one from outside; see `record`.

    ``earlier`` says that the last run of its study ended before it came to this row, which is
    that of a run before.
    """

    stage: str
    claim: str
    source: str
    got: float
    want: float
    unit: str
    tolerance: float
    kind: Kind
    slow: bool = False
    file: str = ""
    earlier: bool = False

    @property
    def held(self) -> bool:
        """Whether the miss is one that the test lets pass."""
        return self.miss <= self.tolerance * (1.0 + 1e-9)

    @property
    def miss(self) -> float:
        """How far ``got`` lies from ``want``, in ``unit``; never below 0."""
        return abs(self.got - self.want)


_rows: list[Row] = []
_file, _slow = "", False


def rows_come_from(file: str, *, slow: bool) -> None:
    """Say which file the rows that come now are made by, and whether by a slow study of it."""
    global _file, _slow
    _file, _slow = file, slow


def record(
    stage: str,
    claim: str,
    source: str,
    got: float,
    want: float,
    unit: str,
    tolerance: float,
    *,
    kind: Kind,
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
    kind : str
        What the number from outside is; see `KINDS`.
    """
    row = Row(
        stage=stage,
        claim=claim,
        source=source,
        got=float(got),
        want=float(want),
        unit=unit,
        tolerance=float(tolerance),
        kind=kind,
        slow=_slow,
        file=_file,
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
