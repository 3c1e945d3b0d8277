"""Learn: weigh what came out and what tests said, show it, switch it off, reset it."""

import os
import sys
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Annotated, Any

import typer

from pourcast.cli.outcome import Data
from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from pourcast.book.calibrations import Act
    from pourcast.book.learning import ToLearnFrom
    from pourcast.book.store import Book
    from pourcast.burnout.kiln_fit import KilnFit
    from pourcast.forecast.model import Calibration
    from pourcast.sheet.model import Plan


def learn(
    show: Annotated[bool, typer.Option("--show", help="What was learnt last; no work.")] = False,
    off: Annotated[bool, typer.Option("--off", help="Forecast by the values alone.")] = False,
    on: Annotated[bool, typer.Option("--on", help="Take what was learnt again.")] = False,
    reset: Annotated[
        bool, typer.Option("--reset", help="Nothing that was entered until now counts any more.")
    ] = False,
    everything: Annotated[
        bool, typer.Option("--all", help="Also the values of which little was learnt.")
    ] = False,
    bank: Annotated[
        int | None,
        typer.Option(min=100, max=20_000, help="Pours of each plan; left out: 1500."),
    ] = None,
    draws: Annotated[int, typer.Option(min=200, max=100_000, help="Sets to weigh.")] = 4000,
    seed: Annotated[int, typer.Option(min=0, help="Same number, same answer.")] = 0,
    threads: Annotated[int | None, typer.Option(min=1, max=64, help="Left out: all.")] = None,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Learn from what came out and from tests; forecasts of this book then take it."""
    from pourcast.book.calibrations import holds, keep_act, keep_learnt
    from pourcast.book.learning import NOTHING, to_learn_from
    from pourcast.book.store import open_book
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError
    from pourcast.learn.solve import learn as weigh_all

    if sum((show, off, on, reset)) > 1:
        raise InputError("options", "several", "", "one of --show, --off, --on, --reset")
    with open_book(data) as book:
        for asked, act in ((off, "off"), (on, "on"), (reset, "reset")):
            if asked:
                keep_act(book, act, at=datetime.now(UTC))
        held = NOTHING
        if not (show or off or on or reset):
            held = to_learn_from(book)
            found = weigh_all(
                held.pours,
                held.measured,
                seed=seed,
                bank=bank,
                draws=draws,
                threads=threads or os.cpu_count() or 1,
                progress=_progress,
            )
            keep_learnt(book, found, at=datetime.now(UTC))
        latest, switched_on = holds(book)
    if json:
        write_out(_tree(latest, held, switched_on=switched_on))
        return
    said = show_learnt(latest, switched_on=switched_on, everything=everything)
    said += [f"As poured: {line}" for line in held.changed]
    said += [f"Left out: {line}" for line in held.left_out]
    write_out("\n".join(said) + "\n")


def show_learnt(latest: "Act | None", *, switched_on: bool, everything: bool) -> list[str]:
    """Return what holds now, as lines."""
    from pourcast.book.learnt import learnt_of
    from pourcast.cli.show_book import columns
    from pourcast.page.figures import clean
    from pourcast.page.words_learn import learnt_rows, learnt_told

    if latest is None:
        return ["Nothing was learnt yet. Enter outcomes or tests, then: pourcast learn"]
    found = learnt_of(latest)
    said = [clean(line) for line in learnt_told(found)]
    rows = learnt_rows(found.values, everything=everything)
    if len(rows) > 1:
        said += ["", *columns([tuple(clean(cell) for cell in row) for row in rows])]
    state = "on" if switched_on else "off: forecasts take the book of values alone"
    return [*said, "", f"{clean(latest.name)}; learnt {latest.created.date()}; {state}."]


def calibration_from(asked: str | None, plan: "Plan") -> "Calibration | None":
    """Return what a book has learnt that is of a plan.

    Parameters
    ----------
    asked : str or None
        "off" or None: nothing; "book": that of the system; else a folder.
    plan : Plan

    Raises
    ------
    InputError
        If there is no book in the folder.
    """
    if asked is None or asked == "off":
        return None
    with _book_asked(asked) as book:
        return of_book(book, plan)


def last_kiln(asked: str | None) -> "KilnFit | None":
    """Return the kiln of the last day of a book that has ended; None: none tells of it.

    Parameters
    ----------
    asked : str or None
        As `calibration_from` takes it.

    Raises
    ------
    InputError
        If there is no book in the folder.
    """
    from pourcast.book.calibrations import holds
    from pourcast.book.day_kiln import kiln_of_last_day

    if asked is None or asked == "off":
        return None
    with _book_asked(asked) as book:
        found = kiln_of_last_day(book) if holds(book)[1] else None
    return None if found is None else found[0]


def of_book(book: "Book", plan: "Plan", before: "datetime | None" = None) -> "Calibration | None":
    """Return what an open book has learnt that is of a plan; None: nothing, or it is off."""
    from pourcast.book.calibrations import active_calibration, holds
    from pourcast.book.day_kiln import joined, kiln_learnt
    from pourcast.learn.for_plan import for_plan

    _, switched_on = holds(book)
    kiln = kiln_learnt(book, before) if switched_on else None
    return for_plan(joined(active_calibration(book), kiln), plan)


def _book_asked(asked: str) -> "Book":
    from pathlib import Path

    from pourcast.book.store import FILE, default_folder, open_book
    from pourcast.errors import InputError

    folder = default_folder() if asked == "book" else Path(asked)
    if not (folder / FILE).is_file():
        raise InputError(
            "calibration", folder, "", 'the folder of a book, "book" for that of the system, or off'
        )
    return open_book(folder)


def _tree(latest: "Act | None", held: "ToLearnFrom", *, switched_on: bool) -> str:
    from pourcast.cli.show_book import as_json

    tree: dict[str, Any] = {
        "schema": "pourcast.learnt/1",
        "switched_on": switched_on,
        "learnt": None,
        "left_out": held.left_out,
        "as_poured": held.changed,
    }
    if latest is not None:
        tree["learnt"] = {
            "id": latest.id,
            "created": latest.created,
            "name": latest.name,
            "version": latest.version,
            **latest.document,
        }
    return as_json(tree)


def _progress(done: int, of: int) -> None:
    if sys.stderr.isatty():
        sys.stderr.write(f"pour {done + 1} of {of}\r")
        sys.stderr.flush()
