"""Outcome: ask what came out of the mould, part by part, and put it into the book.

The forecast is shown only after the caster has told what was seen, so that it
does not lead the eye.
"""

import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pourcast.book.model import KeptPlan, PartOutcome, Pour
    from pourcast.book.store import Book

Data = Annotated[
    Path | None,
    typer.Option("--data", metavar="FOLDER", help="Folder of the book; left out: the system's."),
]
What = Annotated[
    str, typer.Argument(metavar="PIECE", help="Id or name of a piece, or its piece file.")
]


def outcome(
    what: What,
    part: Annotated[
        list[str] | None,
        typer.Option(help='Such as "bract=short 4 mm, 2 of 12"; parts not named are filled.'),
    ] = None,
    filled: Annotated[
        bool, typer.Option("--filled", help="All parts are filled; nothing is asked.")
    ] = False,
    sure: Annotated[
        str | None, typer.Option(metavar="WORD", help="guessed, fairly, sure or weighed.")
    ] = None,
    button: Annotated[
        str | None, typer.Option(metavar="WORD", help="full, sunk, porous or none.")
    ] = None,
    note: Annotated[str | None, typer.Option(help="In your words.")] = None,
    photo: Annotated[list[Path] | None, typer.Option(help="A PNG, JPEG or WebP picture.")] = None,
    poured: Annotated[
        str | None,
        typer.Option(
            metavar="DAY", help="Such as 2026-03-01; left out: as the book has it, else today."
        ),
    ] = None,
    seen: Annotated[
        str | None, typer.Option(metavar="DAY", help="Of the break-out; left out: today.")
    ] = None,
    again: Annotated[
        bool, typer.Option("--again", help="Correct the latest entry; the earlier one is kept.")
    ] = False,
    new_pour: Annotated[
        bool, typer.Option("--new-pour", help="Of the same plan, poured once more.")
    ] = False,
    data: Data = None,
) -> None:
    """Enter how a piece came out; without --part or --filled it asks."""
    from pourcast.book.outcomes import keep_first_outcome, keep_outcome, read_pour, revisions
    from pourcast.book.pictures import keep_photograph, kind_of
    from pourcast.book.plans import latest_plan
    from pourcast.book.store import open_book
    from pourcast.book.tell import lengths_mm, read_parts
    from pourcast.cli.show_book import outcome_lines, pour_lines
    from pourcast.cli.signs import write_out

    today = date.today()
    pictures = [(path.name, read_bytes(path)) for path in photo or []]
    for _, content in pictures:
        kind_of(content)  # refused before anything is kept
    with open_book(data) as book:
        plan = latest_plan(book, find_piece(book, what))
        pour = _pour(book, plan, again=again, new_pour=new_pour)
        counts = {each.name: each.count for each in plan.parts}
        day = read_day(seen, "day of the break-out", today)
        when = read_day(poured, "day of the pour", day if pour is None else pour.day)
        told: Sequence[PartOutcome]
        if part or filled:
            told = read_parts(part or [], counts, lengths=lengths_mm(plan))
        else:
            told = _ask_parts(plan)
            button = button or _ask_word("Button", ("full", "sunk", "porous", "none"), None)
            sure = sure or _ask_word("How sure", ("guessed", "fairly", "sure", "weighed"), "sure")
            note = _ask("In your words (Enter: nothing): ") if note is None else note
        entry: Any = {
            "seen": day,
            "at": datetime.now(UTC),
            "sure": sure or "sure",
            "button": button,
            "note": note or "",
        }
        if pour is None:
            kept = keep_first_outcome(book, plan.id, told, poured=when, **entry)
        else:
            kept = keep_outcome(book, pour.id, told, poured=when, **entry)
        for name, content in pictures:
            keep_photograph(
                book,
                content,
                name,
                piece_id=plan.piece_id,
                pour_id=kept.pour_id,
                at=datetime.now(UTC),
            )
        said = pour_lines(read_pour(book, kept.pour_id))
        said += outcome_lines(plan, revisions(book, kept.pour_id))
    write_out("\n".join(said) + "\n")


