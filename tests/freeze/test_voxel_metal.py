"""Stages of the metal, tables, and packing."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from pourcast.errors import InputError
from pourcast.freeze.fields_pack import NOT_A_NUMBER, pack, unpack
from pourcast.freeze.voxel_march import held_heat
from pourcast.freeze.voxel_metal import stage_table, stages_for
from pourcast.freeze.voxel_model import VoxelMould
from pourcast.freeze.voxel_tables import SOLID, metal_table, mould_fit
from tests.freeze.voxel_cases import ZERO, body, bronze, marched, plain_mould, run


@given(stages=st.integers(1, 60), step=st.floats(1e-3, 10.0))
def test_weights_of_the_stages_add_up_to_the_step(stages: int, step: float) -> None:
    """Consistency: a constant rate is carried exactly."""
    assert stage_table(stages, step)[:, 3].sum() == pytest.approx(step, rel=1e-12)


@given(stages=st.integers(2, 40), share=st.floats(0.0, 1.0))
def test_stages_stay_within_bounds_up_to_their_limit(stages: int, share: float) -> None:
    """Meyer, Balsara and Aslam 2014: stable up to (s² + s) / 2 explicit limits.

    The stages then make a Legendre polynomial of a number between -1 and 1.
    """
    rate = share * (stages * stages + stages)  # times a step of 1; the plain limit is 2
    table = stage_table(stages, 1.0)
    before, last = 0.0, 0.0
    for mu, nu, weight, _ in table:
        before, last = last, mu * last + nu * before - weight * rate * (1.0 + last)

    want = np.polynomial.legendre.legval(1 - 2 * share, [0.0] * stages + [1.0])
    assert 1.0 + last == pytest.approx(float(want), abs=1e-9)


def test_number_of_stages_covers_the_step() -> None:
    """(s² + s) / 2 plain steps, and one stage fewer would not do."""
    for ratio in (0.5, 1.0, 3.0, 3.1, 62.0):
        stages = stages_for(ratio, 1.0)
        assert (stages * stages + stages) / 2 >= ratio * (1 - 1e-12)
        assert stages == 1 or (stages * stages - stages) / 2 < ratio


def test_table_of_the_metal_holds_its_latent_heat() -> None:
    """Definition: from liquidus to solidus the heat is latent and sensible.

    The specific heat of each piece between two knots is that of its middle.
    """
    table = metal_table(bronze(), 1100 + ZERO, 0.7)
    fall = table.levels[0] - table.levels[SOLID]
    pieces = ((40, 0.25), (30, 0.6), (50, 0.8), (82, 0.95))  # K, solid fraction
    sensible = sum(kelvins * (495 - 65 * solid) for kelvins, solid in pieces)

    assert fall == pytest.approx(8500 * (195e3 + sensible), rel=1e-9)
    assert float(np.interp(table.levels[SOLID], table.heat, table.potential)) == pytest.approx(
        0.0, abs=1e-6
    )
    # Below the solidus 1 K is 90 W/m; the kernel takes the first entry for all of it.
    solid = table.temperature < 798 + ZERO
    slope = np.diff(table.potential[solid]) / np.diff(table.temperature[solid])
    assert slope == pytest.approx(90.0, rel=1e-9)


def test_fit_of_a_plain_mould_is_exact() -> None:
    """One conductivity and specific heat: straight lines."""
    fit = mould_fit(plain_mould(), 823.0, 298.0, 1400.0)

    assert fit.fastest == pytest.approx(0.5 / (1250 * 1050))
    assert float(fit.temperature_at(np.array([100.0]))[0]) == pytest.approx(923.0)


def test_fit_of_a_burnt_mould_stays_near_its_table() -> None:
    """Specific heats of Perry's Handbook table 2-151 as in the value files; k estimated.

    The fit is of the fifth degree: within 5 K of the integral of the table, which has
    kinks.  Found: 2 K.
    """
    warm = np.array([20.0, 100, 200, 300, 400, 500, 600, 700, 900, 1000]) + ZERO
    heat = np.array([733.0, 846, 967, 1009, 1076, 1134, 1127, 1167, 1167, 1167])
    mould = VoxelMould(
        density=1240.0,
        temperature=warm,
        conductivity=np.array([0.42, 0.42, 0.42, 0.41, 0.4, 0.41, 0.42, 0.46, 0.58, 0.65]),
        specific_heat=heat,
    )
    fit = mould_fit(mould, 873.0, 298.0, 1400.0)
    grid = np.linspace(298.0, 1400.0, 5001)
    c = np.interp(grid, warm, heat)
    content = np.concatenate([[0.0], np.cumsum(0.5 * (c[1:] + c[:-1]) * np.diff(grid))])
    content = (content - np.interp(873.0, grid, content)) / np.interp(873.0, warm, heat)

    assert np.abs(fit.temperature_at(content) - grid).max() < 5.0


def test_mould_with_a_step_in_its_table_is_refused() -> None:
    mould = VoxelMould(
        density=1240.0,
        temperature=np.array([600.0, 601.0]),
        conductivity=np.array([0.2, 1.5]),
        specific_heat=np.array([1000.0, 1000.0]),
    )
    with pytest.raises(InputError, match="smooth over temperature"):
        mould_fit(mould, 823.0, 298.0, 1400.0)


def test_steps_of_one_hundredth_are_small_enough() -> None:
    """Order in time: freezing of a bar of 5 mm, growth of 1 % against ten times finer.

    First order: the miss is about half of the growth.  Tolerance 1 %.
    """

    def away(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> np.ndarray:
        return np.asarray(np.hypot(x, y) - 2.5e-3)

    ends = []
    for growth, first in ((1.01, 0.02), (1.001, 0.002)):
        grid = body(away, 10e-3, math.pi * 2.5e-3**2, 1e-3, 2)
        march = marched(grid, bronze(), plain_mould(), 1100, 550)
        run(march, 400.0, first=first, growth=growth, frozen=True)
        ends.append(march.times[:, np.flatnonzero(march.level_order == SOLID)[0]].astype(float))

    assert np.abs(ends[0] / ends[1] - 1).max() < 0.01


def test_metal_alone_keeps_its_heat() -> None:
    """Conservation over 2 800 steps of a sphere with a hot and a cold half: 2e-6 of the hot.

    Tolerance: F is in single precision, and its sums are a hundred times its differences.
    Found: 8e-7, all of it in the first 50 s.  Afterwards, when all cells are alike, nothing
    may be added: 1e-8.
    """

    def away(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> np.ndarray:
        return np.asarray(np.sqrt(x * x + y * y + z * z) - 5e-3)

    grid = body(away, 7e-3, 4 / 3 * math.pi * 5e-3**3, 1e-3, 3)
    march = marched(grid, bronze(1e-9), plain_mould(1e-6), 1100, 550)
    half = march.heat.size // 2
    cold = float(march.metal.heat_at(np.array([600 + ZERO]))[0])
    march.heat[:half] = cold
    march.cells.base[:half] = cold
    march.f[march.lists.metal[:half]] = np.interp(cold, march.metal.heat, march.metal.potential)
    march.cells.skin_temperature[:] = march.metal.temperature_at(march.heat[march.lists.skin])
    before, spread = held_heat(march), float(np.ptp(march.heat))
    mean = float(march.heat.mean())
    run(march, 100.0, longest=0.15)
    settled = held_heat(march)
    run(march, 400.0, longest=0.15)

    assert (march.lists.beside == 6).sum() > 100
    assert abs(held_heat(march) - before) < 2e-6 * spread * half * 1e-9
    assert abs(held_heat(march) - settled) < 1e-8 * spread * half * 1e-9
    assert march.heat == pytest.approx(mean, abs=1e-3 * spread)


@given(
    arrays.arrays(np.float64, st.integers(0, 20), elements=st.floats(-1e6, 1e6) | st.just(math.nan))
)
def test_packed_numbers_come_back_within_half_a_step(values: np.ndarray) -> None:
    """Property of rounding; what is not a number stays so."""
    packed = pack(values)
    back = unpack(packed)

    assert np.array_equal(np.isnan(back), np.isnan(values))
    there = ~np.isnan(values)
    assert (np.abs(back[there] - values[there]) <= 0.5001 * packed.step + 1e-9).all()
    assert packed.codes.dtype == np.uint16
    assert ((packed.codes == NOT_A_NUMBER) == np.isnan(values)).all()


def test_infinite_numbers_are_not_packed() -> None:
    with pytest.raises(InputError, match="finite"):
        pack(np.array([1.0, math.inf]))
