"""Heat of a wet ring and the way to the holes of a flask, against tables and closed forms."""

import numpy as np
import pytest

from pourcast.burnout import columns as c
from pourcast.burnout.block_pack import block_measures, block_values, way_to_holes
from pourcast.burnout.rings import begin, lay_rings, warm
from tests.burnout.heat_cases import block, first_burnt
from tests.outside.record import record


def heat_of_rings(start: float, water: float) -> tuple[float, float]:
    """Return heat [J] and volume [m³] of a block that goes into the kiln at a temperature."""
    case = block(start_temperature=start, free_water=water)
    values, measures = block_values(case), block_measures(case)
    rings, burnt = 5, first_burnt(case)
    room = np.zeros((c.ROWS, rings + 3))
    lay_rings(measures[0, c.RADIUS], rings, room)
    begin(0, rings, values, burnt, room)
    return float(room[c.ENTHALPY, :rings].sum()), float(room[c.VOLUME, :rings].sum())


@pytest.mark.parametrize(("celsius", "table"), [(40.0, 62.70), (60.0, 146.35), (80.0, 230.19)])
def test_water_brings_the_heat_of_steam_tables_into_the_kiln(celsius: float, table: float) -> None:
    """Published: IAPWS-IF97 steam tables, heat of boiling-free water over that at 25 °C.

    167.53, 251.18 and 335.02 less 104.83 kJ/kg (from memory).  Tolerance 0.5 %: one specific
    heat for all of the range.
    """
    wet, volume = heat_of_rings(celsius + 273.15, 300.0)
    dry, _ = heat_of_rings(celsius + 273.15, 0.0)
    got = (wet - dry) / (300.0 * volume) / 1e3

    record(
        "burnout", f"heat of the water of a block at {celsius:g} °C over that at 25 °C",
        "IAPWS-IF97 steam tables, from memory", got, table, "kJ/kg", 5e-3 * table, kind="table",
    )  # fmt: skip
    assert got == pytest.approx(table, rel=5e-3)


@pytest.mark.parametrize("kelvin", [305.0, 371.0, 444.0, 610.0, 902.5, 1130.0])
def test_heat_of_a_ring_is_the_integral_of_its_specific_heat(kelvin: float) -> None:
    """Calculus: numpy's trapezoids of 0.01 K over the values as they are given, from the start.

    Dry, its gypsum whole.  Tolerance 0.01 K, for the trapezoids and the step of the search.
    """
    case = block(free_water=0.0)
    values, measures = block_values(case), block_measures(case)
    rings, burnt = 3, first_burnt(case)
    room = np.zeros((c.ROWS, rings + 3))
    lay_rings(measures[0, c.RADIUS], rings, room)
    begin(0, rings, values, burnt, room)
    start = float(values[0, c.START])
    way = np.linspace(start, kelvin, 1 + round((kelvin - start) / 0.01))
    heat = np.interp(way, case.burnt_specific_heat_at, case.burnt_specific_heat[0])
    bound = float(values[0, c.FIRST_WATER] + values[0, c.SECOND_WATER])
    taken = float(values[0, c.BURNT_DENSITY]) * float(np.trapezoid(heat, way))
    taken += bound * float(values[0, c.BOUND_HEAT]) * (kelvin - start)
    room[c.ENTHALPY] += room[c.VOLUME] * taken
    warm(0, rings, values, burnt, room)

    assert room[c.TEMPERATURE, :rings] == pytest.approx(kelvin, abs=0.01)


@pytest.mark.parametrize(
    ("share", "may_miss"), [(0.01, 0.01), (0.04, 0.01), (0.1, 0.01), (0.25, 0.065)]
)
def test_way_to_the_holes_is_the_constriction_of_a_disc_in_a_tube(
    share: float, may_miss: float
) -> None:
    """Closed form: Yovanovich (1975), disc at one temperature in a flux tube, from memory.

    Resistance over that of a disc on a half-space is 1 - 1.40925 e + 0.29591 e³ + 0.05254 e⁵,
    with e the root of the open share.  Tolerance 1 %, and 6.5 % at a quarter open, where the fit
    by Cooper, Mikic and Yovanovich that the program uses is 6 % off.
    """
    hole = 6e-3
    case = block(wall="perforated", hole_diameter=hole, open_share=np.array([share]))
    got = float(way_to_holes(case)[0])
    e = share**0.5
    alone = np.pi / 8.0 * hole / share
    want = alone * (1.0 - 1.40925 * e + 0.29591 * e**3 + 0.05254 * e**5)

    record(
        "burnout", f"way of steam to the holes of a wall, {100 * share:g} % open",
        "Yovanovich (1975), disc in a flux tube, from memory",
        1e3 * got, 1e3 * want, "mm", may_miss * 1e3 * want, kind="closed form",
    )  # fmt: skip
    assert got == pytest.approx(want, rel=may_miss)
