"""Rates of this machine: what one core does at best, in this run.

Chains of divisions and of exp, in which each waits for the last; the same beside one
another; reads at random places and a triad (a = b + s c), in arrays that fit the near, the
middle, the far cache of a usual processor and none.  Compiled with the options of the
kernels, timed by processor time, the least of five runs.
"""

import math
import time
from collections.abc import Callable
from typing import Any

import numba
import numpy as np

from pourcast.kernels import _FAST_MATH

SIZES = {"16 kB": 1 << 14, "512 kB": 1 << 19, "8 MB": 1 << 23, "256 MB": 1 << 28}
COUNT = 1 << 11  # numbers of the chains: near cache
TURNS = 2000
READS = 1 << 21


def least(work: Callable[[], object], runs: int = 5) -> float:
    """Return the least processor time of some runs, after one that compiles [s]."""
    work()
    taken = []
    for _ in range(runs):
        begun = time.process_time()
        work()
        taken.append(time.process_time() - begun)
    return min(taken)


def _division_chain(a: Any, b: Any, out: Any, turns: int) -> None:
    x = 1.0
    for _ in range(turns):
        for i in range(a.size):
            x = a[i] / (x + b[i])
    out[0] = x


def _division_beside(a: Any, b: Any, out: Any, turns: int) -> None:
    for turn in range(turns):
        for i in range(a.size):
            out[i] = a[i] / (b[i] + turn)


def _exp_chain(a: Any, _: Any, out: Any, turns: int) -> None:
    x = 1.0
    for _turn in range(turns):
        for _i in range(a.size):
            x = math.exp(-x)
    out[0] = x


def _exp_beside(a: Any, _: Any, out: Any, turns: int) -> None:
    for turn in range(turns):
        for i in range(a.size):
            out[i] = math.exp(-a[i] - 1e-3 * turn)


def _log_beside(a: Any, _: Any, out: Any, turns: int) -> None:
    for turn in range(turns):
        for i in range(a.size):
            out[i] = math.log(a[i] + turn)


def _triad(a: Any, b: Any, c: Any, turns: int) -> None:
    for turn in range(turns):
        for i in range(a.size):
            a[i] = b[i] + (1.5 + turn) * c[i]


def _gather(a: Any, places: Any, out: Any, turns: int) -> None:
    x = 0.0
    for _ in range(turns):
        for i in range(places.size):
            x += a[places[i]]
    out[0] = x


def rates() -> dict[str, float]:
    """Return ns an operation, and GB/s of a triad."""
    compiled = numba.njit(fastmath=_FAST_MATH, nogil=True)
    a, b, out = np.linspace(1.0, 1.1, COUNT), np.linspace(1.01, 1.02, COUNT), np.empty(COUNT)
    told = {}
    for name, plain in {
        "division and sum, chain": _division_chain,
        "division, beside": _division_beside,
        "exp, chain": _exp_chain,
        "exp, beside": _exp_beside,
        "log, beside": _log_beside,
    }.items():
        work = compiled(plain)
        spent = least(lambda work=work: work(a, b, out, TURNS))  # type: ignore[misc]
        told[f"{name} [ns]"] = 1e9 * spent / (TURNS * COUNT)
    gather, triad = compiled(_gather), compiled(_triad)
    for name, size in SIZES.items():
        whole = np.ones(size // 8)
        places = np.random.default_rng(0).integers(0, whole.size, min(READS, whole.size))
        turns = READS // places.size
        spent = least(lambda h=(whole, places, out, turns): gather(*h))  # type: ignore[misc]
        told[f"read at random in {name} [ns]"] = 1e9 * spent / READS
        three = [np.ones(whole.size // 3) for _ in range(3)]
        turns = max(1, (1 << 27) // size)
        spent = least(lambda h=(*three, turns): triad(*h))  # type: ignore[misc]
        told[f"triad in {name} [GB/s]"] = 24.0 * three[0].size * turns / spent / 1e9
    return told


def main() -> None:
    """Print the rates."""
    print("What one core does at best")
    for name, rate in rates().items():
        print(f"  {name:<34} {rate:8.2f}", flush=True)


if __name__ == "__main__":
    main()
