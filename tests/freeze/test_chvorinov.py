"""Chvorinov: freezing times against modulus, for plate, bar and ball."""

import math
from typing import Any

import numpy as np
import pytest
from scipy.optimize import brentq

from pourcast.freeze.bodies import modulus, sizes
from pourcast.freeze.model import FreezeSteps
from pourcast.freeze.solve import solve
from pourcast.piece.model import Button, Network, Part, Piece
from pourcast.piece.network import build
from tests.freeze.cases import freeze_case, poured
from tests.freeze.exact import cylinder_heat
from tests.outside.record import record
from tests.pour.cases import bar, case

FINE = FreezeSteps(first=0.02, growth=1.05)
MELTS = 1273.15  # K
OVER = 450.0  # K over the mould
K, CAPACITY = 0.5, 1.3125e6  # W/(m·K) and J/(m³·K) of the mould
GAMMA = 0.3965  # mould heat over metal heat, ΔT ρc / (ρ L), of the case below
DENSITY = 8500.0
LATENT = OVER * CAPACITY / (GAMMA * DENSITY)


def freezes(network: Network, **changes: float) -> float:
    """Return when the last segment of a pure metal without superheat is solid [s]."""
    values: dict[str, Any] = {
        "density": DENSITY,
        "liquidus": MELTS,
        "half_solid": MELTS,
        "solidus": MELTS,
        "latent_heat": LATENT,
        "metal_temperature": MELTS,
        "temperature": MELTS - OVER,
        "interface_heat_transfer": 1e6,
        "conductivity": K,
        "diffusivity": K / CAPACITY,
    }
    values |= changes
    pour = case(network, **values)
    frozen = freeze_case(pour, gap_heat_transfer=1e6)
    result = solve(network, frozen, poured(network, pour, left=0.0), steps=FINE)
    return float(result.freeze_time.max())


def plate(thickness: float) -> Network:
    """Return a plate so wide that its edges do not matter."""
    return bar(50.0, thickness, 1, width=50.0)


def steel(network: Network) -> float:
    """Return when steel without superheat is solid in cold silica sand [s]."""
    return freezes(
        network,
        density=7200.0,
        liquidus=1773.15,
        half_solid=1773.15,
        solidus=1773.15,
        latent_heat=270e3,
        metal_temperature=1773.15,
        temperature=293.15,
        conductivity=0.6,
        diffusivity=0.6 / (1500.0 * 1130.0),
    )


def test_steel_plates_in_sand_freeze_in_the_time_of_chvorinov() -> None:
    """Measured: 2.1 min/cm² times modulus squared, steel in silica sand.

    Source: Chvorinov (1940), Giesserei 27, from memory; data of steel and sand as in
    handbooks, from memory.  Tolerance 25 %: sand is known no better.  The closed form of the
    half-space gives 2.22, which is held to 2 % (1 % in heat is 2 % in time).  Found: 2.20.
    """
    minutes = steel(plate(20e-3)) / 60.0

    record(
        "freeze",
        "freezing time of a steel plate in sand over modulus squared",
        "Chvorinov (1940), from memory",
        minutes,
        2.1,
        "min/cm²",
        0.25 * 2.1,
        kind="measured",
    )
    exact = math.pi / 4.0 * (7200.0 * 270e3 / 1480.0) ** 2 / (0.6 * 1500.0 * 1130.0) * 1e-4 / 60.0
    assert minutes == pytest.approx(2.1, rel=0.25)
    assert minutes == pytest.approx(exact, rel=0.02)


@pytest.mark.parametrize("shape", ["plate", "bar"])
def test_freezing_time_grows_with_the_square_of_the_modulus(shape: str) -> None:
    """Published: Chvorinov (1940), exponent 2, from a fit over eight times the modulus.

    Tolerance 0.1 by his scatter, from memory.  Found: 2.00 for both.
    """
    moduli = np.array([2.5e-3, 5e-3, 1e-2, 2e-2])
    bodies = [plate(2.0 * m) if shape == "plate" else bar(50.0, 4.0 * m, 1) for m in moduli]

    times = np.array([steel(body) for body in bodies])

    slope = float(np.polyfit(np.log(moduli), np.log(times), 1)[0])
    record(
        "freeze",
        f"exponent of the modulus in the freezing time of a {shape}",
        "Chvorinov (1940)",
        slope,
        2.0,
        "",
        0.1,
        kind="measured",
    )
    assert slope == pytest.approx(2.0, abs=0.1)


