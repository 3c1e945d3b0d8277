"""Rise: metal that waits at a mouth goes in when the cup has risen far enough, and not later."""

import math

import pytest

from pourcast.pour.model import Steps
from pourcast.pour.solve import solve
from pourcast.units import GRAVITY
from tests.outside.record import record
from tests.pour.cases import FINE, bar, case

FIRST = 0.2e-3  # m, the first piece of the passage
RATE, START, CUP = 4e-5, 0.01, 0.03  # m³/s, m, m: a cup with an upright wall
TENSION, ANGLE, DENSITY = 1.22, math.radians(140), 7550.0
LAG = (3.0 * FIRST**2 * math.pi / 4.0 * CUP**2 / (RATE * GRAVITY)) ** (1.0 / 3.0)
STEPS = pytest.mark.parametrize(
    "steps", [Steps(), FINE, Steps(longest=1e-4, lengthening=0.0)], ids=["usual", "fine", "finest"]
)


@STEPS
@pytest.mark.parametrize("bore_mm", [1.8, 2.0, 2.4])
def test_metal_goes_in_when_the_head_in_the_cup_passes_the_threshold(
    bore_mm: float, steps: Steps
) -> None:
    """Closed form: 4 γ |cos θ| / d = ρ g h, Young and Laplace (1805), and a cup of upright wall.

    The passage lies level, so only the cup presses.  Without friction the front is
    then at x after (3 x² / (g dh/dt))^(1/3), 6.0 ms for the first piece; with friction and heads
    lost later.  Found: 7.2 to 10.2 ms, of 201 to 329 ms.
    """
    bore = 1e-3 * bore_mm
    passage = bar(2e-2, bore, 100)
    pour = case(
        passage,
        permeability=1e-8,
        pour_rate=RATE,
        start_head=START,
        cup_diameter=CUP,
        gate_diameter=CUP - 1e-9,
        entry_loss=0.0,
        surface_tension=TENSION,
        contact_angle=ANGLE,
    )
    head = -4.0 * TENSION * math.cos(ANGLE) / (bore * DENSITY * GRAVITY)
    ready = (head - START) * math.pi / 4.0 * CUP**2 / RATE

    result = solve(passage, pour, steps=steps)

    late = float(result.fill_time[0, 0]) - ready
    record(
        "pour",
        f"time at which metal fills the mouth of a bore of {bore_mm} mm while the cup rises, "
        f"longest step {1e3 * steps.longest:g} ms",
        "Young and Laplace (1805); cylinder of the cup",
        float(result.fill_time[0, 0]),
        ready + LAG,
        "s",
        5e-3,
        kind="closed form",
    )
    assert LAG < late < 11e-3
