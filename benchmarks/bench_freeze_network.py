"""How long the freezing of a network of about 480 segments takes, and what threads are worth.

Prints milliseconds a draw and a core, and how far the usual steps lie from fine ones.
There is no pass or fail: machines differ, and so does what else they are doing.
"""

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.freeze.cases import COVER, freeze_case
from tests.pour.cases import spray, uncertain

from pourcast.freeze.model import FreezeCase, FreezeSteps
from pourcast.freeze.solve import solve
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult
from pourcast.pour.solve import solve as solve_pour

DRAWS = 200
RUNS = 7


def best_seconds(
    network: Network, case: FreezeCase, result: PourResult, threads: int
) -> tuple[float, float]:
    """Return the shortest time of a forecast by the clock and by the processor [s]."""
    clock = []
    processor = []
    for _ in range(RUNS):
        begun = time.perf_counter(), time.process_time()
        solve(network, case, result, threads=threads)
        clock.append(time.perf_counter() - begun[0])
        processor.append(time.process_time() - begun[1])
    return min(clock), min(processor)


def main() -> None:
    """Print a line for an open top and one for a covered top."""
    network = spray()
    print(f"{network.length.size} segments, {DRAWS} draws, shortest of {RUNS} runs")
    pour = uncertain(network, DRAWS, vacuum=60e3)
    result = solve_pour(network, pour, threads=2)
    fine = FreezeSteps(first=0.01, growth=1.05)
    for name, changes in (("open top", {}), ("covered top", COVER)):
        case = freeze_case(pour, **changes)
        usual = solve(network, case, result)  # the first run compiles
        alone, work = best_seconds(network, case, result, 1)
        shared, _ = best_seconds(network, case, result, 2)
        exact = solve(network, case, result, steps=fine)
        off = 100.0 * (usual.freeze_time / exact.freeze_time - 1.0)
        late = 100.0 * float(np.nanmean(usual.quench_from / exact.quench_from) - 1.0)
        print(
            f"{name:<12} {1e3 * work / DRAWS:6.3f} ms a draw and core"
            f"  {usual.steps.mean():4.0f} steps"
            f"  two threads {alone / shared:4.2f} times as fast as one"
            f"  freeze times {np.nanmean(off):+.1f} % (spread {np.nanstd(off):.1f} %)"
            f"  quench {late:+.1f} %"
        )


if __name__ == "__main__":
    main()
