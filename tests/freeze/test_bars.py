"""Bars: freezing and cooling of round bars against finer models of their own."""

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from pourcast import units as si
from pourcast.freeze.model import FreezeSteps
from pourcast.freeze.solve import solve
from tests.freeze.cases import freeze_case, poured
from tests.outside.record import record
from tests.pour.cases import bar, case

C = 273.15
POUR, MOULD = 1090.0 + C, 600.0 + C
LIQUIDUS, HALF, SEVENTY, NINETY, SOLIDUS = (971.0 + C, 935.0 + C, 893.0 + C, 849.0 + C, 821.0 + C)
CP_LIQUID, CP_SOLID, LATENT, DENSITY = 517.0, 446.0, 108e3, 7550.0
K_METAL, K_MOULD, ALPHA, H = 77.0, 0.42, 3.2e-7, 1500.0


def heat_table() -> tuple[si.Floats, si.Floats]:
    """Return temperatures and heat contents of silicon bronze, finely integrated [K], [J/kg]."""
    temperature = np.linspace(300.0, 1500.0, 24_001)
    points = (SOLIDUS, NINETY, SEVENTY, HALF, LIQUIDUS)
    solid = np.interp(temperature, points, (1.0, 0.9, 0.7, 0.5, 0.0))
    specific = solid * CP_SOLID + (1.0 - solid) * CP_LIQUID
    steps = 0.5 * (specific[1:] + specific[:-1]) * np.diff(temperature)
    steps -= LATENT * np.diff(solid)
    return temperature, np.concatenate([[0.0], np.cumsum(steps)])


def radial(diameter: float, *, rings: int = 12, shells: int = 60) -> float:
    """Return when the axis of a round bar in a mould of 40 mm is solid [s].

    Rings of metal with heat running between them, shells of mould that grow outwards; a stiff
    solver of a numerical library.  None of the code under test is in it.
    """
    edge = np.linspace(0.0, 0.5 * diameter, rings + 1)
    growth = np.concatenate([[0.0], np.cumsum(1.12 ** np.arange(shells))])
    outer = 0.5 * diameter + 40e-3 * growth / growth[-1]
    edges = np.concatenate([edge, outer[1:]])
    middle = 0.5 * (edges[1:] + edges[:-1])
    area = math.pi * np.diff(edges**2)
    resist = np.empty(middle.size - 1)
    for i in range(resist.size):
        low, cut, high = middle[i], edges[i + 1], middle[i + 1]
        inner = K_METAL if i < rings else K_MOULD
        beyond = K_METAL if i + 1 < rings else K_MOULD
        resist[i] = (math.log(cut / low) / inner + math.log(high / cut) / beyond) / (2 * math.pi)
        if i == rings - 1:
            resist[i] += 1.0 / (2.0 * math.pi * cut * H)
    table, content = heat_table()
    start = float(np.interp(POUR, table, content))
    capacity = K_MOULD / ALPHA

    def temperatures(state: si.Floats) -> si.Floats:
        metal = np.interp(state[:rings], content, table)
        return np.concatenate([metal, state[rings:]])

    def change(_: float, state: si.Floats) -> si.Floats:
        flow = -np.diff(temperatures(state)) / resist
        net = np.concatenate([[0.0], flow]) - np.concatenate([flow, [0.0]])
        return np.concatenate(
            [net[:rings] / (area[:rings] * DENSITY), net[rings:] / (area[rings:] * capacity)]
        )

    solid = float(np.interp(SOLIDUS, table, content))

    def frozen(_: float, state: si.Floats) -> float:
        return float(state[0]) - solid

    frozen.terminal = True  # type: ignore[attr-defined]
    begin = np.concatenate([np.full(rings, start), np.full(shells, MOULD)])
    done = solve_ivp(
        change, (0.0, 2000.0), begin, method="BDF", rtol=1e-6, atol=1e-3, events=frozen
    )
    return float(done.t_events[0][0])


def single(diameter: float, steps: FreezeSteps | None = None, **changes: float) -> float:
    """Return when a long bar that nothing else touches is solid, by the stage [s]."""
    network = bar(2.0, diameter, 1)
    values: dict[str, Any] = {
        "interface_heat_transfer": H,
        "conductivity": K_MOULD,
        "diffusivity": ALPHA,
    }
    values |= changes
    pour = case(network, **values)
    frozen = freeze_case(pour, gap_heat_transfer=H, seventy_solid=SEVENTY, ninety_solid=NINETY)
    result = solve(network, frozen, poured(network, pour, left=0.0), steps=steps)
    return float(result.freeze_time[0, 0])


