"""Model: the records of a forecast cannot be changed, and their defaults are the book's."""

from dataclasses import FrozenInstanceError, fields, is_dataclass

import pytest

from pourcast.forecast import model
from pourcast.forecast.model import Calibration, Spread

RECORDS = [
    record
    for record in vars(model).values()
    if isinstance(record, type) and is_dataclass(record) and record.__module__ == model.__name__
]


def test_all_records_are_found() -> None:
    assert {
        "BurnoutForecast",
        "Calibration",
        "Forecast",
        "FreezeForecast",
        "Hour",
        "Outcomes",
        "Override",
        "PartForecast",
        "PartFreeze",
        "Spread",
        "Unknown",
    } == {record.__name__ for record in RECORDS}


@pytest.mark.parametrize("record", RECORDS)
def test_a_record_is_frozen_and_takes_its_values_by_name(record: type) -> None:
    """Source: our own rule for records."""
    assert record.__dataclass_params__.frozen  # type: ignore[attr-defined]
    assert all(field.kw_only for field in fields(record))
    assert not hasattr(record, "__dict__") or "__slots__" in vars(record)


def test_a_record_cannot_be_changed() -> None:
    spread = Spread(p10=0.0, p50=0.5, p90=1.0)

    with pytest.raises(FrozenInstanceError):
        spread.p50 = 0.6  # type: ignore[misc]


def test_a_calibration_may_know_nothing() -> None:
    assert Calibration(name="empty").overrides == ()
