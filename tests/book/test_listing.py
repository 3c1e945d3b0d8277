"""The list of pieces: what is in the kiln has not been poured. House rules."""

from datetime import UTC, datetime, timedelta

import pytest

from pourcast.book.kiln_days import begin_day, keep_event
from pourcast.book.listing import list_pieces
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import begin_pour, keep_outcome
from pourcast.book.store import Book
from tests.book.conftest import kept

START = datetime(2026, 12, 5, 5, 0, tzinfo=UTC)
DAY = START.date()


def act(book: Book, pour_id: str, name: str) -> None:
    keep_event(book, pour_id, name, at=START + timedelta(hours=9), entered=START)


def test_a_piece_in_the_kiln_is_not_poured(book: Book) -> None:
    pour = begin_day(book, kept(book).id, start=START, at=START)
    act(book, pour.id, "out")

    (line,) = list_pieces(book)

    assert (line.poured, line.begun, line.came) == (None, DAY, None)


@pytest.mark.parametrize("name", ["poured", "quenched"])
def test_once_it_is_said_to_be_poured_it_is(book: Book, name: str) -> None:
    pour = begin_day(book, kept(book).id, start=START, at=START)
    act(book, pour.id, name)

    (line,) = list_pieces(book)

    assert (line.poured, line.begun) == (DAY, None)


def test_a_pour_that_was_taken_back_is_none(book: Book) -> None:
    pour = begin_day(book, kept(book).id, start=START, at=START)
    made = keep_event(book, pour.id, "poured", at=START, entered=START)
    keep_event(book, pour.id, "taken back", at=START, entered=START, takes_back=made.id)

    (line,) = list_pieces(book)

    assert (line.poured, line.begun) == (None, DAY)


def test_what_came_out_of_it_was_poured_though_nobody_said_so(book: Book) -> None:
    pour = begin_day(book, kept(book).id, start=START, at=START)
    keep_outcome(book, pour.id, [PartOutcome(part="bract", state="missing")], seen=DAY, at=START)

    (line,) = list_pieces(book)

    assert (line.poured, line.begun, line.came) == (DAY, None, "missing")


def test_an_earlier_pour_stays_beside_a_new_day_in_the_kiln(book: Book) -> None:
    plan = kept(book)
    before = begin_pour(book, plan.id, day=DAY - timedelta(days=3), at=START)
    keep_outcome(book, before.id, [], seen=DAY, at=START)
    begin_day(book, plan.id, start=START, at=START)

    (line,) = list_pieces(book)

    assert (line.poured, line.begun) == (DAY - timedelta(days=3), DAY)
    assert line.came == "whole"
