"""Steps that are longer than one pass through the mould can carry."""

import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.special import erfc

from pourcast import units as si
from pourcast.freeze.voxel_march import advance, held_heat
from pourcast.freeze.voxel_passes import best_step, passes_for
from pourcast.freeze.voxel_solve import FIRST_STEP, GROWTH
from pourcast.freeze.voxel_state import March
from tests.freeze import voxel_cases as cases
from tests.outside.record import record

seconds = st.floats(1e-3, 100.0)


def run_long(march: March, until: si.Second) -> None:
    """March to a time as a whole run does: steps of a hundredth of it, in passes."""
    while march.time < until * (1 - 1e-12):
        most = min(FIRST_STEP + (GROWTH - 1) * march.time, until - march.time)
        advance(march, best_step(most, march.longest), None, 1)


@given(step=seconds, longest=seconds)
@example(step=1.0, longest=1.0)
@example(step=3.0, longest=1.0)
def test_passes_carry_the_step_and_one_fewer_would_not(step: float, longest: float) -> None:
    """Meyer, Balsara and Aslam 2014: s passes carry (s² + s) / 2 plain steps."""
    passes = passes_for(step, longest)

    assert (passes * passes + passes) / 2 * longest >= step * (1 - 1e-6)
    assert passes == 1 or (passes * passes - passes) / 2 * longest < step * (1 + 1e-6)


@given(most=seconds, longest=seconds)
def test_best_step_goes_farthest_for_its_passes(most: float, longest: float) -> None:
    """Definition, against every number of passes up to what the longest step needs."""
    step = best_step(most, longest)
    got = step / passes_for(step, longest)

    for passes in range(1, passes_for(most, longest) + 1):
        can = min(most, longest * (passes * passes + passes) / 2)
        assert got >= can / passes * (1 - 1e-6)
    assert 0.0 < step <= most


def test_mould_beside_a_large_body_warms_as_it_should() -> None:
    """Carslaw and Jaeger 1959, 2.15, from memory: erfc in the mould, 20 min, steps to 11 s.

    A metal that does not melt fills a half-space, the mould the other.  Tolerance 0.5 % of the
    rise at the face, in every cell of the first 60 mm: steps of a hundredth of the time.
    """
    metal = cases.sharp_metal(1390.0, liquid_heat=430.0, latent=1.0, liquid=90.0)
    grid = cases.line(900, 160, 1e-3)
    march = cases.marched(grid, metal, cases.plain_mould(), 1100, 550)
    run_long(march, 1200.0)
    one, other = math.sqrt(90.0 * 8500 * 430), math.sqrt(0.5 * 1250 * 1050)
    face = (1100 - 550) * one / (one + other)
    away = (np.arange(60) + 0.5) * 1e-3
    want = face * erfc(away / 2 / math.sqrt(0.5 / (1250 * 1050) * 1200.0))
    got = cases.mould_along(march, grid)[::-1][:60] - cases.ZERO - 550

    worst = int(np.abs(got - want).argmax())
    record(
        "freeze",
        f"warming of the mould {1e3 * away[worst]:g} mm from a large body, 20 min, steps to 11 s",
        "Carslaw and Jaeger 1959 2.15, from memory",
        float(got[worst]),
        float(want[worst]),
        "K",
        5e-3 * face,
        kind="closed form",
    )
    assert march.passes > 2 * march.steps
    assert got == pytest.approx(want, abs=5e-3 * face)


def bar(kind: str) -> March:
    """Return a bar in closed mould, of cells or of stacks."""
    if kind == "stacks":
        grid = cases.thin_bar(1.5e-3, 8e-3, 1e-3, (0.3, 0.15))
    else:
        grid = cases.body(lambda x, y, _: np.hypot(x, y) - 5e-3, 15e-3, math.pi * 25e-6, 1e-3, 2)
    return cases.marched(grid, cases.bronze(), cases.plain_mould(), 1100, 550)


@pytest.mark.parametrize("kind", ["cells", "stacks"])
def test_long_steps_keep_the_heat(kind: str) -> None:
    """Conservation in a block that no heat leaves: 1e-6 of what the metal brought, 20 min."""
    march = bar(kind)
    before = held_heat(march)
    run_long(march, 1200.0)

    assert march.passes > 2 * march.steps
    assert march.stages > march.passes
    assert abs(held_heat(march) - before) < 1e-6 * before


@pytest.mark.parametrize("kind", ["cells", "stacks"])
def test_regression_long_steps_freeze_as_short_ones(kind: str) -> None:
    """A bar by long steps against steps of a thousandth of the time, in single passes.

    Tolerance 1 %: what steps of a hundredth are said to be worth.
    """
    long, short = bar(kind), bar(kind)
    run_long(long, 300.0)
    cases.run(short, 300.0, first=0.002, growth=1.001)
    want, got = cases.freeze_times(short), cases.freeze_times(long)

    assert np.isfinite(want).all()
    assert got == pytest.approx(want, rel=0.01)
    at_end = long.metal.temperature_at(long.heat), short.metal.temperature_at(short.heat)
    assert at_end[0] == pytest.approx(at_end[1], abs=1.0)
    assert long.u == pytest.approx(short.u, abs=1.0)
