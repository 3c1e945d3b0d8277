"""Casting end: what the commands of all tests share: their options, keeping, saying."""

from datetime import UTC, date, datetime
from pathlib import Path
from typing import Annotated, Any

import typer

Keep = Annotated[bool, typer.Option("--keep", help="Put it into the book, to be learnt from.")]
Note = Annotated[str, typer.Option(help="In your words.")]
How = Annotated[bool, typer.Option("--how", help="How it is made, and what to mind; no work.")]


def end(
    kind: str,
    inputs: dict[str, Any],
    found: Any,
    said: list[str],
    keep: bool,
    note: str,
    json: bool,
    data: Path | None,
) -> None:
    """Keep a test if it is asked for, and write what came of it."""
    from pourcast.book.castings import keep_test, result_of
    from pourcast.book.store import open_book
    from pourcast.cli.show_book import as_json
    from pourcast.cli.signs import write_out
    from pourcast.page.words_learn import CAUTIONS

    result = result_of(said, found)
    after = "Not kept; add --keep to learn from it."
    if keep:
        now = datetime.now(UTC)
        with open_book(data) as book:
            kept = keep_test(
                book,
                kind,
                day=date.today(),
                at=now,
                inputs=inputs,
                result=result,
                note=note,
            )
        after = "Kept. Next: pourcast learn"
        if kept.created != now:
            after = (
                f"This very test was kept on {kept.created:%Y-%m-%d} and counts once; it was not "
                "kept again."
            )
    if json:
        write_out(as_json({"kind": kind, "kept": keep, **result}))
        return
    write_out("\n".join([*said, after, "", *CAUTIONS[kind]]) + "\n")


def how_to(kind: str) -> None:
    """Write how a test is made, and what to mind."""
    from pourcast.cli.signs import write_out
    from pourcast.page.words_learn import CAUTIONS, HOW

    write_out("\n".join([*HOW[kind], "", *CAUTIONS[kind]]) + "\n")
