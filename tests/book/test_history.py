"""Only a forecast that was kept before the outcome was known is held against it."""

from collections import Counter
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pourcast.book.history import history, kept_before, stamp, trials_of, whole_trial_of
from pourcast.book.model import Outcome, PartOutcome
from pourcast.book.outcomes import keep_first_outcome, keep_outcome, pours_of, revisions
from pourcast.book.scores import Trial
from pourcast.book.store import Book, open_book
from tests.book.conftest import AT, DAY, LATER, kept

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


STATES = ("filled", "short", "missing", "not seen")
_pours = st.lists(
    st.tuples(
        st.sampled_from((0.0, 0.5, 0.5 + 2**-40, 1.0)),
        st.sampled_from((20, 400)),
        st.booleans(),
        st.lists(st.lists(st.sampled_from(STATES), min_size=2, max_size=2), min_size=1, max_size=3),
    ),
    max_size=6,
)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(pours=_pours)
def test_book_counts_as_one_who_reads_pour_after_pour(
    tmp_path_factory: pytest.TempPathFactory,
    pours: list[tuple[float, int, bool, list[list[str]]]],
) -> None:
    """The plain way: each pour by itself, its parts one after the other."""
    folder = tmp_path_factory.mktemp("book")
    parts: Counter[tuple[float, int, bool]] = Counter()
    wholes: Counter[tuple[float, int, bool]] = Counter()
    too_late = 0
    with open_book(folder) as book:
        begun = stamp(book)
        for number, (chance, draws, is_late, told) in enumerate(pours):
            at = LATER + timedelta(days=9) if is_late else AT
            chances = {"stem": chance, "bract": 0.7}
            plan = kept(book, at=at, name=f"{number}", chances=chances, draws=draws)
            entered: tuple[Outcome, ...] = ()
            for k, states in enumerate(told):
                seen = [
                    PartOutcome(part=part, state=state)  # type: ignore[arg-type]
                    for part, state in zip(chances, states, strict=True)
                ]
                later = LATER + timedelta(hours=k)
                if entered:
                    keep_outcome(book, entered[-1].pour_id, seen, seen=DAY, at=later)
                else:
                    keep_first_outcome(book, plan.id, seen, poured=DAY, seen=DAY, at=later)
                entered = revisions(book, pours_of(book, plan.id)[0].id)
            alone, whole = trials_of(plan, entered), whole_trial_of(plan, entered)
            too_late += is_late
            parts.update((each.chance, each.draws, each.came) for each in alone)
            wholes.update([(whole.chance, whole.draws, whole.came)] if whole else [])
        found = history(book)

        assert (stamp(book) != begun) == bool(pours)

    assert {(each.chance, each.draws, each.came): each.times for each in found.parts} == parts
    assert {(each.chance, each.draws, each.came): each.times for each in found.wholes} == wholes
    assert found.too_late == too_late


def test_more_late_plans_than_are_asked_for_in_one_go_are_left_out(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("pourcast.book.history._AT_ONCE", 2)
    for number in range(5):
        plan = kept(book, at=LATER + timedelta(days=9), name=f"{number}")
        keep_first_outcome(book, plan.id, [SHORT], poured=DAY, seen=DAY, at=LATER)
    good = kept(book, name="in time")
    keep_first_outcome(book, good.id, [SHORT], poured=DAY, seen=DAY, at=LATER)

    found = history(book)

    assert found.too_late == 5
    assert sum(each.times for each in found.parts) == 2
