"""Open: the pages in the browser, served from this machine."""

from pathlib import Path
from typing import Annotated

import typer


def open_pages(
    file: Annotated[
        str | None, typer.Argument(metavar="[FILE]", help="Piece file (TOML) to put on the shelf.")
    ] = None,
    data: Annotated[
        Path | None, typer.Option(metavar="FOLDER", help="Left out: that of the system.")
    ] = None,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let phones on the same network join, by a code.")
    ] = False,
    port: Annotated[
        int | None, typer.Option(min=1, max=65535, help="Left out: one that is free.")
    ] = None,
    book: Annotated[
        str | None,
        typer.Option("--book", metavar="ADDRESS", help="Of a shared book; left out: the folder's."),
    ] = None,
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Print the address, open nothing.")
    ] = False,
) -> None:
    """Open the pages: shelf, piece, book and values, in the browser of this machine."""
    import os

    from pourcast.app.serve import serve
    from pourcast.cli.files import read_sheet
    from pourcast.cli.signs import write_out

    serve(
        None if file is None else read_sheet(file),
        folder=data,
        lan=lan,
        port=port,
        browser=not no_browser,
        threads=os.cpu_count() or 1,
        write=write_out,
        address=book,
    )
