"""The table of a sweep: rows kept as they come, and the whole table at the end.

While a sweep goes on its rows stand in TABLE.part, one line of JSON each, under a line
that says what they are rows of.  A line that was cut off by a power cut is left out and
worked out again; a file of other rows is refused.  The whole table is written in one go.

Texts of CSV stand so that no spreadsheet runs them (`pourcast.book.spreadsheet`).
"""

import csv
import hashlib
import importlib
import io
import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import IO, Any

from pourcast import __version__
from pourcast.book.spreadsheet import cell_of
from pourcast.cli.files import write_whole
from pourcast.errors import InputError
from pourcast.execute.carry import release
from pourcast.page.words_sweep import ending_words
from pourcast.sweep.model import Row, Sweep

KINDS = (".csv", ".parquet")


def inputs_of(sweep: Sweep) -> str:
    """Return a hash of all that the rows of a sweep hang on."""
    said = repr((sweep, release()))
    return hashlib.sha256(said.encode()).hexdigest()


def require_table(out: Path) -> None:
    """Raise `InputError` where a table could not be written at the end.

    Raises
    ------
    InputError
        If the kind is not known, pyarrow is not there, or the file is there already.
    """
    if out.suffix not in KINDS:
        raise InputError("--out", out, "", f"a name that ends in {' or '.join(KINDS)}")
    if out.suffix == ".parquet":
        _pyarrow()
    if out.exists():
        raise InputError(
            "--out", out, "", "a new one", "Choose another name, or move the old table."
        )
    if not out.parent.is_dir():
        raise InputError("--out", out, "", "in a folder that is there")


def _pyarrow() -> Any:
    try:
        return importlib.import_module("pyarrow")
    except ImportError:
        hint = "It is installed by: pip install 'pourcast[table]'"
        raise InputError("--out", ".parquet", "", ".csv where pyarrow is not there", hint) from None


class Rows:
    """The rows of a sweep that are worked out so far, in a file beside the table."""

    def __init__(self, sweep: Sweep, out: Path) -> None:
        self._path = out.with_name(out.name + ".part")
        self._head = {"schema": "pourcast.sweep.part/1", "inputs_sha256": inputs_of(sweep)}
        self.found = self._read()
        self._file: IO[str] | None = None

    def _read(self) -> list[Row]:
        if not self._path.exists():
            return []
        lines = self._path.read_bytes().split(b"\n")
        try:
            head = json.loads(lines[0])
        except ValueError:
            head = None
        if head != self._head:
            raise InputError(
                "rows kept beside the table", self._path, "", "of this very sweep",
                "They are of another piece file, other values or another release. "
                "Move them, or choose another --out.",
            )  # fmt: skip
        found: list[Row] = []
        for line in lines[1:-1]:  # what stands after the last line end was cut off
            row = _row(json.loads(line))
            if row.cell != len(found):
                break
            found.append(row)
        return found

    def add(self, row: Row) -> None:
        """Keep one row more; the next in order."""
        if self._file is None:
            self._file = self._begun()
        self._file.write(json.dumps(asdict(row), ensure_ascii=False) + "\n")
        self._file.flush()
        self.found.append(row)

    def _begun(self) -> IO[str]:
        """Return the file with what is whole in it, ready for more."""
        kept = [json.dumps(self._head)]
        kept += [json.dumps(asdict(row), ensure_ascii=False) for row in self.found]
        fresh = self._path.with_name(self._path.name + ".new")
        fresh.write_text("\n".join(kept) + "\n", encoding="utf-8")
        fresh.replace(self._path)
        return self._path.open("a", encoding="utf-8")

    def close(self, *, forget: bool) -> None:
        """Close the file; once the table is written it is not needed any more."""
        if self._file is not None:
            self._file.close()
        if forget:
            self._path.unlink(missing_ok=True)


def _row(kept: dict[str, Any]) -> Row:
    stops = tuple((key, text) for key, text in kept.pop("stops"))
    return Row(values=tuple(kept.pop("values")), stops=stops, **kept)


def columns(sweep: Sweep, rows: Sequence[Row]) -> dict[str, list[Any]]:
    """Return the table by column, in the order in which they stand."""
    made: dict[str, list[Any]] = {
        axis.key: [(float if axis.is_number else str)(row.values[place]) for row in rows]
        for place, axis in enumerate(sweep.axes)
    }
    return made | {
        "chance_all": [row.chance for row in rows],
        "chance_all_low": [row.low for row in rows],
        "chance_all_high": [row.high for row in rows],
        "ending": [row.ending for row in rows],
        "fails_first": [row.part or None for row in rows],
        "cause": [row.cause for row in rows],
        "told": [ending_words(row) for row in rows],
        "stops": [" | ".join(text for _, text in row.stops) or None for row in rows],
        "fault": [row.fault or None for row in rows],
        "draws": [sweep.draws for _ in rows],
        "seed": [sweep.seed for _ in rows],
    }


def write_table(sweep: Sweep, rows: Sequence[Row], out: Path) -> None:
    """Write the whole table in one go."""
    made = columns(sweep, rows)
    content = _csv(made) if out.suffix == ".csv" else _parquet(sweep, made)
    # The rows that are kept so far stand under the usual ending.
    write_whole("table", out, content, beside=".new")


def _csv(made: dict[str, list[Any]]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow([_cell(name) for name in made])
    writer.writerows([_cell(value) for value in row] for row in zip(*made.values(), strict=True))
    return text.getvalue().encode()


def _cell(value: Any) -> Any:
    if isinstance(value, str):
        return cell_of(value)
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    return value


_TEXTS = ("ending", "fails_first", "cause", "told", "stops", "fault")


def _parquet(sweep: Sweep, made: dict[str, list[Any]]) -> bytes:
    arrow = _pyarrow()
    parquet = importlib.import_module("pyarrow.parquet")
    kinds = {axis.key: arrow.float64() if axis.is_number else arrow.string() for axis in sweep.axes}
    kinds |= {name: arrow.string() for name in _TEXTS}
    kinds |= {name: arrow.int64() for name in ("draws", "seed")}
    schema = arrow.schema(
        [(name, kinds.get(name, arrow.float64())) for name in made],
        metadata={"pourcast.version": __version__, "pourcast.inputs_sha256": inputs_of(sweep)},
    )
    sink = io.BytesIO()
    parquet.write_table(arrow.table(made, schema=schema), sink)
    return sink.getvalue()
