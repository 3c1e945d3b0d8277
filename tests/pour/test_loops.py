"""Loops: fronts that come together, cold shuts, and metal that is kept."""

from typing import Any

import numpy as np
import pytest

from pourcast.piece.model import Network
from pourcast.pour.solve import solve
from tests.pour.cases import Builder, case
from tests.pour.ideal import NO_GAS, NO_SURFACE, all_full, cavity_volumes

ARM_PIECES = 5
LEFT_END, RIGHT_END, JOINING = ARM_PIECES, 2 * ARM_PIECES, 2 * ARM_PIECES + 1
"""Segments: the last of each arm, and the one that joins them."""


def _ring(bore: float = 2e-3, arm: float = 0.03, joining: float = 10e-3) -> Network:
    """Return a feed, two like arms from its end, and a passage between their tips."""
    builder = Builder()
    fork = builder.add(0, 5e-3, 4e-3, rise=0.0)
    tips = []
    for _ in range(2):
        node = fork
        for _ in range(ARM_PIECES):
            node = builder.add(node, arm / ARM_PIECES, bore, rise=0.0)
        tips.append(node)
    builder.add(tips[0], joining, bore, end=tips[1], rise=0.0)
    return builder.network()


def test_two_like_arms_fill_alike_and_meet_in_the_middle() -> None:
    """Symmetry, exact: each arm fills at the same time and the joining one takes half of each.

    The fronts meet after as much time as half of the joining passage takes:
    a front that slows needs a little more for it than for the half before, a few
    parts in a hundred.  The other half, crossed by one front alone, would double it.
    """
    network = _ring()
    result = solve(network, case(network, **NO_GAS, **NO_SURFACE))

    left, right = slice(1, LEFT_END + 1), slice(LEFT_END + 1, RIGHT_END + 1)
    assert all_full(result)
    assert result.fill_time[0, left] == pytest.approx(result.fill_time[0, right], rel=1e-9)
    assert result.temperature[0, left] == pytest.approx(result.temperature[0, right], rel=1e-9)
    per_metre = (result.fill_time[0, LEFT_END] - result.fill_time[0, LEFT_END - 1]) / 6e-3
    met = float(result.fill_time[0, JOINING] - result.fill_time[0, LEFT_END])
    assert met == pytest.approx(5e-3 * float(per_metre), rel=0.15)


@pytest.mark.parametrize(
    ("metal_temperature", "shut"), [(1250.0, True), (1275.0, False), (1363.15, False)]
)
def test_streams_that_meet_below_the_liquidus_do_not_join(
    metal_temperature: float, shut: bool
) -> None:
    """Common practice, no source: cold streams that meet leave a seam (lap).

    Block at 427 °C.  Metal that was poured 6 K over its liquidus meets below it,
    metal 31 K over meets above it.  The rule itself is an estimate.
    """
    network = _ring()
    result = solve(
        network,
        case(
            network, **NO_GAS, **NO_SURFACE, temperature=700.0, metal_temperature=metal_temperature
        ),
    )

    assert all_full(result)
    assert bool(result.cold_shut[0, JOINING]) is shut
    assert not result.cold_shut[0, :JOINING].any()
    assert (float(result.temperature[0, JOINING]) < 1244.15) is shut


def _lopsided() -> Network:
    """Return a ring of a thick short way and a thin long one, fed at one place."""
    builder = Builder()
    fork = builder.add(0, 5e-3, 3e-3)
    near = builder.add(fork, 10e-3, 2.5e-3, rise=0.0)
    far = builder.add(near, 10e-3, 2.2e-3, rise=-0.5)
    builder.add(fork, 25e-3, 2.4e-3, end=far, rise=-0.2)
    return builder.network()


@pytest.mark.parametrize(
    "changes",
    [{}, {"permeability": 1e-15}, {"metal_volume": 1.2e-7}, {"temperature": 400.0}],
    ids=["as it is", "tight block", "too little metal", "cold block"],
)
def test_a_ring_keeps_all_of_its_metal(changes: dict[str, Any]) -> None:
    """Conservation, to rounding (1e-9): cavity and cup hold what was poured."""
    network = _lopsided()
    pour = case(network, **NO_SURFACE, **{"metal_volume": 2e-6, **changes})
    result = solve(network, pour)

    filled = float(cavity_volumes(network) @ result.filled[0])

    poured = float(pour.stream.metal_volume[0])
    assert filled + float(result.metal_left[0]) == pytest.approx(poured, rel=1e-9)
    assert filled > 0.02e-6


def test_a_ring_that_is_fed_at_one_place_fills_all_round() -> None:
    network = _lopsided()
    result = solve(network, case(network, **NO_SURFACE, **NO_GAS, metal_volume=2e-6))

    assert all_full(result)
    # The last segment fills when the fronts meet in it, so after both its ends were wet.
    assert result.fill_time[0, 3] >= np.nanmax(result.fill_time[0, :2])


def test_a_loop_that_is_reached_last_changes_nothing_before_it() -> None:
    """Consistency: a stem fills at the same times with and without a small loop at its tip.

    Open block, so that no gas tells the stem of the loop beyond it.  With a
    loop every passage is worked in both directions; the times agree to 1e-6, and where
    the step ends in the loop, which is narrow, to 1e-4.
    """

    def stem(loop: bool) -> Network:
        builder = Builder()
        node = 0
        for _ in range(6):
            node = builder.add(node, 5e-3, 2.5e-3, rise=-0.5)
        if loop:
            one = builder.add(node, 2e-3, 1e-3, rise=-0.1)
            other = builder.add(node, 2e-3, 1e-3, rise=-0.1)
            builder.add(one, 2e-3, 1e-3, end=other, rise=0.0)
        return builder.network()

    times = []
    for loop in (False, True):
        network = stem(loop)
        pour = case(network, **NO_SURFACE, **NO_GAS, depth=0.1)
        times.append(solve(network, pour).fill_time[0, :6])

    assert np.isfinite(times[0]).all()
    assert times[1][:5] == pytest.approx(times[0][:5], rel=1e-6)
    assert times[1][5] == pytest.approx(times[0][5], rel=1e-4)
