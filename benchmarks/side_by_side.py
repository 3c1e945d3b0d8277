"""Side by side: our solver and another on one problem, seconds at the same error.

Each solver is tried from coarse to fine.  A try gives processor seconds and an error
against a reference that is neither.  Ours is shown as it is used, with its own steps, and
finer; for each of these the other counts by its cheapest try whose error is no more than
1.1 times that of ours, be it dearer or cheaper.  Where none is that near, that is said and
there is no ratio.  One thread, compiled before.
"""

import os
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

# The numerical libraries count their threads when they are loaded.
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

Answer = TypeVar("Answer")

AS_NEAR = 1.1  # times the error of ours that counts as the same; as in peers_heat.py


@dataclass(frozen=True, slots=True, kw_only=True)
class Try:
    """One solver, once.

    Parameters
    ----------
    label : str
        How fine.
    seconds : float
        Of the processor.
    error : float
    """

    label: str
    seconds: float
    error: float


def least_seconds(work: Callable[[], Answer], runs: int = 3) -> tuple[float, Answer]:
    """Return the least processor time of some runs [s], and what the work gives."""
    answer = work()  # compiles
    taken = []
    for _ in range(runs):
        begun = time.process_time()
        answer = work()
        taken.append(time.process_time() - begun)
    return min(taken), answer


def told(
    unit: str, ours: Sequence[Try], others: dict[str, Sequence[Try]], *, each: int = 1
) -> None:
    """Print the tries, and by how much each other is dearer or cheaper at each error of ours.

    Parameters
    ----------
    unit : str
        Of the errors.
    ours : sequence of Try
        The first as it is used, the others finer.
    others : dict of sequence of Try
    each : int
        Problems that a try solves; seconds are shown for one.
    """
    for name, tries in {"pourcast": ours, **others}.items():
        for one in tries:
            spent = 1e3 * one.seconds / each
            print(f"  {name:<20} {one.label:<22} {spent:9.4f} ms  error {one.error:9.3g} {unit}")
    for own in ours:
        for name, tries in others.items():
            near = [one for one in tries if one.error <= AS_NEAR * own.error]
            if near:
                best = min(near, key=lambda one: one.seconds)
                ratio = f"{best.seconds / own.seconds:.2f} times ours ({best.label})"
            else:
                ratio = "no try came as near, no ratio"
            print(f"  at {own.error:.3g} {unit} ({own.label}): {name} {ratio}")
