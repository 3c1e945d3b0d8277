"""A sweep on the command line: what it costs, its rows as they come, table and picture."""

import os
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from pourcast.cli.stages import Cluster

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import RenderableType

    from pourcast.execute import Cancel, Executor
    from pourcast.sweep.model import Row, Sweep

_SHOWN = 12
"""Rows on the terminal; the best are kept."""

_EVERY = 0.5  # s, how often the line of progress is written


def sweep(
    file: Annotated[str, typer.Argument(metavar="FILE", help="Piece file (TOML).")],
    over: Annotated[
        list[str],
        typer.Option(
            metavar="KEY=FROM:TO:STEP",
            help="Such as flask.temperature_C=450:700:25 or assist.vacuum_kPa=0,30,60,85; "
            "may be repeated.",
        ),
    ],
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="TABLE.csv", help="Table to write, .csv or .parquet; needed for a sweep."
        ),
    ] = None,
    picture: Annotated[
        Path | None,
        typer.Option(metavar="FILE.svg", help="Left out: beside the table, ending in .svg."),
    ] = None,
    estimate: Annotated[
        bool, typer.Option("--estimate", help="Say what it would take, and stop.")
    ] = False,
    draws: Annotated[int, typer.Option(min=1, max=1000, help="Pours of each cell.")] = 400,
    seed: Annotated[int, typer.Option(min=0, help="The same number gives the same table.")] = 0,
    calibration: Annotated[
        str | None,
        typer.Option(
            metavar="FOLDER",
            help='Take what the book of this folder has learnt ("book": that of the system).',
        ),
    ] = None,
    threads: Annotated[
        int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
    ] = None,
    cluster: Cluster = None,
) -> None:
    """Sweep settings over ranges: a table, a picture of the chances, one line that says it."""
    from pourcast.cli.hands import hands_of
    from pourcast.cli.sweep_table import require_table
    from pourcast.errors import InputError

    asked = _sweep(file, over, draws, seed, calibration)
    if out is None and not estimate:
        raise InputError("--out", "left out", "", "given: TABLE.csv or TABLE.parquet")
    if out is not None:
        require_table(out)
    with hands_of(cluster, threads or os.cpu_count() or 1) as hands:
        _tell_cost(asked, hands)
        if out is None or estimate:
            return
        rows = _rows(asked, hands, out)
    _write(asked, rows, out, picture or out.with_suffix(".svg"))


def _sweep(file: str, over: list[str], draws: int, seed: int, calibration: str | None) -> "Sweep":
    from pourcast.cli.files import read_sheet, shown_name
    from pourcast.cli.learn import calibration_from
    from pourcast.sheet import read_plan
    from pourcast.sweep.cells import require_sweep
    from pourcast.sweep.model import Sweep
    from pourcast.sweep.over import read_over

    text = read_sheet(file)
    plan = read_plan(text, file=shown_name(file))
    learnt = calibration_from(calibration, plan)
    axes = tuple(read_over(each, plan) for each in over)
    asked = Sweep(text=text, axes=axes, draws=draws, seed=seed, calibration=learnt)
    require_sweep(asked)
    return asked


def _tell_cost(asked: "Sweep", hands: "Executor") -> None:
    """Say what a sweep will take, by cells that are worked out here; refuse one far too large."""
    from pourcast.sweep.cells import duration, require_few_enough
    from pourcast.sweep.solve import row_of

    row_of(asked, 0)  # the first takes longer: kernels are read, the burnout is worked out
    begun = time.perf_counter()
    row_of(asked, asked.cells - 1)
    seconds = time.perf_counter() - begun
    require_few_enough(asked, seconds, hands.workers)
    takes = duration(asked.cells * seconds / hands.workers)
    sys.stderr.write(
        f"{asked.cells} forecasts of {asked.draws} pours, {seconds:.2f} s for one here: "
        f"about {takes} on {hands.workers} at a time.\n"
    )


