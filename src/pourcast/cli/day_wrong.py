"""Day wrong: say that a kiln day was begun by mistake, or that it was none after all."""

from datetime import UTC, datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from pourcast.cli.day_start import read_start
from pourcast.cli.outcome import find_piece
from pourcast.cli.runsheet import read_zone
from pourcast.cli.signs import write_out
from pourcast.errors import InputError

if TYPE_CHECKING:
    from pourcast.book.model import Pour

_STAGE = {"wrong": "in kiln", "right": "by mistake"}
"""Which days are meant where no start names one."""


def say_of_day(
    what: str,
    word: Literal["wrong", "right"],
    *,
    start: str | None,
    zone: str | None,
    data: Path | None,
) -> None:
    """Keep what is said of a whole kiln day, and say so.

    Parameters
    ----------
    what : str
        Piece file, name or id of the piece.
    word : {"wrong", "right"}
    start : str or None
        When its block went in; None: the piece has one such day.
    zone : str or None
        Of the start.
    data : Path or None
        Folder of the book.

    Raises
    ------
    InputError
        If there is no such day, there are several, or it was poured.
    """
    from pourcast.book.day_wrong import call_day_right, call_day_wrong, kiln_days_of
    from pourcast.book.store import open_book
    from pourcast.page.words_day import OF_THE_DAY

    place = read_zone(zone)
    began = None if start is None else read_start(start, place)
    with open_book(data) as book:
        days = kiln_days_of(book, find_piece(book, what))
        pour = _chosen(days, word, began, place)
        call = call_day_wrong if word == "wrong" else call_day_right
        call(book, pour.id, at=datetime.now(UTC))
    write_out(f"Kept: {OF_THE_DAY[word]}.\n")


def _chosen(
    days: "tuple[tuple[Pour, datetime], ...]",
    word: str,
    began: datetime | None,
    zone: tzinfo | None,
) -> "Pour":
    """Return the one day that is meant; of one that is named the book says what is amiss."""
    fitting = [
        (pour, at)
        for pour, at in days
        if (pour.stage == _STAGE[word] if began is None else at == began)
    ]
    if len(fitting) == 1:
        return fitting[0][0]
    shown = [f"{at.astimezone(zone):%Y-%m-%d %H:%M}" for _, at in fitting or days]
    if fitting:
        raise InputError(
            "kiln day",
            ", ".join(shown),
            "",
            "one and not several",
            f'Name it with --start "{shown[0]}".',
        )
    must = "one of this piece that is in the kiln"
    if word == "right":
        must = "one of this piece that was called wrong"
    hint = f"Its days began: {', '.join(shown)}." if shown else "It has no kiln day."
    asked = "not there" if began is None else f"{began.astimezone(zone):%Y-%m-%d %H:%M}"
    raise InputError("kiln day", asked, "", must, hint)
