"""A kiln from its log: against scipy, against noise, and against a kiln that is none of ours."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit

from pourcast import units as si
from pourcast.burnout.kiln import Body, air_of, capacity_of
from pourcast.burnout.kiln_fit import fit_kiln
from pourcast.burnout.kiln_load import fit_under_load
from pourcast.burnout.least_squares import settle
from pourcast.errors import InputError, SolveError
from tests.outside.record import record
from tests.strategies_kiln import ROOM, bodies

HOUR = 3600.0
TRUE = Body(
    loss=1.0 / (5.0 * HOUR),
    glow=0.0,
    settings=np.array([0.0, 1.0, 2.0, 3.0]),
    heating=np.array([0.0, 50.0, 110.0, 230.0]) / HOUR,
    room=ROOM,
)


def plan_of(
    hours: list[float], places: list[float], until: float, every: float = 600.0
) -> tuple[si.Seconds, si.Ratios]:
    """Return moments and the place of the dial at each, turned at the hours given."""
    time = np.arange(0.0, until * HOUR + 1.0, every)
    turned = np.searchsorted(np.array(hours) * HOUR, time, side="right") - 1
    return time, np.array(places, dtype=float)[turned]


TIME, DIAL = plan_of([0, 2, 4, 7, 9, 11], [1, 2, 3, 2, 0, 1], 13)
OTHER_TIME, OTHER_DIAL = plan_of([0, 1, 3, 5, 9, 10], [2, 1, 3, 2, 3, 0], 13)


def noisy(air: si.Kelvins, size: float, seed: int) -> si.Kelvins:
    return air + size * np.random.default_rng(seed).standard_normal(air.size)


def test_log_without_noise_gives_the_kiln_back() -> None:
    """Exact: the model fitted to itself."""
    found = fit_kiln(TIME, air_of(TRUE, TIME, DIAL, 300.0), DIAL, room=ROOM)

    assert found.body.loss == pytest.approx(TRUE.loss, rel=1e-6)
    assert found.body.heating == pytest.approx(TRUE.heating, rel=1e-6)
    assert found.start == pytest.approx(300.0, abs=1e-6)
    assert found.body.glow == 0.0
    assert found.worst < 1e-6
    assert found.readings == TIME.size


@given(body=bodies(), seed=st.integers(0, 1000))
@settings(max_examples=25)
def test_noisy_log_gives_the_kiln_back_within_its_own_errors(body: Body, seed: int) -> None:
    """Property: what the air does on another day is told within 4 K at 1 K of noise.

    Tolerance 4 K: a setting is logged for two hours, twelve readings of 1 K.
    """
    air = air_of(body, TIME, DIAL, ROOM)
    if air.max() > 1500.0:
        return

    found = fit_kiln(TIME, noisy(air, 1.0, seed), DIAL, room=ROOM)

    told = air_of(found.body, OTHER_TIME, OTHER_DIAL, ROOM)
    true = air_of(body, OTHER_TIME, OTHER_DIAL, ROOM)
    assert np.abs(told - true).max() < 4.0
    assert found.left_over == pytest.approx(1.0, abs=0.4)


def test_fit_and_covariance_agree_with_a_general_one() -> None:
    """Against scipy.optimize.curve_fit on the same log, an independent least squares.

    Tolerance 1e-4 of a value and 1 % of a standard error: both stop a little short
    of the lowest place, each in its own way.
    """
    read = noisy(air_of(TRUE, TIME, DIAL, ROOM), 1.0, 7)

    def model(
        _: si.Seconds, loss: float, q1: float, q2: float, q3: float, start: float
    ) -> si.Table:
        body = Body(
            loss=loss / HOUR,
            glow=0.0,
            settings=TRUE.settings,
            heating=np.array([0.0, q1, q2, q3]) / HOUR,
            room=ROOM,
        )
        return air_of(body, TIME, DIAL, start)

    want, covariance = curve_fit(model, TIME, read, p0=[0.3, 60.0, 120.0, 200.0, 295.0])
    error = np.sqrt(np.diag(covariance))
    found = fit_kiln(TIME, read, DIAL, room=ROOM)
    ours = HOUR * np.array([found.body.loss, *found.body.heating[1:]])
    ours_error = HOUR * np.array([found.loss_error, *found.heating_error[1:]])
    source = "scipy.optimize.curve_fit"
    record(
        "burnout",
        "loss of a kiln from its log",
        source,
        ours[0],
        want[0],
        "1/h",
        1e-4 * want[0],
        kind="reference library",
    )

    assert ours == pytest.approx(want[:-1], rel=1e-4)
    assert ours_error == pytest.approx(error[:-1], rel=0.01)
    assert found.covariance * HOUR**2 == pytest.approx(covariance[:-1, :-1], rel=0.02, abs=1e-9)


def test_standard_errors_say_how_far_a_hundred_fits_scatter() -> None:
    """Statistics: the scatter of 100 fits is their standard error.

    Tolerance 25 %: three standard errors of a scatter from 100 values (7 % each).
    """
    air = air_of(TRUE, TIME, DIAL, ROOM)
    fits = [fit_kiln(TIME, noisy(air, 2.0, seed), DIAL, room=ROOM) for seed in range(100)]
    plain = [fit for fit in fits if fit.body.glow == 0.0]

    scatter = np.std([fit.body.loss for fit in plain])
    said = np.mean([fit.loss_error for fit in plain])

    assert len(plain) >= 90
    assert scatter == pytest.approx(said, rel=0.25)


def hanging(air: si.Kelvins, size: float, rho: float, rng: np.random.Generator) -> si.Kelvins:
    """Read a log with noise that hangs together by rho from one reading to the next."""
    off = rng.standard_normal(air.size)
    for number in range(1, air.size):
        off[number] = rho * off[number - 1] + math.sqrt(1.0 - rho**2) * off[number]
    return air + size * off


def any_body(rng: np.random.Generator) -> Body:
    """Return a kiln that loses heat in 2 to 10 h."""
    most = rng.uniform(150.0, 350.0)
    return Body(
        loss=1.0 / (rng.uniform(2.0, 10.0) * HOUR),
        glow=0.0,
        settings=TRUE.settings,
        heating=np.array([0.0, 0.25, 0.55, 1.0]) * most / HOUR,
        room=ROOM,
    )


def day_after(body: Body, rng: np.random.Generator) -> Body:
    """Return a kiln on another day, each of its constants off by 5 % as a rule."""
    off = 1.0 + 0.05 * rng.standard_normal(4)
    return Body(
        loss=body.loss * off[0],
        glow=0.0,
        settings=body.settings,
        heating=body.heating * np.append(1.0, off[1:]),
        room=ROOM,
    )


def held_by_intervals(rho: float, *, second: bool, days: int = 200) -> list[float]:
    """Return of 100 days in how many the 90 % interval of each constant holds the truth."""
    rng = np.random.default_rng(77)
    held, fitted = np.zeros(4), 0
    for _ in range(days):
        body, known, time, dial = any_body(rng), None, TIME, DIAL
        try:
            if second:
                air = hanging(air_of(body, TIME, DIAL, ROOM), 2.0, rho, rng)
                known = fit_kiln(TIME, air, DIAL, room=ROOM)
                body, time, dial = day_after(body, rng), OTHER_TIME, OTHER_DIAL
            air = hanging(air_of(body, time, dial, ROOM), 2.0, rho, rng)
            fit = fit_kiln(time, air, dial, room=ROOM, known=known)
        except InputError:  # a log that cannot tell says so
            continue
        off = np.append(fit.body.loss - body.loss, (fit.body.heating - body.heating)[1:])
        held += np.abs(off) <= 1.645 * np.append(fit.loss_error, fit.heating_error[1:])
        fitted += 1
    assert fitted >= 0.95 * days
    return list(100.0 * held / fitted)


@pytest.mark.parametrize("second", [False, True], ids=["first day", "second day"])
def test_intervals_of_two_hundred_days_hold_the_truth(second: bool) -> None:
    """The bar: 90 % intervals of loss and of three places hold the truth 85 to 95 times of 100.

    Kilns and days made up, readings of 2 K.  Found: 86 to 91 on a first day, 87 to 89 on a
    second one.
    """
    held = held_by_intervals(0.0, second=second)

    record(
        "burnout", f"truths in 90 % intervals of a logged day, least{' (second)' * second}",
        "truth drawn", min(held), 90.0, "of 100", 5.0, kind="by construction",
    )  # fmt: skip
    assert all(85.0 <= share <= 95.0 for share in held)


def test_readings_that_hang_together_tell_less_and_the_intervals_say_so() -> None:
    """As above, with noise that hangs together by 0.5, as when the draught wanders for 20 min.

    Tolerance 7 of 100: two spreads of a share of 200 days, and what (4) cannot see.  Found:
    84 to 90; with each reading counted for itself 52 to 66.
    """
    held = held_by_intervals(0.5, second=False)

    assert all(83.0 <= share <= 97.0 for share in held)


@pytest.mark.parametrize("rho", [0.0, 0.5, 0.8])
def test_readings_as_one_are_those_of_the_wave(rho: float) -> None:
    """By hand, equation 3: (1 + ρ) / (1 - ρ) is 1, 3 and 9; median of 40 logs of 300 readings.

    Tolerance a third: a ρ of 0.8 that is off by 0.05 moves it by a quarter.
    """
    time, dial = plan_of([0, 2, 4, 7, 9, 11], [1, 2, 3, 2, 0, 1], 13, every=156.0)
    air = air_of(TRUE, time, dial, ROOM)
    rng = np.random.default_rng(8)

    found = [
        fit_kiln(time, hanging(air, 2.0, rho, rng), dial, room=ROOM).readings_as_one
        for _ in range(40)
    ]

    assert float(np.median(found)) == pytest.approx((1.0 + rho) / (1.0 - rho), rel=1 / 3)


def test_kiln_that_glows_is_seen_to_glow() -> None:
    glowing = Body(
        loss=TRUE.loss,
        glow=TRUE.loss,
        settings=TRUE.settings,
        heating=TRUE.heating * 1.5,
        room=ROOM,
    )

    found = fit_kiln(TIME, noisy(air_of(glowing, TIME, DIAL, ROOM), 1.0, 3), DIAL, room=ROOM)

    assert found.body.glow == pytest.approx(glowing.glow, abs=4.0 * found.glow_error)
    assert 0.0 < found.glow_error < 0.2 * glowing.glow


def kiln_with_a_block(
    time: si.Seconds, dial: si.Ratios, *, bricks: float
) -> tuple[si.Kelvins, si.Watts]:
    """Return the air of a kiln with a wet block in it, and the power that the block takes.

    Our own scenario: 2.8 kW; a kiln of 32 kJ/K that loses 2 W/K and glows; of it the
    share ``bricks`` is warmed by the air with 60 W/K; a block of 4 kJ/K that takes
    8 W/K and boils 2.2 MJ of water off at 100 °C.  Solved by scipy, which knows
    nothing of our equations.
    """
    power = {0.0: 0.0, 1.0: 400.0, 2.0: 1100.0, 3.0: 2800.0}
    boils, dry = 80.0 * 4000.0, 80.0 * 4000.0 + 2.2e6

    def slope(_: float, state: si.Table, watt: float) -> si.Table:
        brick, air, heat = state
        block = ROOM + (min(heat, boils) + max(heat - dry, 0.0)) / 4000.0
        to_brick, to_block = 60.0 * (air - brick), 8.0 * (air - block)
        hot = brick if bricks > 0.0 else air
        lost = 2.0 * (hot - ROOM) + 5e-10 * (hot**4 - ROOM**4)
        if bricks == 0.0:
            return np.array([0.0, (watt - lost - to_block) / 32e3, to_block])
        warmed = (watt - to_brick - to_block) / (32e3 * (1.0 - bricks))
        return np.array([(to_brick - lost) / (32e3 * bricks), warmed, to_block])

    state, air, heat = np.array([ROOM, ROOM, 0.0]), [ROOM], [0.0]
    for begin, end, place in zip(time[:-1], time[1:], dial[:-1], strict=True):
        solved = solve_ivp(
            slope, (begin, end), state, args=(power[float(place)],), rtol=1e-6, method="LSODA"
        )
        state = solved.y[:, -1]
        air.append(float(state[1]))
        heat.append(float(state[2]))
    return np.array(air), np.append(np.diff(heat) / np.diff(time), 0.0)


def miss(told: si.Kelvins, true: si.Kelvins) -> float:
    return float(np.sqrt(np.mean((told - true) ** 2)))


@pytest.mark.parametrize(
    ("bricks", "own_limit", "other_limit"), [(0.0, 5.7, 31.0), (0.9, 8.8, 27.0)]
)
def test_block_that_is_not_told_of_is_taken_for_kiln(
    bricks: float, own_limit: float, other_limit: float
) -> None:
    """A wet block of 5 MJ that the fit is not told of; 1 K of noise, our own scenario.

    Limits 1.3 times what was found, for other roundings of scipy.  Found, root mean
    square on its own day and on another dial plan: 4.4 and 23 K for a kiln of one
    body, 6.8 and 20 K for one of bricks.  Above 630 °C the other day came out up to
    37 and 46 K hotter than told.
    """
    read, _ = kiln_with_a_block(TIME, DIAL, bricks=bricks)
    other, _ = kiln_with_a_block(OTHER_TIME, OTHER_DIAL, bricks=bricks)

    fit = fit_kiln(TIME, noisy(read, 1.0, 11), DIAL, room=ROOM)

    told = air_of(fit.body, OTHER_TIME, OTHER_DIAL, ROOM)
    assert fit.left_over < own_limit
    assert miss(told, other) < other_limit


@pytest.mark.parametrize(
    ("bricks", "own_limit", "other_limit"), [(0.0, 1.1, 0.4), (0.9, 5.5, 13.2)]
)
def test_kiln_without_its_block_tells_another_day(
    bricks: float, own_limit: float, other_limit: float
) -> None:
    """The same days with the heat of the block known; 1 K of noise.

    Limits 1.3 times what was found.  Found: 0.83 and 0.28 K for a kiln of one
    body; 4.2 and 10.1 K for one of bricks, up to 10 K hotter than told above 630 °C.
    """
    read, taken = kiln_with_a_block(TIME, DIAL, bricks=bricks)
    other, other_taken = kiln_with_a_block(OTHER_TIME, OTHER_DIAL, bricks=bricks)

    fit, load = fit_under_load(
        TIME, noisy(read, 1.0, 11), DIAL, room=ROOM, taken=taken, setting=3.0, power=2800.0
    )

    capacity = capacity_of(fit.body, 3.0, 2800.0)
    told = air_of(fit.body, OTHER_TIME, OTHER_DIAL, ROOM, other_taken / capacity)
    assert load == pytest.approx(taken / capacity)
    assert capacity == pytest.approx(32e3, rel=0.1)
    assert fit.left_over < own_limit
    assert miss(told, other) < other_limit


def test_heat_of_the_block_must_fit_the_log() -> None:
    air = air_of(TRUE, TIME, DIAL, ROOM)
    for taken in (np.zeros(3), np.full(TIME.size, math.nan)):
        with pytest.raises(InputError, match="block"):
            fit_under_load(TIME, air, DIAL, room=ROOM, taken=taken, setting=3.0, power=2800.0)


def test_short_morning_with_a_known_kiln_is_enough() -> None:
    """A day known before stands in for what one setting in 30 minutes cannot tell."""
    before = fit_kiln(TIME, noisy(air_of(TRUE, TIME, DIAL, ROOM), 1.0, 1), DIAL, room=ROOM)
    today = Body(
        loss=TRUE.loss, glow=0.0, settings=TRUE.settings, heating=0.95 * TRUE.heating, room=ROOM
    )
    time, dial = plan_of([0], [2], 4)
    read = noisy(air_of(today, time, dial, ROOM), 1.0, 2)
    ahead = plan_of([0, 4], [2, 3], 8)

    with pytest.raises(InputError, match="settings"):
        fit_kiln(time, read, dial, room=ROOM)
    found = fit_kiln(time, read, dial, room=ROOM, known=before)

    true = air_of(today, *ahead, ROOM)
    by_today = np.abs(air_of(found.body, *ahead, ROOM) - true)[: time.size].max()
    by_before = np.abs(air_of(before.body, *ahead, ROOM) - true)[: time.size].max()
    assert by_today < 0.3 * by_before
    assert found.body.settings.tolist() == TRUE.settings.tolist()
    assert found.loss_error < 0.06 * found.body.loss


def test_setting_that_was_never_used_before_is_learnt_beside_a_known_kiln() -> None:
    before_dial = np.where(DIAL == 3.0, 2.0, DIAL)
    before = fit_kiln(TIME, air_of(TRUE, TIME, before_dial, ROOM), before_dial, room=ROOM)

    found = fit_kiln(TIME, air_of(TRUE, TIME, DIAL, ROOM), DIAL, room=ROOM, known=before)

    assert before.body.settings.tolist() == [0.0, 1.0, 2.0]
    assert found.body.settings.tolist() == [0.0, 1.0, 2.0, 3.0]
    assert found.body.heating[3] == pytest.approx(TRUE.heating[3], rel=0.01)


def test_load_that_is_known_is_taken_off() -> None:
    load = np.where((TIME > 2 * HOUR) & (TIME < 5 * HOUR), 30.0 / HOUR, 0.0)
    air = air_of(TRUE, TIME, DIAL, ROOM, load)

    found = fit_kiln(TIME, air, DIAL, room=ROOM, load=load)
    blind = fit_kiln(TIME, air, DIAL, room=ROOM)

    assert found.body.heating == pytest.approx(TRUE.heating, rel=1e-5)
    assert blind.left_over > 1.0


def long_day(dial: si.Ratios) -> si.Kelvins:
    return air_of(TRUE, TIME, dial, ROOM)


@pytest.mark.parametrize(
    ("change", "what"),
    [
        (lambda t, _, d: (t, long_day(0.0 * d + 2.0), 0.0 * d + 2.0), "settings"),
        (lambda t, a, d: (t[:8], a[:8], d[:8] + np.arange(8) % 2), "kiln log"),
        (lambda t, a, d: (t[::13], a[::13], d[::13]), "kiln log"),
        (lambda t, a, d: (t[::-1], a, d), "time of the kiln log"),
        (lambda t, a, d: (t[:1], a[:1], d[:1]), "time of the kiln log"),
        (lambda t, a, d: (t, a[1:], d), "kiln log"),
        (lambda t, a, d: (t, np.where(t > 0, a, math.nan), d), "temperature of a reading"),
        (lambda t, a, d: (t, np.where(t > 0, a, 5273.15), d), "temperature of a reading"),
        (lambda t, a, d: (np.where(t > 0, t, math.nan), a, d), "time of a reading"),
        (lambda t, a, d: (t, a, -d), "setting of the dial"),
        (lambda t, a, d: (t, a, np.where(d > 0.0, 0.0, 1.0)), "in this log"),
        (lambda t, _, d: (t, noisy(np.full(t.size, 400.0), 5.0, 1), d), "in this log"),
    ],
    ids=[
        "one setting", "short", "few", "backwards", "one reading", "uneven", "nan", "5000",
        "nan time", "below 0", "dial the wrong way round", "nothing but noise",
    ],
)  # fmt: skip
def test_log_that_cannot_tell_is_refused(
    change: Callable[..., tuple[si.Seconds, si.Kelvins, si.Ratios]], what: str
) -> None:
    time, air, dial = change(TIME, air_of(TRUE, TIME, DIAL, ROOM), DIAL)

    with pytest.raises(InputError) as caught:
        fit_kiln(time, air, dial, room=ROOM)

    assert what in caught.value.what


def test_setting_that_cools_is_refused_by_its_number() -> None:
    """Our own scenario: the door stood open whenever the dial was on 3."""
    open_door = np.where(DIAL == 3.0, 200.0 / HOUR, 0.0)
    calm = np.where(DIAL == 3.0, 0.0, DIAL)
    air = air_of(TRUE, TIME, calm, 600.0, 0.2 * open_door)

    with pytest.raises(InputError, match="heating of setting 3 in this log is -40"):
        fit_kiln(TIME, air, DIAL, room=ROOM)


def test_log_whose_loss_could_be_anything_is_refused() -> None:
    """Two settings in 2 h 10 min, read to 4 K: the air has hardly bent."""
    time, dial = plan_of([0, 1.2], [3, 2], 2.17)
    read = noisy(air_of(TRUE, time, dial, ROOM), 4.0, 5)

    with pytest.raises(InputError, match="known to a third"):
        fit_kiln(time, read, dial, room=ROOM)


def test_room_that_is_no_room_is_refused() -> None:
    with pytest.raises(InputError, match="room"):
        fit_kiln(TIME, air_of(TRUE, TIME, DIAL, ROOM), DIAL, room=20.0)


def test_squares_settle_where_the_closed_form_is() -> None:
    """Exact: a straight line through points, by its normal equations."""
    x, y = np.arange(5.0), np.array([1.0, 2.9, 5.2, 7.1, 8.8])
    slope = ((x - 2.0) @ (y - y.mean())) / ((x - 2.0) @ (x - 2.0))

    theta, _, left = settle(lambda t: y - t[0] - t[1] * x, np.zeros(2), np.ones(2))

    assert theta == pytest.approx([y.mean() - 2.0 * slope, slope], rel=1e-9)
    assert left.sum() == pytest.approx(0.0, abs=1e-9)


def test_rows_that_cannot_tell_two_unknowns_apart_are_refused() -> None:
    with pytest.raises(InputError, match="kiln log"):
        settle(lambda t: np.arange(5.0) - t[0] - t[1], np.zeros(2), np.ones(2))
    with pytest.raises(InputError, match="kiln log"):
        settle(lambda t: np.arange(5.0) - t[0], np.zeros(2), np.ones(2))


def test_squares_without_a_lowest_place_are_no_answer() -> None:
    """Made to fail: the squares of a hyperbola fall for ever, ever slower."""
    with pytest.raises(SolveError, match="fit of the kiln"):
        settle(lambda t: np.array([1.0 / (2.0 + abs(t[0]))]), np.ones(1), np.ones(1))
