"""The shortest curve: against every curve of the grid, and what it may never do."""

import itertools
import math
from collections.abc import Callable
from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.burnout.margins import NOT_SEARCHED, USUAL_LEAST, Margins, broken
from pourcast.burnout.model import KilnStep
from pourcast.burnout.shortest import Rule, Shortest, shortest
from pourcast.burnout.spans import ladders
from pourcast.burnout.usual import least_steps, usual_steps
from pourcast.errors import InputError
from pourcast.materials import library
from tests.strategies_kiln import FASTEST, ROOM, margins

HOUR = 3600.0
Evaluate = Callable[[tuple[KilnStep, ...]], Margins]

ALLOWED = Margins(
    stress=1.0,
    skin_to_core=60.0,
    inversion_ramp=100.0 / HOUR,
    hot_char=1033.15,
    char=1e-6,
    core_off=15.0,
)
NOTHING = Margins(
    stress=0.0, skin_to_core=0.0, inversion_ramp=0.0, hot_char=0.0, char=0.0, core_off=0.0
)


def two_steps(first: float, second: float, ramp: float, again: float) -> tuple[KilnStep, ...]:
    """Return steps to 150 and 730 °C by their holds and the hours of their ramps."""
    return (
        KilnStep(temperature=423.15, ramp=130.0 / HOUR / ramp, hold=first * HOUR),
        KilnStep(temperature=1003.15, ramp=580.0 / HOUR / again, hold=second * HOUR),
    )


USUAL = two_steps(3.0, 4.0, 3.0, 6.0)
LEAST = two_steps(1.0, 2.0, 1.0, 2.0)


def hours_of(steps: tuple[KilnStep, ...]) -> list[float]:
    """Return the hours of ramp and hold in turn, by a pencil."""
    found, here = [], ROOM
    for step in steps:
        ramp = 0.0 if step.ramp is None else abs(step.temperature - here) / step.ramp
        found += [ramp / HOUR, step.hold / HOUR]
        here = step.temperature
    return found


def stub(weights: tuple[float, ...], need: float, bend: float) -> Evaluate:
    """Return a made-up judge: hours count by weight, and with a power, until they suffice.

    Stress wants time before the top, char wants time in all; both fall with every
    hour, as they do in a kiln.
    """

    def evaluate(steps: tuple[KilnStep, ...]) -> Margins:
        hours = np.array(hours_of(steps))
        served = float(np.array(weights) @ hours**bend)
        early = float(hours[0] + 0.5 * hours[1])
        return replace(NOTHING, char=1e-6 * math.exp(need - served), stress=3.0 / max(early, 1e-9))

    return evaluate


def all_times(evaluate: Evaluate, allowed: Margins, grid: float) -> float:
    """Return the least hours of all curves of the grid, up to 4 h over usual in each span."""
    made = ladders(USUAL, LEAST, start=ROOM, fastest=FASTEST, grid=grid)
    longer = round(4.0 * HOUR / grid)
    every = itertools.product(*(range(-longer, low + 1) for low in made.lowest))
    good = [made.time(rungs) for rungs in every if not broken(evaluate(made.steps(rungs)), allowed)]
    return min(good) / HOUR


def search(evaluate: Evaluate, **options: object) -> Shortest:
    chosen: dict[str, object] = {"start": ROOM, "fastest": FASTEST, "grid": 1800.0}
    return shortest(USUAL, LEAST, evaluate, ALLOWED, **(chosen | options))  # type: ignore[arg-type]


