"""The day of a pour: entered, else by the acts of its kiln day, else that of the kiln.

House rules.  A kiln that is lit on Friday evening for a pour on Saturday is common practice,
no source.
"""

import time
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

import pytest

from pourcast.book.day_entries import enter
from pourcast.book.kiln_days import begin_day
from pourcast.book.learning import to_learn_from
from pourcast.book.listing import list_pieces
from pourcast.book.model import KeptPlan, Pour
from pourcast.book.open_days import open_days
from pourcast.book.outcomes import (
    begin_pour,
    correct_day,
    keep_first_outcome,
    keep_outcome,
    latest_pour,
    note_pour,
    pours_of,
    read_pour,
    revisions,
)
from pourcast.book.store import Book
from pourcast.errors import InputError
from tests.book.conftest import AT, kept
from tests.book.test_learning import kept_fern

FRIDAY, SATURDAY, SUNDAY = date(2026, 3, 6), date(2026, 3, 7), date(2026, 3, 8)
LIT = datetime(2026, 3, 6, 19, 0, tzinfo=UTC)
POURED = datetime(2026, 3, 7, 9, 30, tzinfo=UTC)
NOW = datetime(2026, 3, 8, 12, 0, tzinfo=UTC)
"""When the outcome is told, on Sunday."""


