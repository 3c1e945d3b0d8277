"""Steam: saturation, viscosity and the way out of it."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.burnout import columns as c
from pourcast.burnout import steam
from pourcast.burnout.block_pack import block_measures, block_values, way_to_holes
from pourcast.burnout.breathe import pass_on
from pourcast.burnout.plane import CELL, HOT, OUT, PRESS, WET
from pourcast.burnout.rings import lay_rings
from pourcast.burnout.settle import let_out, move_front
from tests.burnout.heat_cases import block
from tests.outside.record import record

chemicals = pytest.importorskip("chemicals")


@pytest.mark.parametrize("celsius", [20.0, 60.0, 100.0, 120.0, 150.0, 200.0])
def test_pressure_of_saturation_agrees_with_iapws(celsius: float) -> None:
    """Published: IAPWS-95, through the open package chemicals.

    Tolerance 0.1 %: both are equations of the same group.  Found: under 0.01 %.
    """
    kelvin = celsius + 273.15
    got, want = steam.saturation_pressure(kelvin), float(chemicals.iapws95_Psat(kelvin))

    record(
        "burnout", f"pressure of boiling water at {celsius:g} °C", "IAPWS-95",
        got / 1e3, want / 1e3, "kPa", 1e-3 * want / 1e3,
     kind="table",)  # fmt: skip
    assert got == pytest.approx(want, rel=1e-3)


@pytest.mark.parametrize("kelvin", [300.0, 373.15, 450.0])
def test_slope_of_saturation_is_that_of_the_pressure(kelvin: float) -> None:
    """Calculus: the derivative by differences; tolerance 1e-6 for a step of 0.01 K."""
    low, high = steam.saturation_pressure(kelvin - 0.01), steam.saturation_pressure(kelvin + 0.01)

    got = steam.saturation_slope(kelvin)

    assert got == pytest.approx(math.log(high / low) / 0.02, rel=1e-6)


@pytest.mark.parametrize(("celsius", "want"), [(25.0, 2441.7), (100.0, 2256.5), (150.0, 2113.8)])
def test_heat_of_boiling_agrees_with_the_steam_tables(celsius: float, want: float) -> None:
    """Published: steam tables (IAPWS-95), kJ/kg; 25 and 150 °C from memory.

    Tolerance 2 %: heats of water and steam are taken as straight.  Found: 0.9 % low at 25 °C,
    1.6 % high at 150 °C.
    """
    over = celsius + 273.15 - steam.BASE
    got = steam.STEAM_BASE + (steam.STEAM_HEAT - steam.LIQUID_HEAT) * over

    record(
        "burnout", f"heat of boiling at {celsius:g} °C", "steam tables, IAPWS-95",
        got / 1e3, want, "kJ/kg", 0.02 * want,
     kind="table",)  # fmt: skip
    assert got / 1e3 == pytest.approx(want, rel=0.02)


@pytest.mark.parametrize(
    ("celsius", "want"), [(100, 12.27), (300, 20.29), (500, 28.57), (700, 36.5)]
)
def test_viscosity_of_steam_agrees_with_the_steam_tables(celsius: float, want: float) -> None:
    """Published: IAPWS formulation of viscosity, µPa·s at one atmosphere, from memory.

    Tolerance 1.5 %, as in the docstring of the law and a half for rounding of memory.
    """
    assert 1e6 * steam.steam_viscosity(celsius + 273.15) == pytest.approx(want, rel=0.015)


def let_out_of(
    wall: str, radius_of_front: float, boiling: float, kelvin: float = 420.0, **changes: Any
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return what steam finds on its way, the whole of the block and the case's measures.

    The block is at 420 K and its front at another temperature, if one is given.
    """
    case = block(wall=wall, height=10.0, **changes)
    values, measures = block_values(case), block_measures(case)
    rings = 20
    room, whole, way = np.zeros((c.ROWS, rings + 3)), np.zeros(c.WHOLE), np.zeros(2)
    lay_rings(measures[0, c.RADIUS], rings, room)
    room[c.TEMPERATURE, :rings] = 420.0
    room[c.SECOND, :rings] = 1.0
    width = room[c.OUTER, 0]
    front = int(radius_of_front / width)
    inner, outer = room[c.INNER, front], room[c.OUTER, front]
    share = (radius_of_front**2 - inner**2) / (outer**2 - inner**2)
    room[c.WATER, :front] = case.free_water[0]
    room[c.WATER, front] = share * case.free_water[0]
    room[c.FLOW, front + 1 : rings] = boiling
    whole[c.FRONT], whole[c.BOILING] = front, boiling
    whole[c.FRONT_TEMPERATURE] = kelvin
    move_front(0, values, room, whole)
    let_out(0, rings, 1.0, values, measures, room, whole, way)
    return way, whole, measures


