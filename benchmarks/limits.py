"""What limits each kernel of many draws: trials with operations done twice.

`trials` times each kernel as it is and with one kind of operation done twice
(benchmarks/doubled.py); the rise is what that kind is worth.  Every trial is a process of
its own, the unchanged kernel first and last: their difference is the noise.

`python benchmarks/limits.py time KERNEL` is the process that a trial starts.
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

sys.path.insert(1, str(Path(__file__).parent.parent))

# isort: split
from doubled import KINDS, copy_with
from rates import least

STAGES = {"pour": ("pour",), "burnout": ("day", "fate"), "freeze": ("freeze",)}
"""Kernels that are timed in each stage."""

DRAWS = 40
RUNS = 9


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


def trials() -> Iterator[tuple[str, str, int, float, float]]:
    """Yield kernel, kind, operations doubled, ms a draw, and that over the unchanged."""
    for stage, kernels in STAGES.items():
        base: dict[str, float] = {}
        for kind in (*KINDS, KINDS[0]):
            with tempfile.TemporaryDirectory() as folder:
                found = copy_with(stage, kind, Path(folder))
                environment = {
                    **os.environ,
                    "PYTHONPATH": folder,
                    "NUMBA_CACHE_DIR": str(Path(folder) / "kernels"),
                }
                for kernel in kernels:
                    done = subprocess.run(
                        [sys.executable, __file__, "time", kernel],
                        check=True,
                        capture_output=True,
                        text=True,
                        env=environment,
                    )
                    spent = float(done.stdout)
                    first = base.setdefault(kernel, spent)
                    again = kind == KINDS[0] and spent is not first
                    yield kernel, "as it is, again" if again else kind, found, spent, spent / first


def main() -> None:
    """Time a kernel, or print the trials."""
    if sys.argv[1:2] == ["time"]:
        print(1e3 * least(work_of(sys.argv[2]), RUNS) / DRAWS)
        return
    print("Kernels with one kind of operation done twice; processor time, and over the unchanged")
    for kernel, kind, found, spent, ratio in trials():
        print(
            f"{kernel:<8} {kind:<26} {found:4d} doubled  {spent:7.4f} ms a draw  {ratio:5.2f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
