"""What the kernels put together from single runs: momentum of a link, gas of a pocket, a pass."""

import math

import numpy as np
import pytest

from pourcast.pour import columns as c
from pourcast.pour.flow import distribute
from pourcast.pour.pace import list_anew
from pourcast.pour.pockets import gather_pocket
from tests.outside.record import record


def _tables(
    states: list[int], parents: list[int]
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Return fixed, moving, marks, pockets, flows and links: one link and one pocket for each."""
    runs = len(states)
    fixed = np.zeros((runs, c.FIXED))
    fixed[:, c.CALM_FLOW] = 1.0  # far more than flows here
    moving = np.zeros((runs, c.MOVING))
    marks = np.zeros((runs, c.MARKS), dtype=np.uint32)
    marks[:, c.STATE] = states
    marks[:, c.PARENT] = [c.NONE if parent < 0 else parent for parent in parents]
    marks[:, c.LINK] = range(runs)
    flows = np.zeros((runs, c.LINK_COLUMNS))
    flows[:, c.LINK_CALM] = 1.0
    links = np.zeros((runs, c.LINK_MARKS), dtype=np.uint32)
    links[:, c.UPSTREAM] = marks[:, c.PARENT]
    links[:, c.TAIL] = range(runs)
    return fixed, moving, marks, np.zeros((runs, c.POCKET_COLUMNS)), flows, links


def test_links_that_become_one_keep_their_momentum() -> None:
    """Conservation of momentum, exact: at a fork whose other way has stopped.

    The feed ran at 5 ml/s for both ways, the way that goes on at 2 ml/s.  What is kept is
    inertia times flow.  Tolerance: rounding.
    """
    fixed, moving, marks, pockets, flows, links = _tables([c.WET, c.WET, c.RUNNING], [-1, 0, 1])
    inertia, flow = np.array([3e7, 8e7]), np.array([5e-6, 2e-6])
    moving[:2, c.INERTIA] = inertia
    flows[:2, c.LINK_FLOW] = flow
    marks[2, c.LINK] = 1
    active = np.arange(3, dtype=np.uint32)
    counts = np.array([3, 1, 1, 0, 0, 0, 0])
    fronts, ahead = np.zeros(3, dtype=np.uint32), np.zeros(3, dtype=np.uint32)

    list_anew(0.0, counts, active, fronts, ahead, np.ones(c.PARAMETERS),
              fixed, moving, marks, pockets, flows, links)  # fmt: skip

    got, want = float(flows[0, c.LINK_INERTIA] * flows[0, c.LINK_FLOW]), float(inertia @ flow)
    record("pour", "momentum over length of two links that become one",
           "conservation of momentum", got, want, "Pa·s", 1e-9 * want,
           kind="closed form")  # fmt: skip
    assert counts[6] == 1
    assert got == pytest.approx(want, rel=1e-9)


def test_a_pocket_holds_the_gas_that_the_metal_leaves() -> None:
    """By geometry, exact: 6 mm are dry of 10 mm, and all of the 5 mm beyond."""
    fixed, moving, marks, pockets, _, _ = _tables([c.RUNNING, c.DRY], [-1, -1])
    fixed[:, c.LENGTH] = 10e-3, 5e-3
    fixed[:, c.AREA] = area = math.pi / 4.0 * np.array([3e-3, 2e-3]) ** 2
    moving[0, c.FRONT] = 4e-3

    count = gather_pocket(
        0, 0, 101_325.0, np.array([0, 1, 3, 4]), np.array([0, 2, 1, 3]), np.array([1, 2, 0, 1]),
        np.array([True, False, False]), np.zeros((3, 2)), fixed, moving, marks, pockets,
        np.full(2, -1), np.zeros(2, dtype=np.uint32),
    )  # fmt: skip

    want = 6e-3 * float(area[0]) + 5e-3 * float(area[1])
    assert count == 2
    assert pockets[0, c.GAS_VOLUME] == pytest.approx(want, rel=1e-12, abs=0.0)
    assert pockets[0, c.WALL_LENGTH] == pytest.approx(11e-3, rel=1e-12)


@pytest.mark.parametrize("guess", [0.99, 1.02])
def test_a_pass_knows_how_far_it_lies_from_the_root(guess: float) -> None:
    """Quadratic formula: c Q² + (R + 1/G) Q = p gives the flow Q of a feed and its way on.

    The feed opposes R Q + c Q², the way on Q/G.  A pass from a guess 1 or 2 % off says how far
    it still is from the root, by equation (2) of `pourcast.pour.flow`.  Tolerance 3 %: the
    slopes at guess and root differ by 1 or 2 % at most.  Found: 0.5 % and 1 %.
    """
    head, drag, square, gain = 5e3, 4e8, 3e14, 1e-9
    slope = drag + 1.0 / gain
    root = (-slope + math.sqrt(slope**2 + 4.0 * square * head)) / (2.0 * square)
    start = guess * root
    fixed, moving, marks, pockets, flows, links = _tables([c.WET, c.RUNNING], [-1, 0])
    marks[1, c.POCKET] = 0
    pockets[0, c.FORECAST] = 1.0
    push, stiff = square * start**2, drag + 2.0 * square * start
    flows[0, [c.LINK_SQUARE, c.LINK_PUSH, c.LINK_STIFF]] = square, push, stiff
    flows[:, c.GAIN] = gain / (1.0 + gain * stiff), gain
    flows[0, c.OFFSET] = push * flows[0, c.GAIN]
    flows[:, c.LINK_FLOW] = start

    out, total, missed = distribute(2, head, fixed, moving, marks, pockets, flows, links)

    assert out == pytest.approx(total, rel=1e-12, abs=0.0)
    assert out == pytest.approx(root, rel=1e-3, abs=0.0)
    record("pour", f"what a pass from {guess:g} of the flow misses", "quadratic formula",
           1e9 * missed, 1e9 * (out - root), "mm³/s", 0.03e9 * (out - root),
           kind="closed form")  # fmt: skip
    assert missed == pytest.approx(abs(out - root), rel=0.03, abs=0.0)
