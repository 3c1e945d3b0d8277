"""Paired: gain and standard error from the same draws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.change.model import Change, Cost, Lever
from pourcast.change.paired import (
    cause_shares,
    every_part,
    paired_gain,
    part_moves,
)
from pourcast.forecast.whole import lay_out, pour_ends
from pourcast.pour.model import GAS
from tests.change.small import ground, hotter
from tests.forecast.hand import example
from tests.outside.record import record


def independent_error(before: np.ndarray, after: np.ndarray) -> float:
    """Return the standard error of a gain whose two sides are drawn apart: variances add up."""
    return math.sqrt(sum(float(v.astype(float).var(ddof=1)) / v.size for v in (before, after)))


def whole(*draws: int) -> np.ndarray:
    return np.array(draws, dtype=bool)


def test_gain_and_error_by_hand() -> None:
    """Arithmetic: 3 won and 1 lost of 10; mean 0.2, sum of squares 4, variance 3.6/9."""
    before = whole(0, 0, 0, 1, 1, 1, 1, 0, 0, 1)
    after = whole(1, 1, 1, 0, 1, 1, 1, 0, 0, 1)

    gain, error = paired_gain(before, after)

    assert gain == pytest.approx(0.2)
    assert error == pytest.approx(math.sqrt(3.6 / 9 / 10))


def test_error_is_that_of_mcnemar() -> None:
    """Published: (b - c)/n has the variance (b + c - (b - c)²/n)/n² in n pairs.

    Source: McNemar (1947), Psychometrika 12, 153, with the variance as in Agresti's
    textbook (from memory).  Exact but for n - 1 in the place of n.
    """
    generator = np.random.default_rng(1)
    before, after = generator.random((2, 300)) < np.array([[0.5], [0.6]])
    won, lost, n = int((after & ~before).sum()), int((before & ~after).sum()), 300

    _, error = paired_gain(before, after)

    want = math.sqrt(won + lost - (won - lost) ** 2 / n) / n
    record(
        "change",
        "standard error of a paired gain",
        "McNemar (1947), Psychometrika 12, 153",
        100 * error,
        100 * want,
        "in 100",
        0.51 * 100 * want / n,
        kind="closed form",
    )
    assert error == pytest.approx(want * math.sqrt(n / (n - 1)), rel=1e-12)


@given(st.lists(st.tuples(st.booleans(), st.booleans()), min_size=2, max_size=50))
def test_pairs_never_do_worse_where_outcomes_go_together(pairs: list[tuple[bool, bool]]) -> None:
    """Var(v - w) = Var v + Var w - 2 Cov: smaller exactly where the covariance is above 0."""
    before, after = (np.array(side) for side in zip(*pairs, strict=True))
    gain, error = paired_gain(before, after)
    apart = independent_error(before, after)
    together = float(np.cov(before.astype(float), after.astype(float))[0, 1])

    assert gain == pytest.approx(after.mean() - before.mean())
    assert error**2 == pytest.approx(apart**2 - 2.0 * together / before.size, abs=1e-12)


def test_common_draws_are_worth_several_times_as_many_draws_of_their_own() -> None:
    """Common random numbers, any text on simulation: they must win, or they are no use.

    Held at twice: the pair of a flask 50 °C hotter on the larch.  Found: 10 times.
    """
    one, other = example("larch_twig"), hotter(example("larch_twig"), 50.0)
    ends = [pour_ends(lay_out(plan, None, 100, 0)).whole for plan in (one, other)]

    _, paired = paired_gain(*ends)

    assert independent_error(*ends) ** 2 >= 2.0 * paired**2


@pytest.mark.long
def test_gains_scatter_as_their_standard_error_says() -> None:
    """Definition of a standard error: over seeds, gains scatter by it.

    Tolerance: 12 seeds know a standard deviation to 20 % (1/√(2·11)); three of these.
    Found: scatter 1.1 times the mean standard error.
    """
    one, other = example("larch_twig"), hotter(example("larch_twig"), 50.0)
    pairs = [
        paired_gain(*(pour_ends(lay_out(plan, None, 40, seed)).whole for plan in (one, other)))
        for seed in range(12)
    ]
    gains, errors = np.array(pairs).T

    scatter = float(gains.std(ddof=1))

    said = float(np.sqrt((errors**2).mean()))
    record(
        "change",
        "scatter of a gain over 12 seeds, over its standard error",
        "definition of a standard error",
        scatter / said,
        1.0,
        "",
        0.6,
        kind="by construction",
    )
    assert scatter / said == pytest.approx(1.0, abs=0.6)


def test_no_case_is_within_the_noise() -> None:
    """Rule of three: none of n draws does not mean never."""
    lever = Lever(
        kind="mix", moved="", act="", before="", after="", unit="", edits=(),
        plan=example("sea_holly"), cost=Cost(),
    )  # fmt: skip
    same = Change(
        levers=(lever,), chance_before=0.5, chance_after=0.5, gain=0.0, standard_error=0.0,
        draws=400,
    )  # fmt: skip

    assert not same.beyond_noise


def test_parts_are_told_by_their_own_pairs() -> None:
    before = ground("larch_twig").ends
    after = pour_ends(lay_out(hotter(example("larch_twig"), 50.0), None, 40, 0))

    every, moved = every_part(before, after), part_moves(before, after)

    assert [move.name for move in every] == list(before.part_names)
    assert all(move.before == before.part(move.name).mean() for move in every)
    assert {move.name for move in moved} == {
        move.name for move in every if move.after != move.before
    }
    assert moved
    sizes = [abs(move.after - move.before) for move in moved]
    assert sizes == sorted(sizes, reverse=True)


def test_causes_are_shares_of_the_pours() -> None:
    """A pour in which gas stops nine members counts once for gas."""
    ends = ground("larch_twig").ends

    shares = cause_shares(ends)

    short = 1.0 - float(ends.whole.mean())
    gas = ((ends.cause == GAS) & ~ends.full).any(axis=1)
    assert shares.get("gas", 0.0) == float(gas.mean())
    assert all(0.0 < share <= short for share in shares.values())
    assert sum(shares.values()) >= short > 0.0
