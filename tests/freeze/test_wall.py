"""Wall: the mould's memory against exact conduction, flat, round and ball."""

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.special import j1, y1

from pourcast import units as si
from pourcast.freeze import wall
from tests.freeze.exact import cylinder_heat
from tests.outside.record import record

K, ALPHA = 0.42, 3.2e-7  # W/(m·K) and m²/s


def follow(
    radius: float, heat: list[tuple[float, float]], *, ends: float = 0.0, growth: float = 1.1
) -> tuple[si.Seconds, si.Floats]:
    """Return times and the heat that a face took, held at temperatures from given times on.

    ``heat`` lists times [s] and temperatures [K] over the mould; the last time is the end.
    """
    rows = wall.POLES + 1
    weight, swift, steeped = np.empty((rows, 1)), np.empty(1), np.empty((rows, 1))
    wall.set_walls(np.array([radius]), K, ALPHA, wall.curvature_table(), weight, swift, steeped)
    keep, gain, past, resistance = np.empty(rows), np.empty(rows), np.empty(1), np.empty(1)
    times, taken = [], []
    time = total = 0.0
    for (begin, held), (end, _) in pairwise(heat):
        step = 0.02
        assert time == pytest.approx(begin)
        while time < end - 1e-9:
            step = min(step, end - time)
            wall.set_step(step, keep, gain)
            wall.look(keep, gain, weight, swift, steeped, past, resistance)
            flow = (held - past) / resistance
            wall.soak(keep, gain, flow, steeped)
            time += step
            total += step * (float(flow[0]) + ends * held)
            times.append(time)
            taken.append(total)
            step *= growth
    return np.array(times), np.array(taken)


def test_curvature_is_that_of_the_bessel_functions() -> None:
    """Exact: G of the module's equation 2 with J1 and Y1 of a numerical library; 1e-5."""
    u = np.exp(np.linspace(-20.0, 5.0, wall.curvature_table().size))

    want = 2.0 / (math.pi * u * (j1(u) ** 2 + y1(u) ** 2))

    assert wall.curvature_table() == pytest.approx(want, rel=1e-5)


def test_a_flat_face_takes_heat_like_a_half_space() -> None:
    """Exact: heat 2 k ΔT √(t / πα), Carslaw and Jaeger (1959), 2.5, from 1 to 2 000 s.

    Tolerance 1.5 %: ripple of seven poles for five decades of time 0.3 %, steps that grow by
    a tenth 0.5 %.  Found: 0.8 % at most.
    """
    times, taken = follow(1e3, [(0.0, 1.0), (2000.0, 1.0)])

    late = times > 1.0
    want = 2.0 * K * np.sqrt(times[late] / (math.pi * ALPHA))
    worst = int(np.abs(taken[late] / want - 1.0).argmax())
    record(
        "freeze",
        "heat that a flat mould face takes, worst from 1 to 2000 s",
        "Carslaw and Jaeger (1959), 2.5",
        float(taken[late][worst] / want[worst]),
        1.0,
        "of the exact heat",
        0.015,
        kind="closed form",
    )
    assert taken[late] == pytest.approx(want, rel=0.015)


@pytest.mark.parametrize("radius", [0.25e-3, 1e-3, 3e-3])
def test_a_long_hole_takes_heat_like_the_exact_cylinder(radius: float) -> None:
    """Published: Carslaw and Jaeger (1959), Conduction of Heat in Solids, 13.5.

    Tolerance 2 %: ripple of the poles 0.5 %, growth of the steps 1 %.  Found: 1.3 % at most.
    """
    times, taken = follow(radius, [(0.0, 1.0), (600.0, 1.0)])

    for number in np.flatnonzero(times > 1.0)[::12]:
        want = cylinder_heat(ALPHA * float(times[number]) / radius**2) * K * radius / ALPHA
        assert taken[number] == pytest.approx(want, rel=0.02)


@pytest.mark.parametrize("radius", [2e-3, 8e-3])
def test_a_ball_takes_heat_like_the_exact_ball(radius: float) -> None:
    """Exact: flux k ΔT (1/√(παt) + 1/a) round a ball, Carslaw and Jaeger (1959), 9.10.

    Tolerance 1.5 %: as the flat face.  Found: 0.7 %.
    """
    times, taken = follow(1e3, [(0.0, 1.0), (600.0, 1.0)], ends=K / radius)

    late = times > 1.0
    want = 2.0 * K * np.sqrt(times[late] / (math.pi * ALPHA)) + K / radius * times[late]
    assert taken[late] == pytest.approx(want, rel=0.015)


def test_a_face_that_is_let_go_gives_heat_back() -> None:
    """Exact: a face held at ΔT for 60 s and then at 0, by superposition of two half-spaces.

    heat(t) = 2 k ΔT (√t - √(t - 60)) / √(πα).  A law without memory would go on
    taking heat or stand still.  Tolerance 1.5 % of the heat that was put in: what is left is
    the difference of two heats, each as good as the flat face.  Found: 0.8 %.
    """
    times, taken = follow(1e3, [(0.0, 1.0), (60.0, 0.0), (600.0, 0.0)])

    late = times > 70.0
    fell = np.sqrt(times[late]) - np.sqrt(times[late] - 60.0)
    want = 2.0 * K * fell / math.sqrt(math.pi * ALPHA)
    put_in = 2.0 * K * math.sqrt(60.0 / (math.pi * ALPHA))
    assert np.abs(taken[late] - want).max() < 0.015 * put_in


def test_smaller_steps_change_little() -> None:
    """A regression bound on the steps: a fifth of the growth moves the heat by under 1 %."""
    coarse = follow(1e-3, [(0.0, 1.0), (300.0, 1.0)], growth=1.2)[1][-1]
    fine = follow(1e-3, [(0.0, 1.0), (300.0, 1.0)], growth=1.02)[1][-1]

    assert coarse == pytest.approx(fine, rel=0.01)