def test_a_bar_freezes_sooner_than_a_plate_of_its_modulus() -> None:
    """Published: 0.538 of the plate's time, Chvorinov with curvature, Flemings (1974).

    That is for mould over metal heat of 0.3965.  His flux, 1/√(παt) + 1/2a, lies over that of
    the cylinder; with the exact one (Carslaw and Jaeger 13.5) the ratio is 0.5635.  Tolerance
    3 % against the exact one (1 % of heat in both bodies is 2 % of time), 8 % against his: 3 %
    and the 4.7 % by which his formula is short.  Found: 0.558, 1.0 % under and 3.7 % over.
    """
    size = 4e-3
    ratio = freezes(bar(50.0, 4.0 * size, 1)) / freezes(plate(2.0 * size))

    flat = math.pi / 4.0 / GAMMA**2  # α t / modulus² of the plate
    fourier = float(brentq(lambda number: cylinder_heat(number) - 0.5 / GAMMA, 0.1, 10.0))
    exact = 4.0 * fourier / flat
    record(
        "freeze",
        "freezing time of a bar over that of a plate of the same modulus",
        "Flemings (1974), Chvorinov with curvature",
        ratio,
        0.538,
        "",
        0.08 * 0.538,
        kind="closed form",
    )
    assert exact == pytest.approx(0.5635, abs=2e-3)
    assert ratio == pytest.approx(exact, rel=0.03)
    assert ratio == pytest.approx(0.538, rel=0.08)


def test_a_ball_freezes_sooner_than_a_plate_of_its_modulus() -> None:
    """Published: 0.473 of the plate's time, exact for a ball, Flemings (1974).

    The ball is the lump of a piece, cut in slices, on a hair of a stalk.  Tolerance 8 %: a
    slice has the curvature of its own girth and that of the member's length, and a lump is
    1.5 % small in area.  Found: 0.438, 7.4 % short.
    """
    size = 4e-3
    stalk = Part(
        name="stalk",
        parent="button",
        shape="rod",
        count=1,
        length=30e-3,
        width=(3e-4, 3e-4),
        thickness=(3e-4, 3e-4),
        position=(0.0, 0.0),
        angle=0.0,
        turn=0.0,
        turn_step=0.0,
        bend=0.0,
        coat=0.0,
        material="wax",
    )
    head = Part(
        name="head",
        parent="stalk",
        shape="lump",
        count=1,
        length=6.0 * size,
        width=(6.0 * size, 6.0 * size),
        thickness=(6.0 * size, 6.0 * size),
        position=(1.0, 1.0),
        angle=0.0,
        turn=0.0,
        turn_step=0.0,
        bend=0.0,
        coat=0.0,
        material="wax",
    )
    button = Button(diameter=30e-3, height=20e-3, gate_diameter=4e-3, material="casting")
    network = build(Piece(name="ball", parts=(stalk, head), button=button))
    volume, face = sizes(network)
    mine = network.member_part[network.member] == 1

    ratio = freezes(network) / freezes(plate(2.0 * size))

    record(
        "freeze",
        "freezing time of a ball over that of a plate of the same modulus",
        "Flemings (1974), exact",
        ratio,
        0.473,
        "",
        0.08 * 0.473,
        kind="closed form",
    )
    assert volume[mine].sum() == pytest.approx(math.pi / 6.0 * (6.0 * size) ** 3, rel=1e-3)
    assert face[mine].sum() == pytest.approx(math.pi * (6.0 * size) ** 2, rel=0.02)
    assert ratio == pytest.approx(0.473, rel=0.08)


def test_modulus_is_the_casters_volume_over_face() -> None:
    """Common practice, no source: half the thickness of a plate, a quarter of a rod."""
    assert modulus(plate(6e-3))[0] == pytest.approx(3e-3, rel=1e-3)
    assert modulus(bar(10.0, 6e-3, 1))[0] == pytest.approx(1.5e-3, rel=1e-3)
