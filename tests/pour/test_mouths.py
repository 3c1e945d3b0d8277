"""Mouths: metal that is held at narrow mouths keeps the gas ahead of it, neither more nor less."""

import math

import numpy as np
import pytest

from pourcast.pour.model import Steps
from pourcast.pour.solve import solve
from tests.outside.record import record
from tests.pour.cases import Builder, case

PIECES = 20
HEAD = 0.6  # m
AIR = 101_325.0  # Pa
STEPS = (0.2, 0.05, 0.01)


@pytest.mark.parametrize("longest", STEPS, ids=[f"{1e3 * step:.0f} ms" for step in STEPS])
def test_a_sealed_passage_in_narrow_steps_fills_as_boyle_says(longest: float) -> None:
    """Exact: metal as thick as honey creeps up twenty ever narrower pieces against shut-in gas.

    It comes to rest where head = threshold + p₀ V₀/V - p₀.  At each mouth it waits
    until it presses harder; no gas may come of that.  Source: Boyle (1662), and Washburn
    (1921) for the threshold.  Found: 2e-7 off at every step.  While the gas kept the squeeze
    of metal that had been held at a mouth, the passage filled 1.4 to 6 % too little, by the
    step.  Held to 1e-4, for what creeps on at the end.
    """
    builder = Builder()
    node, bore = 0, 3e-3
    for _ in range(PIECES):
        node = builder.add(node, 2e-3, bore, rise=0.0)
        bore *= 0.97
    network = builder.network()
    pour = case(
        network,
        permeability=1e-40,
        interface_heat_transfer=1e-9,
        viscosity=50.0,
        start_head=HEAD,
        metal_volume=1.0,
        pour_rate=0.0,
        cup_diameter=0.6,
        cup_height=1.0,
        gate_diameter=0.5999,
        entry_loss=0.0,
        fork_loss=0.0,
    )

    result = solve(network, pour, steps=Steps(longest=longest, lengthening=0.0))

    volume = 0.25 * math.pi * network.thickness[:, 0] ** 2 * network.length
    got = float(result.filled[0] @ volume) / float(volume.sum())
    want = _at_rest(network.thickness[:, 0], volume)
    record(
        "pour",
        f"sealed passage with narrow mouths, share that fills at steps of {1e3 * longest:.0f} ms",
        "Boyle (1662), closed form",
        got,
        want,
        "",
        1e-4,
        kind="closed form",
    )
    assert got == pytest.approx(want, abs=1e-4)


def _at_rest(bores: np.ndarray, volume: np.ndarray) -> float:
    """Return the share of the volume behind a front that the gas holds."""
    push = 7550.0 * 9.80665 * HEAD
    before = 0.0
    for bore, piece in zip(bores, volume, strict=True):
        threshold = -4.0 * 1.22 * math.cos(math.radians(140.0)) / bore
        rest = volume.sum() * (1.0 - AIR / (AIR + push - threshold))
        if rest < before + piece:
            return float(max(rest, before) / volume.sum())
        before += piece
    return 1.0
