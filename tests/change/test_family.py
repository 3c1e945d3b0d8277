"""Family: luck is called luck, over a whole table and several looks."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.change.family import (
    BY_LUCK,
    EACH_EARLIER,
    LAST_LOOK,
    Tally,
    apart,
    by_luck,
    by_sign,
    pairs_of,
    tally,
)
from pourcast.errors import InputError


def row(gained: int, lost: int, share: float = 1.0) -> Tally:
    return Tally(gained=gained, lost=lost, share=share)


@pytest.mark.parametrize(
    ("gained", "lost", "want"),
    [(8, 1, 20 / 512), (10, 0, 2 / 1024), (3, 3, 1.0), (0, 0, 1.0), (1, 8, 20 / 512)],
)
def test_one_row_is_the_sign_test(gained: int, lost: int, want: float) -> None:
    """Closed form: twice the tail of a fair coin; (1 + 9) / 512, twice, for 8 of 9."""
    assert by_sign(row(gained, lost)) == pytest.approx(want, rel=1e-12)


@given(st.integers(0, 60), st.integers(0, 60))
def test_the_tail_is_that_of_all_ways_that_coins_fall(gained: int, lost: int) -> None:
    """Closed form: counted with whole numbers."""
    many = gained + lost
    tail = sum(math.comb(many, k) for k in range(max(gained, lost), many + 1))

    assert by_sign(row(gained, lost)) == pytest.approx(min(1.0, 2 * tail / 2**many), rel=1e-9)


def test_a_hundred_thousand_draws_are_no_trouble() -> None:
    """Closed form: 3 standard deviations of the normal limit, p 0.0027, to 3 %."""
    assert by_sign(row(50_474, 49_526)) == pytest.approx(0.0027, rel=0.03)


def test_only_rows_that_could_be_told_are_counted() -> None:
    """By hand, as Tarone (1990) counts: rows of 1 draw cannot reach 0.05, whoever they are.

    One row of 7 draws, all gained, has p = 2/128 = 0.0156.  With Bonferroni over 20 rows it is
    luck; the other 19 cannot reach 0.05, so it counts as one row.
    """
    told = by_luck([row(7, 0), *[row(1, 0)] * 19])

    assert told[0] == pytest.approx(2 / 128)
    assert told[1:] == (1.0,) * 19
    assert by_luck([row(7, 0)] * 20) == (1.0,) * 20


def test_shares_of_the_looks_make_one() -> None:
    assert pytest.approx(1.0) == LAST_LOOK + 2 * EACH_EARLIER


def test_a_table_of_rows_of_no_matter_names_one_in_a_twentieth_of_the_cases() -> None:
    """Definition of the family-wise error; rows stop at looks that luck itself picks.

    Worst case on purpose: each row stops at the look at which it looks best.  3000 tables of
    12 rows; tolerance three standard errors of 0.05, 0.012.  Found: 0.026.
    """
    generator = np.random.default_rng(1)
    tables, named = 3000, 0
    for _ in range(tables):
        rows = []
        for rate in np.linspace(0.02, 0.3, 12):
            way = generator.choice([-1, 0, 1], 400, p=[rate / 2, 1 - rate, rate / 2])
            seen = [
                row(int((way[:n] > 0).sum()), int((way[:n] < 0).sum()),
                    LAST_LOOK if n == 400 else EACH_EARLIER)
                for n in (100, 200, 400)
            ]  # fmt: skip
            rows.append(min(seen, key=lambda one: by_sign(one) / one.share))
        named += min(by_luck(rows)) <= BY_LUCK

    assert named / tables <= BY_LUCK + 0.012
    assert named > 0


def test_twice_the_standard_error_alone_would_name_many_more() -> None:
    """Why it is asked at all: of 12 rows of no matter one passes 2 errors in 46 of 100 tables.

    Closed form: 1 - 0.95**12 = 0.46.  Tolerance 0.08: 400 tables and whole draws.
    """
    generator = np.random.default_rng(2)
    named = 0
    for _ in range(400):
        ways = generator.choice([-1, 0, 1], (12, 400), p=[0.15, 0.7, 0.15])
        error = ways.std(axis=1, ddof=1) / 20.0
        named += bool((np.abs(ways.mean(axis=1)) > 1.96 * error).any())

    assert named / 400 == pytest.approx(1 - 0.95**12, abs=0.08)


def test_pairs_are_told_apart_by_their_number() -> None:
    """By hand: 10 draws one way, p = 1/512, passes for 25 pairs and not for 26."""
    assert apart(row(10, 0), 25)
    assert not apart(row(10, 0), 26)
    assert [pairs_of(rows) for rows in (1, 2, 3, 5)] == [0, 1, 3, 10]


def test_pairs_of_an_earlier_look_must_differ_by_more() -> None:
    """By hand: 10 draws one way, p = 1/512, over a share of 0.2 pass for 5 pairs and not for 6."""
    assert apart(row(10, 0, EACH_EARLIER), 5)
    assert not apart(row(10, 0, EACH_EARLIER), 6)


def test_draws_that_both_have_are_counted() -> None:
    before = np.array([False, False, True, True])
    after = np.array([True, False, False])

    assert tally(before, after, 4) == row(1, 1, EACH_EARLIER)
    assert tally(before, ~before, 4) == row(2, 2, LAST_LOOK)


@given(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30)), max_size=12))
def test_order_of_the_rows_is_of_no_matter(pairs: list[tuple[int, int]]) -> None:
    rows = list(itertools.starmap(row, pairs))

    assert by_luck(rows)[::-1] == by_luck(rows[::-1])
    assert all(0.0 <= each <= 1.0 for each in by_luck(rows))


@pytest.mark.parametrize(("gained", "lost", "share"), [(-1, 0, 1.0), (0, -1, 1.0), (0, 0, 0.0)])
def test_what_is_no_tally_is_refused(gained: int, lost: int, share: float) -> None:
    with pytest.raises(InputError):
        row(gained, lost, share)
