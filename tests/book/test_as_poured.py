"""A pour is learnt from as it was poured: under the vacuum that its gauge showed; house rules.

That a failed pump stops parts which the pump of the plan would fill is common practice, no source.
"""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from pourcast import units as si
from pourcast.book import tables
from pourcast.book.as_poured import as_poured, up_to_the_pour
from pourcast.book.day_entries import enter
from pourcast.book.days import readings_of
from pourcast.book.kiln_days import begin_day
from pourcast.book.learning import ToLearnFrom, to_learn_from
from pourcast.book.model import KeptPlan, PartOutcome
from pourcast.book.outcomes import keep_outcome
from pourcast.book.plans import keep_plan
from pourcast.book.store import Book
from pourcast.day.gauge import GAUGE_LOW
from pourcast.learn.solve import learn
from pourcast.pour.gas import air_pressure_at
from pourcast.sheet import read_plan
from tests.book.conftest import made_up

SHEET = (Path(__file__).parents[2] / "examples" / "fern_crozier.toml").read_text(encoding="utf-8")
PLAN = read_plan(SHEET)
MEANT = PLAN.assist.vacuum or 0.0
LIT = datetime(2026, 3, 1, 8, 0, tzinfo=UTC)
SMALL = {part.name for part in PLAN.piece.parts if part.name.startswith("pinna")} | {"scale"}
POURED = LIT + timedelta(hours=11)


def kept_fern(book: Book) -> KeptPlan:
    """Keep the fern with a made-up forecast of its parts."""
    document = made_up(chances={part.name: 0.9 for part in PLAN.piece.parts})
    for part, told in zip(PLAN.piece.parts, document["fill"]["parts"], strict=True):
        told["count"] = part.count
    return keep_plan(
        book, sheet=SHEET, file_name="fern.toml", document=document, alloy="si_bronze_c87300",
        powder="gypsum_silica", at=LIT,
    )  # fmt: skip


def learnt_from(book: Book, *lines: tuple[float, str]) -> ToLearnFrom:
    """Return what there is to learn from a day with these lines, minutes from its pour."""
    pour = begin_day(book, kept_fern(book).id, start=LIT, at=LIT)
    for minutes, line in lines:
        now = POURED + timedelta(minutes=minutes)
        enter(book, pour.id, line, now=now, zone=UTC, unit="degC")
    ended = POURED + timedelta(days=1)
    short = [PartOutcome(part=part, state="missing") for part in sorted(SMALL)]
    keep_outcome(book, pour.id, short, seen=ended.date(), at=ended)
    return to_learn_from(book)


def test_the_last_gauge_before_the_pour_counts(book: Book) -> None:
    """Not the one that the pump reached before, and not the one that it showed afterwards."""
    held = learnt_from(
        book, (-3.0, "gauge 70 kPa"), (-1.0, "gauge 12 inHg"), (0.0, "poured"), (2.0, "gauge 0 kPa")
    )

    (pour,) = held.pours
    assert pour.plan.assist.vacuum == pytest.approx(12 * 3386.389, rel=1e-6)  # inch of mercury
    assert as_poured(PLAN, pour.plan.assist.vacuum) == pour.plan
    (told,) = held.changed
    assert "12 inHg" in told
    assert "22 inHg" in told  # the plan, in the unit of its file


def test_a_pump_that_is_turned_off_after_the_pour_is_no_low_gauge(book: Book) -> None:
    """House rule: the diagnosis answers from the gauge up to the pour, as learning does."""
    learnt_from(book, (-1.0, "gauge 22 inHg"), (0.0, "poured"), (2.0, "gauge 0 kPa"))
    with book.reading() as connection:
        (pour,) = connection.scalars(sa.select(tables.pours.c.id))
    readings = readings_of(book, pour)

    (told,) = up_to_the_pour(book, pour, readings)

    assert len(readings) == 2
    assert told == readings[0]


def test_without_the_act_the_last_gauge_of_the_day_counts(book: Book) -> None:
    (pour,) = learnt_from(book, (-3.0, "gauge 20 kPa"), (-1.0, "gauge 30 kPa")).pours

    assert pour.plan.assist.vacuum == pytest.approx(30e3)


def test_an_act_that_was_taken_back_ends_nothing(book: Book) -> None:
    lines = (-9.0, "poured"), (-8.0, "undo"), (-1.0, "gauge 30 kPa")

    (pour,) = learnt_from(book, *lines).pours

    assert pour.plan.assist.vacuum == pytest.approx(30e3)


def test_a_day_without_a_gauge_counts_as_planned(book: Book) -> None:
    held = learnt_from(book, (0.0, "poured"))

    assert [pour.plan for pour in held.pours] == [PLAN]
    assert held.changed == ()


@pytest.mark.parametrize("off", [-GAUGE_LOW, 0.0, GAUGE_LOW])
def test_a_gauge_within_its_error_is_the_plan(off: float) -> None:
    assert as_poured(PLAN, MEANT + off) is PLAN


@pytest.mark.parametrize("off", [-1.01 * GAUGE_LOW, 1.01 * GAUGE_LOW])
def test_a_gauge_beyond_its_error_is_not(off: float) -> None:
    assert as_poured(PLAN, MEANT + off).assist.vacuum == MEANT + off


def test_more_than_the_air_presses_is_no_reading() -> None:
    air = air_pressure_at(PLAN.studio.altitude)

    assert as_poured(PLAN, air) is PLAN
    assert as_poured(PLAN, 0.999 * air) is not PLAN


def test_by_gravity_a_gauge_says_nothing() -> None:
    by_gravity = read_plan(
        SHEET.replace('kind = "vacuum"', 'kind = "gravity"').replace("vacuum_kPa", "# vacuum_kPa")
    )

    assert as_poured(by_gravity, si.to_si(50.0, "kPa")) is by_gravity


def test_what_a_failed_pump_explains_is_not_held_against_the_values(book: Book) -> None:
    """All small parts missing: odd under 22 inHg, where the fern mostly fills; not so at 1 inHg."""
    (poured,) = learnt_from(book, (-1.0, "gauge 1 inHg"), (0.0, "poured")).pours
    planned = replace(poured, plan=PLAN)

    odd = [
        {each.part for each in learn([pour], bank=200, draws=300).against}
        for pour in (poured, planned)
    ]

    assert odd == [set(), SMALL]