@pytest.fixture(autouse=True)
def in_greenwich(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Take the calendar of one place, whatever this machine has."""
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.fixture
def pour(book: Book, plan: KeptPlan) -> Pour:
    """Light the kiln on Friday evening."""
    return begin_day(book, plan.id, start=LIT, at=LIT)


def type_in(book: Book, pour: Pour, line: str, at: datetime) -> None:
    enter(book, pour.id, line, now=at, zone=UTC, unit="degC")


def listed(book: Book) -> tuple[date | None, date | None]:
    (line,) = list_pieces(book)
    return line.poured, line.begun


def test_a_block_in_the_kiln_is_not_poured_and_has_the_day_of_its_kiln(
    book: Book, pour: Pour
) -> None:
    assert (pour.day, pour.lit, pour.stage) == (FRIDAY, FRIDAY, "in kiln")
    assert listed(book) == (None, FRIDAY)
    assert open_days(book, POURED) == (pour.id,)


def test_the_act_of_the_kiln_day_says_on_which_day_it_was_poured(book: Book, pour: Pour) -> None:
    type_in(book, pour, "poured", POURED)

    found = read_pour(book, pour.id)
    assert (found.day, found.lit, found.stage) == (SATURDAY, FRIDAY, "poured")
    assert listed(book) == (SATURDAY, None)
    assert open_days(book, POURED) == ()


def test_an_act_that_was_taken_back_says_nothing(book: Book, pour: Pour) -> None:
    type_in(book, pour, "poured", POURED)
    type_in(book, pour, "undo", POURED)

    assert read_pour(book, pour.id) == pour


def test_of_a_day_that_says_nothing_of_the_pour_that_of_the_kiln_is_taken(
    book: Book, pour: Pour
) -> None:
    keep_outcome(book, pour.id, [], seen=SUNDAY, at=NOW)

    assert listed(book) == (FRIDAY, None)
    assert open_days(book, LIT + timedelta(hours=20)) == ()


def test_the_day_that_is_entered_with_the_outcome_is_that_of_the_pour(
    book: Book, pour: Pour
) -> None:
    """Before, "Poured on" of the page was passed over and the command refused it."""
    keep_outcome(book, pour.id, [], seen=SUNDAY, at=NOW, poured=SATURDAY)

    found = read_pour(book, pour.id)
    assert (found.day, found.lit, found.days_entered) == (SATURDAY, FRIDAY, 1)
    assert listed(book) == (SATURDAY, None)


def test_what_was_entered_outweighs_the_act(book: Book, pour: Pour) -> None:
    type_in(book, pour, "poured", POURED)
    correct_day(book, pour.id, SUNDAY, at=NOW)

    assert read_pour(book, pour.id).day == SUNDAY


def test_a_correction_counts_and_what_stood_before_is_kept(book: Book, pour: Pour) -> None:
    keep_outcome(book, pour.id, [], seen=SUNDAY, at=NOW, poured=SATURDAY)
    keep_outcome(book, pour.id, [], seen=SUNDAY, at=NOW, poured=SUNDAY)
    last = correct_day(book, pour.id, SATURDAY, at=NOW)

    assert (last.day, last.days_entered) == (SATURDAY, 3)
    assert len(revisions(book, pour.id)) == 2


def test_the_same_day_once_more_is_no_entry(book: Book, pour: Pour) -> None:
    """As from a form that opens with the day that the book has."""
    type_in(book, pour, "poured", POURED)
    keep_outcome(book, pour.id, [], seen=SUNDAY, at=NOW, poured=SATURDAY)
    correct_day(book, pour.id, SATURDAY, at=NOW)

    assert read_pour(book, pour.id).days_entered == 0


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (FRIDAY - timedelta(days=1), "must be 2026-03-06, when the kiln was lit, or later"),
        (SUNDAY + timedelta(days=1), "must be 2026-03-08, which is today, or earlier"),
    ],
)
def test_a_day_that_cannot_be_is_refused_and_nothing_is_kept(
    book: Book, pour: Pour, day: date, said: str
) -> None:
    """Before the kiln was lit, or to come."""
    with pytest.raises(InputError, match=rf"day of the pour is {day}; it {said}\. \w+"):
        keep_outcome(book, pour.id, [], seen=SUNDAY + timedelta(days=1), at=NOW, poured=day)
    with pytest.raises(InputError, match=said):
        correct_day(book, pour.id, day, at=NOW)

    assert revisions(book, pour.id) == ()
    assert read_pour(book, pour.id) == pour


def test_a_new_pour_is_not_to_come_either(book: Book, plan: KeptPlan) -> None:
    monday = SUNDAY + timedelta(days=1)
    with pytest.raises(InputError, match="which is today, or earlier"):
        keep_first_outcome(book, plan.id, [], poured=monday, seen=monday, at=NOW)
    with pytest.raises(InputError, match="which is today, or earlier"):
        note_pour(book, plan.id, day=monday, at=NOW)

    assert pours_of(book, plan.id) == ()


def test_nothing_is_poured_after_its_break_out(book: Book, pour: Pour) -> None:
    keep_outcome(book, pour.id, [], seen=SATURDAY, at=NOW)

    with pytest.raises(InputError, match="2026-03-07, the day of the break-out, or earlier"):
        correct_day(book, pour.id, SUNDAY, at=NOW)
    with pytest.raises(InputError, match="day of the break-out is 2026-03-07"):
        keep_outcome(book, pour.id, [], seen=SATURDAY, at=NOW, poured=SUNDAY)
    keep_outcome(book, pour.id, [], seen=SUNDAY, at=NOW, poured=SUNDAY)
    assert read_pour(book, pour.id).day == SUNDAY


def test_a_pour_without_a_kiln_day_may_have_been_earlier_than_was_said(
    book: Book, plan: KeptPlan
) -> None:
    """Its first day was typed, or left out and taken as today."""
    pour = note_pour(book, plan.id, day=SUNDAY, at=NOW)

    assert (pour.lit, pour.stage) == (None, "poured")
    assert correct_day(book, pour.id, FRIDAY, at=NOW).day == FRIDAY


def test_to_note_a_pour_is_of_the_block_that_is_in_the_kiln(book: Book, pour: Pour) -> None:
    """Before, a second pour was made, and the piece stood in the kiln for good."""
    noted = note_pour(book, pour.plan_id, day=SATURDAY, at=NOW)
    another = note_pour(book, pour.plan_id, day=SUNDAY, at=NOW)

    assert (noted.id, noted.day, noted.stage) == (pour.id, SATURDAY, "poured")
    assert another.id != pour.id
    assert listed(book) == (SUNDAY, None)


def test_pours_stand_in_the_order_of_their_days(book: Book, pour: Pour) -> None:
    """The kiln was lit before the other piece was poured, and this one was poured after it."""
    other = begin_pour(book, pour.plan_id, day=SATURDAY, at=NOW)
    assert latest_pour(book, pour.plan_id) == other
    correct_day(book, pour.id, SUNDAY, at=NOW)

    found = pours_of(book, pour.plan_id)
    assert [(each.id, each.day) for each in found] == [(pour.id, SUNDAY), (other.id, SATURDAY)]


def test_what_is_learnt_from_has_the_day_of_the_pour_and_its_order(book: Book) -> None:
    """`learn` takes each pour as a day of its own; its name and place are by the day here."""
    first, second = kept_fern(book), kept_fern(book, at=AT + timedelta(seconds=1))
    late = begin_day(book, first.id, start=LIT, at=LIT)
    keep_outcome(book, late.id, [], seen=SUNDAY, at=NOW, poured=SUNDAY)
    keep_first_outcome(book, second.id, [], poured=SATURDAY, seen=SUNDAY, at=NOW)

    names = [each.name.partition(", ")[2] for each in to_learn_from(book).pours]

    assert names == ["poured 2026-03-07", "poured 2026-03-08"]


@pytest.mark.parametrize(
    ("zone", "day"), [("UTC", SATURDAY), ("Pacific/Auckland", SUNDAY), ("America/Denver", SATURDAY)]
)
def test_the_day_of_an_act_is_that_of_the_calendar_here(
    book: Book, plan: KeptPlan, monkeypatch: pytest.MonkeyPatch, zone: str, day: date
) -> None:
    """Noon in Greenwich is the next morning in Auckland (13 h ahead in March; from memory)."""
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    here = LIT.astimezone()
    pour = begin_day(book, plan.id, start=here, at=here)
    type_in(book, pour, "poured", POURED + timedelta(hours=3))

    assert read_pour(book, pour.id).day == day


def test_an_act_never_makes_the_pour_earlier_than_its_kiln(book: Book) -> None:
    """The kiln was lit by the clock of Auckland, and the book is read in Greenwich."""
    there = datetime.fromisoformat("2026-03-07T08:00+13:00")
    pour = begin_day(book, kept(book).id, start=there, at=there)
    type_in(book, pour, "poured", there + timedelta(hours=3))

    assert read_pour(book, pour.id).day == SATURDAY
