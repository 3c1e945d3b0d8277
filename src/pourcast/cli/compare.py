"""Two plans side by side, on the command line."""

import os
import sys
from typing import TYPE_CHECKING, Annotated

import typer

from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from rich.console import RenderableType

    from pourcast.change.compared import Comparison


def compare(
    one: Annotated[str, typer.Argument(metavar="A", help="Piece file of the first plan.")],
    other: Annotated[str, typer.Argument(metavar="B", help="Piece file of the second plan.")],
    draws: Annotated[int, typer.Option(min=2, max=100_000, help="Pours of each plan.")] = 400,
    seed: Annotated[int, typer.Option(min=0, help="The same number gives the same figures.")] = 0,
    threads: Annotated[
        int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Lay two plans side by side: what differs, what moves, and whether that is luck."""
    from pourcast import __version__
    from pourcast.change.as_written import as_the_sheets_say
    from pourcast.change.compare import compare as compare_plans
    from pourcast.change.document import comparison_document
    from pourcast.cli.files import read_sheet, shown_name
    from pourcast.cli.run import as_text
    from pourcast.cli.show import terminal, write
    from pourcast.cli.signs import write_out
    from pourcast.page.words_compare import compared
    from pourcast.sheet import read_plan

    cores = threads or os.cpu_count() or 1
    texts = [read_sheet(file) for file in (one, other)]
    first, second = (
        read_plan(text, file=shown_name(file))
        for text, file in zip(texts, (one, other), strict=True)
    )
    said = compare_plans(first, second, draws=draws, rng=seed, threads=cores)
    if json:
        write_out(as_text(comparison_document(said, version=__version__, first=compared(said))))
        return
    write(blocks(as_the_sheets_say(said, *texts)), terminal(sys.stdout, os.environ))
    sys.stdout.flush()


def blocks(said: "Comparison") -> "list[RenderableType]":
    """Return two plans side by side as blocks of a console."""
    from rich.text import Text

    from pourcast.cli.show import heading, plain_table, plain_text
    from pourcast.findings import in_100_draws
    from pourcast.page import words_compare as words
    from pourcast.page.figures import clean

    table = plain_table()
    table.add_column("part", overflow="fold", ratio=1)
    for column in ("first", "second", "difference"):
        table.add_column(column, justify="right")
    moved = [move for move in said.parts if move.before != move.after or move.standard_error]
    for move in moved:
        table.add_row(
            Text(clean(move.name)),
            in_100_draws(move.before),
            in_100_draws(move.after),
            words.part_gain(move),
        )
    told: list[RenderableType] = [Text(words.compared(said), style="bold")]
    for name, figures in (("first", said.one), ("second", said.other)):
        told += [plain_text(f"Stop, {name}: {clean(stop)}") for stop in figures.stops]
    told += [Text(), Text("What differs", style="bold")]
    told += [plain_text(words.difference(each)) for each in said.differences]
    if not said.differences:
        told.append(plain_text(words.NOTHING_DIFFERS))
    told.append(heading("Every one fills, in 100 pours"))
    if moved:
        told.append(table)
    still = [move for move in said.parts if move not in moved]
    if still:
        told.append(plain_text(words.the_same(still)))
    for name, figures in (("first", said.one), ("second", said.other)):
        told.append(plain_text(words.what_stops(name, figures.causes)))
    told += [Text(), plain_text(words.masses(said))]
    told.append(plain_text(f"{said.draws} pours with the same draws, seed {said.seed}."))
    return told
