"""Do days end in the interval that was told of them?

The truth is made up: a draw that the forecast has not seen, in a kiln whose pace and
heat are drawn from the very laws that the forecast takes.  That asks whether what is
told adds up; it cannot ask whether the laws are those of a real kiln.
"""

import numpy as np
import pytest

from pourcast.day.case import DayCase, day_case
from pourcast.day.futures import _ORDER as HEAT_ORDER
from pourcast.day.futures import FUTURES, normal_middles
from pourcast.day.particles import percentiles
from pourcast.day.pool import standing_for_all
from pourcast.errors import InputError
from pourcast.sheet import read_plan
from tests.day.conftest import EXAMPLE
from tests.day.made_up_days import intervals, share_inside, share_late
from tests.outside.record import record

SOUGHT = 0.05
"""Either side of 80 in 100."""


@pytest.mark.parametrize("wall", [False, True])
def test_days_end_in_their_interval_of_eighty_in_a_hundred(case: DayCase, wall: bool) -> None:
    """Of our own making: 80 of 100 days end in an interval of 10 to 90 in 100.

    Tolerance: 75 to 85 is sought, and three standard errors of 16 days are 0.30.
    """
    found = intervals(case, 16, seed=1, wall=wall)

    slack = SOUGHT + 3.0 * (0.8 * 0.2 / 16) ** 0.5
    for name, pairs in found.items():
        assert share_inside(pairs) == pytest.approx(0.8, abs=slack), name
        assert share_late(pairs) <= 0.1 + slack, name


@pytest.mark.long
@pytest.mark.parametrize("piece", ["sea_holly", "larch_twig"])
@pytest.mark.parametrize("wall", [False, True])
@pytest.mark.parametrize("goes_on", [True, False])
def test_two_hundred_days_end_in_their_interval(piece: str, wall: bool, goes_on: bool) -> None:
    """Of our own making, as above, with as many particles as a day has.

    The seed has shown that dry was told too narrow, of which the ties of the draws to the
    kiln and the places of the percentiles were the causes; nothing was turned until it
    fitted.  Tolerance: 75 to 85 is sought, and two standard errors of 200 days are 0.057;
    after the interval 5 to 15, and two are 0.042.
    Found: docs/kiln-day.md.
    """
    file = EXAMPLE.with_name(f"{piece}.toml")
    case = day_case(read_plan(file.read_text(encoding="utf-8"), file=file.name), threads=1)

    found = intervals(case, 200, seed=9001, wall=wall, goes_on=goes_on)

    slack = SOUGHT + 2.0 * (0.8 * 0.2 / 200) ** 0.5
    beside = "gauge and wall" if wall else "gauge alone"
    kept = "one pace all day" if goes_on else "a new pace from now on"
    for name, pairs in found.items():
        inside = share_inside(pairs)
        record(
            "day",
            f"made-up days in their interval: {name}, {piece}, {beside}, {kept}",
            "80 in 100 by the meaning of the interval",
            inside,
            0.8,
            "-",
            slack,
            kind="by construction",
        )
        late = share_late(pairs)
        beyond = SOUGHT + 2.0 * (0.1 * 0.9 / 200) ** 0.5
        record(
            "day",
            f"made-up days that end after their interval: {name}, {piece}, {beside}, {kept}",
            "10 in 100 by the meaning of the interval",
            late,
            0.1,
            "-",
            beyond,
            kind="by construction",
        )
        assert inside == pytest.approx(0.8, abs=slack), name
        assert late == pytest.approx(0.1, abs=beyond), name


def test_the_tenth_of_the_futures_lies_where_that_of_a_normal_law_does() -> None:
    """Published: 1.2816, the normal deviate of 0.9 (any table, such as Abramowitz, 26.1).

    Tolerance 0.05: a share of 24 is 0.042 wide.  Found: 1.30.  Six futures had 1.50.
    """
    middles = normal_middles()

    tenth = -float(np.sort(middles)[int(np.ceil(0.1 * FUTURES)) - 1])

    record(
        "day",
        "tenth of the futures of a kiln",
        "normal law, tables",
        tenth,
        1.2816,
        "-",
        0.05,
        kind="table",
    )
    assert tenth == pytest.approx(1.2816, abs=0.05)
    assert np.mean(middles) == pytest.approx(0.0, abs=1e-12)
    assert np.mean(np.square(middles)) == pytest.approx(1.0, abs=1e-12)


