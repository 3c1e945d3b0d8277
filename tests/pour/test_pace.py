"""How long a step may be; house rules, by hand from the limits of the usual steps.

That chances do not hang on it is held by test_steps.py.
"""

import numpy as np
import pytest

from pourcast.pour import columns
from pourcast.pour.model import Steps
from pourcast.pour.pace import longest_step

AREA = 1e-6
LEAST = 1e-3
TIME = 1.0
STEPS = Steps()
LONGEST = STEPS.longest + STEPS.lengthening * TIME  # 13 ms, a second into the pour


def step_of(*crossing: float, rising: bool, length: float = 2e-3, reach: float = 1.4e-3) -> float:
    """Return the step [s] of fronts that would each go ``reach`` in some seconds."""
    fixed = np.zeros((len(crossing), columns.FIXED))
    moving = np.zeros((len(crossing), columns.MOVING))
    fixed[:, columns.LENGTH] = length
    fixed[:, columns.AREA] = AREA
    fixed[:, columns.BODY] = length * AREA
    moving[:, columns.FLOW] = [reach * AREA / each for each in crossing]
    limits = np.array([STEPS.share, STEPS.longest, STEPS.growth, LEAST, STEPS.lengthening])
    rows = np.arange(len(crossing), dtype=np.uint32)
    return float(longest_step(rows, len(crossing), fixed, moving, limits, TIME, rising))


@pytest.mark.parametrize("rising", [True, False])
def test_a_front_goes_seven_tenths_of_its_segment(rising: bool) -> None:
    assert step_of(5e-3, 9e-3, rising=rising) == pytest.approx(5e-3)


@pytest.mark.parametrize("crossing", [20e-3, 9.0])
def test_no_step_is_longer_than_the_longest_while_metal_is_poured(crossing: float) -> None:
    """A hundredth of the time since the pour began, and 3 ms."""
    assert step_of(crossing, 9.0, rising=True) == pytest.approx(LONGEST)


@pytest.mark.parametrize(
    ("crossing", "want"),
    [(20e-3, LONGEST), (40e-3, 0.4 * 40e-3), (9.0, 2.0 * LONGEST)],
    ids=["not yet creeping", "creeps", "hardly moves"],
)
def test_while_all_fronts_creep_it_may_be_twice_as_long(crossing: float, want: float) -> None:
    """Once all is poured: each front goes at most 0.4 of what it may go."""
    assert step_of(crossing, 9.0, rising=False) == pytest.approx(want)


def test_of_a_long_segment_a_front_may_go_twelve_millimetres_once_all_is_poured() -> None:
    """It creeps if it goes less than 0.4 of that, and not of the 56 mm of its segment of 80 mm."""
    step = step_of(200e-3, rising=False, length=80e-3, reach=56e-3)

    assert step == pytest.approx(0.4 * 200e-3 * 12.0 / 56.0)


def test_while_nothing_flows_it_is_longest() -> None:
    still = float("inf")

    assert step_of(still, rising=False) == pytest.approx(5.0 * LONGEST)
    assert step_of(still, rising=True) == pytest.approx(LONGEST)


def test_a_short_segment_does_not_shorten_the_step() -> None:
    """Of one under a millimetre the front may go 0.7 mm, and what it and the next ones hold."""
    assert step_of(5e-3, rising=True, length=0.9e-3, reach=0.7e-3) == pytest.approx(5e-3)
