"""Stages on the command line: burnout, freezing and run sheet of one piece, with their options."""

import os
from pathlib import Path
from typing import Annotated, Literal

import typer

PieceFile = Annotated[
    str, typer.Argument(metavar="FILE", help="Piece file (TOML); - reads it from the input.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Write JSON, for other programs.")]
Draws = Annotated[int, typer.Option(min=1, max=100_000, help="Pours to follow.")]
ManyDraws = Annotated[int, typer.Option(min=1, max=10_000_000, help="Pours to follow.")]
Cluster = Annotated[
    str | None,
    typer.Option(
        metavar="ADDRESS",
        help='Of a dask scheduler, such as tcp://10.0.0.5:8786; "local": worker processes on '
        "this machine, as many as --threads says. For many thousands of draws.",
    ),
]
Seed = Annotated[int, typer.Option(min=0, help="The same number gives the same forecast.")]
Threads = Annotated[
    int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
]


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
    calibration: Annotated[
        str | None,
        typer.Option(
            metavar="FOLDER",
            help='Take what the book of this folder has learnt ("book": that of the system); a '
            "kiln turned by hand is then turned as its last kept day had it.",
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
        calibration=calibration,
        start=start,
        draws=draws,
        seed=seed,
        threads=threads or os.cpu_count() or 1,
        as_json=json,
        page=page,
    )


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
