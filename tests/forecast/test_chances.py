"""Chances: hand-made endings with a known answer, and published intervals."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import spearmanr

from pourcast.forecast import chances
from pourcast.forecast.chances import (
    MOST_SHORT_TIPS,
    Members,
    chance_interval,
    members,
    outcomes,
    part_forecasts,
    rank_correlation,
    segment_chance,
    spread,
)
from pourcast.pour.model import CAPILLARY, COLD, FULL, GAS
from tests.forecast.hand import comb, ending, filled_to, measures_of
from tests.outside.record import record
from tests.pour.cases import bar

FULL_SHARE = 0.95

WHOLE = [1.0] * 8
ONE_TIP_SHORT = [1.0] * 6 + [0.5, 0.0]  # of 4 mm are 1.5 mm filled
NEARLY_WHOLE = [1.0] * 7 + [0.9]  # of 4 mm are 3.9 mm filled: 97.5 %
STEM_ONLY = [1.0, 0.5] + [0.0] * 6  # of 32 mm are 15 mm filled


def test_a_member_is_full_from_95_in_100_of_its_length() -> None:
    """By hand: the last tooth is 3 mm + 1 mm long; 3.9 mm of it is 97.5 %."""
    ends = members(comb(), filled_to([WHOLE, NEARLY_WHOLE, ONE_TIP_SHORT], GAS), FULL_SHARE)

    assert ends.share[:, 3] == pytest.approx([1.0, 0.975, 0.375], rel=1e-12)
    assert ends.full[:, 3].tolist() == [True, True, False]
    assert ends.full[:, :3].all()


def test_cause_of_a_member_is_that_of_its_first_segment_that_is_short() -> None:
    """By hand: the metal stopped for cold in the third millimetre; what lies beyond is its wake."""
    result = filled_to([ONE_TIP_SHORT], GAS)
    result.cause[0, 6:] = COLD, GAS

    assert members(comb(), result, FULL_SHARE).cause.tolist() == [[FULL, FULL, FULL, COLD]]


def test_a_member_is_full_when_its_last_segment_is() -> None:
    result = filled_to([WHOLE, ONE_TIP_SHORT], GAS)
    result.fill_time[0] = [0.1, 0.2, 0.3, 0.9, 0.3, 0.4, 0.5, 0.6]

    ends = members(comb(), result, FULL_SHARE)

    assert ends.full_at[0].tolist() == [0.2, 0.9, 0.4, 0.6]
    assert np.isnan(ends.full_at[1]).tolist() == [False, False, False, True]


def test_parts_come_out_as_counted_by_hand() -> None:
    """By hand: four pours; the teeth are all full in two of them, each one in three or more."""
    rows = [WHOLE, NEARLY_WHOLE, ONE_TIP_SHORT, [*WHOLE[:2], 0.0, 0.0, *WHOLE[4:]]]
    result = filled_to(rows, GAS)
    result.cause[3, 2:4] = CAPILLARY
    network = comb()

    stem, tooth = part_forecasts(
        network, measures_of(network), members(network, result, FULL_SHARE)
    )

    assert (stem.name, stem.count, stem.chance_full, stem.cause) == ("stem", 1, 1.0, None)
    assert stem.causes == {}
    assert (tooth.count, tooth.chance_full, tooth.chance_weakest) == (3, 0.5, 0.75)
    assert tooth.causes == {"gas": 0.5, "capillary": 0.5}
    assert tooth.thinnest == pytest.approx(1e-3)
    # Of 12 mm: 12, 11.9, 9.5 and 8 mm.
    assert tooth.share.p50 == pytest.approx((11.9 + 9.5) / 2 / 12)
    assert tooth.fill_time is not None
    assert tooth.fill_time.p50 == 2.0


def test_a_part_that_never_fills_has_no_time() -> None:
    network = comb()
    ends = members(network, filled_to([ONE_TIP_SHORT] * 3, COLD), FULL_SHARE)

    tooth = part_forecasts(network, measures_of(network), ends)[1]

    assert tooth.fill_time is None
    assert tooth.chance_full == 0.0
    assert tooth.causes == {"cold": 1.0}


def test_a_part_that_is_full_to_95_in_100_only_has_no_time() -> None:
    """The tip was never reached, so there is no moment to tell."""
    network = comb()
    ends = members(network, filled_to([NEARLY_WHOLE], COLD), FULL_SHARE)

    tooth = part_forecasts(network, measures_of(network), ends)[1]

    assert (tooth.chance_full, tooth.fill_time) == (1.0, None)


def test_endings_are_told_apart_as_their_names_say() -> None:
    """By hand: whole; one tip 1.5 of 4 mm; one tip 3 of 4 mm; less than half of the piece."""
    tip_three_quarters = [*WHOLE[:7], 0.0]
    network = comb()
    ends = members(
        network,
        filled_to([WHOLE, NEARLY_WHOLE, ONE_TIP_SHORT, tip_three_quarters, STEM_ONLY], GAS),
        FULL_SHARE,
    )

    how = outcomes(network, ends)

    assert (how.whole, how.short_tips, how.short_parts, how.lost) == (0.4, 0.2, 0.2, 0.2)


@pytest.mark.parametrize(("short", "tips"), [(MOST_SHORT_TIPS, 1.0), (MOST_SHORT_TIPS + 1, 0.0)])
def test_more_than_three_short_tips_are_worse_than_short_tips(short: int, tips: float) -> None:
    network = replace(
        comb(), member_part=np.zeros(8, dtype=int), member=np.arange(8), part_names=("all",)
    )
    rows = [[0.75] * short + [1.0] * (8 - short)]

    how = outcomes(network, members(network, filled_to(rows, GAS), FULL_SHARE))

    assert how.short_tips == tips
    assert how.short_parts == 1.0 - tips


@given(st.integers(1, 12), st.integers(0, 2**32 - 1))
def test_endings_add_up_to_1_and_shares_lie_within_0_and_1(draws: int, seed: int) -> None:
    """Conservation: each pour ends in one way.  Rounding: 1e-12 is far above that of four sums."""
    chance = np.random.default_rng(seed)
    filled = chance.choice([0.0, 1e-17, 0.3, 0.95, 1.0 - 1e-16, 1.0], size=(draws, 8))
    cause = np.where(filled >= 1.0, FULL, chance.integers(1, 7, filled.shape))
    network = comb()

    ends = members(network, ending(filled, cause, np.full(filled.shape, np.nan)), FULL_SHARE)
    how = outcomes(network, ends)
    parts = part_forecasts(network, measures_of(network), ends)

    assert how.whole + how.short_tips + how.short_parts + how.lost == pytest.approx(1.0, abs=1e-12)
    assert ends.share.min() >= 0.0
    assert ends.share.max() <= 1.0
    for part in parts:
        assert 0.0 <= part.share.p10 <= part.share.p50 <= part.share.p90 <= 1.0
        assert part.chance_full <= part.chance_weakest
        assert not part.causes or sum(part.causes.values()) == pytest.approx(1.0)


def test_no_share_of_an_empty_piece_lies_a_rounding_under_0() -> None:
    """Weights of many lengths add up to 1 and a rounding; a share below 0 is no share.

    Of 200 pieces with lengths at random many would have one.
    """
    chance = np.random.default_rng(1)
    empty = np.zeros((1, 40))
    result = ending(empty, np.full(empty.shape, COLD), np.full(empty.shape, np.nan))
    shares = []
    for _ in range(200):
        network = replace(bar(0.04, 1e-3, 40), length=chance.uniform(1e-4, 1e-2, 40))
        ends = members(network, result, FULL_SHARE)
        parts = part_forecasts(network, measures_of(network), ends)
        shares += [*ends.share.ravel().tolist(), *(part.share.p10 for part in parts)]

    assert min(shares) >= 0.0
    assert max(shares) < 1e-15


def test_chance_of_a_segment_counts_the_pours_that_reach_its_end() -> None:
    result = filled_to([WHOLE, NEARLY_WHOLE, ONE_TIP_SHORT, STEM_ONLY], GAS)

    assert segment_chance(result).tolist() == [1.0, 0.75, 0.75, 0.75, 0.75, 0.75, 0.5, 0.25]


def test_spread_of_eleven_numbers_is_its_second_sixth_and_tenth() -> None:
    """By hand: 0, 10, ... 100 has its percentiles at its own numbers."""
    told = spread(np.arange(11.0)[::-1] * 10.0)

    assert (told.p10, told.p50, told.p90) == pytest.approx((10.0, 50.0, 90.0))


@settings(max_examples=200)
@given(
    st.lists(st.tuples(st.integers(-4, 4), st.floats(-10, 10).map(round)), min_size=2, max_size=40)
)
def test_rank_correlation_agrees_with_that_of_scipy_with_ties(
    pairs: list[tuple[int, int]],
) -> None:
    """Source: scipy.stats.spearmanr.  Tolerance 1e-12: rounding of sums of 40 ranks."""
    first, second = np.array(pairs, dtype=float).T
    if np.ptp(first) == 0.0 or np.ptp(second) == 0.0:
        assert rank_correlation(first, second) == 0.0
        return

    ours = rank_correlation(first, second)

    assert ours == pytest.approx(float(spearmanr(first, second).statistic), abs=1e-12)


PUBLISHED = (
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0000, 0.1611),
    (1, 29, 0.0061, 0.1718),
)
"""Cases, trials and the 95 % score interval without continuity correction."""


@pytest.mark.parametrize(("cases", "trials", "low", "high"), PUBLISHED)
def test_interval_agrees_with_the_published_table(
    cases: int, trials: int, low: float, high: float
) -> None:
    """Published: 95 % score intervals of four shares, to 4 figures.

    Source: Newcombe (1998), Stat. Med. 17, 857, table I, method 3 (the interval of
    Wilson 1927); written down from memory.  Tolerance 5e-5: the last figure of the
    table.  Found: agrees to the last figure.
    """
    ours = chances._wilson(cases / trials, trials, 1.959964)

    for end, got, want in zip(("low", "high"), ours, (low, high), strict=True):
        record(
            "forecast",
            f"95 % interval of {cases} in {trials}, {end} end",
            "Newcombe (1998), Stat. Med. 17, 857, table I, method 3, from memory",
            got,
            want,
            "",
            5e-5,
            kind="table",
        )
    assert ours == pytest.approx((low, high), abs=5e-5)


def test_interval_is_that_of_80_in_100() -> None:
    """Its ends lie 1.2816 of their own standard deviations from the share that was seen.

    Source: Wilson (1927), J. Am. Stat. Assoc. 22, 209, the equation that the interval
    solves, with standard deviation sqrt(p (1 - p) / n); 1.2815516 is the normal
    quantile of 90 %, any table.  Tolerance 1e-5: figures of the quantile.
    """
    whole = np.arange(200) < 150

    for end in chance_interval(whole, None):
        assert abs(0.75 - end) == pytest.approx(
            1.2815516 * np.sqrt(end * (1 - end) / 200), rel=1e-5
        )


def test_interval_holds_the_chance_of_each_fifth_of_the_strongest_value() -> None:
    """By hand: the pour comes out only where the value lies in its upper two fifths."""
    value = np.random.default_rng(1).permutation(100.0 * np.arange(100))
    whole = value >= 6000.0

    assert chance_interval(whole, value) == (0.0, 1.0)
    low, high = chance_interval(whole, None)
    assert 0.3 < low < 0.4 < high < 0.5


def test_few_pours_are_not_parted() -> None:
    """Under ten pours a fifth says too little: 49 pours give the interval of their number."""
    whole = np.arange(49) % 2 == 0

    assert chance_interval(whole, np.arange(49.0) % 2) == chance_interval(whole, None)


@given(st.integers(1, 300), st.integers(0, 300), st.integers(0, 99))
def test_interval_holds_the_chance(draws: int, good: int, seed: int) -> None:
    whole = np.arange(draws) < good
    value = np.random.default_rng(seed).random(draws)

    low, high = chance_interval(whole, value)

    assert 0.0 <= low <= whole.mean() <= high <= 1.0


def test_members_are_kept_as_arrays_over_draws() -> None:
    ends = members(comb(), filled_to([WHOLE] * 3, GAS), FULL_SHARE)

    assert isinstance(ends, Members)
    assert ends.share.shape == ends.full.shape == ends.cause.shape == ends.full_at.shape == (3, 4)
