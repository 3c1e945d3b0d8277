"""Facts that casters tell, one test each: which the model meets and which it does not.

All are common practice without a source, so the sign is held and seldom a
number.  Nothing in the model was set to meet them.
"""

from typing import Any

import pytest

from pourcast.materials import library
from pourcast.piece.model import Network
from pourcast.pour.model import CAPILLARY
from pourcast.pour.solve import solve
from tests.outside.record import record
from tests.pour.cases import Builder, case, length_filled
from tests.pour.ideal import all_full

FLORET_WIDTH, FLORET_LENGTH = 5e-3, 10e-3
WEAK_PUMP = 70e3  # Pa below the air


def _floret(thickness: float) -> Network:
    """Return a blade on a stem of 3 mm that hangs 20 mm below the cup."""
    builder = Builder()
    node = builder.add(0, 20e-3, 3e-3)
    for _ in range(10):
        node = builder.add(
            node, FLORET_LENGTH / 10, thickness, width=FLORET_WIDTH, rise=-0.5, member=1
        )
    return builder.network()


def _fills(thickness: float, **changes: Any) -> bool:
    network = _floret(thickness)
    return all_full(solve(network, case(network, **changes)))


def _least_thickness(**changes: Any) -> float:
    """Return the thinnest floret that fills, to 0.01 mm [m]."""
    low, high = 0.05e-3, 3e-3
    while high - low > 1e-5:
        middle = 0.5 * (low + high)
        if _fills(middle, **changes):
            high = middle
        else:
            low = middle
    return high


def _alloy(key: str) -> dict[str, Any]:
    """Return the middle values of an alloy's record, by the names of `case`."""
    record_of = library().alloys[key]
    liquidus, solidus = record_of["liquidus"].si, record_of["solidus"].si
    half = record_of["fs50"].si if "fs50" in record_of else 0.5 * (liquidus + solidus)
    return {
        "density": record_of["density_liquid"].si,
        "viscosity": record_of["viscosity_liquidus"].si,
        "surface_tension": record_of["surface_tension"].si,
        "contact_angle": record_of["contact_angle"].si,
        "liquidus": liquidus,
        "half_solid": half,
        "solidus": solidus,
        "specific_heat": record_of["cp_liquid"].si,
        "latent_heat": record_of["latent"].si,
        "metal_conductivity": record_of["k_liquid"].si,
    }


@pytest.mark.parametrize("thickness", [0.3e-3, 0.35e-3, 0.4e-3])
def test_thin_florets_fill_under_vacuum(thickness: float) -> None:
    """Common practice, no source: florets of 0.3 to 0.4 mm fill under 70 kPa.  Met."""
    assert _fills(thickness, vacuum=WEAK_PUMP)


@pytest.mark.parametrize("thickness", [0.3e-3, 0.35e-3, 0.4e-3])
def test_thin_florets_do_not_fill_by_gravity(thickness: float) -> None:
    """Common practice, no source: without the pump they stay short.  Met, and by the surface."""
    network = _floret(thickness)
    result = solve(network, case(network))

    assert result.filled[0, -1] == 0.0
    assert result.cause[0, -1] == CAPILLARY


def test_a_hot_flask_helps_thin_work() -> None:
    """Common practice, no source: a hotter flask first, then hotter metal.

    Met by gravity: the least floret is thinner by a tenth of a millimetre in a
    flask of 700 °C than in one of 300 °C.  Under vacuum the gain is under 0.01 mm.
    """
    hot = _least_thickness(temperature=973.15)
    cool = _least_thickness(temperature=573.15)

    assert cool - hot > 0.05e-3


def test_plaster_moulds_give_walls_of_six_tenths_by_gravity() -> None:
    """Published, weak: plaster moulds are offered down to walls of 0.6 mm.

    Source: catalogue text; alloy and way of pouring are not stated, so a
    tolerance of 0.25 mm: what 30 mm more or less of head move it.  Found: 0.49 mm with
    middle values.  Under 70 kPa it is 0.06 mm, ten times thinner than anything
    offered: a known doubt, told to the caster under 0.5 mm.
    """
    got = 1e3 * _least_thickness()

    record(
        "pour",
        "least blade by gravity against the walls of plaster moulds",
        "catalogue of a plaster caster, method not stated",
        got,
        0.6,
        "mm",
        0.25,
        kind="common practice",
    )
    assert _fills(0.6e-3)
    assert got == pytest.approx(0.6, abs=0.25)


@pytest.mark.xfail(strict=True, reason="brass is given less surface tension and no skin of zinc")
def test_silicon_bronze_fills_thinner_than_brass() -> None:
    """Common practice, no source: silicon bronze runs finer than yellow brass.

    Both poured at 1090 °C with the same settings.  Missed: 0.49 mm of bronze,
    0.31 mm of brass by gravity.  The record of brass has 0.87 N/m and 135°, from
    memory, that of bronze 1.22 N/m and 140°, and both skins the same factor; the
    skin of zinc oxide that casters blame is in no value.  Not tuned.
    """
    bronze = _least_thickness(**_alloy("si_bronze_c87300"))
    brass = _least_thickness(**_alloy("yellow_brass_c85700"))

    assert bronze < brass


def test_more_metal_over_the_gate_fills_thinner_work() -> None:
    """Common practice, no source: a tall button helps a gravity pour.  Met."""
    low = _least_thickness(metal_volume=1.5e-5)
    tall = _least_thickness(metal_volume=4.5e-5)

    assert tall < low - 0.05e-3


def test_a_vent_at_the_tip_lets_a_part_fill_in_a_dense_block() -> None:
    """Common practice, no source: a blind end that stays short fills when it is vented.  Met.

    A blade of 1 mm in a block of 2e-15 m², a vent of 1 mm by 30 mm at its tip.
    """
    builder = Builder()
    node = builder.add(0, 20e-3, 3e-3)
    for _ in range(10):
        node = builder.add(node, 2e-3, 1e-3, width=FLORET_WIDTH, rise=-0.5)
    blind = builder.network()
    builder.vents[node] = (1e-3, 30e-3, False)
    vented = builder.network()

    assert not all_full(solve(blind, case(blind, permeability=2e-15)))
    assert all_full(solve(vented, case(vented, permeability=2e-15)))


def test_a_pump_that_runs_early_helps_in_a_dense_block() -> None:
    """Common practice, no source: the pump is on before the pour.  Met.

    A rod of 0.8 mm by 80 mm, a perforated flask, 3e-15 m², 60 kPa.  Found, with
    its feed of 30 mm: 24 mm if pump and pour begin together, 66 mm after 5 s, 102 mm
    after 30 s.  In a block of 1e-13 m² all are full.
    """
    builder = Builder()
    node = builder.add(0, 30e-3, 3e-3)
    for _ in range(40):
        node = builder.add(node, 2e-3, 0.8e-3, rise=-0.3)
    network = builder.network()

    lengths = [
        float(
            length_filled(
                network,
                solve(network, case(network, permeability=3e-15, vacuum=60e3, lead_time=lead)),
            )[0]
        )
        for lead in (0.0, 5.0, 30.0)
    ]

    assert lengths[0] + 5e-3 < lengths[1] < lengths[2] - 5e-3
