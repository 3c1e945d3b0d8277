"""Rows of a sweep: those of the forecast, whoever works them out.

A cell is held against the whole forecast of the same piece file, which is another way
through the program; no number from outside belongs to it.
"""

import pytest

from pourcast.change.stops import stops_of
from pourcast.execute import Executor, Threads
from pourcast.forecast.solve import forecast
from pourcast.sweep.cells import plan_at
from pourcast.sweep.limits import limits_of
from pourcast.sweep.model import Row
from pourcast.sweep.solve import rows
from tests.execute.works import Shuffled
from tests.sweep.small import TEXT, sweep

TWO = ("flask.temperature_C=450:650:100", "assist.vacuum_kPa=0,8,20")

KILN = TEXT.replace(
    "[button]",
    """[kiln]
litres = 30
kW = 2.8

[[kiln.step]]
to_C = 700
ramp_C_per_h = 150
hold_h = 3

[[kiln.step]]
to_C = 600
ramp_C_per_h = 100
hold_h = 1

[button]""",
)


@pytest.fixture(scope="module")
def by_one() -> list[Row]:
    """Return the rows of a small sweep, worked out one after another."""
    return list(rows(sweep(*TWO), Threads(1)))


def test_a_row_is_the_forecast_of_its_piece_file(by_one: list[Row]) -> None:
    asked = sweep(*TWO)
    for row in by_one[1::3]:
        said = forecast(plan_at(asked, row.cell), draws=asked.draws, rng=asked.seed)
        assert (row.chance, row.low, row.high) == (
            said.chance_all,
            said.chance_low,
            said.chance_high,
        )
        assert dict(row.stops) == stops_of(said.findings)


@pytest.mark.parametrize("hands", [Threads(2), Threads(4), Shuffled(3)], ids=["2", "4", "mixed"])
def test_rows_are_the_same_for_any_executor(by_one: list[Row], hands: Executor) -> None:
    assert list(rows(sweep(*TWO), hands)) == by_one


def test_rows_are_the_same_from_a_cluster(by_one: list[Row]) -> None:
    pytest.importorskip("distributed")
    from pourcast.execute.cluster import Cluster

    with Cluster(workers=2) as hands:
        assert list(rows(sweep(*TWO), hands)) == by_one


def test_a_sweep_goes_on_from_any_cell(by_one: list[Row]) -> None:
    assert list(rows(sweep(*TWO), Threads(2), start=4)) == by_one[4:]


def test_more_vacuum_helps_here_and_none_is_told_as_a_stop(by_one: list[Row]) -> None:
    """Common practice, no source: thin ways fill with a vacuum and not without."""
    by_vacuum = [[row.chance or 0.0 for row in by_one[place::3]] for place in range(3)]

    assert max(by_vacuum[0]) < min(by_vacuum[2])
    assert all(row.stops for row in by_one[0::3])
    limit = limits_of(sweep(*TWO).axes, by_one)[0]
    assert limit.axis is not None
    assert (limit.axis.key, limit.side, limit.value) == ("assist.vacuum_kPa", "to", 0.0)


def test_a_cell_that_cannot_be_worked_with_says_why() -> None:
    """A flask too low for its piece is a fault of the sheet or a STOP, never a lost sweep."""
    found = list(rows(sweep("part.stem.length_mm=20,90", "flask.height_mm=40,100"), Threads(1)))

    assert [row.cell for row in found] == [0, 1, 2, 3]
    assert all(row.fault or row.chance is not None for row in found)
    assert any(row.fault or row.stops for row in found)


def test_a_burnout_that_is_taken_over_is_that_of_the_cell() -> None:
    """With a kiln in the sheet: pump and flask do not touch the burnout, a step does."""
    asked = sweep("kiln.step.1.hold_h=1,3", "assist.vacuum_kPa=8,20", draws=12, text=KILN)

    for row in rows(asked, Threads(1)):
        said = forecast(plan_at(asked, row.cell), draws=12, rng=0)
        assert (row.chance, row.low) == (said.chance_all, said.chance_low)
