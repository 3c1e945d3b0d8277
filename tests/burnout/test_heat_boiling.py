"""Boiling in one cell of the half section: what leaves it, against what, and what it warms."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from pourcast.burnout import columns as c
from pourcast.burnout import steam
from pourcast.burnout.block_pack import block_values
from pourcast.burnout.breathe import boil, pass_on
from pourcast.burnout.plane import CELL, DOWN, END, HELD, HOLDS, HOT, OUT, PRESS, WET
from tests.burnout.heat_cases import block

chemicals = pytest.importorskip("chemicals")


@pytest.mark.parametrize("ring", [0, 1, 2])
def test_boiling_cools_a_cell_by_the_heat_of_its_steam(ring: int) -> None:
    """First law on one ring, π(b² - a²) h: heat that it loses is heat of the water that leaves.

    Outside: pressure of saturation by IAPWS-95, root by scipy.  Tolerance 0.5 %: that of the
    squared pressure, taken twice.
    """
    wide, high, step, hold, start, way = 0.02, 0.01, 10.0, 1.5e6, 400.0, 2e-15
    values = block_values(block())[0]
    floor = float(values[c.AIR_PRESSURE]) ** 2
    volume = math.pi * ((ring + 1) ** 2 - ring**2) * wide**2 * high
    cells = np.zeros((CELL, 1, 4))
    cells[HOT], cells[HOLDS], cells[PRESS] = start, hold, floor
    cells[WET, 0, ring], cells[OUT, 0, ring] = 300.0, way

    def boiled(kelvin: float) -> float:
        return way * (float(chemicals.iapws95_Psat(kelvin)) ** 2 - floor) * step / volume

    def heat(kelvin: float) -> float:
        return steam.STEAM_BASE + (steam.STEAM_HEAT - steam.LIQUID_HEAT) * (kelvin - steam.BASE)

    end = brentq(lambda warm: hold * (start - warm) - heat(warm) * boiled(warm), 375.0, start)
    assert boil(1, 3, wide, high, step, values, cells)

    assert start - end > 2.0
    gone = 300.0 - cells[WET, 0, ring]
    assert gone == pytest.approx(boiled(end), rel=5e-3)
    taken = steam.STEAM_BASE + steam.STEAM_HEAT * (end - steam.BASE)
    assert cells[HELD, 0, ring] == pytest.approx(-gone * taken, rel=1e-3)


def boiled_between(lowered: tuple[int, int] | None) -> float:
    """Return what boils away of a wet cell between four dry ones [kg/m³].

    The four are at the pressure of its boiling, but for one that is at the air, and the way to each
    of them is the same.
    """
    wide, high, way = 0.02, 0.01, 2e-15
    values = block_values(block())[0]
    floor = float(values[c.AIR_PRESSURE]) ** 2
    cells = np.zeros((CELL, 3, 4))
    cells[HOT], cells[HOLDS] = 400.0, 1.5e6
    cells[PRESS] = steam.saturation_pressure(400.0) ** 2
    cells[WET, 1, 1] = 300.0
    cells[OUT, 1, :2], cells[DOWN, :2, 1] = way, way
    if lowered is not None:
        cells[PRESS][lowered] = floor
    assert boil(3, 3, wide, high, 10.0, values, cells)
    return 300.0 - float(cells[WET, 1, 1])


def test_water_does_not_boil_against_steam_of_its_own_pressure() -> None:
    """Second law: water and steam of one temperature at its pressure of saturation are at rest."""
    assert boiled_between(None) == 0.0


@pytest.mark.parametrize("side", [(1, 0), (1, 2), (0, 1), (2, 1)])
def test_as_much_boils_whichever_side_the_steam_leaves_by(side: tuple[int, int]) -> None:
    """Symmetry: four like ways, one of them to the air; and some does boil."""
    got = boiled_between(side)

    assert got > 0.1
    assert got == pytest.approx(boiled_between((1, 2)), rel=1e-12)


@pytest.mark.parametrize("dry", [0, 1])
def test_steam_warms_the_dry_cell_that_it_comes_into(dry: int) -> None:
    """First law: flow × heat of steam × kelvins, over the ring; none goes to the wet one.

    Two rings, one of them wet at a set pressure, the dry one at the pressure at which as much
    leaves it as comes in.
    """
    wide, high, step, way, out = 0.02, 0.01, 5.0, 3e-15, 1e-15
    values = block_values(block())[0]
    floor = float(values[c.AIR_PRESSURE]) ** 2
    wet, inside = 1 - dry, 4.0 * floor
    cells = np.zeros((CELL, 1, 3))
    cells[HOT, 0], cells[PRESS, 0] = [400.0, 400.0, 300.0], floor
    cells[HOT, 0, wet] = 420.0
    cells[WET, 0, wet], cells[PRESS, 0, wet] = 100.0, inside
    cells[OUT, 0, 0] = way
    # The inner ring lets steam out at its end, the outer one at its side.
    cells[END if dry == 0 else OUT, 0, dry] = out
    cells[PRESS, 0, dry] = (way * inside + out * floor) / (way + out)
    flow = way * (inside - float(cells[PRESS, 0, dry]))
    pass_on(1, 2, wide, high, step, np.zeros(3), values, cells)

    volume = math.pi * ((dry + 1) ** 2 - dry**2) * wide**2 * high
    want = flow * step * steam.STEAM_HEAT * 20.0 / volume
    assert cells[HELD, 0, dry] == pytest.approx(want, rel=1e-9)
    assert cells[HELD, 0, wet] == 0.0
