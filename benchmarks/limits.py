"""What limits each kernel of many draws: trials with operations done twice.

`trials` times each kernel as it is and with one kind of operation done twice
(benchmarks/doubled.py); the rise is what that kind is worth.  Every trial is a process of
its own, and they take turns.  The unchanged kernel is among them twice: that difference is noise.

`python benchmarks/limits.py serve KERNEL` is the process that a trial starts.
"""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(1, str(Path(__file__).parent.parent))

# isort: split
from doubled import KINDS, copy_with

STAGES = {"pour": ("pour",), "burnout": ("day", "fate"), "freeze": ("freeze",)}
"""Kernels that are timed in each stage."""

DRAWS = 40
ROUNDS = 25
AGAIN = "as it is, again"


def work_of(kernel: str, draws: int = DRAWS) -> Callable[[], object]:
    """Return the work of a kernel for some draws."""
    if kernel in ("pour", "freeze"):
        from tests.pour.cases import spray, uncertain

        from pourcast.pour.solve import solve as solve_pour

        network = spray()
        pour = uncertain(network, draws, vacuum=60e3)
        if kernel == "pour":
            return lambda: solve_pour(network, pour)
        from tests.freeze.cases import freeze_case

        from pourcast.freeze.solve import solve as solve_freeze

        frost, poured = freeze_case(pour), solve_pour(network, pour)
        return lambda: solve_freeze(network, frost, poured)
    from tests.burnout.fate_cases import block, burning, matter
    from tests.burnout.heat_cases import STEPPED

    from pourcast.burnout.days import heat_days
    from pourcast.burnout.fate import fates

    flask = block(draws, size="100x150", wall="solid")
    if kernel == "day":
        return lambda: heat_days(flask, STEPPED)
    half = np.geomspace(2e-4, 5e-3, 6).repeat(10)
    own = matter(draws, dry=15e-3, wax=25e-3, half=half.tolist())
    spread = np.random.default_rng(1)
    kiln = replace(burning(draws, changes=3.0), tortuosity=spread.uniform(1.5, 3.0, draws))
    heat = heat_days(flask, STEPPED)
    return lambda: fates(flask, own, kiln, heat)


class Trial:
    """A copy of the package with one kind of operation doubled, in a process of its own."""

    def __init__(self, stage: str, kernel: str, kind: str, folder: Path) -> None:
        self.found = copy_with(stage, kind, folder)
        self.times: list[float] = []
        self._process = subprocess.Popen(
            [sys.executable, __file__, "serve", kernel],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            env={
                **os.environ,
                "PYTHONPATH": str(folder),
                "NUMBA_CACHE_DIR": str(folder / "kernels"),
            },
        )

    def turn(self, *, counts: bool = True) -> None:
        """Work once."""
        asked, told = self._process.stdin, self._process.stdout
        assert asked is not None
        assert told is not None
        asked.write("\n")
        asked.flush()
        spent = float(told.readline())
        if counts:
            self.times.append(spent)

    def end(self) -> None:
        """Let the process go."""
        self._process.communicate("")


def trials() -> Iterator[tuple[str, str, int, float, float]]:
    """Yield kernel, kind, operations doubled, ms a draw, and that over the unchanged.

    All trials of a kernel take turns, so that a slow minute of the machine slows all.  The ratio is
    the middle of those of single rounds, and the time is that ratio times the middle of the
    unchanged kernel's.
    """
    for stage, kernels in STAGES.items():
        for kernel in kernels:
            with tempfile.TemporaryDirectory() as folder:
                kinds = (*KINDS, AGAIN)
                made = []
                for number, kind in enumerate(kinds):
                    asked = KINDS[0] if kind == AGAIN else kind
                    made.append(Trial(stage, kernel, asked, Path(folder) / str(number)))
                    made[-1].turn(counts=False)  # compiles
                for _ in range(ROUNDS):
                    for trial in made:
                        trial.turn()
                plain = 1e3 * float(np.median(made[0].times)) / DRAWS
                for kind, trial in zip(kinds, made, strict=True):
                    trial.end()
                    ratio = float(np.median(np.divide(trial.times, made[0].times)))
                    yield kernel, kind, trial.found, ratio * plain, ratio


def serve(kernel: str) -> None:
    """Work once for each line that comes, and tell the processor time of it [s]."""
    work = work_of(kernel)
    for _ in sys.stdin:
        begun = time.process_time()
        work()
        print(time.process_time() - begun, flush=True)


def main() -> None:
    """Serve a kernel, or print the trials."""
    if sys.argv[1:2] == ["serve"]:
        serve(sys.argv[2])
        return
    print("Kernels with one kind of operation done twice; processor time, and over the unchanged")
    for kernel, kind, found, spent, ratio in trials():
        print(
            f"{kernel:<8} {kind:<26} {found:4d} doubled  {spent:7.4f} ms a draw  {ratio:5.2f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
