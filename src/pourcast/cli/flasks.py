"""Flasks: which flask of the shelf does a piece go into, or several pieces together?"""

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from pourcast.cli.stages import AsJson

if TYPE_CHECKING:
    from pourcast.gating.model import ShelfFlask
    from pourcast.sheet.model import Plan


def flasks(
    files: Annotated[
        list[str],
        typer.Argument(metavar="FILE...", help="Piece file; several go into one flask together."),
    ],
    flask: Annotated[
        list[str] | None,
        typer.Option(
            metavar='"76 x 127"',
            help="Inside diameter and height, once for each; left out: the shelf of the book.",
        ),
    ] = None,
    data: Annotated[
        Path | None,
        typer.Option("--data", metavar="FOLDER", help="Folder of the book."),
    ] = None,
    picture: Annotated[
        Path | None,
        typer.Option(metavar="FILE.svg", help="Draw the flasks to one scale, with what goes in."),
    ] = None,
    json: AsJson = False,
) -> None:
    """Say which flask of the shelf to take, and how the piece stands in it."""
    from pourcast import __version__
    from pourcast.cli.files import read_piece
    from pourcast.cli.run import as_text
    from pourcast.cli.show import terminal, write_lines
    from pourcast.cli.signs import write_out
    from pourcast.gating import document
    from pourcast.gating.flasks import choose
    from pourcast.gating.share import share
    from pourcast.page import words_gating
    from pourcast.page.svg_gating import shared_picture, shelf_picture
    from pourcast.piece.network import build

    plans = [read_piece(file) for file in files]
    shelf = shelf_for(plans[0], flask or [], data)
    if len(plans) > 1:
        shared = share(plans, shelf)
        tree = document.shared_document(shared, version=__version__)
        lines = words_gating.shared_lines(shared)
        drawn = shared_picture(shared) if picture else None
    else:
        choice, piece = choose(plans[0], shelf), plans[0].piece
        tree = document.flasks_document(choice, name=piece.name, version=__version__)
        lines = words_gating.flask_lines(choice, piece.name, invented=plans[0].invented)
        drawn = shelf_picture(choice, build(piece), piece.button) if picture else None
    if picture and drawn:
        _draw(picture, drawn)
    if json:
        write_out(as_text(tree))
        return
    write_lines(lines, terminal(sys.stdout, os.environ))


def _draw(path: Path, drawn: str) -> None:
    from pourcast.cli.files import write_page
    from pourcast.page.render import style
    from pourcast.runsheet.picture import self_contained

    write_page(path, self_contained(str(drawn), style()))


def shelf_for(plan: "Plan", named: list[str], data: Path | None) -> "list[ShelfFlask]":
    """Return the flasks that were named, or else those on the shelf of the book.

    A book that is not there yet is not made.
    """
    from pourcast.book.settings import flasks as shelf_of
    from pourcast.book.store import FILE, default_folder, open_book
    from pourcast.gating.shelf import flask_of_book, read_flask

    if named:
        return [read_flask(text, wall=plan.flask.wall) for text in named]
    folder = default_folder() if data is None else data
    if not (folder / FILE).exists():
        return []
    with open_book(folder) as book:
        return [
            flask_of_book(
                kept.name,
                inside_diameter_mm=kept.inside_diameter_mm,
                height_mm=kept.height_mm,
                wall=kept.wall,
                count=kept.count,
            )
            for kept in shelf_of(book)
            if kept.count > 0
        ]
