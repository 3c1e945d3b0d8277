"""Two clocks that meet; each rule is our own, each number of the trade says so itself."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.day.case import DayCase
from pourcast.day.flask_out import flask_out
from pourcast.day.metal import melt_clock
from pourcast.day.pouring import PourLengths, countdown, order_of_pours, queue
from pourcast.errors import InputError
from pourcast.forecast.prepare import prepare
from pourcast.forecast.solve import DRAWS
from pourcast.melt.melting import Furnace
from pourcast.runsheet.usual import USUAL

LENGTHS = PourLengths(
    furnace=USUAL.furnace,
    ahead=USUAL.ahead,
    carrying=USUAL.carrying,
    hold=USUAL.hold,
    quench=USUAL.quench,
)


def test_metal_is_ready_before_the_flask_leaves(case: DayCase) -> None:
    """Common practice, many voices: metal molten before the flask leaves the kiln."""
    flask = flask_out(case.plan, case.ready, case.block, 45.0)
    melt = melt_clock(case.plan, case.ready, USUAL.furnace)

    acts = {act.step: act for act in countdown(36_000.0, melt, flask, LENGTHS)}

    assert acts["light"].opens + melt.time == pytest.approx(acts["molten"].opens)
    assert acts["molten"].opens < acts["out"].opens < acts["pour"].opens
    assert acts["pour"].opens < acts["pour"].shuts
    assert acts["quench"].opens == pytest.approx(acts["pour"].opens + 600.0)
    order = [act.opens for act in acts.values()]
    assert order == sorted(order)


def test_the_charge_of_the_day_is_that_of_the_forecast(case: DayCase) -> None:
    """One plan has one charge: the more draws of the day moved it by some tenths of 1 g."""
    assert case.ready.metal == prepare(case.plan, None, DRAWS, 0).metal


def test_after_the_pour_the_quench_counts_from_it(case: DayCase) -> None:
    flask = flask_out(case.plan, case.ready, case.block, 45.0)
    melt = melt_clock(case.plan, case.ready, USUAL.furnace)

    acts = countdown(36_000.0, melt, flask, LENGTHS, quench=(180.0, 540.0), poured_at=40_000.0)

    assert acts[-1].opens == 40_180.0
    assert acts[-1].shuts == 40_540.0


def test_a_furnace_log_goes_before_the_estimate_and_a_small_crucible_is_told(
    case: DayCase,
) -> None:
    furnace = Furnace(power=400.0, warming=600.0, melts=2)
    melt = melt_clock(case.plan, case.ready, USUAL.furnace, furnace=furnace, crucible=5e-6)

    assert melt.by_log
    assert melt.low == melt.high == melt.time
    assert melt.time == pytest.approx(600.0 + melt.heat / 400.0)
    assert melt.share is not None
    assert melt.share > 1.0
    assert melt.in_pot > case.plan.charge.pour_temperature
    assert melt.longest_wait > 0.0


def test_on_the_plate_a_perforated_flask_keeps_longer_than_on_the_bench(case: DayCase) -> None:
    """In a chamber no air stirs outside; what the pump draws through takes under 3 W."""
    flask = flask_out(case.plan, case.ready, case.block, 45.0)

    assert flask.on_bench is not None
    assert flask.on_plate is not None
    assert flask.on_plate > flask.on_bench
    assert 0.0 < flask.drawn * 1100.0 * 580.0 < 3.0
    assert flask.face_after < flask.inside_after


@given(
    ready=st.lists(st.integers(0, 600), min_size=1, max_size=6),
    melt=st.integers(5, 90),
)
def test_no_flask_of_a_queue_leaves_before_it_is_ready_or_its_metal_is(
    ready: list[int], melt: int
) -> None:
    flasks = tuple(60.0 * minute for minute in sorted(ready))
    found = queue(flasks, (60.0 * melt,) * len(flasks), ahead=300.0, turn_round=600.0)

    for place, (each, flask) in enumerate(zip(found, flasks, strict=True)):
        assert each.out >= flask
        assert each.out >= each.molten + 300.0 - 1e-6
        assert each.molten == pytest.approx(each.lit + 60.0 * melt)
        assert each.flask_waits == pytest.approx(each.out - flask)
        if place:
            assert each.lit >= found[place - 1].out + 600.0 - 1e-6


def test_a_queue_needs_a_melt_for_each_flask() -> None:
    with pytest.raises(InputError, match="one for each"):
        queue((0.0, 1.0), (60.0,), ahead=300.0, turn_round=600.0)


def test_flasks_that_are_ready_together_wait_least_behind_the_longest_melt() -> None:
    """Worked by hand: two flasks ready at 1 h, melts of 20 and 10 min, 10 min between, 5 ahead.

    The long one first: the other waits 10 + 10 + 5 = 25 min.  The short one first: 10 +
    20 + 5 = 35 min.
    """
    ready, melts = (3600.0, 3600.0), (600.0, 1200.0)

    order = order_of_pours(ready, melts, ahead=300.0, turn_round=600.0)
    found = queue((3600.0, 3600.0), (1200.0, 600.0), ahead=300.0, turn_round=600.0)

    assert order == (1, 0)
    assert [each.flask_waits for each in found] == [0.0, 25.0 * 60.0]


def test_flasks_far_apart_are_poured_as_they_are_ready_and_many_are_too() -> None:
    far = tuple(36_000.0 * place for place in (2, 0, 1))
    many = tuple(60.0 * place for place in range(9, 0, -1))

    assert order_of_pours(far, (600.0,) * 3, ahead=300.0, turn_round=600.0) == (1, 2, 0)
    assert order_of_pours(many, (600.0,) * 9, ahead=300.0, turn_round=600.0) == tuple(
        range(8, -1, -1)
    )
