"""How long one filling run of about 500 segments takes, and what a second thread is worth.

Prints milliseconds a draw and a core, and ratios within this one run.  There is
no pass or fail: machines differ, and so does what else they are doing.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.pour.cases import spray, uncertain

from pourcast.piece.model import Network
from pourcast.pour.model import PourCase
from pourcast.pour.solve import solve

DRAWS = 200
RUNS = 5


def best_seconds(network: Network, case: PourCase, threads: int) -> tuple[float, float]:
    """Return the shortest time of a forecast by the clock and by the processor [s]."""
    clock = []
    processor = []
    for _ in range(RUNS):
        begun = time.perf_counter(), time.process_time()
        solve(network, case, threads=threads)
        clock.append(time.perf_counter() - begun[0])
        processor.append(time.process_time() - begun[1])
    return min(clock), min(processor)


def main() -> None:
    """Print a line for gravity and one for vacuum."""
    network = spray()
    print(f"{network.length.size} segments, {DRAWS} draws, shortest of {RUNS} runs")
    for name, vacuum in (("gravity", 0.0), ("vacuum 60 kPa", 60e3)):
        case = uncertain(network, DRAWS, vacuum=vacuum)
        steps = solve(network, case).steps.mean()  # the first run compiles
        alone, work = best_seconds(network, case, 1)
        shared, _ = best_seconds(network, case, 2)
        print(
            f"{name:<14} {1e3 * work / DRAWS:6.2f} ms a draw and core  {steps:6.0f} steps"
            f"  {1e6 * work / DRAWS / steps:5.1f} us a step"
            f"  two threads {alone / shared:4.2f} times as fast as one"
        )


if __name__ == "__main__":
    main()
