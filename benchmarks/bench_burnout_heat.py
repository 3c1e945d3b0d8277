"""How long a day of heat and water takes, for all draws and for one section.

Prints milliseconds a draw and a core, and ratios within this one run.  There is
no pass or fail: machines differ, and so does what else they are doing.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.burnout.heat_cases import RAMP, SIZES, STEPPED, flask

from pourcast.burnout.days import heat_days, heat_days_with_account
from pourcast.burnout.model import BlockCase, Curve
from pourcast.burnout.section import section

DRAWS = 200
RUNS = 3


def best_seconds(case: BlockCase, day: Curve, threads: int) -> tuple[float, float]:
    """Return the shortest time of all draws by the clock and by the processor [s]."""
    clock, processor = [], []
    for _ in range(RUNS):
        begun = time.perf_counter(), time.process_time()
        heat_days(case, day, threads=threads)
        clock.append(time.perf_counter() - begun[0])
        processor.append(time.process_time() - begun[1])
    return min(clock), min(processor)


def main() -> None:
    """Print a line for each flask and curve, and one for each section."""
    print(f"{DRAWS} draws, shortest of {RUNS} runs")
    for size in SIZES:
        for name, day in (("ramp of 6 h", RAMP), ("stepped 13 h", STEPPED)):
            case = flask(
                size,
                draws=DRAWS,
                wall="solid",
                contact_conductance=500.0,
                flask_gap=np.geomspace(5e-6, 5e-5, DRAWS),
                set_conductivity=np.linspace(0.35, 0.7, DRAWS),
            )
            steps = heat_days_with_account(case, day)[1].steps.mean()  # the first run compiles
            alone, work = best_seconds(case, day, 1)
            shared, _ = best_seconds(case, day, 2)
            print(
                f"{size:<8} {name:<13} {1e3 * work / DRAWS:5.2f} ms a draw and core"
                f"  {steps:5.0f} steps  two threads {alone / shared:4.2f} times as fast as one"
            )
    for size in SIZES:
        case = flask(size)
        times = np.linspace(0.0, float(RAMP.time[-1]), 14)
        section(case, 0, RAMP, times)
        begun = time.process_time()
        section(case, 0, RAMP, times)
        print(f"{size:<8} section of 40 x 20 cells  {time.process_time() - begun:5.2f} s")


if __name__ == "__main__":
    main()
