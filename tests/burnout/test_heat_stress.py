"""Stress of the block against closed forms of the theory of elasticity."""

import numpy as np
import pytest

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout.days import heat_days
from pourcast.burnout.rings import lay_rings
from pourcast.burnout.stress import (
    CRISTOBALITE,
    CRISTOBALITE_ZONE,
    POISSON,
    QUARTZ,
    QUARTZ_ZONE,
    most_loaded,
)
from tests.burnout.heat_cases import block, curve
from tests.outside.record import record

RINGS = 200
MODULUS, EXPANSION = 3e9, 6e-6


def tension(
    kelvin: si.Kelvins,
    over: float = 0.0,
    front: float = 0.0,
    jumps: tuple[float, float] = (0.0, 0.0),
    closed: bool = False,
) -> float:
    """Return the highest tension in a block of 50 mm radius with these temperatures [Pa]."""
    room = np.zeros((c.ROWS, RINGS + 3))
    lay_rings(0.05, RINGS, room)
    room[c.TEMPERATURE, :RINGS] = kelvin
    grown = np.array(jumps)
    return float(most_loaded(RINGS, EXPANSION, grown, MODULUS, 293.15, over, front, closed, room))


def middles() -> si.Ratios:
    """Return the middles of the rings over the radius."""
    return np.asarray((np.arange(RINGS) + 0.5) / RINGS)


def test_core_of_a_block_in_a_ramp_bears_what_the_book_says() -> None:
    """Published: solid cylinder, T = T_s - D (1 - r²/R²): axial E a D/(2 (1 - ν)) on the axis.

    Source: Timoshenko and Goodier (1970), Theory of Elasticity, 151.  D is 50 K.
    Tolerance 0.1 %: 200 rings.
    """
    kelvin = 600.0 - 50.0 * (1.0 - middles() ** 2)

    want = MODULUS * EXPANSION * 50.0 / (2.0 * (1.0 - POISSON))
    got = tension(kelvin)
    record(
        "burnout", "tension in the core at 50 K from skin to core",
        "Timoshenko and Goodier (1970), 151", got / 1e6, want / 1e6, "MPa", 1e-3 * want / 1e6,
     kind="closed form",)  # fmt: skip
    assert got == pytest.approx(want, rel=1e-3)


def test_skin_of_a_cooling_block_bears_the_same() -> None:
    """Published: as above, with the sign of D turned; hoop and axial at the face are equal."""
    kelvin = 600.0 + 50.0 * (1.0 - middles() ** 2)

    want = MODULUS * EXPANSION * 50.0 / (2.0 * (1.0 - POISSON))
    assert tension(kelvin) == pytest.approx(want, rel=0.01)  # the last ring's middle is inside


def test_even_heat_loads_nothing() -> None:
    assert tension(np.full(RINGS, 900.0)) == pytest.approx(0.0, abs=1.0)


def test_even_pressure_in_the_pores_loads_the_grains_with_itself() -> None:
    """Published: effective stress is total stress plus pore pressure (Biot 1941)."""
    cold = np.full(RINGS, 293.15)

    assert tension(cold, over=50e3, front=0.0499, closed=True) == pytest.approx(50e3, rel=1e-9)


def test_pressure_inside_a_front_loads_less_than_itself_and_more_than_half() -> None:
    """Closed form on the axis: p + (1 - 2ν)/(1 - ν) (p̄ - p)/2, between 0.6 p and p for ν 0.2."""
    cold = np.full(RINGS, 293.15)

    got = tension(cold, over=50e3, front=0.02)

    assert 0.62 * 50e3 < got < 50e3


def test_an_inversion_between_skin_and_core_loads_with_its_whole_growth() -> None:
    """Closed form: skin grown by j over the outer half of the area; axial E j/(2 (1 - ν)).

    Timoshenko and Goodier (1970), 151.  Tolerance 1 %: the edge lies within a ring.
    """
    kelvin = np.where(middles() ** 2 > 0.5, CRISTOBALITE + CRISTOBALITE_ZONE, 293.15)
    even = tension(kelvin)

    got = tension(kelvin, jumps=(4.5e-3, 1e-3)) - even

    assert got == pytest.approx(MODULUS * 4.5e-3 * 0.5 / (1.0 - POISSON), rel=1e-2)


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
@pytest.mark.parametrize(
    ("middle", "zone", "jumps"),
    [(CRISTOBALITE, CRISTOBALITE_ZONE, (4.5e-3, 0.0)), (QUARTZ, QUARTZ_ZONE, (0.0, 1e-3))],
    ids=["cristobalite", "quartz"],
)
def test_a_skin_part_way_through_an_inversion_loads_with_that_part_of_its_growth(
    middle: float, zone: float, jumps: tuple[float, float], share: float
) -> None:
    """Closed form: as above, axial E s j/(2 (1 - ν)), with a share s of the growth j.

    By definition of the zone growth is even over it, so that a skin at s of its width has s of
    it.  Tolerance 1 %: the edge lies within a ring.
    """
    kelvin = np.where(middles() ** 2 > 0.5, middle + (share - 0.5) * zone, 293.15)
    even = tension(kelvin)

    got = tension(kelvin, jumps=jumps) - even

    assert got == pytest.approx(MODULUS * share * max(jumps) * 0.5 / (1.0 - POISSON), rel=1e-2)


def test_slow_ramp_loads_less() -> None:
    """Trend, common practice, no source: slow through the inversions."""
    case = block(cristobalite_growth=0.35 * 0.013, quartz_growth=0.35 * 0.003)
    worst = []
    for hours in (3.0, 6.0, 12.0, 24.0):
        days = heat_days(case, curve((0, 20), (hours, 730), (hours + 6.0, 730)))
        worst.append(float(days.stress.max()))

    assert (np.diff(worst) < 0.0).all()


def test_inversions_stand_where_the_mineral_tables_have_them() -> None:
    """From memory: quartz 573 °C; cristobalite 200 to 270 °C."""
    assert pytest.approx(573.0 + 273.15) == QUARTZ
    assert 473.15 < CRISTOBALITE < 543.15