def find_piece(book: "Book", asked: str) -> str:
    """Return the id of a piece by id, by name, or by its piece file.

    Raises
    ------
    InputError
        If there is none, or more than one.
    """
    from pourcast.book.plans import pieces_named
    from pourcast.book.store import find_id
    from pourcast.book.tables import pieces
    from pourcast.cli.files import read_piece
    from pourcast.errors import InputError

    name = read_piece(asked).piece.name if asked.endswith(".toml") else asked
    found = pieces_named(book, name)
    if len(found) > 1:
        raise InputError("piece", name, "", f"one and not several: {', '.join(found)}")
    if found:
        return found[0]
    if asked.endswith(".toml"):
        hint = f"Keep its plan before the pour: pourcast book keep {asked}"
        raise InputError("piece", name, "", "one that stands in the book", hint)
    with book.reading() as connection:
        try:
            return find_id(connection, pieces, asked)
        except InputError as fault:
            must = f"the name of a piece in the book, or {fault.must}"
            hint = 'pourcast book list names them; one of several words stands in "quotes"'
            raise InputError("piece", asked[:40], "", must, hint) from None


def read_day(written: str | None, what: str, default: date) -> date:
    """Return a day such as 2026-03-01; None: the default."""
    from pourcast.errors import InputError

    if written is None:
        return default
    try:
        return date.fromisoformat(written)
    except ValueError:
        raise InputError(what, written, "", "a day such as 2026-03-01") from None


def read_bytes(path: Path) -> bytes:
    """Return the content of a picture that the book may keep."""
    from pourcast.book.pictures import MOST_BYTES
    from pourcast.cli.files import read_photograph

    return read_photograph(path, MOST_BYTES)


def _pour(book: "Book", plan: "KeptPlan", *, again: bool, new_pour: bool) -> "Pour | None":
    """Return the pour that the outcome is of; None: a new one."""
    from pourcast.book.outcomes import latest_pour, revisions
    from pourcast.errors import InputError

    latest = latest_pour(book, plan.id)
    if latest is None or new_pour:
        return None
    if revisions(book, latest.id) and not again:
        raise InputError(
            "pour",
            f"that of {latest.day}",
            "",
            "one without an outcome",
            "Correct what was entered with --again, or enter another pour with --new-pour.",
        )
    return latest


def _ask_parts(plan: "KeptPlan") -> "list[PartOutcome]":
    from pourcast.book.tell import MUST, lengths_mm, read_part
    from pourcast.book.words import SIGNS
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError
    from pourcast.page.figures import clean

    write_out(
        f"{clean(plan.piece_name)}: {len(plan.parts)} parts. Enter alone means filled.\n"
        f"Otherwise: {MUST}.\nA question mark lists the signs.\n"
    )
    told = []
    lengths = lengths_mm(plan)
    for part in plan.parts:
        while True:
            said = _ask(f"{clean(part.name)} ({part.count}): ")
            if said.strip() == "?":
                write_out("".join(f"  {sign:<10}{what}\n" for sign, what in SIGNS.items()))
                continue
            try:
                length = lengths.get(part.name)
                told.append(read_part(said, part.name, part.count, length_mm=length))
                break
            except InputError as fault:
                write_out(f"{clean(str(fault))}\n")
    return told


def _ask_word(question: str, words: tuple[str, ...], default: str | None) -> str | None:
    from pourcast.cli.signs import write_out

    while True:
        said = _ask(f"{question} ({', '.join(words)}; Enter: {default or 'not looked at'}): ")
        word = said.strip().lower()
        if not word:
            return default
        if word in words:
            return word
        write_out(f"Write one of {', '.join(words)}.\n")


def _ask(question: str) -> str:
    from pourcast.cli.signs import write_out
    from pourcast.errors import InputError

    write_out(question)
    line = sys.stdin.readline()
    if not line:
        raise InputError(
            "answer", "not there", "", "given for each part", "Nothing was kept. See --part."
        )
    return line.rstrip("\r\n")
