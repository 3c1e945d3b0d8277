"""The command ``pourcast``: its commands and options, and how it ends.

Exit status: 0 done (whatever the forecast says), 1 the work could not be done,
2 wrong use or a bad file, 3 the chance lies below ``--fail-below``.

Everything heavy is imported inside the commands, so that ``--help`` is quick.
"""

import os
import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from pourcast.cli.book import book_app
from pourcast.cli.outcome import outcome

app = typer.Typer(
    name="pourcast",
    help="Will a one-off bronze come out? Told before the original is burnt.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

app.add_typer(book_app, name="book")

BELOW = 3

PieceFile = Annotated[
    str, typer.Argument(metavar="FILE", help="Piece file (TOML); - reads it from the input.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Write JSON and nothing else.")]
Draws = Annotated[int, typer.Option(min=1, max=100_000, help="Pours to follow.")]
Seed = Annotated[int, typer.Option(min=0, help="The same number gives the same forecast.")]
Threads = Annotated[
    int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
]


@app.command()
def new(
    name: Annotated[str, typer.Argument(help="Name of the piece.")],
    out: Annotated[Path | None, typer.Option(help="File to write; - writes to the output.")] = None,
) -> None:
    """Write a sheet of measures to fill in, with a line on each measure."""
    import shlex

    from pourcast.cli.files import sheet_name, write_new
    from pourcast.cli.signs import write_out
    from pourcast.sheet import new_sheet

    if str(out) == "-":
        write_out(new_sheet(name))
        return
    path = out or Path(sheet_name(name))
    write_new(path, new_sheet(name))
    asked = shlex.quote(str(path))
    write_out(f"Wrote {path}. Fill it in, then: pourcast forecast {asked}\n")


@app.command()
def forecast(
    file: PieceFile,
    json: AsJson = False,
    full: Annotated[
        bool, typer.Option("--full", help="Say all of it, not what fits one screen.")
    ] = False,
    draws: Draws = 400,
    seed: Seed = 0,
    page: Annotated[
        Path | None, typer.Option(help="Write the forecast as one HTML page as well.")
    ] = None,
    fail_below: Annotated[
        float | None,
        typer.Option(
            min=0.0, max=1.0, help="Exit with 3 if the chance of the whole piece is lower."
        ),
    ] = None,
    threads: Threads = None,
) -> None:
    """Forecast how a hundred pours of a piece would end."""
    from pourcast.cli.run import run_forecast

    chance = run_forecast(
        file,
        as_json=json,
        full=full,
        draws=draws,
        seed=seed,
        page=page,
        threads=threads or os.cpu_count() or 1,
    )
    if fail_below is not None and chance < fail_below:
        typer.echo(
            f"The chance of the whole piece, {chance:.3f}, is below {fail_below:g}.", err=True
        )
        raise typer.Exit(BELOW)


@app.command()
def burnout(
    file: PieceFile,
    curve: Annotated[
        Literal["written", "usual", "shortest"],
        typer.Option(
            help="Of the sheet, usual for a flask of this size, or the shortest that keeps "
            "every limit."
        ),
    ] = "written",
    log: Annotated[
        str | None,
        typer.Option(
            metavar="CSV", help="The day as it was, instead of a curve: time, temperature."
        ),
    ] = None,
    kiln_log: Annotated[
        str | None,
        typer.Option(
            metavar="CSV",
            help="A logged day of a kiln turned by hand (time, temperature, dial): says how to "
            "turn it.",
        ),
    ] = None,
    start: Annotated[
        str | None, typer.Option(metavar="07:30", help="Time of day at which the block goes in.")
    ] = None,
    json: AsJson = False,
    draws: Annotated[int, typer.Option(min=1, max=100_000, help="Burnouts to follow.")] = 200,
    seed: Seed = 0,
    page: Annotated[
        Path | None, typer.Option(help="Write the burnout as one HTML page as well.")
    ] = None,
    threads: Threads = None,
) -> None:
    """Forecast the burnout: when it is dry and clean, and what the kiln should do."""
    from pourcast.cli.burnout import run_burnout

    run_burnout(
        file,
        which=curve,
        log=log,
        kiln_log=kiln_log,
        start=start,
        draws=draws,
        seed=seed,
        threads=threads or os.cpu_count() or 1,
        as_json=json,
        page=page,
    )


@app.command()
def freeze(
    file: PieceFile,
    voxel: Annotated[
        str, typer.Option(metavar="1mm", help="Side of a cell; finer takes longer.")
    ] = "1mm",
    minutes: Annotated[
        float, typer.Option(min=0.1, max=600.0, help="To follow after the pour.")
    ] = 20.0,
    json: AsJson = False,
    save: Annotated[
        Path | None, typer.Option(metavar="FIELDS.npz", help="Write the fields as well.")
    ] = None,
    page: Annotated[Path | None, typer.Option(help="Write one HTML page as well.")] = None,
    seed: Seed = 0,
    threads: Threads = None,
) -> None:
    """Freeze one casting in cells: where it lacks metal, how hot the mould gets."""
    from pourcast.cli.freeze import run_freeze

    run_freeze(
        file,
        voxel=voxel,
        minutes=minutes,
        seed=seed,
        threads=threads or os.cpu_count() or 1,
        as_json=json,
        save=save,
        page=page,
    )


app.command()(outcome)


@app.command()
def weigh(file: PieceFile, json: AsJson = False, draws: Draws = 400, seed: Seed = 0) -> None:
    """Say what metal, powder and water to weigh out."""
    from pourcast.cli.run import run_weigh

    run_weigh(file, as_json=json, draws=draws, seed=seed)


@app.command()
def runsheet(
    file: PieceFile,
    start: Annotated[
        str,
        typer.Option(metavar='"2026-12-05 18:30"', help="Day and time at which the work begins."),
    ],
    zone: Annotated[
        str | None,
        typer.Option(metavar="Europe/Berlin", help="Left out: that of the machine."),
    ] = None,
    kiln_in: Annotated[
        str | None,
        typer.Option(
            metavar='"2026-12-06 05:00"',
            help="When the block goes in; left out: as soon as it may be moved.",
        ),
    ] = None,
    furnace_min: Annotated[
        float | None,
        typer.Option(min=1.0, max=600.0, help="Minutes that the furnace takes to melt the charge."),
    ] = None,
    kiln_log: Annotated[
        str | None,
        typer.Option(metavar="CSV", help="A logged day of a kiln turned by hand: gives its turns."),
    ] = None,
    pdf: Annotated[Path | None, typer.Option(help="Write the sheet for paper.")] = None,
    calendar: Annotated[
        Path | None, typer.Option(help="Write the acts with alarms for a calendar (.ics).")
    ] = None,
    text: Annotated[bool, typer.Option("--text", help="Write the sheet as plain text.")] = False,
    paper: Annotated[Literal["a4", "letter"], typer.Option(help="Size of the paper.")] = "a4",
    draws: Draws = 400,
    seed: Seed = 0,
    threads: Threads = None,
) -> None:
    """Write the run sheet: what to weigh and when to do what, for paper and calendar."""
    from pourcast.cli.runsheet import run_runsheet

    run_runsheet(
        file,
        start=start,
        zone=zone,
        kiln_in=kiln_in,
        furnace_min=furnace_min,
        kiln_log=kiln_log,
        pdf=pdf,
        calendar=calendar,
        text=text,
        paper=paper,
        draws=draws,
        seed=seed,
        threads=threads or os.cpu_count() or 1,
    )


@app.command()
def values(
    key: Annotated[
        str | None,
        typer.Argument(metavar="KEY", help="A key, or a part of one; left out: what there is."),
    ] = None,
) -> None:
    """Show a value with its range, its kind and its source."""
    from pourcast.cli.values import run_values

    run_values(key)


@app.command()
def schema() -> None:
    """Write the JSON Schema of the forecast."""
    import json

    from pourcast.cli.signs import write_out
    from pourcast.forecast.document import schema as read_schema

    write_out(json.dumps(read_schema(), indent=1) + "\n")


def main() -> None:
    """Run the command and end with its exit status."""
    from pourcast.errors import InputError, PourcastError, SourceError

    try:
        app(prog_name="pourcast", standalone_mode=True)
    except SystemExit as end:
        if not isinstance(end.__context__, BrokenPipeError):
            raise
        # The reader has seen enough: nothing is wrong, and nothing more is written.
        raise SystemExit(0) from None
    except PourcastError as fault:
        sys.stderr.write(f"{fault}\n")
        # What the caster can mend in a file or an option is wrong use.
        raise SystemExit(2 if isinstance(fault, (InputError, SourceError)) else 1) from None
    except OSError as fault:
        sys.stderr.write(f"{fault}\n")
        raise SystemExit(1) from None
