"""Outcomes: kept part by part, superseded and never erased."""

from dataclasses import replace
from datetime import timedelta

import pytest

from pourcast.book.model import KeptPlan, PartOutcome
from pourcast.book.outcomes import (
    begin_pour,
    came,
    keep_first_outcome,
    keep_outcome,
    pours_of,
    read_pour,
    revisions,
)
from pourcast.book.store import Book
from pourcast.errors import InputError
from tests.book.conftest import AT, DAY, LATER

SHORT = PartOutcome(
    part="bract",
    state="short",
    members_short=2,
    short_by_mm=4.0,
    signs=(("flashing", "many"), ("porosity", "some")),
    note="stops clean",
)


def test_outcome_comes_back_with_every_part_of_the_piece(book: Book, plan: KeptPlan) -> None:
    """House rule: what is not told counts as filled, in the order of the piece file."""
    pour = begin_pour(book, plan.id, day=DAY, at=AT)

    kept = keep_outcome(
        book, pour.id, [SHORT], seen=DAY, at=LATER, sure="fairly", button="sunk", note="cut by saw"
    )

    assert kept.parts == (PartOutcome(part="stem"), SHORT)
    assert (kept.sure, kept.button, kept.note) == ("fairly", "sunk", "cut by saw")
    assert (kept.seen, kept.created, kept.revision) == (DAY, LATER, 1)
    assert read_pour(book, pour.id[:6]) == pour


def test_later_entry_counts_and_the_earlier_one_stays(book: Book, plan: KeptPlan) -> None:
    pour = begin_pour(book, plan.id, day=DAY, at=AT)
    first = keep_outcome(book, pour.id, [SHORT], seen=DAY, at=LATER)
    second = keep_outcome(book, pour.id, [], seen=DAY, at=LATER + timedelta(hours=1))

    assert revisions(book, pour.id) == (first, second)
    assert second.revision == 2
    assert second.first_created == first.created
    assert came(first.parts) == "short"
    assert came(second.parts) == "whole"


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ([PartOutcome(part="petal")], "one of stem, bract"),
        ([PartOutcome(part="stem"), PartOutcome(part="stem")], "each part told once"),
        ([replace(SHORT, members_short=13)], "1 to 12"),
        ([replace(SHORT, filled_share=1.0)], "below 1"),
        ([replace(SHORT, filled_share=float("nan"))], "finite"),
        ([replace(SHORT, short_by_mm=float("inf"))], "finite"),
        ([replace(SHORT, short_by_mm=-1.0)], "0 to 10000"),
        ([PartOutcome(part="stem", short_by_mm=2.0)], "short or missing"),
        ([replace(SHORT, signs=(("porosity", "some"), ("porosity", "many")))], "told once"),
        ([replace(SHORT, signs=(("sparkle", "some"),))], "one of porosity"),
        ([replace(SHORT, signs=(("dirt", "lots"),))], "one of some, many"),
        ([replace(SHORT, state="melted")], "one of filled"),  # type: ignore[arg-type]
    ],
)
def test_outcome_that_cannot_be_is_refused_whole(
    book: Book, plan: KeptPlan, parts: list[PartOutcome], said: str
) -> None:
    with pytest.raises(InputError, match=said):
        keep_first_outcome(book, plan.id, parts, poured=DAY, seen=DAY, at=LATER)

    assert pours_of(book, plan.id) == ()


@pytest.mark.parametrize("wrong", [{"sure": "maybe"}, {"button": "round"}])
def test_words_of_the_whole_outcome_are_checked(
    book: Book, plan: KeptPlan, wrong: dict[str, str]
) -> None:
    with pytest.raises(InputError, match="one of"):
        keep_first_outcome(book, plan.id, [], poured=DAY, seen=DAY, at=LATER, **wrong)


def test_nothing_is_seen_before_it_is_poured(book: Book, plan: KeptPlan) -> None:
    before = DAY - timedelta(days=1)
    with pytest.raises(InputError, match="day of the break-out"):
        keep_first_outcome(book, plan.id, [], poured=DAY, seen=before, at=LATER)


@pytest.mark.parametrize(
    ("states", "word"),
    [
        (("filled", "filled"), "whole"),
        (("filled", "not seen"), "not seen"),
        (("short", "not seen"), "short"),
        (("short", "missing"), "missing"),
    ],
)
def test_one_word_for_the_whole_piece(states: tuple[str, ...], word: str) -> None:
    parts = [PartOutcome(part=str(k), state=state) for k, state in enumerate(states)]  # type: ignore[arg-type]

    assert came(parts) == word
