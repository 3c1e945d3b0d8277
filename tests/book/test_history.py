"""Only a forecast that was kept before the outcome was known is held against it."""

from datetime import UTC, date, datetime, timedelta

import pytest

from pourcast.book.history import history, kept_before, trials_of, whole_trial_of
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import keep_first_outcome, keep_outcome, pours_of, revisions
from pourcast.book.scores import Trial
from pourcast.book.store import Book
from tests.book.conftest import DAY, LATER, kept

SHORT = PartOutcome(part="bract", state="short")
UNSEEN = PartOutcome(part="bract", state="not seen")


def test_parts_and_wholes_of_a_pour_are_trials(book: Book) -> None:
    plan = kept(book)
    keep_first_outcome(book, plan.id, [SHORT], poured=DAY, seen=DAY, at=LATER)

    found = history(book)

    assert found.parts == (
        Trial(chance=0.99, draws=400, came=True),
        Trial(chance=0.7, draws=400, came=False),
    )
    assert found.wholes == (Trial(chance=0.6, draws=400, came=False),)
    assert found.too_late == 0


def test_plan_that_was_kept_after_the_outcome_counts_for_nothing(book: Book) -> None:
    """Made to fail: a plan that knows the outcome."""
    plan = kept(book, at=LATER)
    keep_first_outcome(book, plan.id, [SHORT], poured=DAY, seen=LATER.date(), at=LATER)
    late = kept(book, at=LATER + timedelta(days=9), name="late")
    keep_first_outcome(book, late.id, [], poured=DAY, seen=DAY, at=LATER + timedelta(days=10))

    found = history(book)

    assert (found.parts, found.wholes, found.too_late) == ((), (), 2)
    for each in (plan, late):
        entries = revisions(book, pours_of(book, each.id)[0].id)
        assert len(entries) == 1
        assert trials_of(each, entries) == ()
        assert whole_trial_of(each, entries) is None


def test_correction_does_not_make_a_late_plan_an_early_one(book: Book) -> None:
    """The first entry of a pour tells when its outcome was known."""
    plan = kept(book, at=LATER)
    first = keep_first_outcome(
        book, plan.id, [SHORT], poured=DAY, seen=LATER.date(), at=LATER - timedelta(hours=1)
    )
    keep_outcome(book, first.pour_id, [], seen=LATER.date(), at=LATER + timedelta(days=3))

    assert history(book).too_late == 1
    assert trials_of(plan, revisions(book, first.pour_id)) == ()


def test_latest_entry_of_a_pour_is_the_one_that_counts(book: Book) -> None:
    plan = kept(book)
    first = keep_first_outcome(book, plan.id, [SHORT], poured=DAY, seen=DAY, at=LATER)
    keep_outcome(book, first.pour_id, [], seen=DAY, at=LATER + timedelta(hours=1))

    found = history(book)

    assert [trial.came for trial in found.parts] == [True, True]
    assert found.parts == trials_of(plan, revisions(book, first.pour_id))
    assert found.wholes == (whole_trial_of(plan, revisions(book, first.pour_id)),)


def test_part_that_was_not_seen_counts_for_nothing(book: Book) -> None:
    plan = kept(book)
    first = keep_first_outcome(book, plan.id, [UNSEEN], poured=DAY, seen=DAY, at=LATER)

    found = history(book)

    assert len(found.parts) == 1
    assert found.wholes == ()
    assert whole_trial_of(plan, revisions(book, first.pour_id)) is None


def test_part_that_is_short_settles_the_whole_though_another_was_not_seen(book: Book) -> None:
    plan = kept(book)
    short = PartOutcome(part="stem", state="short")
    first = keep_first_outcome(book, plan.id, [short, UNSEEN], poured=DAY, seen=DAY, at=LATER)

    assert [trial.came for trial in history(book).wholes] == [False]
    assert history(book).wholes == (whole_trial_of(plan, revisions(book, first.pour_id)),)


@pytest.mark.parametrize(
    ("hour", "before"),
    [(-24, True), (11, True), (36, False)],
)
def test_day_of_the_break_out_ends_when_it_has_ended_everywhere(hour: int, before: bool) -> None:
    """A day lasts until noon of the next in universal time at 12 hours west."""
    created = datetime(2026, 3, 3, tzinfo=UTC) + timedelta(hours=hour)

    assert kept_before(created, created + timedelta(days=9), date(2026, 3, 2)) is before
