"""How long the command takes from start to end, and how that compares in one run.

Prints medians of whole processes with kernels cached, and their ratios.  There is no
pass or fail: machines differ.  Bytecode is kept, as on the machine of a caster, though
a shell for development may forbid it.  Where scipy is installed (for scans, photographs
and tests) numba imports it with the first kernel; a forecast alone does not need it.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PIECE = str(Path(__file__).parent.parent / "examples" / "sea_holly.toml")
RUNS = 5

COMMANDS: dict[str, list[str]] = {
    "python alone": ["-c", "pass"],
    "import of the package": ["-c", "import pourcast"],
    "--help": ["-m", "pourcast", "--help"],
    "read a sheet and weigh": ["-m", "pourcast", "weigh", PIECE],
    "forecast, 400 draws": ["-m", "pourcast", "forecast", PIECE],
    "forecast, 400 draws, one thread": ["-m", "pourcast", "forecast", PIECE, "--threads", "1"],
    "forecast, 1 draw": ["-m", "pourcast", "forecast", PIECE, "--draws", "1"],
}


def seconds_of(arguments: list[str], environment: dict[str, str]) -> tuple[float, float]:
    """Return the median time of a whole process by the clock and by the processor [s]."""
    clock = []
    processor = []
    for run in range(RUNS + 1):
        begun = time.perf_counter(), _of_children()
        subprocess.run(
            [sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL, env=environment
        )
        if run:  # the first fills the caches
            clock.append(time.perf_counter() - begun[0])
            processor.append(_of_children() - begun[1])
    return statistics.median(clock), statistics.median(processor)


def _of_children() -> float:
    spent = os.times()
    return spent.children_user + spent.children_system


def main() -> None:
    """Print a table of times and of their ratio to an empty Python."""
    environment = dict(os.environ)
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    base = 0.0
    with tempfile.TemporaryDirectory() as kept:
        environment["PYTHONPYCACHEPREFIX"] = kept
        for name, arguments in COMMANDS.items():
            clock, processor = seconds_of(arguments, environment)
            base = base or clock
            print(
                f"{name:<34} {clock:6.3f} s   processor {processor:6.3f} s"
                f"   {clock / base:6.1f} times an empty Python"
            )


if __name__ == "__main__":
    main()
