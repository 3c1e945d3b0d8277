"""How long the fate of wax and original takes in a draw, beside the heat of its block.

Prints milliseconds a draw and a core, and ratios within this one run.  There is
no pass or fail: machines differ, and so does what else they are doing.
"""

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

import numpy as np
from tests.burnout.fate_cases import HOUR, block, burning, matter

from pourcast.burnout.days import heat_days
from pourcast.burnout.fate import fates
from pourcast.burnout.model import Curve
from pourcast.burnout.oxygen_room import shape_factor
from pourcast.materials.draws import char_log10_a

DRAWS = 200
RUNS = 5
MEMBERS = 60


def shortest(work: Callable[[], object]) -> float:
    """Return the shortest processor time of some runs [s]."""
    work()  # the first run compiles
    taken = []
    for _ in range(RUNS):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return min(taken)


def main() -> None:
    """Print a line for each wall, and one for the shape factors."""
    rng = np.random.default_rng(1)
    hours, celsius = np.array(
        [(0, 20), (2, 150), (4, 150), (6, 370), (7, 370), (9, 730), (12, 730), (13, 600)], float
    ).T
    curve = Curve(name="bench", time=hours * HOUR, temperature=celsius + 273.15)
    half = rng.uniform(2e-4, 5e-3, 6).repeat(MEMBERS // 6)
    energy = rng.uniform(120e3, 220e3, DRAWS)
    kiln = replace(
        burning(DRAWS, changes=3.0),
        char_activation=energy,
        char_log10_rate=char_log10_a(energy) + 0.5 * np.log10(0.20),
        tortuosity=rng.uniform(1.5, 3.0, DRAWS),
        air_changes=rng.uniform(0.5, 8.0, DRAWS) / HOUR,
    )
    own = matter(DRAWS, dry=15e-3, wax=25e-3, half=half.tolist())
    print(f"{MEMBERS} members, {DRAWS} draws, day of 13 h, shortest of {RUNS} runs")
    for wall in ("solid", "perforated", "bare"):
        flask = block(DRAWS, size="100x150", wall=wall)
        heat = heat_days(flask, curve)
        warm = shortest(lambda flask=flask: heat_days(flask, curve))  # type: ignore[misc]
        fate = shortest(lambda flask=flask, heat=heat: fates(flask, own, kiln, heat))  # type: ignore[misc]
        print(
            f"{wall:<11} fate {1e3 * fate / DRAWS:6.3f} ms a draw and core"
            f"  heat {1e3 * warm / DRAWS:6.3f}  fate over heat {fate / warm:5.2f}"
        )
    sizes = (0.05, 0.15, 0.017, 0.0225, 0.125)
    once = shortest(lambda: shape_factor.__wrapped__(*sizes, open_side=True))
    print(f"one shape factor, kept for the block: {1e3 * once:5.2f} ms")


if __name__ == "__main__":
    main()