def shell(wall: str, radius_of_front: float, boiling: float, **changes: Any) -> tuple[float, ...]:
    """Return the pressure at a front in a block of one temperature, C, and the case's measures."""
    way, _, measures = let_out_of(wall, radius_of_front, boiling, **changes)
    return float(way[0]), float(way[1]), float(measures[0, c.RADIUS])


@pytest.mark.parametrize("wall", ["bare", "solid"])
@pytest.mark.parametrize("celsius", [60.0, 99.0, 101.0, 120.0, 150.0])
def test_a_front_stands_at_the_pressure_of_its_boiling_water(wall: str, celsius: float) -> None:
    """Published: IAPWS-95, through the open package chemicals; and never under the air outside.

    Tolerance 0.1 %, as for the pressure of saturation above.
    """
    _, whole, _ = let_out_of(wall, 0.03, 1e-4, celsius + 273.15)

    boiling = float(chemicals.iapws95_Psat(celsius + 273.15))
    assert whole[c.PRESSURE] == pytest.approx(max(boiling, 101_325.0), rel=1e-3)


@pytest.mark.parametrize("front", [0.0123, 0.03, 0.055])
def test_way_out_of_a_bare_block_is_darcy_through_a_tube(front: float) -> None:
    """Published: radial flow of an ideal gas, p² - p0² = Q μ R T ln(b/a)/(π K M).

    Source: Muskat (1937), Flow of Homogeneous Fluids through Porous Media, radial flow.
    Tolerance 1e-6: one temperature, so nothing is approximated.
    """
    resistance, extra, radius = shell("bare", front, 1e-4)

    slow = steam.steam_viscosity(420.0) * steam.GAS * 420.0 / 1e-13
    assert resistance == pytest.approx(slow * math.log(radius / front) / math.pi, rel=1e-6)
    assert extra == pytest.approx(0.0, abs=1e-6 * resistance)


def test_way_out_of_a_closed_flask_is_darcy_to_its_ends() -> None:
    """Closed form: even sources along a tube that is open at both ends.

    d(p²)/dz = 2 μ R T q z/(K A M) from half height, so p² - p0² = μ R T q (H/2)²/(K A M).
    Tolerance 0.1 %: wet pores pass a thousandth.
    """
    resistance, _, radius = shell("solid", 0.03, 1e-4, wet_permeability=1e-17)

    slow = steam.steam_viscosity(420.0) * steam.GAS * 420.0
    area = math.pi * (radius**2 - 0.03**2)
    assert resistance == pytest.approx(slow * 25.0 / (1e-13 * area), rel=1e-3)


def test_gap_to_the_steel_passes_steam_as_a_slit() -> None:
    """Published: flow between plates, g³/12 (Poiseuille); here beside the pores.

    Tolerance 0.1 % as above.
    """
    gap = 2e-5
    resistance, _, radius = shell(
        "solid", 0.03, 1e-4, wet_permeability=1e-17, flask_gap=np.array([gap])
    )

    slow = steam.steam_viscosity(420.0) * steam.GAS * 420.0
    passes = 1e-13 * math.pi * (radius**2 - 0.03**2) + 2.0 * math.pi * radius * gap**3 / 12.0
    assert resistance == pytest.approx(slow * 25.0 / passes, rel=1e-3)


