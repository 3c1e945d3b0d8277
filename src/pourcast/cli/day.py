"""Day: the kiln day in the terminal; readings and acts in, the day forecast again."""

from pathlib import Path
from typing import Annotated

import typer

Data = Annotated[
    Path | None,
    typer.Option("--data", metavar="FOLDER", help="Folder of the book; left out: the system's."),
]


def day(
    file: Annotated[str, typer.Argument(metavar="FILE", help="Piece file (TOML).")],
    start: Annotated[
        str | None,
        typer.Option(
            metavar="05:00",
            help='When the block goes in: today\'s time, or "2026-12-06 05:00". Left out in a '
            "replay: now.",
        ),
    ] = None,
    data: Data = None,
    zone: Annotated[
        str | None, typer.Option(metavar="Europe/Berlin", help="Left out: that of the machine.")
    ] = None,
    readings: Annotated[
        Path | None,
        typer.Option(metavar="FILE.csv", help="A kiln log to take in once: time, temperature."),
    ] = None,
    watch: Annotated[
        Path | None,
        typer.Option(metavar="FILE|FOLDER", help="A kiln log, or a folder of them, that grows."),
    ] = None,
    listen: Annotated[
        list[str] | None,
        typer.Option(
            metavar="serial:PORT|mqtt://HOST/TOPIC",
            help="A thermometer of its own, on a serial line or a broker; may be repeated.",
        ),
    ] = None,
    replay: Annotated[
        str | None,
        typer.Option(
            metavar="LOG.csv|made-up",
            help="Practise: a logged day, or a made-up kiln that follows the advice.",
        ),
    ] = None,
    speed: Annotated[
        float, typer.Option(min=1.0, max=1e6, help="Of the replay; 60: an hour in a minute.")
    ] = 60.0,
    once: Annotated[
        bool, typer.Option("--once", help="Say how the day stands and end; nothing is asked.")
    ] = False,
    dial_top: Annotated[
        int | None,
        typer.Option(
            min=1, max=100, help="Highest place of the kiln's dial; left out: the file's."
        ),
    ] = None,
    furnace: Annotated[
        list[str] | None,
        typer.Option(metavar='"0.8 kg 25 min"', help="A melt of your furnace; may be repeated."),
    ] = None,
    crucible_ml: Annotated[
        float | None, typer.Option(min=1.0, max=1e6, help="What the crucible holds to its brim.")
    ] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="FILE.svg", help="Write the day so far as a picture.")
    ] = None,
    threads: Annotated[
        int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
    ] = None,
    wrong: Annotated[
        bool,
        typer.Option(
            "--wrong", help="The day was begun by mistake: it counts no more, and is kept; end."
        ),
    ] = False,
    right: Annotated[
        bool, typer.Option("--right", help="It was no mistake: the day counts again; end.")
    ] = False,
) -> None:
    """Follow the kiln day: type readings and acts, and the day is forecast again."""
    if wrong or right:
        from pourcast.cli.day_wrong import say_of_day

        say_of_day(file, "wrong" if wrong else "right", start=start, zone=zone, data=data)
        return
    from pourcast.cli.day_run import DayOptions, run_day

    run_day(
        file,
        DayOptions(
            start=start,
            data=data,
            zone=zone,
            readings=readings,
            watch=watch,
            listen=tuple(listen or ()),
            replay=replay,
            speed=speed,
            once=once,
            dial_top=dial_top,
            furnace=tuple(furnace or ()),
            crucible_ml=crucible_ml,
            picture=picture,
            threads=threads,
        ),
    )
