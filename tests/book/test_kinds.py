"""What may stand in a column; limits are own choices, so no outside number."""

from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy.engine.default import DefaultDialect

from pourcast.book import kinds
from pourcast.errors import InputError

DIALECT = DefaultDialect()
ZONES = st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes)))
MOMENTS = st.datetimes(
    min_value=datetime(2, 1, 1), max_value=datetime(9998, 12, 31), timezones=ZONES
)
MONEY = st.integers(-(10**16) + 1, 10**16 - 1).map(lambda parts: Decimal(parts).scaleb(-4))


@given(moment=MOMENTS)
def test_moment_comes_back_as_the_same_moment(moment: datetime) -> None:
    kind = kinds.Moment("moment")

    assert kind.process_result_value(kind.process_bind_param(moment, DIALECT), DIALECT) == moment


@given(first=MOMENTS, second=MOMENTS)
def test_stored_moments_sort_by_time(first: datetime, second: datetime) -> None:
    kind = kinds.Moment("moment")
    texts = [kind.process_bind_param(moment, DIALECT) or "" for moment in (first, second)]

    assert (texts[0] < texts[1]) == (first < second)


@given(value=MONEY)
def test_money_comes_back_exactly(value: Decimal) -> None:
    kind = kinds.Money("price")

    assert kind.process_result_value(kind.process_bind_param(value, DIALECT), DIALECT) == value


@given(day=st.dates())
def test_day_comes_back(day: date) -> None:
    kind = kinds.Day("day")

    assert kind.process_result_value(kind.process_bind_param(day, DIALECT), DIALECT) == day


@pytest.mark.parametrize(
    ("kind", "value"),
    [
        (kinds.Number("x"), float("nan")),
        (kinds.Number("x"), float("inf")),
        (kinds.Number("x", 0.0, 1.0), 1.5),
        (kinds.Number("x"), True),
        (kinds.Number("x"), "1"),
        (kinds.Whole("x"), 1.0),
        (kinds.Whole("x"), True),
        (kinds.Whole("x"), -1),
        (kinds.Whole("x"), 2**53 + 1),
        pytest.param(kinds.Whole("x"), 10**5000, id="very many figures"),
        (kinds.Money("x"), 1.5),
        (kinds.Money("x"), Decimal("NaN")),
        (kinds.Money("x"), Decimal("Infinity")),
        (kinds.Money("x"), Decimal("0.00001")),
        (kinds.Money("x"), Decimal(10) ** 12),
        (kinds.Moment("x"), datetime(2026, 3, 1)),
        (kinds.Moment("x"), "2026-03-01T00:00:00.000000Z"),
        (kinds.Day("x"), datetime(2026, 3, 1, tzinfo=UTC)),
        (kinds.Day("x"), "2026-03-01"),
        (kinds.Words("x"), 3),
        (kinds.Words("x", 3), "four"),
        pytest.param(kinds.Words("x"), "a\0", id="NUL"),
        pytest.param(kinds.Words("x"), "\udfff", id="half a sign"),
        (kinds.Choice("x", ("a", "b")), "c"),
        (kinds.Choice("x", ("a", "b")), 1),
    ],
)
def test_what_would_be_kept_wrongly_is_refused(kind: Any, value: object) -> None:
    """SQLite keeps NaN as NULL and a money amount as a binary fraction; both are refused."""
    with pytest.raises(InputError):
        kind.process_bind_param(value, DIALECT)


@pytest.mark.parametrize(
    ("kind", "stored"),
    [
        (kinds.Moment("x"), "2026-03-01"),
        (kinds.Moment("x"), 3),
        (kinds.Day("x"), "2026-3-1"),
        (kinds.Day("x"), "20260301"),
        (kinds.Day("x"), "2026-02-30"),
        (kinds.Money("x"), 1.5),
        (kinds.Money("x"), "1e3"),
        (kinds.Money("x"), "NaN"),
    ],
)
def test_what_an_export_may_not_hold_is_refused(kind: Any, stored: object) -> None:
    with pytest.raises(InputError):
        kind.process_result_value(stored, DIALECT)


@pytest.mark.parametrize(
    "written", ["", "1,50", "1e3", "nan", "inf", "0x1", "1.23456", "1_0", "９"]
)
def test_amount_with_two_readings_is_refused(written: str) -> None:
    """A comma is a thousand here and a fraction there; full-width figures are no amount."""
    with pytest.raises(InputError, match="an amount such as"):
        kinds.amount(written, "price")


@pytest.mark.parametrize("kind", [kinds.Number("x"), kinds.Whole("x"), kinds.Words("x")])
def test_nothing_stays_nothing(kind: Any) -> None:
    assert kind.process_bind_param(None, DIALECT) is None
