"""What a book holds to learn from, and which calibration holds now; house rules."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa
from hypothesis import given

from pourcast.book import tables
from pourcast.book.calibrations import (
    active_calibration,
    acts,
    holds,
    keep_act,
    keep_learnt,
    last_reset,
)
from pourcast.book.castings import castings_of, keep_test
from pourcast.book.faults import KeptForGoodError
from pourcast.book.learning import part_seen, to_learn_from
from pourcast.book.model import KeptPlan, PartOutcome
from pourcast.book.outcomes import keep_first_outcome
from pourcast.book.plans import keep_plan
from pourcast.book.store import Book
from pourcast.errors import InputError
from pourcast.forecast.model import Calibration, Override
from pourcast.learn.model import Learnt
from pourcast.sheet import read_plan
from tests.book.conftest import AT, DAY, LATER, made_up
from tests.book.strategies import part_outcomes

SHEET = (Path(__file__).parents[2] / "examples" / "fern_crozier.toml").read_text(encoding="utf-8")
HOUR = timedelta(hours=1)
MEASURED = {
    "key": "kiln.free_water_kept", "value": 0.9, "error": 0.02, "relative": False, "name": "block",
}  # fmt: skip


def kept_fern(book: Book, at: object = AT, sheet: str = SHEET) -> KeptPlan:
    """Keep a real sheet with a made-up forecast of its parts."""
    plan = read_plan(SHEET)
    document = made_up(chances={part.name: 0.9 for part in plan.piece.parts})
    for part, told in zip(plan.piece.parts, document["fill"]["parts"], strict=True):
        told["count"] = part.count
    return keep_plan(
        book, sheet=sheet, file_name="fern.toml", document=document, alloy="si_bronze_c87300",
        powder="gypsum_silica", at=at,  # type: ignore[arg-type]
    )  # fmt: skip


def learnt(value: float = 1.5) -> Learnt:
    """Return something that was learnt of one value."""
    override = Override(
        key="pour.film_factor", value=value, low=1.2, high=1.8, source="learnt here"
    )
    return Learnt(
        calibration=Calibration(name="learnt here from 1 outcome", overrides=(override,)),
        values=(), outcomes=1, tests=0, draws=100, effective=50.0, first_effective=9.0,
        rounds=1, odd={"1: fern": 0.02}, findings=(),
    )  # fmt: skip


def test_only_what_was_kept_before_its_outcome_is_learnt_from(book: Book) -> None:
    early, late = kept_fern(book), kept_fern(book, at=LATER + HOUR)
    short = read_plan(SHEET).piece.parts[-1].name
    told = [PartOutcome(part=short, state="short")]
    for plan in (early, late):
        keep_first_outcome(book, plan.id, told, poured=DAY, seen=DAY, at=LATER, sure="fairly")

    held = to_learn_from(book)

    assert len(held.pours) == 1
    assert held.pours[0].plan == read_plan(SHEET)
    assert held.pours[0].sure == 0.8
    assert [part.name for part in held.pours[0].parts if not part.full] == [short]
    assert len(held.left_out) == 1
    assert "after the outcome was known" in held.left_out[0]


def test_sheet_that_cannot_be_read_any_more_and_a_pour_nobody_looked_at_are_named(
    book: Book,
) -> None:
    plan = kept_fern(book, sheet="name = ")
    keep_first_outcome(book, plan.id, [], poured=DAY, seen=DAY, at=LATER)
    blind = kept_fern(book)
    unseen = [PartOutcome(part=part.name, state="not seen") for part in blind.parts]
    keep_first_outcome(book, blind.id, unseen, poured=DAY, seen=DAY, at=LATER)

    held = to_learn_from(book)

    assert held.pours == ()
    assert ["cannot be read" in line for line in held.left_out].count(True) == 1
    assert ["no part of it was looked at" in line for line in held.left_out].count(True) == 1


def test_after_a_reset_only_later_entries_count(book: Book) -> None:
    first, second = kept_fern(book), kept_fern(book)
    keep_first_outcome(book, first.id, [], poured=DAY, seen=DAY, at=LATER)
    keep_test(book, "block", day=DAY, at=LATER, inputs={}, result={"measured": [MEASURED]})
    assert len(to_learn_from(book).measured) == 1
    keep_act(book, "reset", at=LATER + HOUR)

    assert to_learn_from(book).pours == ()
    assert to_learn_from(book).measured == ()
    assert last_reset(book) == LATER + HOUR
    keep_first_outcome(book, second.id, [], poured=DAY, seen=DAY, at=LATER + 2 * HOUR)
    assert len(to_learn_from(book).pours) == 1


def test_last_act_decides_what_holds_and_every_act_stays(book: Book) -> None:
    assert active_calibration(book) is None
    made = keep_learnt(book, learnt(), at=AT)
    used = active_calibration(book)
    assert used is not None
    assert used.name == made.name
    assert made.id[:6] in made.name
    assert used.overrides == (replace(learnt().calibration.overrides[0], source=made.name),)  # type: ignore[union-attr]

    keep_act(book, "off", at=AT + HOUR)
    assert active_calibration(book) is None
    assert holds(book) == (made, False)
    keep_act(book, "on", at=AT + 2 * HOUR)
    assert active_calibration(book) == used
    keep_act(book, "reset", at=AT + 3 * HOUR)
    assert holds(book) == (None, True)

    assert [each.act for each in acts(book)] == ["learnt", "off", "on", "reset"]
    assert acts(book)[0] == made


def test_nothing_learnt_gives_no_calibration(book: Book) -> None:
    keep_learnt(book, replace(learnt(), calibration=None), at=AT)

    assert active_calibration(book) is None


@pytest.mark.parametrize("table", [tables.calibrations, tables.tests])
def test_what_was_learnt_is_never_rewritten(book: Book, table: sa.Table) -> None:
    """House rule, refused by the program and by the database itself."""
    keep_act(book, "off", at=AT)
    keep_test(book, "block", day=DAY, at=AT, inputs={}, result={})
    with pytest.raises(KeptForGoodError), book.writing() as connection:
        connection.execute(table.delete())
    with pytest.raises(Exception, match="kept for good"), book.writing() as connection:
        connection.exec_driver_sql(f"UPDATE {table.name} SET created = 'x'")


def test_test_is_kept_with_what_went_in(book: Book) -> None:
    kept = keep_test(
        book, "pull-down", day=DAY, at=AT, inputs={"air_kPa": 101.3}, result={"said": ["x"]},
        note="hose mended",
    )  # fmt: skip
    keep_test(book, "day", day=DAY, at=LATER, inputs={"log": "a"}, result={})

    assert castings_of(book, "pull-down") == (kept,)
    assert kept.inputs == {"air_kPa": 101.3}
    assert [each.kind for each in castings_of(book)] == ["pull-down", "day"]
    with pytest.raises(InputError, match="kind"):
        keep_test(book, "tea leaves", day=DAY, at=AT, inputs={}, result={})
    with pytest.raises(InputError, match="finite"):
        keep_test(book, "day", day=DAY, at=AT, inputs={"x": float("nan")}, result={})
    with pytest.raises(InputError, match="off, on or reset"):
        keep_act(book, "burn", at=AT)


def test_same_readings_count_once_until_they_are_reset(book: Book) -> None:
    """A log that is kept twice would make the kiln surer than it is known."""
    inputs = {"log": "time,temperature_C\n0,20"}
    first = keep_test(book, "day", day=DAY, at=AT, inputs=inputs, result={})
    again = keep_test(book, "day", day=DAY + timedelta(days=1), at=LATER, inputs=inputs, result={})
    other = keep_test(book, "day", day=DAY, at=LATER, inputs={"log": "other"}, result={})

    assert again == first
    assert other.id != first.id
    keep_act(book, "reset", at=LATER + HOUR)
    anew = keep_test(book, "day", day=DAY, at=LATER + 2 * HOUR, inputs=inputs, result={})
    assert anew.id != first.id


def test_same_weighings_on_another_day_are_another_block(book: Book) -> None:
    inputs = {"set_g": 2900.0, "kiln_g": 2500.0}
    first = keep_test(book, "block", day=DAY, at=AT, inputs=inputs, result={})

    assert keep_test(book, "block", day=DAY, at=LATER, inputs=inputs, result={}) == first
    other = keep_test(
        book, "block", day=DAY + timedelta(days=1), at=LATER, inputs=inputs, result={}
    )
    assert other.id != first.id


@pytest.mark.parametrize(
    ("told", "half", "low", "high"),
    [
        (PartOutcome(part="leaf", state="short", members_short=3), True, 0.0, 1.0),
        (PartOutcome(part="leaf", state="short", members_short=4), False, 0.0, 1.0),
        (PartOutcome(part="leaf", state="missing", members_short=6), False, 0.0, 1.0),
        (PartOutcome(part="leaf", state="missing"), None, 0.0, 0.25),
        (PartOutcome(part="leaf", state="short", filled_share=0.7), None, 0.6, 0.8),
        (PartOutcome(part="leaf", state="short", short_by_mm=4.0), None, 0.0, 1.0),
    ],
)
def test_outcome_becomes_a_range_of_what_is_there(
    told: PartOutcome, half: bool | None, low: float, high: float
) -> None:
    """By hand, of six members of 20 mm: three short leave half of them whole."""
    seen = part_seen(told, 6, 20.0)

    assert not seen.full
    assert seen.half_of_members == half
    assert (seen.low, seen.high) == pytest.approx((low, high))


def test_length_that_a_single_member_is_short_by_says_how_much_is_there() -> None:
    """By hand: 4 of 20 mm short are 0.8, read to a tenth."""
    seen = part_seen(PartOutcome(part="stem", state="short", short_by_mm=4.0), 1, 20.0)

    assert (seen.low, seen.high) == pytest.approx((0.7, 0.9))


@given(part_outcomes(part="bract", count=12))
def test_any_outcome_can_be_learnt_from(told: PartOutcome) -> None:
    if told.state == "not seen":
        return
    seen = part_seen(told, 12, 20.0)

    assert seen.full == (told.state == "filled")
    assert 0.0 <= seen.low <= seen.high <= 1.0
    assert seen.high > 0.0