@pytest.mark.parametrize("diameter", [0.5e-3, 1e-3, 2e-3, 4e-3, 8e-3])
def test_round_bars_freeze_as_in_a_radial_model(diameter: float) -> None:
    """Computed apart: rings of metal and shells of mould with a stiff solver, see `radial`.

    Tolerance 5 %: usual steps 2.5 %, one temperature in the section 2 % at 8 mm, wall 1 %.
    With fine steps 3 %.  Found with usual steps: 1.6, 0.8, 0.8, 0.9, -0.8 %; with fine ones
    0.3, -0.5, -0.1, 0.0, -1.6 %.
    """
    want = radial(diameter)

    usual, fine = single(diameter), single(diameter, FreezeSteps(first=0.002, growth=1.02))

    record(
        "freeze",
        f"freezing time of a round bar of {1e3 * diameter:g} mm",
        "radial model with a general solver (scipy)",
        usual,
        want,
        "s",
        0.05 * want,
        kind="reference library",
    )
    assert usual == pytest.approx(want, rel=0.05)
    assert fine == pytest.approx(want, rel=0.03)


def test_a_bar_that_only_its_face_resists_cools_like_a_lump() -> None:
    """Exact: T - T_mould falls with exp(-4 h t / (ρ c d)) where the mould stays cold.

    Metal of one specific heat and hardly any latent heat, in a mould of 1e5 W/(m·K).
    Tolerance 1 %: steps of 1 % growth.  Found: 0.03 %.
    """
    network = bar(2.0, 4e-3, 1)
    pour = case(
        network,
        latent_heat=1e-3,
        specific_heat=446.0,
        conductivity=1e5,
        diffusivity=1.0,
        interface_heat_transfer=300.0,
    )
    frozen = freeze_case(pour, gap_heat_transfer=300.0)

    got = solve(
        network,
        frozen,
        poured(network, pour, left=0.0),
        steps=FreezeSteps(first=0.01, growth=1.01),
    ).freeze_time[0, 0]

    want = 7550.0 * 446.0 * 4e-3 / (4.0 * 300.0) * math.log((1363.15 - 873.15) / (1094.15 - 873.15))
    record(
        "freeze",
        "cooling of a bar as one lump",
        "exact",
        float(got),
        want,
        "s",
        0.01 * want,
        kind="closed form",
    )
    assert got == pytest.approx(want, rel=0.01)


def test_error_falls_with_the_first_power_of_the_step() -> None:
    """Exact order 1 of a step taken at its end; over four refinements, within 0.2.

    A rod of 20 segments under a button, mean over its freezing times, against steps of 0.2 %
    growth.  The last error must be under 1 %.  Found: order 0.96, last error 0.4 %.
    """
    network = bar(0.05, 3e-3, 20)
    pour = case(network)
    frozen = freeze_case(pour)

    def times(growth: float) -> si.Seconds:
        steps = FreezeSteps(first=0.25 * (growth - 1.0), growth=growth)
        return np.asarray(solve(network, frozen, poured(network, pour), steps=steps).freeze_time[0])

    best = times(1.002)
    growths = np.array([1.16, 1.08, 1.04, 1.02])

    errors = np.array([float(np.abs(times(g) / best - 1.0).mean()) for g in growths.tolist()])

    order = float(np.polyfit(np.log(growths - 1.0), np.log(errors), 1)[0])
    assert errors[-1] < 0.01
    assert order == pytest.approx(1.0, abs=0.2)


def test_a_lone_bar_is_near_its_limit_with_the_usual_steps() -> None:
    """A bound on the steps: 2.5 % from steps of 0.2 % growth, at three sizes.

    The face meets the metal where an even flow carries what a true one would, so the usual
    steps err less than their order.  Found: 1.4, 1.1 and 0.9 %.
    """
    for diameter in (1e-3, 3e-3, 6e-3):
        best = single(diameter, FreezeSteps(first=0.0005, growth=1.002))
        assert single(diameter) == pytest.approx(best, rel=0.025)


def test_a_hotter_mould_and_a_poorer_contact_freeze_later() -> None:
    """Common knowledge: a trend without a number."""
    usual = single(2e-3)

    assert single(2e-3, temperature=MOULD + 50.0) > usual
    assert single(2e-3, interface_heat_transfer=500.0) > usual
    assert single(2e-3, metal_temperature=POUR + 50.0) > usual
    assert single(2e-3, conductivity=0.6) < usual