def test_those_that_stand_for_a_pool_have_its_tenths() -> None:
    """Exact up to one run of the pool: its tenths are those of the hours it was drawn from.

    Made up: normal hours, clean tied to dry.  Tolerance 0.12 standard deviations: 96 as
    they come miss the tenth by 0.17 (one standard error); those chosen by 0.03 to 0.05.
    """
    rng = np.random.default_rng(3)
    missed = []
    for _ in range(20):
        dry = rng.standard_normal(768)
        clean = 0.5 * dry + rng.standard_normal(768)
        rows = standing_for_all(clean, dry, 96)
        assert np.unique(rows).size == 96
        for hours in (dry, clean):
            missed.append(np.percentile(hours[rows], [10, 90]) - np.percentile(hours, [10, 90]))

    assert float(np.sqrt(np.mean(np.square(missed)))) <= 0.12


def test_each_future_has_early_and_late_particles() -> None:
    """Ours to keep: each future of the kiln has one particle of each quarter of the hours."""
    clean = np.arange(768.0)

    rows = standing_for_all(clean, clean, 96)

    quarters = rows.reshape(FUTURES, -1) // 192
    assert (np.sort(quarters, axis=1) == np.arange(4)).all()


@pytest.mark.parametrize("of_both", [0.0, 0.7])
def test_the_hours_of_a_draw_do_not_hang_together_with_its_future(of_both: float) -> None:
    """Exact: draw and kiln are independent, so that their spreads add up by squares.

    Made up: normal hours of 30 pools.  Tolerance 0.08 of the mean: 96 pairs as they come
    have a correlation of 0.10 (one standard error).  A deal by one stride alone had 0.40
    between dry and heat in each pool, and what is told was 7 in 100 too narrow.
    """
    rng = np.random.default_rng(4)
    pace, heat = np.array(normal_middles()), np.array(normal_middles())[list(HEAT_ORDER)]
    found = []
    for _ in range(30):
        clean = rng.standard_normal(768)
        dry = of_both * clean + np.sqrt(1.0 - of_both**2) * rng.standard_normal(768)
        rows = standing_for_all(clean, dry, 96)
        found.append(
            [
                np.corrcoef(hours[rows], np.repeat(future, 4))[0, 1]
                for hours in (dry, clean)
                for future in (pace, heat)
            ]
        )

    assert np.abs(np.mean(found, axis=0)).max() <= 0.08


def test_those_that_stand_for_a_pool_spread_like_it() -> None:
    """Exact: a draw of each place in a piece has the variance of the pool.

    Tolerance 3 in 100: ten pools.  The middles of the pieces had 6 in 100 less spread in dry.
    """
    rng = np.random.default_rng(5)
    shares = []
    for _ in range(10):
        clean, dry = rng.standard_normal((2, 768))
        rows = standing_for_all(clean, dry, 96)
        shares.append([hours[rows].std() / hours.std() for hours in (dry, clean)])

    assert np.mean(shares, axis=0) == pytest.approx(np.ones(2), abs=0.03)


@pytest.mark.parametrize("draws", [24, 96])
def test_an_interval_of_few_draws_holds_another_as_often_as_told(draws: int) -> None:
    """Exact: ranks of n + 1 like draws, (n + 1) of them as likely (Hyndman and Fan 1996, type 6).

    Tolerance 0.02: 4000 trials, three standard errors.  Between the first draws at which the
    shares are reached lie 19 of 25 where 24 stand.
    """
    rng = np.random.default_rng(6)
    inside = []
    for _ in range(4000):
        values, another = rng.uniform(size=draws), rng.uniform()
        low, high = percentiles(values, np.full(draws, 1.0 / draws), (0.1, 0.9))
        inside.append(low <= another <= high)

    assert np.mean(inside) == pytest.approx(0.8, abs=0.02)


def test_a_pool_that_never_comes_clean_can_be_chosen_from_and_odd_numbers_are_refused() -> None:
    never = np.full(192, np.nan)

    assert np.unique(standing_for_all(never, np.arange(192.0), 24)).size == 24
    with pytest.raises(InputError, match="particles"):
        standing_for_all(never, never, 25)
