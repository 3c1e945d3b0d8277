"""How long a pour takes beside another copy of the source, on a machine that does other work too.

    python benchmarks/pour_beside.py OTHER_CHECKOUT

The two copies take short turns, in processes that are begun anew some times, since where arrays
lie in memory is worth some hundredths too.  Of each process the fifth percentile of
its turns counts: the least is luck, and the mean is what else the machine did.  Prints this copy
over the other, so less than 1 is faster; the share that fills shows whether both say the same.
"""

import argparse
import statistics
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent.parent
DRAWS = 20
TURNS = 40
ROUNDS = 5
PERCENTILE = 20  # one part in so many
VACUUM = {"gravity": 0.0, "vacuum 60 kPa": 60e3}

TURN = """
import sys, time
root = sys.argv[1]
sys.path[:0] = [root, root + "/src"]
from pourcast.pour.solve import solve
from tests.pour.cases import spray, uncertain
network = spray()
cases = {}
for line in sys.stdin:
    vacuum = float(line)
    if vacuum not in cases:
        cases[vacuum] = uncertain(network, int(sys.argv[2]), vacuum=vacuum)
        solve(network, cases[vacuum])
    begun = time.process_time()
    result = solve(network, cases[vacuum])
    print(time.process_time() - begun, result.filled.mean(), flush=True)
"""


def turn(process: subprocess.Popen[str], vacuum: float) -> tuple[float, float]:
    """Return the processor's time of one turn [s], and the share that fills."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(f"{vacuum}\n")
    process.stdin.flush()
    seconds, filled = process.stdout.readline().split()
    return float(seconds), float(filled)


def main() -> None:
    """Print a line for gravity and one for vacuum."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("other", type=Path, help="folder of the other checkout")
    roots = [HERE, parser.parse_args().other.resolve()]
    low: dict[str, list[list[float]]] = {name: [[], []] for name in VACUUM}
    share: dict[str, list[float]] = {name: [0.0, 0.0] for name in VACUUM}
    for _ in range(ROUNDS):
        both = [
            subprocess.Popen(
                [sys.executable, "-c", TURN, str(root), str(DRAWS)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
            )
            for root in roots
        ]
        for name, vacuum in VACUUM.items():
            taken: list[list[float]] = [[], []]
            for copy in (0, 1):
                share[name][copy] = turn(both[copy], vacuum)[1]  # the first compiles
            for number in range(TURNS):
                for copy in (0, 1) if number % 2 == 0 else (1, 0):
                    taken[copy].append(turn(both[copy], vacuum)[0])
            for copy in (0, 1):
                low[name][copy].append(sorted(taken[copy])[TURNS // PERCENTILE])
        for process in both:
            process.communicate()
    for name, (this, other) in low.items():
        ratios = [mine / its for mine, its in zip(this, other, strict=True)]
        print(
            f"{name:<14} {statistics.median(ratios):.3f} of the other"
            f" ({min(ratios):.3f} to {max(ratios):.3f});"
            f" {1e3 * min(this) / DRAWS:.2f} and {1e3 * min(other) / DRAWS:.2f} ms a draw;"
            f" share that fills {share[name][0]:.9f} and {share[name][1]:.9f}"
        )


if __name__ == "__main__":
    main()
