"""Gating: feeders, gates, vents, threads and leans that a forecast gives cause for."""

import os
from pathlib import Path
from typing import Annotated

import typer

from pourcast.cli.stages import AsJson


def gating(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="Piece file (TOML); - reads it from the input.")
    ],
    take: Annotated[
        list[int] | None,
        typer.Option(metavar="N", help="Write the piece file with this one made; may be repeated."),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="NEW.toml", help="File to write; left out: the output."),
    ] = None,
    flask: Annotated[
        list[str] | None,
        typer.Option(metavar='"76 x 127"', help="A flask at hand; left out: those of the book."),
    ] = None,
    data: Annotated[
        Path | None, typer.Option("--data", metavar="FOLDER", help="Folder of the book.")
    ] = None,
    json: AsJson = False,
    draws: Annotated[int, typer.Option(min=1, max=100_000, help="Pours to follow.")] = 400,
    seed: Annotated[int, typer.Option(min=0, help="The same number gives the same forecast.")] = 0,
    threads: Annotated[
        int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
    ] = None,
) -> None:
    """Propose feeders, gates, vents, threads and leans; take some into a new piece file."""
    from pourcast import __version__
    from pourcast.cli.files import read_sheet, write_new
    from pourcast.cli.flasks import shelf_for
    from pourcast.cli.run import as_text
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError
    from pourcast.forecast.solve import forecast
    from pourcast.gating.document import proposals_document
    from pourcast.gating.solve import proposals
    from pourcast.gating.take import take as taken
    from pourcast.page.words_gating import proposal_lines
    from pourcast.sheet import read_plan

    name = "input" if file == "-" else file
    text = read_sheet(file)
    plan = read_plan(text, file=name)
    if out is not None and not take:
        raise InputError("--out", out, "", "given with --take N", "Say which proposal to take.")
    shelf = shelf_for(plan, flask or [], data)
    said = forecast(plan, draws=draws, rng=seed, threads=threads or os.cpu_count() or 1)
    found = proposals(said, shelf)
    if not take:
        if json:
            tree = proposals_document(found, name=plan.piece.name, version=__version__)
            write_out(as_text(tree))
        else:
            lines = proposal_lines(found, plan.piece.name, invented=plan.invented)
            write_out("\n".join(lines) + "\n")
        return
    for number in take:
        if not 1 <= number <= len(found):
            most = f"1 to {len(found)}" if found else "left out: nothing is proposed"
            raise InputError("--take", number, "", most)
    changed = taken(text, *(found[number - 1] for number in dict.fromkeys(take)), file=name)
    read_plan(changed, file="piece file with the proposal")
    if out is None:
        write_out(changed)
        return
    write_new(out, changed)
    made = ", ".join(found[number - 1].name for number in dict.fromkeys(take))
    write_out(f"Piece file with {made}: {out}\n")