@pytest.mark.parametrize("bend", [0.5, 1.0], ids=["each hour does less", "as much"])
@pytest.mark.parametrize(
    "weights",
    [
        (1.0, 1.0, 1.0, 1.0),
        (0.3, 0.4, 0.6, 2.0),
        (2.0, 0.1, 0.7, 0.9),
        (0.0, 0.0, 1.0, 1.1),
        (14.0, 12.0, 5.0, 6.0),
        (1.0, 8.0, 10.0, 6.0),
    ],
)
@pytest.mark.parametrize("share", [0.6, 0.86, 0.95])
def test_search_finds_the_shortest_curve_of_the_grid(
    weights: tuple[float, ...], share: float, bend: float
) -> None:
    """Against every curve of a grid of hours, 7 × 7 × 9 × 7 of them.

    No tolerance but rounding.
    """
    need = share * float(np.array(weights) @ np.array(hours_of(USUAL)) ** bend)
    evaluate = stub(weights, need, bend)

    found = search(evaluate, grid=HOUR)

    assert found.broken == ()
    assert found.time / HOUR == pytest.approx(all_times(evaluate, ALLOWED, HOUR), abs=1e-6)
    assert found.curves < 200


@given(
    weights=st.lists(st.integers(0, 20), min_size=4, max_size=4).filter(any),
    share=st.integers(50, 100),
    bend=st.sampled_from((0.5, 1.0, 1.5)),
)
@settings(max_examples=25, derandomize=True)
def test_answer_is_near_the_shortest_curve_of_the_grid(
    weights: list[int], share: int, bend: float
) -> None:
    """Against every curve of a grid of hours; what the search is known to miss.

    Tolerance one grid: a curve that two longer spans at once would open is not seen.
    Found: of 300 such cases 288 the shortest itself, 12 one grid longer, none more.
    """
    need = share / 100.0 * float(np.array(weights) @ np.array(hours_of(USUAL)) ** bend)
    evaluate = stub(tuple(map(float, weights)), need - 1e-9, bend)

    found = search(evaluate, grid=HOUR)

    best = all_times(evaluate, ALLOWED, HOUR)
    assert best - 1e-6 <= found.time / HOUR <= best + 1.0 + 1e-6


def test_without_limits_the_answer_is_what_the_trade_takes_at_the_least() -> None:
    found = search(lambda _: NOTHING)

    assert hours_of(found.steps) == pytest.approx(hours_of(LEAST))
    assert found.gained / HOUR == pytest.approx(10.0)
    assert {limit for rule in found.rules for limit in rule.limits} == {USUAL_LEAST}


def test_last_rung_of_a_ladder_is_the_least_span_whatever_the_grid() -> None:
    """Exact: 3 h less 0.7 h at a time is 2.3, 1.6 and, not 0.9, the least 1 h."""
    made = ladders(USUAL, LEAST, start=ROOM, fastest=FASTEST, grid=0.7 * HOUR)

    assert made.lowest[1] == 3
    assert [made.spans((0, rung, 0, 0))[1] / HOUR for rung in range(4)] == pytest.approx(
        [3.0, 2.3, 1.6, 1.0]
    )
    assert hours_of(search(lambda _: NOTHING, grid=0.7 * HOUR).steps) == pytest.approx(
        hours_of(LEAST)
    )


@given(reached=margins())
def test_curve_that_keeps_every_limit_and_only_such_is_good(reached: Margins) -> None:
    over = [
        field.name
        for field in fields(Margins)
        if getattr(reached, field.name) > getattr(ALLOWED, field.name)
    ]

    assert len(broken(reached, ALLOWED)) == len(over)


def kiln_like(steps: tuple[KilnStep, ...]) -> Margins:
    """Return margins by a made-up block that behaves like one: lag, water, char, soak."""
    here, wet, char, lag, turn, stress = ROOM, 1.0, 1e-2, 0.0, 0.0, 0.0
    for step in steps:
        ramp = step.ramp or FASTEST
        up = step.temperature > here
        if up:
            lag = max(lag, 2000.0 * ramp)
            if any(here < change < step.temperature for change in (518.15, 846.15)):
                turn = max(turn, 0.9 * ramp)
            stress = max(stress, 0.03 * wet * ramp * HOUR)
        span = abs(step.temperature - here) / ramp + step.hold
        wet *= math.exp(-span / (3.0 * HOUR))
        if step.temperature > 900.0 and up:
            char *= math.exp(-step.hold / (0.45 * HOUR))
        here = step.temperature
    soak = steps[-1].hold + 65.0 / (steps[-1].ramp or FASTEST)
    return Margins(
        stress=stress,
        skin_to_core=lag,
        inversion_ramp=turn,
        hot_char=1003.15,
        char=char,
        core_off=130.0 * math.exp(-soak / (0.8 * HOUR)),
    )


