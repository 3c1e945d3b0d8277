"""How long a book of 10 000 pieces takes to open, to list and to show, in one run.

Prints medians and the size of the file.  The book is made of one real forecast
under many names, and of readings.  There is no pass or fail: machines differ.
"""

import json
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from pourcast import __version__, document, forecast, read_plan
from pourcast.book import tables
from pourcast.book.history import history
from pourcast.book.listing import count_pieces, list_pieces
from pourcast.book.outcomes import pours_of, revisions
from pourcast.book.plans import keep_plan, latest_plan, pieces_named
from pourcast.book.scores import score
from pourcast.book.store import FILE, Book, new_id, open_book

PIECE = Path(__file__).parent.parent / "examples" / "sea_holly.toml"
PIECES = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
READINGS = 100
"""A piece; a hundred times as many are meant in the long run."""

START = datetime(2026, 1, 1, tzinfo=UTC)
RUNS = 20


def fill(book: Book, sheet: str, said: dict[str, Any]) -> None:
    """Write pieces, plans, pours, outcomes and readings in large batches."""
    first = keep_plan(
        book,
        sheet=sheet,
        file_name=PIECE.name,
        document=said,
        alloy="si_bronze_c87300",
        powder="gypsum_silica",
        at=START,
    )
    kept = {
        column.name: getattr(first, column.name)
        for column in tables.plans.columns
        if hasattr(first, column.name)  # who and when are written by the book itself
    }
    parts = [(part.name, part.count, part.chance_full) for part in first.parts]
    for begin in range(0, PIECES - 1, 500):
        rows: dict[str, list[dict[str, Any]]] = {table.name: [] for table in tables.EXPORTED}
        for number in range(begin, min(begin + 500, PIECES - 1)):
            piece, plan, pour, outcome = (new_id() for _ in range(4))
            at = START + timedelta(minutes=number + 1)
            rows["pieces"].append({"id": piece, "name": f"piece {number}", "created": at})
            rows["plans"].append(kept | {"id": plan, "piece_id": piece, "created": at})
            rows["pours"].append(
                {"id": pour, "plan_id": plan, "day": date(2026, 1, 2), "created": at}
            )
            rows["outcomes"].append(
                {
                    "id": outcome,
                    "pour_id": pour,
                    "revision": 1,
                    "seen": date(2026, 12, 31),
                    "created": at + timedelta(days=1),
                    "sure": "sure",
                    "button": None,
                    "note": "",
                }
            )
            for place, (name, count, chance) in enumerate(parts):
                told = {"name": name, "count": count, "chance_full": chance}
                rows["plan_parts"].append({"plan_id": plan, "number": place, **told})
                rows["outcome_parts"].append(
                    {
                        "outcome_id": outcome,
                        "part": name,
                        "state": "short" if (number + place) % 7 == 0 else "filled",
                        "members_short": None,
                        "filled_share": None,
                        "short_by_mm": None,
                        "note": "",
                    }
                )
            rows["readings"] += [
                {
                    "pour_id": pour,
                    "kind": "kiln_C",
                    "taken": at + timedelta(minutes=5 * moment),
                    "entry": 1,
                    "value": 20.0 + moment,
                }
                for moment in range(READINGS)
            ]
        with book.writing() as connection:
            for table in tables.EXPORTED:
                if rows[table.name]:
                    connection.execute(table.insert(), rows[table.name])


def median_ms(work: Callable[[], object]) -> float:
    """Return the median time of a piece of work [ms]."""
    taken = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return 1000 * statistics.median(taken)


def main() -> None:
    """Print a table of times."""
    sheet = PIECE.read_text(encoding="utf-8")
    said = document(forecast(read_plan(sheet), draws=20, rng=0), version=__version__)
    with tempfile.TemporaryDirectory() as held:
        folder = Path(held)
        begun = time.perf_counter()
        with open_book(folder) as book:
            fill(book, sheet, said)
        print(
            f"{PIECES} pieces, {PIECES * READINGS} readings, {len(json.dumps(said)) / 1000:.0f} kB "
            f"a forecast: made in {time.perf_counter() - begun:.1f} s, "
            f"{(folder / FILE).stat().st_size / 1e6:.0f} MB"
        )
        print(f"{'open and close':<36}{median_ms(lambda: open_book(folder).close()):9.1f} ms")
        with open_book(folder) as book:
            last = -(-PIECES // 50)
            works: dict[str, Callable[[], object]] = {
                "count": lambda: count_pieces(book),
                "first page of 50": lambda: list_pieces(book),
                "last page of 50": lambda: list_pieces(book, page=last),
                "one piece by name, with its plan": lambda: latest_plan(
                    book, pieces_named(book, "piece 77")[0]
                ),
                "its outcome": lambda: revisions(
                    book,
                    pours_of(book, latest_plan(book, pieces_named(book, "piece 77")[0]).id)[0].id,
                ),
            }
            for name, work in works.items():
                print(f"{name:<36}{median_ms(work):9.1f} ms")
            begun = time.perf_counter()
            made = score(history(book).parts)
            taken = time.perf_counter() - begun
            print(f"{'scores of ' + str(made.forecasts) + ' parts':<36}{1000 * taken:9.1f} ms")


if __name__ == "__main__":
    main()
