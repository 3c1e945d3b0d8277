"""The range that is told of a length, and of a depth: does it hold the truth nine times of ten?

Truth of the generator, seeds that neither the reader nor the range was tuned on: the ranges were
widened after those of the seeds 2000 to 2015 had been seen.  Counted are the
parts that were found; one that was taken for another is in the misses of docs/photographs.md.
"""

import math

import numpy as np
import pytest

from pourcast.photo.paper import deepest
from tests.outside.record import record
from tests.photo.held import Held, hold

FIRST = 3000

pytestmark = pytest.mark.long


def inside(held: Held) -> list[bool]:
    """Tell of each part that was found whether the range of its length holds it."""
    out = []
    for i, j in held.pairs:
        part = held.reading.parts[j]
        low = 1e3 * part.length * (1.0 - 1.645 * part.length_error)
        high = 1e3 * part.longest * (1.0 + 1.645 * part.length_error)
        out.append(bool(low <= held.truth[i].length <= high))
    return out


def shallow(held: Held, turn: float) -> list[bool]:
    """Tell of each part that was found whether its tip is as near to its base as was told."""
    away = np.array([-math.sin(math.radians(turn)), math.cos(math.radians(turn)), 0.0])
    out = []
    for i, j in held.pairs:
        member, part = held.truth[i], held.reading.parts[j]
        if part.longest > part.length:
            out.append(abs(float((member.tip - member.base) @ away)) <= 1e3 * deepest(part))
    return out


CASES = {
    "bushy twig, two pictures": ("twig", (0.0, 90.0), 12),
    "bushy twig, one picture": ("twig", (0.0,), 12),
    "flat twig, one picture": ("fan", (90.0,), 8),
}


@pytest.mark.parametrize("case", CASES)
def test_the_range_of_a_length_holds_it_nine_times_of_ten(case: str) -> None:
    """House bar of 90 %; 100 parts are known to 3 %, one standard deviation."""
    kind, turns, plants = CASES[case]
    held = [hold(kind, seed, turns) for seed in range(FIRST, FIRST + plants)]

    share = float(np.mean([each for one in held for each in inside(one)]))

    record("photo", f"range of a length holds it, {case}", "generator", 100 * share, 100.0, "%",
           10.0, kind="by construction")  # fmt: skip
    assert share >= 0.9


def test_a_tip_is_no_deeper_than_one_picture_tells_nine_times_of_ten() -> None:
    """House bar of 90 %, bushy twigs in one picture; the lens is 1 m away."""
    held = [hold("twig", seed, (0.0,)) for seed in range(FIRST, FIRST + 12)]

    share = float(np.mean([each for one in held for each in shallow(one, 0.0)]))

    record("photo", "depth of a tip, bushy twig in one picture", "generator", 100 * share, 100.0,
           "%", 10.0, kind="by construction")  # fmt: skip
    assert share >= 0.9