@pytest.mark.parametrize("wall", ["bare", "perforated"])
def test_steam_of_gypsum_and_of_the_front_leave_together(wall: str) -> None:
    """Closed form: flow m + s π (r² - a²) through a shell, then the way to the holes.

    p² - p0² = μRT/(π K M) [m ln(R/b) + s π ((R² - a²)/2 - a² ln(R/a))] with the front at b and
    gypsum from a outwards.  Tolerance 0.1 %: a hundred rings.
    """
    radius_of_front, boiling, source = 0.03, 1e-4, 0.02
    case = block(wall=wall, height=10.0, open_share=np.array([0.2]), hole_diameter=np.array([0.01]))
    values, measures = block_values(case), block_measures(case)
    rings = 100
    room, whole, way = np.zeros((c.ROWS, rings + 3)), np.zeros(c.WHOLE), np.zeros(2)
    lay_rings(measures[0, c.RADIUS], rings, room)
    room[c.TEMPERATURE, :rings] = 420.0
    front = int(radius_of_front / room[c.OUTER, 0])
    room[c.WATER, : front + 1] = case.free_water[0]
    inside = room[c.OUTER, front]
    dry = slice(front + 1, rings)
    room[c.GIVEN, dry] = source * room[c.VOLUME, dry]
    room[c.FLOW, dry] = boiling + np.cumsum(room[c.GIVEN, dry])
    whole[c.FRONT], whole[c.BOILING] = front, boiling
    whole[c.FRONT_TEMPERATURE] = 420.0
    move_front(0, values, room, whole)
    let_out(0, rings, 1e9, values, measures, room, whole, way)

    outer = float(measures[0, c.RADIUS])
    slow = steam.steam_viscosity(420.0) * steam.GAS * 420.0 / 1e-13
    spread = 0.5 * (outer**2 - inside**2) - inside**2 * math.log(outer / inside)
    want = (
        slow
        / math.pi
        * (boiling * math.log(outer / whole[c.FRONT_RADIUS]) + source * math.pi * spread)
    )
    side = 2.0 * math.pi * outer**2 * (1.0 / case.radius + 1.0 / case.height)
    through = boiling + source * math.pi * (outer**2 - inside**2)
    want += 2.0 * slow * float(way_to_holes(case)[0]) * through / side
    assert way[0] * boiling + way[1] == pytest.approx(want, rel=1e-3)


def test_gap_with_even_steam_carries_it_to_its_ends() -> None:
    """Closed form: p² - p0² = q L (H/2)² / 2a at half height, q in over length, a the slit.

    The column of the gap in the half section, wet cells beside it at one pressure.  Tolerance
    1 %: twenty cells.
    """
    rows, columns, high = 20, 4, 0.005
    case = block(wall="solid", flask_gap=np.array([2e-5]))
    values = block_values(case)[0]
    cells = np.zeros((CELL, rows, columns + 1))
    cells[HOT], cells[WET], cells[WET, :, columns] = 400.0, 1.0, 0.0
    cells[PRESS] = values[c.AIR_PRESSURE] ** 2
    inside = 100.0 * values[c.AIR_PRESSURE] ** 2
    cells[PRESS, :, columns - 1] = inside
    easy = 1e-21
    cells[OUT, :, columns - 1] = easy
    slit = 2.0 * math.pi * case.radius * 2e-5**3 / 12.0
    gap = np.array([1.0, slit, 0.0])
    for _ in range(3000):
        pass_on(rows, columns, 0.015, high, 0.0, gap, values, cells)

    slow = 2.0 * steam.steam_viscosity(400.0) * steam.GAS * 400.0
    source = easy * (inside - values[c.AIR_PRESSURE] ** 2) / high
    want = source * (rows * high) ** 2 / (2.0 * slit / slow)
    got = float(cells[PRESS, -1, columns]) - values[c.AIR_PRESSURE] ** 2
    assert want < 0.01 * inside
    assert got == pytest.approx(want, rel=0.01)


@given(share=st.floats(0.05, 1.0), hole=st.floats(0.0, 0.02))
def test_fewer_and_larger_holes_make_the_way_longer(share: float, hole: float) -> None:
    """Trend: steam of a larger cell meets in one hole; none where all is open."""
    case = block(wall="perforated", open_share=np.array([share]), hole_diameter=np.array([hole]))
    wider = block(
        wall="perforated", open_share=np.array([share]), hole_diameter=np.array([2 * hole])
    )
    closed = block(
        wall="perforated", open_share=np.array([0.5 * share]), hole_diameter=np.array([hole])
    )

    assert way_to_holes(wider)[0] == pytest.approx(2.0 * way_to_holes(case)[0])
    assert way_to_holes(closed)[0] >= way_to_holes(case)[0]


@given(over=st.floats(0.0, 3e5), kelvin=st.floats(300.0, 900.0))
def test_share_of_steam_lies_between_none_and_all(over: float, kelvin: float) -> None:
    share = steam.steam_share(1e5 + over, 1e5, kelvin, 1e-13, 0.4)

    assert 0.0 <= share <= 1.0
    assert steam.steam_share(1e5 + over + 1e3, 1e5, kelvin, 1e-13, 0.4) >= share