BOOK = library()
REAL = usual_steps(BOOK.investment["limits"], 0.127, 873.15, plant=BOOK.plants["general"])
REAL_LEAST = least_steps(BOOK.investment["limits"], 873.15, plant=BOOK.plants["general"])


def real(allowed: Margins = ALLOWED, **options: object) -> Shortest:
    chosen: dict[str, object] = {"start": ROOM, "fastest": FASTEST}
    return shortest(REAL, REAL_LEAST, kiln_like, allowed, **(chosen | options))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def answer() -> Shortest:
    return real(most_curves=1000)


def test_usual_curve_of_a_large_flask_is_shortened_and_keeps_every_limit(answer: Shortest) -> None:
    """A made-up block; the usual curve breaks three of its limits, the answer none."""
    assert broken(kiln_like(answer.steps), ALLOWED) == ()
    assert answer.margins == kiln_like(answer.steps)
    assert answer.usual_margins == kiln_like(REAL)
    assert set(answer.usual_broken) == {
        "skin of the block hotter than its core",
        "ramp through the changes of silica",
        "steam and stress",
    }
    assert answer.usual_time / HOUR == pytest.approx(sum(hours_of(REAL)))
    assert answer.time / HOUR == pytest.approx(sum(hours_of(answer.steps)))
    assert answer.gained == pytest.approx(answer.usual_time - answer.time)
    assert answer.time < answer.usual_time


def test_no_span_is_under_what_the_trade_takes_at_the_least(answer: Shortest) -> None:
    for found, least in zip(hours_of(answer.steps), hours_of(REAL_LEAST), strict=True):
        assert found >= least - 1e-9


def test_rule_names_what_one_grid_less_would_break(answer: Shortest) -> None:
    """Each rule is tried by hand: that span a quarter of an hour shorter, all others as found."""
    hours = hours_of(answer.steps)
    assert {(rule.step, rule.part) for rule in answer.rules} >= {(1, "ramp"), (4, "hold")}
    for rule in answer.rules:
        place = 2 * (rule.step - 1) + (rule.part == "hold")
        least = hours_of(REAL_LEAST)[place]
        if rule.limits == (USUAL_LEAST,):
            assert hours[place] == pytest.approx(least)
            continue
        shorter = list(hours)
        shorter[place] = max(hours[place] - 0.25, least)
        steps, here = [], ROOM
        for at, step in enumerate(answer.steps):
            ramp = abs(step.temperature - here) / HOUR / shorter[2 * at]
            here = step.temperature
            steps.append(replace(step, ramp=ramp, hold=shorter[2 * at + 1] * HOUR))
        assert broken(kiln_like(tuple(steps)), ALLOWED) == rule.limits


@given(seed=st.integers(0, 10_000), often=st.integers(5, 60))
@settings(max_examples=60, derandomize=True)
def test_judge_without_any_law_is_never_misread(seed: int, often: int) -> None:
    """Property: whatever the judge says, the answer keeps every limit, and each rule holds.

    The guess that shorter curves of a bad one are bad is wrong here all the time.
    """

    def evaluate(steps: tuple[KilnStep, ...]) -> Margins:
        minutes = [seed, *(round(60.0 * hours) for hours in hours_of(steps))]
        bad = np.random.default_rng(minutes).integers(100) < often
        return replace(NOTHING, stress=2.0 if bad else 0.5)

    found = search(evaluate, most_curves=2000)

    if found.rules:
        assert found.whole
        assert found.broken == ()
        for rule in found.rules:
            assert rule.limits in ((USUAL_LEAST,), ("steam and stress",))
    else:
        assert found.broken == ("steam and stress",)
        assert found.steps == found.usual


