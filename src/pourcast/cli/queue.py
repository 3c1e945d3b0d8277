"""Queue: the flasks that are in the kiln now, in the order of their pours."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer


def queue(
    data: Annotated[
        Path | None,
        typer.Option(
            "--data", metavar="FOLDER", help="Folder of the book; left out: the system's."
        ),
    ] = None,
    between_min: Annotated[
        float,
        typer.Option(
            min=0.0,
            max=600.0,
            help="From one flask out of the kiln to the furnace lit again; 15 is an estimate.",
        ),
    ] = 15.0,
    threads: Annotated[
        int | None, typer.Option(min=1, max=64, help="Left out: as many as the machine has.")
    ] = None,
) -> None:
    """Say in which order the flasks in the kiln are poured, and how long each may wait."""
    import os

    from pourcast.app.day_queue import waiting_line
    from pourcast.app.day_room import DayRoom
    from pourcast.app.studio import Studio
    from pourcast.cli.signs import write_out
    from pourcast.page.words_pour_day import QUEUE_CARE
    from pourcast.runsheet.model import LAST_WORD

    with Studio(data, threads=threads or os.cpu_count() or 1) as studio:
        line = waiting_line(DayRoom(studio), studio, datetime.now(UTC), between=60.0 * between_min)
    if not line:
        write_out(
            "No flask is in the kiln: no day of this book has begun within two days and is not "
            "poured yet. Begin one: pourcast day PIECE.toml --start 05:00\n"
        )
        return
    said = [f"{number}. {each.told}" for number, each in enumerate(line, start=1)]
    write_out("\n".join([*said, QUEUE_CARE, LAST_WORD]) + "\n")
