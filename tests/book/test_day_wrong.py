"""A kiln day that was begun on the wrong piece: taken back as a whole, kept, and set right again.

House rules: nothing that was entered is lost, and the last word counts.
"""

from datetime import UTC, datetime, timedelta

import pytest

from pourcast.book.day_entries import enter
from pourcast.book.day_kiln import days_ended, kiln_before
from pourcast.book.day_wrong import call_day_right, call_day_wrong, kiln_days_of
from pourcast.book.days import readings_of
from pourcast.book.kiln_days import begin_day, day_begun, day_log, events_of, keep_event
from pourcast.book.listing import list_pieces
from pourcast.book.model import KeptPlan, Pour
from pourcast.book.open_days import open_days
from pourcast.book.outcomes import begin_pour, keep_outcome, latest_pour, note_pour, pours_of
from pourcast.book.store import Book
from pourcast.day.kilns import plain_kiln
from pourcast.errors import InputError
from pourcast.materials import library
from tests.book.conftest import kept

START = datetime(2026, 3, 6, 5, 0, tzinfo=UTC)
LATER = START + timedelta(hours=4)


@pytest.fixture
def pour(book: Book) -> Pour:
    """Begin a day, read the kiln and turn it."""
    made = begin_day(book, kept(book).id, start=START, at=START)
    type_in(book, made, "turned to 2")
    type_in(book, made, "240 C")
    return made


def type_in(book: Book, pour: Pour, line: str, at: datetime = LATER) -> None:
    enter(book, pour.id, line, now=at, zone=UTC, unit="degC")


def test_the_piece_stands_as_before_and_the_right_one_can_begin(book: Book, pour: Pour) -> None:
    other = kept(book, name="Fern")
    type_in(book, pour, "wrong day")
    right = begin_day(book, other.id, start=START, at=LATER)

    lines = {line.name: (line.poured, line.begun) for line in list_pieces(book)}
    assert lines == {"Teasel head": (None, None), "Fern": (None, START.date())}
    assert open_days(book, LATER) == (right.id,)
    assert latest_pour(book, pour.plan_id) is None
    assert pours_of(book, pour.plan_id) == ()
    assert day_begun(book, pour.plan_id, START) is None


def test_a_second_day_begun_by_mistake_hides_not_the_first(book: Book, pour: Pour) -> None:
    """The block of the first is in the kiln all the while."""
    second = begin_day(book, pour.plan_id, start=START + timedelta(days=1), at=LATER)
    type_in(book, second, "wrong day")

    (line,) = list_pieces(book)
    assert (line.poured, line.begun) == (None, START.date())


def test_all_of_it_stays_in_the_book(book: Book, pour: Pour) -> None:
    type_in(book, pour, "wrong piece")

    (kept_one,) = pours_of(book, pour.plan_id, all_of_them=True)
    assert (kept_one.id, kept_one.stage) == (pour.id, "by mistake")
    acts = [event.act for event in events_of(book, pour.id, all_of_them=True)]
    assert sorted(acts) == ["began", "taken back", "turned"]
    assert [each.value for each in readings_of(book, pour.id)] == [240.0]


def test_nothing_more_is_entered_of_it(book: Book, pour: Pour) -> None:
    """As from a phone that was out of reach when it was said."""
    type_in(book, pour, "wrong day")

    for line in ("250 C", "poured", "right", "undo"):
        with pytest.raises(InputError, match="this day is begun by mistake"):
            type_in(book, pour, line)
    assert len(readings_of(book, pour.id)) == 1


def test_said_to_be_right_it_counts_again_with_all_that_was_entered(book: Book, pour: Pour) -> None:
    before = day_log(book, pour.id)
    for line in ("wrong day", "right day", "wrong day", "right day", "right day"):
        type_in(book, pour, line)

    assert day_log(book, pour.id) == before
    assert latest_pour(book, pour.plan_id) == pour
    assert open_days(book, LATER) == (pour.id,)
    acts = [event.act for event in events_of(book, pour.id, all_of_them=True)]
    assert sorted(acts) == ["began"] * 3 + ["taken back"] * 2 + ["turned"]


def test_twice_is_once(book: Book, pour: Pour) -> None:
    for _ in range(3):
        call_day_wrong(book, pour.id, at=LATER)

    acts = [event.act for event in events_of(book, pour.id, all_of_them=True)]
    assert acts.count("taken back") == 1


@pytest.mark.parametrize("act", ["poured", "quenched"])
def test_what_was_poured_was_begun(book: Book, pour: Pour, act: str) -> None:
    """The act itself can be taken back; then the day can."""
    type_in(book, pour, act, LATER + timedelta(hours=1))
    with pytest.raises(InputError, match=r"that of 2026-03-06, which was poured.*undo"):
        type_in(book, pour, "wrong day")
    assert latest_pour(book, pour.plan_id) is not None

    type_in(book, pour, "undo")
    type_in(book, pour, "wrong day")
    assert latest_pour(book, pour.plan_id) is None


def test_what_came_out_or_has_a_day_of_its_pour_was_begun(book: Book, pour: Pour) -> None:
    told = begin_day(book, pour.plan_id, start=START + timedelta(hours=1), at=LATER)
    keep_outcome(book, told.id, [], seen=START.date(), at=LATER)
    note_pour(book, pour.plan_id, day=START.date(), at=LATER)

    for each in (told, pour):
        with pytest.raises(InputError, match="which was poured"):
            call_day_wrong(book, each.id, at=LATER)


def test_a_pour_without_a_kiln_day_has_none_to_take_back(book: Book, plan: KeptPlan) -> None:
    pour = begin_pour(book, plan.id, day=START.date(), at=START)

    for call in (call_day_wrong, call_day_right):
        with pytest.raises(InputError, match="one with a kiln day"):
            call(book, pour.id, at=LATER)


def test_it_teaches_nothing_of_the_kiln(book: Book, pour: Pour) -> None:
    """A block of another mass was in it."""
    type_in(book, pour, "sealed")
    assert [day[0] for day in days_ended(book)] == [pour.id]
    type_in(book, pour, "wrong day")

    assert days_ended(book) == ()
    assert kiln_before(book, LATER, plain_kiln(library().kiln, 5, 293.15)) is None


def test_days_of_a_piece_are_found_with_those_begun_by_mistake(book: Book, pour: Pour) -> None:
    type_in(book, pour, "wrong day")
    later = begin_day(book, pour.plan_id, start=LATER, at=LATER)
    (line,) = list_pieces(book)

    found = [(each.id, each.stage, at) for each, at in kiln_days_of(book, line.id)]

    assert found == [(later.id, "in kiln", LATER), (pour.id, "by mistake", START)]


def test_an_act_that_is_taken_back_leaves_the_beginning(book: Book, pour: Pour) -> None:
    """House rule: `undo` goes no further than the acts."""
    type_in(book, pour, "undo")
    with pytest.raises(InputError, match="act of this day"):
        type_in(book, pour, "undo")
    keep_event(book, pour.id, "out", at=LATER, entered=LATER)

    assert latest_pour(book, pour.plan_id) == pour