def test_usual_curve_that_breaks_a_limit_is_made_longer() -> None:
    """Char that wants 12 h at the top, of which the usual curve has 9."""
    found = search(
        lambda steps: replace(NOTHING, char=2e-6 if sum(hours_of(steps)[2:]) < 12.0 else 0.0)
    )

    assert found.usual_broken == ("char at the pour",)
    assert found.broken == ()
    assert sum(hours_of(found.steps)[2:]) == pytest.approx(12.0, abs=0.5)


def test_limit_that_no_curve_keeps_is_said_and_the_usual_curve_stays() -> None:
    hopeless = replace(ALLOWED, hot_char=900.0)

    found = real(hopeless)

    assert "top while char is left" in found.broken
    assert found.steps == found.usual
    assert found.gained == 0.0
    assert found.rules == ()


def test_search_that_may_not_ask_on_still_keeps_every_limit(answer: Shortest) -> None:
    short = real(most_curves=30)

    assert not short.whole
    assert short.broken == ()
    assert answer.time <= short.time
    assert short.curves <= 30 + len(hours_of(REAL))
    assert any(NOT_SEARCHED in rule.limits for rule in short.rules)


def test_progress_is_told_of_every_curve() -> None:
    told: list[tuple[int, int, float]] = []

    found = real(progress=lambda done, most, time: told.append((done, most, time)))

    assert [done for done, _, _ in told] == list(range(1, found.curves + 1))
    assert all(done <= most for done, most, _ in told)
    assert told[-1][2] == pytest.approx(found.time)


def test_step_as_fast_as_the_kiln_can_takes_the_fastest_ramp() -> None:
    usual = (KilnStep(temperature=693.15, ramp=None, hold=HOUR),)
    least = (KilnStep(temperature=693.15, ramp=None, hold=0.5 * HOUR),)

    found = shortest(usual, least, lambda _: NOTHING, ALLOWED, start=ROOM, fastest=400.0 / HOUR)

    assert found.time == pytest.approx(1.5 * HOUR)
    assert Rule(step=1, part="ramp", limits=(USUAL_LEAST,)) in found.rules


def test_hold_that_usually_is_none_stays_none(answer: Shortest) -> None:
    assert REAL[1].hold == 0.0
    assert answer.steps[1].hold == 0.0
    assert not any(rule.step == 2 and rule.part == "hold" for rule in answer.rules)


def test_margin_that_is_no_number_is_refused() -> None:
    with pytest.raises(InputError, match="char"):
        search(lambda _: replace(NOTHING, char=math.nan))


@pytest.mark.parametrize(
    ("usual", "least", "options", "what"),
    [
        ((), (), {}, "kiln steps"),
        (USUAL, LEAST[:1], {}, "least kiln steps"),
        (USUAL, (LEAST[0], replace(LEAST[1], temperature=900.0)), {}, "least kiln steps"),
        (LEAST, USUAL, {}, "ramp of kiln step 1"),
        (USUAL, (LEAST[0], replace(LEAST[1], hold=9 * HOUR)), {}, "hold of kiln step 2"),
        (USUAL, LEAST, {"grid": 0.0}, "grid of the search"),
        (USUAL, LEAST, {"fastest": 0.0}, "fastest ramp of the kiln"),
        (USUAL, LEAST, {"most_curves": 1}, "most curves"),
    ],
)
def test_search_that_cannot_be_made_is_refused(
    usual: tuple[KilnStep, ...],
    least: tuple[KilnStep, ...],
    options: dict[str, float],
    what: str,
) -> None:
    chosen: dict[str, object] = {"start": ROOM, "fastest": FASTEST}

    with pytest.raises(InputError) as caught:
        shortest(usual, least, lambda _: NOTHING, ALLOWED, **(chosen | options))  # type: ignore[arg-type]

    assert caught.value.what == what
