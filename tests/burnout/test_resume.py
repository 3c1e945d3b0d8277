"""The rest of a day: what is left of the plan, held against arithmetic with a pencil.

No outside number: which hour of a hold counts is our own rule, written at the top
of the module.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.burnout.curves import curve_of, curve_of_log, simplified, temperature_at
from pourcast.burnout.model import Curve, KilnStep
from pourcast.burnout.resume import left_over
from pourcast.day.futures import one_future
from tests.strategies_kiln import FASTEST, ROOM, curves

HOUR = 3600.0


def plan() -> Curve:
    """20 to 150 °C in 2 h, hold 2 h, to 600 °C in 5 h, hold 3 h: 12 h."""
    steps = (
        KilnStep(temperature=423.15, ramp=65 / HOUR, hold=2 * HOUR),
        KilnStep(temperature=873.15, ramp=90 / HOUR, hold=3 * HOUR),
    )
    return curve_of(steps, start=ROOM, fastest=FASTEST, name="as written")


def log(hours: list[float], celsius: list[float]) -> Curve:
    return curve_of_log(np.array(hours) * HOUR, np.array(celsius) + 273.15)


def resumed(made: Curve, so_far: Curve) -> Curve:
    """Return the day so far, and what is left of the plan, as the kiln day goes on with it."""
    return one_future(left_over(made, so_far), so_far.time, so_far.temperature)


def test_late_ramp_makes_the_day_longer_by_what_is_missing() -> None:
    """Exact: 85 °C at 2 h lacks 65 K, which is 1 h at the ramp of the plan."""
    day = resumed(plan(), log([0, 1, 2], [20, 50, 85]))

    assert day.time[-1] / HOUR == pytest.approx(13.0)
    assert temperature_at(day, np.array([3 * HOUR]))[0] == pytest.approx(423.15)


def test_hold_goes_on_for_what_is_left_of_it() -> None:
    """Exact: 150 °C is reached at 2 h; at 3 h one hour of two is left."""
    left = left_over(plan(), log([0, 2, 3], [20, 148, 151]))

    assert left[0].hold == pytest.approx(HOUR)
    assert resumed(plan(), log([0, 2, 3], [20, 148, 151])).time[-1] / HOUR == pytest.approx(
        12.0, abs=0.1
    )


def test_hold_that_was_left_early_is_not_made_up() -> None:
    """At 3 h the log is 50 K over the hold: the caster has turned on."""
    left = left_over(plan(), log([0, 2, 3], [20, 150, 200]))

    assert len(left) == 1
    assert left[0].temperature == pytest.approx(873.15)
    assert left[0].hold == pytest.approx(3 * HOUR)


def test_hold_that_fell_cold_heats_up_again_first() -> None:
    day = resumed(plan(), log([0, 2, 3], [20, 150, 85]))

    assert temperature_at(day, np.array([4 * HOUR]))[0] == pytest.approx(423.15)
    assert day.time[-1] / HOUR == pytest.approx(13.0)


def test_log_past_the_end_of_the_plan_is_the_whole_day() -> None:
    whole = log([0, 2, 4, 9, 12.5], [20, 150, 150, 600, 600])

    assert left_over(plan(), whole) == ()
    assert resumed(plan(), whole).time[-1] == whole.time[-1]


def test_plan_that_cools_goes_on_cooling() -> None:
    steps = (
        KilnStep(temperature=1003.15, ramp=142 / HOUR, hold=HOUR),
        KilnStep(temperature=873.15, ramp=65 / HOUR, hold=HOUR),
    )
    made = curve_of(steps, start=ROOM, fastest=FASTEST, name="usual")

    day = resumed(made, log([0, 5, 6, 7], [20, 730, 730, 665]))

    assert day.time[-1] / HOUR == pytest.approx(9.0)
    assert day.temperature[-1] == pytest.approx(873.15)


@given(made=curves(), share=st.integers(1, 99).map(lambda percent: percent / 100))
def test_day_that_runs_as_planned_stays_as_planned(made: Curve, share: float) -> None:
    """Property: a log that lies on the plan changes no hour and no degree of it.

    A hold counts from 15 K before it, so up to the time of 15 K at 20 K/h, the
    slowest of these ramps, is counted early at the step that the log ends in.
    """
    until = share * float(made.time[-1])
    time = np.append(np.arange(0.0, until, 60.0), until)
    day = resumed(made, curve_of_log(time, temperature_at(made, time)))

    assert abs(day.time[-1] - made.time[-1]) <= 15.0 / 20.0 * HOUR + 61.0
    assert day.temperature[-1] == pytest.approx(made.temperature[-1], abs=15.0)
    assert temperature_at(day, time) == pytest.approx(temperature_at(made, time), abs=1e-9)


def test_plan_of_one_hold_is_gone_to_from_a_cold_kiln() -> None:
    steps = (KilnStep(temperature=423.15, ramp=None, hold=5 * HOUR),)
    made = curve_of(steps, start=423.15, fastest=FASTEST, name="as written")

    day = resumed(made, log([0, 1], [20, 90]))

    assert day.time[-1] / HOUR == pytest.approx(1 + 1 + 5)


def test_points_of_a_logged_plan_do_not_hinder() -> None:
    """A plan taken from last time's log has hundreds of points."""
    made = plan()
    time = np.linspace(0.0, made.time[-1], 721)
    logged = simplified(curve_of_log(time, temperature_at(made, time)), 1.0)

    day = resumed(logged, log([0, 1, 2], [20, 50, 85]))

    assert day.time[-1] / HOUR == pytest.approx(13.0, abs=0.1)
