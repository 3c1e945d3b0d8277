"""Fan on the command line: design strips and rods, and take in how far they ran."""

import os
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Annotated, Literal

import typer

from pourcast.cli.casting_end import How, how_to
from pourcast.cli.outcome import Data
from pourcast.cli.stages import AsJson


def fan(
    file: Annotated[
        str,
        typer.Argument(metavar="FILE", help="Piece file whose flask and metal it is for."),
    ],
    strips: Annotated[int, typer.Option(min=2, max=12, help="How many to cut.")] = 8,
    out: Annotated[
        Path | None, typer.Option(metavar="FAN.toml", help="Write its piece file.")
    ] = None,
    svg: Annotated[
        Path | None, typer.Option(metavar="FAN.svg", help="Write the drawing at its true size.")
    ] = None,
    pdf: Annotated[Path | None, typer.Option(metavar="FAN.pdf", help="The same for paper.")] = None,
    paper: Annotated[Literal["a4", "letter"], typer.Option(help="Size of the paper.")] = "a4",
    ran: Annotated[
        list[str] | None,
        typer.Option(
            metavar='"rod 0.5=23 mm"',
            help="After the break-out, with the file of the fan: how far each has run.",
        ),
    ] = None,
    seed: Annotated[int, typer.Option(min=0, help="Same number, same fan.")] = 0,
    threads: Annotated[int | None, typer.Option(min=1, max=64, help="Left out: all.")] = None,
    how: How = False,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Design strips and rods that tell most in one pour of this flask; take in how they ran."""
    from pourcast.cli.files import read_sheet, write_new
    from pourcast.cli.show_book import as_json, columns
    from pourcast.cli.signs import write_out
    from pourcast.learn.fan import design
    from pourcast.learn.fan_drawing import fan_svg
    from pourcast.learn.fan_sheet import fan_sheet
    from pourcast.page.words_learn import CAUTIONS, fan_rows, fan_told
    from pourcast.sheet import read_plan

    if how:
        how_to("fan")
        return
    if ran:
        _take_in(file, ran, data)
        return
    sheet = read_sheet(file)
    found = design(
        read_plan(sheet, file=file),
        strips=strips,
        seed=seed,
        threads=threads or os.cpu_count() or 1,
    )
    said = []
    if out is not None:
        write_new(out, fan_sheet(sheet, found, file=file))
        said.append(f"Wrote {out}. Before the pour: pourcast book keep {out}")
    if svg is not None:
        write_new(svg, fan_svg(found, paper))
        said.append(f"Wrote {svg}. Print it at full size and check its rule.")
    if pdf is not None:
        from pourcast.cli.runsheet import write_bytes
        from pourcast.runsheet.fan_paper import fan_pdf

        write_bytes(pdf, fan_pdf(fan_svg(found, paper), paper))
        said.append(f"Wrote {pdf}. Print it at full size and check its rule.")
    if json:
        write_out(as_json(found))
        return
    lines = [*fan_told(found), "", *columns(fan_rows(found)), "", *said, "", *CAUTIONS["fan"]]
    write_out("\n".join(lines) + "\n")


def _take_in(file: str, ran: list[str], data: Path | None) -> None:
    """Keep how far strips have run as the outcome of the fan, and say what to do next."""
    from pourcast.book.model import PartOutcome
    from pourcast.book.outcomes import keep_first_outcome, keep_outcome, latest_pour, revisions
    from pourcast.book.plans import latest_plan
    from pourcast.book.store import open_book
    from pourcast.cli.outcome import find_piece
    from pourcast.cli.signs import write_out
    from pourcast.learn.fan_outcome import ran_parts
    from pourcast.sheet import read_plan

    now, today = datetime.now(UTC), date.today()
    with open_book(data) as book:
        kept = latest_plan(book, find_piece(book, file))
        parts = ran_parts(read_plan(kept.sheet, file=kept.file_name), ran)
        told = [
            PartOutcome(part=part, state="filled")
            if whole
            else PartOutcome(part=part, state="short", filled_share=share)
            for part, whole, share in parts
        ]
        pour = latest_pour(book, kept.id)
        if pour is None or revisions(book, pour.id):
            keep_first_outcome(
                book, kept.id, told, poured=today, seen=today, at=now, sure="weighed"
            )
        else:
            keep_outcome(book, pour.id, told, seen=today, at=now, sure="weighed")
    write_out("Kept. Strips that were not named count as whole. Next: pourcast learn\n")
