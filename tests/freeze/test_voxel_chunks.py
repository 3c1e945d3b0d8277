"""Metal cells of more than one chunk: each has its own state, wherever it stands."""

import numpy as np
import pytest

from pourcast.freeze.voxel_metal import CHUNK, state_of_cells
from tests.freeze.voxel_cases import ZERO, bronze, line, marched, plain_mould


def test_every_cell_has_the_state_of_its_own_heat() -> None:
    """By definition, numpy beside the kernel: F and T of the table at the heat of the cell.

    Two and a bit chunks of cells from 500 to 1100 °C in a drawn order.  Tolerance 1e-5 of all
    there is: single precision.
    """
    grid = line(2 * CHUNK + 100, 3, 1e-3)
    march = marched(grid, bronze(), plain_mould(), 1100, 550)
    cells, metal = march.cells, march.metal
    low, high = metal.heat_at(np.array([500.0, 1100.0]) + ZERO)
    heat = np.random.default_rng(5).uniform(low, high, march.heat.size)
    base = heat.astype(cells.base.dtype)
    f = np.full_like(march.f, np.nan)
    skin_temperature = np.full(cells.skin.size, np.nan)

    state_of_cells(
        cells.metal,
        cells.flat,
        cells.chunk_skin,
        cells.skin,
        base,
        np.zeros_like(base),
        f,
        skin_temperature,
        cells.table,
        cells.work,
    )

    assert march.heat.size == 2 * CHUNK + 100
    want = np.interp(heat, metal.heat, metal.potential)
    assert f[march.lists.metal] == pytest.approx(want, abs=1e-5 * np.abs(want).max())
    warm = metal.temperature_at(heat[march.lists.skin])
    assert skin_temperature == pytest.approx(warm, abs=0.02)
