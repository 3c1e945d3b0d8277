"""One step of the rings against closed forms: a wet core that is warmed, steam that takes heat out.

The step is made so long that what the rings hold no longer counts, so that it ends in the steady
state, for which a cylinder has closed forms.
"""

import math

import numpy as np
import pytest

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import steam
from pourcast.burnout.block_pack import block_measures, block_values
from pourcast.burnout.radial import conduct
from pourcast.burnout.rings import begin, lay_rings, weigh
from pourcast.burnout.settle import move_front
from tests.burnout.heat_cases import first_burnt, plain
from tests.outside.record import record

RADIUS, WET, DRY = 0.05, 1.0, 0.4  # m, W/(m·K) twice
HOT = 473.15  # K, kiln
FOR_EVER = 1e12  # s
OPEN = 1e-3  # Pa²·m·s/kg, a way out for steam that keeps the front at the boiling point


def steady(
    rings: int, front: int, share: si.Ratio, *, source: float = 0.0, flow: float = 0.0
) -> tuple[si.Table, float]:
    """Return the rows of a block in its steady state, and the radius of its front [m].

    The ring ``front`` is wet up to ``share`` of its water.  Wet block takes up ``source`` [W/m³],
    and ``flow`` of steam [kg/(m·s)] goes out through the dry rings.
    """
    case = plain(
        conductivity=DRY, wet_conductivity=WET, free_water=400.0, radius=RADIUS, convection=1e6,
        porosity=0.4 + 1e-9, start_temperature=steam.BOILING,
    )  # fmt: skip
    values, measures, burnt = block_values(case), block_measures(case), first_burnt(case)
    room, whole = np.zeros((c.ROWS, rings + 3)), np.zeros(c.WHOLE)
    lay_rings(measures[0, c.RADIUS], rings, room)
    begin(0, rings, values, burnt, room)
    room[c.WATER, front] *= share
    room[c.WATER, front + 1 :] = 0.0
    whole[c.FRONT] = front
    whole[c.FACE] = whole[c.STEEL] = whole[c.FRONT_TEMPERATURE] = steam.BOILING
    move_front(0, values, room, whole)
    radius = float(whole[c.FRONT_RADIUS])
    weigh(0, rings, front, FOR_EVER, values, burnt, room)
    room[c.SINK, :front] = source * room[c.VOLUME, :front]
    room[c.SINK, front] = source * math.pi * (radius**2 - room[c.INNER, front] ** 2)
    room[c.FLOW, front:rings], whole[c.BOILING] = flow, flow
    conduct(0, rings, FOR_EVER, HOT, values, measures, room, whole, np.array([OPEN, 0.0]))
    return room, radius


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
def test_wet_core_that_takes_up_heat_evenly_is_a_parabola(share: float) -> None:
    """Published: T = T_s - q (b² - r²)/4k in a cylinder; Carslaw and Jaeger (1959), 7.2.

    q is heat that each part takes up, as of a core that warms evenly; b is the front, within a
    ring.  Tolerance 0.8 % of the whole difference: between the two innermost of 15 rings the
    logarithm is a tenth off, which is 0.4 %.  Found: 0.4 to 0.5 %; without the way from the
    front's half ring to the ring within it, 1.7 to 5.1 %.
    """
    rings, front, source = 20, 15, 3e4
    room, radius = steady(rings, front, share, source=source)
    whole_fall = source * radius**2 / (4.0 * WET)

    middle = 0.5 * (room[c.INNER, :front] + room[c.OUTER, :front])
    at_front = float(room[c.SOLUTION, front + 1])
    fall = at_front - room[c.SOLUTION, :front]
    want = source * (radius**2 - middle**2) / (4.0 * WET)
    record(
        "burnout", f"wet core under its front, {share:g} of a ring out",
        "Carslaw and Jaeger (1959), 7.2", fall[0], want[0], "K", 8e-3 * whole_fall,
     kind="closed form",)  # fmt: skip
    assert at_front == pytest.approx(steam.BOILING, abs=0.02)
    assert np.abs(fall - want).max() < 8e-3 * whole_fall


@pytest.mark.parametrize("number", [0.5, 1.5, 3.0])
def test_steam_that_goes_out_keeps_heat_from_the_front(number: float) -> None:
    """Published: transpiration cooling, the share φ/(e^φ - 1) of the heat still comes in.

    Bird, Stewart and Lightfoot (1960), Transport Phenomena, eq. 10.5-25 and 10.5-32, for a
    sphere.  In a tube φ = m c ln(R/a)/(2π k), and between the two faces

        (T - T_a)/(T_R - T_a) = ((r/a)^Pe - 1)/((R/a)^Pe - 1),   Pe = m c/(2π k).

    Tolerance 0.3 % of the difference and 3 % of the heat: 400 rings, whose steam leaves as hot
    as their middles.  Found: 0.12 % and 2.1 % at most; were rings beyond the first not warmed by
    the steam that comes into them, 6 to 34 % and 29 % or more.
    """
    rings, front = 400, 160
    pull = number / math.log(RADIUS / (RADIUS * (front + 0.5) / rings))
    flow = pull * 2.0 * math.pi * DRY / steam.STEAM_HEAT
    room, radius = steady(rings, front, 0.5, flow=flow)

    kelvin = room[c.SOLUTION, front + 2 : rings + 1]
    middle = 0.5 * (room[c.INNER, front + 1 : rings] + room[c.OUTER, front + 1 : rings])
    at_front, face = float(room[c.SOLUTION, front + 1]), float(room[c.SOLUTION, rings + 1])
    got = (kelvin - at_front) / (face - at_front)
    want = ((middle / radius) ** pull - 1.0) / ((RADIUS / radius) ** pull - 1.0)
    worst = int(np.argmax(np.abs(got - want)))
    record(
        "burnout", f"dry shell that steam goes out through, number {number:g}",
        "Bird, Stewart and Lightfoot (1960), 10.5-25", got[worst], want[worst], "", 3e-3,
     kind="closed form",)  # fmt: skip
    assert np.abs(got - want).max() < 3e-3

    into = float(room[c.LINK, front + 1]) * float(kelvin[0] - at_front)
    still = 2.0 * math.pi * DRY * (face - at_front) / math.log(RADIUS / radius)
    phi = pull * math.log(RADIUS / radius)
    assert into / still == pytest.approx(phi / math.expm1(phi), rel=0.03)
