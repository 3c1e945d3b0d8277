"""Cold flask: what freezes in it, what does not, and the water that the pour does not know."""

import math
from typing import Any

import numpy as np
import pytest

from pourcast.findings import Finding
from pourcast.pour.damp_checks import damp_block_findings, steam_over_leaf
from pourcast.pour.model import COLD, FULL
from pourcast.pour.solve import solve
from tests.pour.cases import Builder, bar, case

ROOM = 293.15
BRONZE: dict[str, Any] = {"temperature": ROOM, "permeability": 3e-12, "vacuum": 60e3}
"""Into a block at 20 °C that gives way to gas at once, so that heat alone decides."""


def test_titanium_fills_strips_of_28_mm_at_room_temperature() -> None:
    """Measured: strips of 28 by 3 by 1 mm filled in investment at room temperature.

    Source: Rodrigues et al. (2012), J. Prosthodont. Res. 56, 58, abstract: two investments, at
    430 °C and at room temperature; the strips were broken by bending afterwards.  Titanium
    1668 °C, 50 °C over it, 295 kJ/kg, 4110 kg/m³, 1.6 N/m: handbooks, from memory; half an
    atmosphere behind it and a block that lets gas go: the machine draws and presses (estimate).
    """
    strip = bar(0.028, 1e-3, 6, width=3e-3)
    found = solve(
        strip,
        case(strip, 3, **BRONZE | {
            "density": 4110.0, "viscosity": 4.4e-3, "surface_tension": 1.6,
            "liquidus": 1941.0, "half_solid": 1940.5, "solidus": 1940.0,
            "specific_heat": 790.0, "latent_heat": 295e3, "metal_temperature": 1991.0,
            "interface_heat_transfer": np.array([550.0, 1200.0, 2800.0]), "vacuum": 50e3,
        }),
    )  # fmt: skip

    assert (found.cause == FULL).all()


@pytest.mark.parametrize(("length", "cause"), [(0.0035, FULL), (0.020, FULL), (0.600, COLD)])
def test_short_leaf_on_a_thick_stem_fills_cold_and_a_long_one_does_not(
    length: float, cause: int
) -> None:
    """By hand: a front in 0.85 mm lives 0.23 s at 20 °C (below), and runs 0.2 to 0.5 m in that.

    So a scale of 3.5 mm does not stop for cold unless gas lets it creep at under 15 mm/s.
    """
    builder = Builder()
    node = builder.add(0, 0.02, 8e-3, member=0)
    for _ in range(8):
        node = builder.add(node, length / 8, 0.85e-3, width=4e-3, rise=0.0, member=1)
    network = builder.network()

    found = solve(network, case(network, **BRONZE))

    assert found.cause[0, -1] == cause


@pytest.mark.parametrize(("flask", "want"), [(ROOM, 0.231), (873.15, 0.569)])
def test_front_in_a_strip_lives_as_long_as_flemings_says(flask: float, want: float) -> None:
    """Flemings (1974), Solidification Processing, fluidity: t = ρ (V/A) ΔH / (h (T - T_mould)).

    By hand: V/A 0.3505 mm; 61.5 kJ/kg at 1304 K in the middle, then 36.3 kJ/kg at 1235 K to a
    quarter solid; 1/h is 1/1200 and half of the mould's own 9.2e-5 m²·K/W after D/v, 1.5 ms.
    Tolerance 4 %: the run slows down, and its wall grows older.  Found: 2.3 and 2.0 % later.
    """
    strip = bar(1.2, 0.85e-3, 60, width=4e-3)

    found = solve(strip, case(strip, **BRONZE | {"temperature": flask, "metal_volume": 1e-4}))

    assert found.cause[0, -1] == COLD
    assert float(found.end_time[0]) == pytest.approx(want, rel=0.04)


def _told(**changes: Any) -> tuple[Finding, ...]:
    return damp_block_findings(case(bar(0.02, 1e-3, 2), **changes))


@pytest.mark.parametrize(("celsius", "told"), [(20.0, True), (99.0, True), (100.0, False)])
def test_block_under_the_boiling_point_is_told_of_water(celsius: float, told: bool) -> None:
    """By hand: water boils at 100 °C."""
    found = _told(temperature=273.15 + celsius)

    assert len(found) == int(told)
    if told:
        assert found[0].level == "WATCH"
        assert found[0].value == pytest.approx(celsius)
        assert found[0].limit == pytest.approx(100.0)
        assert "steam can throw metal" in found[0].text


def test_steam_of_a_thousandth_of_water_is_several_leaves() -> None:
    """By hand: erfc(1.225) is 0.083, so 100 °C stands 2.45 √(3.2e-7 · 1 s) = 1.39 mm deep.

    There 1296 kg/m³ hold 1.80 g/m² of water: 0.0999 mol, 3.06 litres at 100 °C, and half a
    leaf of 1 mm has half a litre to the square metre.  Tolerance 1 %.
    """
    assert math.erfc(1.225) == pytest.approx(80.0 / (971.0 - 20.0), rel=0.02)

    got = steam_over_leaf(ROOM, 1244.15, 3.2e-7, 0.52, 101_325.0)

    assert got == pytest.approx(6.1, rel=0.02)
