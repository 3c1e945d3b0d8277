"""Heat that leaves a flask by its glow alone, and metal on its way to the lip."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from pourcast.day.metal import CRUCIBLE_HEAT, TO_LIP, melt_clock
from pourcast.day.out_of_kiln import cooling
from pourcast.forecast.burnout_case import ROOM
from pourcast.forecast.prepare import prepare
from pourcast.runsheet.usual import USUAL
from tests.day.test_out_of_kiln import HOT, block
from tests.forecast.hand import example
from tests.outside.record import record


def glowing_time(now: float, start: float, room: float, rate: float) -> float:
    """Return when a body that only glows has come down to ``now``; rate: ε σ A / C [1/(s·K³)]."""

    def term(heat: float) -> float:
        return math.log((heat + room) / (heat - room)) + 2.0 * math.atan(heat / room)

    return (term(now) - term(start)) / (4.0 * rate * room**3)


def test_conducting_block_that_only_glows_cools_as_one_body() -> None:
    """Published: lumped body that radiates, Incropera and DeWitt, eq. 5.18; A over V is 2/R.

    Tolerance 0.1 % of the hour: half a step of 5 s, at whose start the loss is taken.
    Found: 0.02 %.
    """
    room, radius = 293.15, 0.3
    hot = block(radius=radius, conductivity=1e4, convection=0.0, emissivity=0.9, room=room)

    time, inside, _ = cooling(hot, HOT, 0.1, 3600.0)

    rate = 0.9 * 5.670374419e-8 * 2.0 / radius / 1.2e6
    want = glowing_time(float(inside[-1]), HOT, room, rate)
    record("day", "seconds in which a block that conducts without end glows down",
           "Incropera and DeWitt, eq. 5.18", time[-1], want, "s", 1e-3 * want,
           kind="closed form")  # fmt: skip
    assert time[-1] == pytest.approx(want, rel=1e-3)


def test_metal_cools_on_its_way_as_a_pot_as_wide_as_deep() -> None:
    """By hand: the cylinder π d³/4 has an open face, a floor and a side of 1.5 π d² together.

    Reference library: scipy.integrate.solve_ivp of the loss by glow and air.  Tolerance 1e-6:
    two steps of 5 s of the fourth order.  Found: 3e-9.
    """
    plan = example("sea_holly")
    ready = prepare(plan, None, 2, 0)

    melt = melt_clock(plan, ready, USUAL.furnace)

    wide = (4.0 * melt.mass / ready.alloy["density_liquid"].si / math.pi) ** (1.0 / 3.0)
    area = 1.5 * math.pi * wide**2
    capacity = melt.mass * ready.alloy["cp_liquid"].si + CRUCIBLE_HEAT * area
    glow = ready.book.kiln["metal_emissivity_oxide"].si * 5.670374419e-8
    air = ready.book.kiln["h_convection_still"].si
    pour = plan.charge.pour_temperature

    def fall(_: float, heat: np.ndarray) -> np.ndarray:
        return np.asarray(-area * (glow * (heat**4 - ROOM**4) + air * (heat - ROOM)) / capacity)

    want = pour - float(solve_ivp(fall, (0.0, TO_LIP), [pour], rtol=1e-10).y[0, -1])
    record("day", "kelvins that metal loses on its way to the lip", "scipy.integrate.solve_ivp",
           melt.lost, want, "K", 1e-6 * want, kind="reference library")  # fmt: skip
    assert melt.lost == pytest.approx(want, rel=1e-6)
