"""Book: the commands that keep plans, list them, and mind stock, costs and scores."""

import os
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Annotated

import typer

from pourcast.cli import stock as stock_commands
from pourcast.cli.book_users import carry, users_app
from pourcast.cli.outcome import Data, What, find_piece, read_bytes, read_day
from pourcast.cli.plain_help import PlainGroup
from pourcast.cli.stages import AsJson

book_app = typer.Typer(
    name="book",
    cls=PlainGroup,
    help="What was forecast, what came out, stock and money.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

for _name, _command in (
    ("stock", stock_commands.stock),
    ("buy", stock_commands.buy),
    ("move", stock_commands.move),
    ("spend", stock_commands.spend),
    ("cost", stock_commands.cost),
    ("set", stock_commands.set_),
    ("flask", stock_commands.flask),
    ("carry", carry),
):
    book_app.command(_name)(_command)
book_app.add_typer(users_app, name="users")


@book_app.command()
def keep(
    file: Annotated[str, typer.Argument(metavar="FILE", help="Piece file (TOML).")],
    draws: Annotated[int, typer.Option(min=1, max=100_000, help="Pours to follow.")] = 400,
    seed: Annotated[int, typer.Option(min=0, help="Same number, same forecast.")] = 0,
    threads: Annotated[int | None, typer.Option(min=1, max=64, help="Left out: all.")] = None,
    piece: Annotated[str | None, typer.Option(metavar="ID", help="The piece it is of.")] = None,
    new: Annotated[bool, typer.Option("--new", help="Another piece of the same name.")] = False,
    data: Data = None,
) -> None:
    """Forecast a piece and keep the plan; it is never changed."""
    from pourcast import __version__
    from pourcast.book.plans import keep_plan
    from pourcast.book.store import open_book
    from pourcast.cli.files import read_sheet
    from pourcast.cli.learn import of_book
    from pourcast.cli.show_book import SHORT_ID, plan_lines
    from pourcast.execute.made_with import made_with
    from pourcast.forecast.document import document
    from pourcast.forecast.solve import forecast
    from pourcast.sheet import read_plan

    # The book is opened first: a folder that cannot be written is told before the work.
    with open_book(data) as book:
        sheet = read_sheet(file)
        plan = read_plan(sheet, file=file)
        said = forecast(
            plan, of_book(book, plan), draws=draws, rng=seed, threads=threads or os.cpu_count() or 1
        )
        kept = keep_plan(
            book,
            sheet=sheet,
            file_name=file,
            document=document(said, version=__version__, made_with=made_with()),
            alloy=plan.charge.alloy,
            powder=plan.mix.powder,
            at=datetime.now(UTC),
            piece_id=piece,
            new_piece=new,
        )
    asked = f"After the pour: pourcast outcome {kept.piece_id[:SHORT_ID]}"
    _write([*plan_lines(kept), asked])


@book_app.command("list")
def list_(
    page: Annotated[int, typer.Option(min=1, help="From 1.")] = 1,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """List the pieces, the one last planned first."""
    from pourcast.book.listing import PAGE, count_pieces, list_pieces
    from pourcast.book.store import open_book
    from pourcast.cli.show_book import as_json, piece_lines
    from pourcast.cli.signs import write_out

    with open_book(data) as book:
        pieces = list_pieces(book, page=page)
        pages = max(1, -(-count_pieces(book) // PAGE))
    if json:
        write_out(as_json({"page": page, "pages": pages, "pieces": pieces}))
    else:
        _write(piece_lines(pieces, page=page, pages=pages))


@book_app.command()
def show(
    what: What,
    photographs_to: Annotated[
        Path | None,
        typer.Option("--photographs", metavar="FOLDER", help="Write its photographs there."),
    ] = None,
    json: AsJson = False,
    data: Data = None,
) -> None:
    """Show a piece: its plan, its pours, what came out, notes."""
    from pourcast.book.days import notes_of
    from pourcast.book.outcomes import pours_of, revisions
    from pourcast.book.pictures import photographs_of, read_file
    from pourcast.book.plans import latest_plan
    from pourcast.book.store import open_book
    from pourcast.cli.files import write_whole
    from pourcast.cli.show_book import (
        SHORT_ID,
        as_json,
        note_lines,
        outcome_lines,
        plan_lines,
        pour_lines,
    )
    from pourcast.cli.signs import write_out

    with open_book(data) as book:
        piece = find_piece(book, what)
        plan = latest_plan(book, piece)
        found = pours_of(book, plan.id, all_of_them=True)
        told = [(each, revisions(book, each.id)) for each in found]
        notes, photographs = notes_of(book, piece), photographs_of(book, piece)
        if photographs_to is not None:
            for kept in photographs:
                name = f"{kept.created.date()}-{kept.id[:SHORT_ID]}.{kept.kind}"
                write_whole("photograph", photographs_to / name, read_file(book, kept))
    if json:
        pours = [{"pour": pour, "outcomes": entries} for pour, entries in told]
        tree = {"plan": plan, "pours": pours, "notes": notes, "photographs": photographs}
        write_out(as_json(tree))
        return
    said = plan_lines(plan)
    for pour, entries in told:
        said += ["", *pour_lines(pour), *(outcome_lines(plan, entries) if entries else [])]
    _write(said + note_lines(notes, photographs))


@book_app.command()
def pour(
    what: What,
    on: Annotated[str | None, typer.Option(metavar="DAY", help="Left out: today.")] = None,
    again: Annotated[
        bool,
        typer.Option("--again", help="Correct the day of the latest pour; the earlier is kept."),
    ] = False,
    data: Data = None,
) -> None:
    """Note that the latest plan of a piece is poured, so that stock and costs can go with it."""
    from pourcast.book.outcomes import correct_day, latest_pour, note_pour
    from pourcast.book.plans import latest_plan
    from pourcast.book.store import open_book
    from pourcast.cli.show_book import pour_lines
    from pourcast.errors import InputError

    with open_book(data) as book:
        plan = latest_plan(book, find_piece(book, what))
        day, now = read_day(on, "day of the pour", date.today()), datetime.now(UTC)
        if not again:
            _write(pour_lines(note_pour(book, plan.id, day=day, at=now)))
            return
        latest = latest_pour(book, plan.id)
        if latest is None:
            raise InputError("pour", "not there", "", "one whose day is corrected", "Omit --again.")
        _write(pour_lines(correct_day(book, latest.id, day, at=now)))


@book_app.command()
def note(
    what: What,
    text: Annotated[str, typer.Argument(metavar="TEXT", help="In your words.")],
    data: Data = None,
) -> None:
    """Keep a note on a piece."""
    from pourcast.book.days import keep_note
    from pourcast.book.store import open_book

    with open_book(data) as book:
        keep_note(book, find_piece(book, what), text, at=datetime.now(UTC))


@book_app.command()
def photo(
    what: What,
    file: Annotated[list[Path], typer.Argument(metavar="FILE...", help="PNG, JPEG or WebP.")],
    data: Data = None,
) -> None:
    """Keep photographs of a piece."""
    from pourcast.book.pictures import keep_photograph
    from pourcast.book.store import open_book

    contents = [(path.name, read_bytes(path)) for path in file]
    with open_book(data) as book:
        piece = find_piece(book, what)
        for name, content in contents:
            keep_photograph(book, content, name, piece_id=piece, at=datetime.now(UTC))


@book_app.command()
def scores(json: AsJson = False, data: Data = None) -> None:
    """Say how well past chances matched what came out."""
    from pourcast.book.history import history
    from pourcast.book.scores import score
    from pourcast.book.store import open_book
    from pourcast.cli.show_book import as_json, score_lines
    from pourcast.cli.signs import write_out

    with open_book(data) as book:
        kept = history(book)
    parts = score(kept.parts) if kept.parts else None
    wholes = score(kept.wholes) if kept.wholes else None
    if json:
        write_out(as_json({"too_late": kept.too_late, "parts": parts, "wholes": wholes}))
    else:
        _write(score_lines(kept, parts, wholes))


@book_app.command()
def export(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Empty, or a new one.")],
    csv: Annotated[bool, typer.Option("--csv", help="CSV for a spreadsheet as well.")] = False,
    data: Data = None,
) -> None:
    """Write the whole book as plain files."""
    from pourcast.book.export import export_book
    from pourcast.book.store import open_book

    with open_book(data) as book:
        rows = export_book(book, folder, at=datetime.now(UTC), as_csv=csv)
    _write([f"Wrote {sum(rows.values())} rows into {folder}"])


@book_app.command("import")
def import_(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Written by book export.")],
    merge: Annotated[
        bool, typer.Option("--merge", help="Into a book that holds something.")
    ] = False,
    data: Data = None,
) -> None:
    """Read an export back, with its ids."""
    from pourcast.book.store import open_book
    from pourcast.book.take_in import import_book

    with open_book(data) as book:
        rows = import_book(book, folder, merge=merge)
    _write([f"Took in {sum(rows.values())} rows from {folder}"])


def _write(lines: list[str]) -> None:
    from pourcast.cli.signs import write_out

    write_out("\n".join(lines) + "\n")
