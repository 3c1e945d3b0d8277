"""How long the command takes from start to end, and how that compares in one run.

Prints medians of whole processes with kernels cached, and their ratios.  There is no
pass or fail: machines differ.
"""

import statistics
import subprocess
import sys
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


def median_seconds(arguments: list[str]) -> float:
    """Return the median time of a whole process [s]."""
    taken = []
    for run in range(RUNS + 1):
        begun = time.perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
        if run:  # the first fills the caches
            taken.append(time.perf_counter() - begun)
    return statistics.median(taken)


def main() -> None:
    """Print a table of times and of their ratio to an empty Python."""
    base = 0.0
    for name, arguments in COMMANDS.items():
        seconds = median_seconds(arguments)
        base = base or seconds
        print(f"{name:<34} {seconds:6.3f} s   {seconds / base:6.1f} times an empty Python")


if __name__ == "__main__":
    main()