def _rows(asked: "Sweep", hands: "Executor", out: Path) -> "list[Row]":
    from pourcast.cli.sweep_table import Rows, write_table
    from pourcast.execute import CancelledError
    from pourcast.sweep.solve import rows

    kept = Rows(asked, out)
    if kept.found:
        sys.stderr.write(f"Going on after {len(kept.found)} of {asked.cells}.\n")
    begun, start, last = time.perf_counter(), len(kept.found), 0.0
    try:
        with _called_off() as cancel:
            for row in rows(asked, hands, start=start, cancel=cancel):
                kept.add(row)
                now = time.perf_counter()
                if now - last > _EVERY:
                    last = now
                    _tell(asked, len(kept.found), now - begun, start)
    except CancelledError:
        kept.close(forget=False)
        raise CancelledError(
            f"\nStopped after {len(kept.found)} of {asked.cells}; the same command goes on from "
            "there."
        ) from None
    _tell(asked, asked.cells, 0.0, start)
    write_table(asked, kept.found, out)
    kept.close(forget=True)
    return kept.found


@contextmanager
def _called_off() -> "Iterator[Cancel]":
    """Give a switch that Ctrl-C and the signal to end turn; a second Ctrl-C ends at once."""
    from pourcast.execute import Cancel

    cancel = Cancel()

    def turned(number: int, frame: Any) -> None:
        del number, frame
        cancel.call_off()
        signal.signal(signal.SIGINT, signal.default_int_handler)

    before = {one: signal.signal(one, turned) for one in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield cancel
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


def _tell(asked: "Sweep", done: int, took: float, start: int) -> None:
    from pourcast.cli.signs import on_one_line
    from pourcast.sweep.cells import duration
    from pourcast.sweep.solve import seconds_left

    if done == asked.cells:
        on_one_line("")
    else:
        left = duration(seconds_left(done - start, asked.cells - done, took))
        on_one_line(f"{done} of {asked.cells} forecasts; about {left} more")


def _write(asked: "Sweep", rows: "list[Row]", out: Path, picture: Path) -> None:
    from pourcast.cli.files import write_page
    from pourcast.cli.show import terminal, write
    from pourcast.cli.signs import write_out
    from pourcast.page.svg_sweep import sweep_picture

    write_page(picture, sweep_picture(asked, rows))
    write(blocks(asked, rows), terminal(sys.stdout, os.environ))
    sys.stdout.flush()
    write_out(f"Table: {out}\nPicture: {picture}\n")


def blocks(asked: "Sweep", rows: "Sequence[Row]") -> "list[RenderableType]":
    """Return a sweep as blocks of a console: the answer, the best cells, what stops one."""
    from rich.text import Text

    from pourcast.cli.show import heading, plain_table, plain_text
    from pourcast.page import words_sweep as words
    from pourcast.sweep.limits import limits_of

    table = plain_table()
    for axis in asked.axes:
        table.add_column(words.axis_words(axis), overflow="fold", justify="right")
    table.add_column("whole in 100", justify="right", max_width=9)
    table.add_column("could be", justify="right")
    table.add_column("commonest end", overflow="fold", ratio=1)
    shown = rows
    if len(rows) > _SHOWN:
        best = sorted(rows, key=lambda row: (bool(row.stops), -(row.chance or 0.0), row.cell))
        shown = best[:_SHOWN]
    for row in shown:
        table.add_row(
            *(
                words.value_words(axis, value)
                for axis, value in zip(asked.axes, row.values, strict=True)
            ),
            words.count(row.chance),
            f"{words.count(row.low)} to {words.count(row.high)}" if row.chance is not None else "",
            plain_text(words.ending_words(row) + ("; STOP" if row.stops else "")),
        )
    told: list[RenderableType] = [Text(words.answer(asked, rows), style="bold"), Text(), table]
    if len(rows) > _SHOWN:
        told.append(plain_text(f"The best {_SHOWN} of {len(rows)}; all stand in the table."))
    limits = limits_of(asked.axes, rows)
    if limits:
        told.append(heading("What must stop you"))
        told += [plain_text(words.limit_words(each, len(rows))) for each in limits]
    faulty = words.not_worked_out(rows)
    if faulty:
        told.append(plain_text(faulty))
    told += [Text(), plain_text(words.rests_on(asked))]
    return told
