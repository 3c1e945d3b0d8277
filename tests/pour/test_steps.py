"""Steps: the chances must not depend on how finely a pour is followed or a piece is cut.

No outside number is held here: each case is held against its own finer self.
"""

from functools import cache

import numpy as np
import pytest

from pourcast.piece.model import Network
from pourcast.pour.model import NO_METAL, PourResult, Steps
from pourcast.pour.solve import solve
from tests.pour.cases import bar, case, length_filled, spray, uncertain

DRAWS = 400
TIMES = (1, 2, 4, 8)
VACUUMS = pytest.mark.parametrize("vacuum", [0.0, 60e3], ids=["gravity", "vacuum"])


def finer(times: int) -> Steps:
    """Return the usual steps, so many times finer in each of their four limits."""
    usual = Steps()
    return Steps(
        share=usual.share / times,
        longest=usual.longest / times,
        growth=1.0 + (usual.growth - 1.0) / times,
        lengthening=usual.lengthening / times,
    )


def chances(network: Network, result: PourResult) -> np.ndarray:
    """Return the share of draws in which each member is whole, shape (members,)."""
    members = range(int(network.member.max()) + 1)
    whole = [(result.filled[:, network.member == one] == 1.0).all(axis=1) for one in members]
    return np.asarray(np.mean(whole, axis=1))


@cache
def refinements(vacuum: float) -> tuple[list[float], list[float], list[float], list[float]]:
    """Return what each refinement but the finest is off it.

    That is the mean error of the share that fills of a draw, the largest
    error of the chance of a member, how late segments are full, in their own time, and the
    largest error of the share of segments that a cause has.
    """
    network = spray()
    pour = uncertain(network, DRAWS, vacuum=vacuum)
    weight = network.length / network.length.sum()
    results = [solve(network, pour, steps=finer(times)) for times in TIMES]
    finest = results.pop()
    shares = [float(np.abs((one.filled - finest.filled) @ weight).mean()) for one in results]
    known = chances(network, finest)
    moved = [float(np.abs(chances(network, one) - known).max()) for one in results]
    told = [float(np.abs(causes(one) - causes(finest)).max()) for one in results]
    return shares, moved, [_late(one, finest) for one in results], told


def causes(result: PourResult) -> np.ndarray:
    """Return the share of segments, all draws together, that each cause has."""
    return np.bincount(result.cause.ravel(), minlength=NO_METAL + 1) / result.cause.size


def _late(one: PourResult, finest: PourResult) -> float:
    both = (one.filled == 1.0) & (finest.filled == 1.0)
    return float(np.mean(one.fill_time[both] / finest.fill_time[both] - 1.0))


@VACUUMS
def test_regression_the_error_falls_with_each_refinement(vacuum: float) -> None:
    """Our number against our number: steps one, two and four times finer against eight.

    Found for the mean error of the share that fills: 0.0024, 0.0015 and 0.0010 by
    gravity, 0.0005, 0.0003 and 0.0001 under vacuum; an error of first order would
    go as 7 to 3 to 1.  The bound on the last is a tenth of what one draw in a hundred
    is worth.
    """
    shares, _, _, _ = refinements(vacuum)

    assert shares[0] > shares[1] > shares[2]
    assert shares[2] < 0.001


@VACUUMS
def test_regression_no_chance_moves_by_more_than_two_draws_in_a_hundred(vacuum: float) -> None:
    """Our number against our number: the usual steps against eight times finer.

    Bar 0.02.  Found 0.0125 by gravity and 0.0100 under vacuum.  One draw of the 400 more is
    let through: last digits differ between machines.  Of 1600 draws the largest of six seeds
    is 0.0131.
    """
    _, moved, _, _ = refinements(vacuum)

    assert moved[0] < 0.0226


@VACUUMS
def test_regression_no_chance_moves_by_more_than_two_draws_at_half_the_step(vacuum: float) -> None:
    """Our number against our number: steps twice as fine as usual hold 0.02.

    Found 0.0100 by gravity and 0.0075 under vacuum.
    """
    _, moved, _, _ = refinements(vacuum)

    assert moved[1] < 0.0201


@VACUUMS
def test_regression_no_front_is_late_at_a_narrow_mouth(vacuum: float) -> None:
    """Our number against our number: when segments are full, against steps eight times finer.

    Found 0.0014 of the time by gravity, 0.0074 under vacuum.  While a front that its rush did
    not carry into a mouth waited there for the next step: 0.0070 and 0.0145.
    """
    _, _, late, _ = refinements(vacuum)

    assert abs(late[0]) < (0.003 if vacuum == 0.0 else 0.008)


@VACUUMS
def test_regression_what_stops_the_metal_hangs_on_no_step(vacuum: float) -> None:
    """Our number against our number: the share of each cause, against steps eight times finer.

    Found 0.0024 by gravity, 0.0012 with steps twice as fine, and 0.0002 under vacuum.  While
    the push at a front was taken at another time than its gas it was 0.0052, and no chance saw
    it (docs/filling.md).
    """
    _, _, _, told = refinements(vacuum)

    assert max(told) < 0.004


def test_regression_a_rod_fills_alike_however_it_is_cut() -> None:
    """Our number against our number: one level rod that freezes on its way, cut in 5 to 40.

    Found: 135.9, 135.9, 135.8 and 135.8 mm, 0.04 % between the ends.  Held to
    0.2 %, which is a quarter of a millimetre.
    """
    lengths = []
    for pieces in (5, 10, 20, 40):
        network = bar(0.4, 1.5e-3, pieces)
        pour = case(
            network,
            surface_tension=0.0,
            temperature=573.15,
            permeability=1e-9,
            start_head=0.03,
            metal_volume=1e-3,
            cup_diameter=0.3,
        )
        lengths.append(float(length_filled(network, solve(network, pour))[0]))

    assert max(lengths) < 0.4
    assert max(lengths) == pytest.approx(min(lengths), rel=2e-3)
