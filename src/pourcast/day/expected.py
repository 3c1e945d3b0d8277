"""Expected: what does the day come to as long as nothing of it is known?

Ahead and behind say what this day did, so a day is held against itself before its
first reading: the same particles, the same futures of the kiln, nothing read.  A plan
that is gone through once, without the futures, is another thing: the paces of the
futures alone then move the middle, and a day of which nothing is known looked late.

Middles are those of the draws that come to it at all.  A core whose kiln reads 15 K
off never comes near the casting heat; that is so from the first hour, of a third of
the draws, and is told as a chance.  With them in, the middle of all lies far up in the
late end of the others, and each certainty gained about the pace moved it: 36 min from
morning to evening of a day that kept to its plan.

Left out: draws that come to it on one of the two days and not on the other.  They are
draws at the very edge, and the middle moves by their share.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import steps_of
from pourcast.burnout.model import BurnoutResult, Curve
from pourcast.day.futures import futures
from pourcast.day.particles import percentiles
from pourcast.day.rest import rest_of_plan, waiting
from pourcast.day.weighed import Drawn, weighed


@dataclass(frozen=True, slots=True, kw_only=True)
class Middles:
    """Middles of the draws that come to it; times from the start.

    Parameters
    ----------
    dry, clean, ready : float or None [s]
        None: hardly any draw comes to it.
    """

    dry: si.Second | None
    clean: si.Second | None
    ready: si.Second | None


def hours_of(results: Sequence[BurnoutResult]) -> tuple[si.Seconds, si.Seconds, si.Seconds]:
    """Return when each particle is dry, clean, and at casting heat.

    Parameters
    ----------
    results : sequence of BurnoutResult
        One for each future, each with its own particles.

    Returns
    -------
    tuple of array [s], shape (particles,)
        Not a number where it does not come to it.
    """
    return (
        np.concatenate([result.heat.dry_at for result in results]),
        np.concatenate([result.fate.clean_at for result in results]),
        np.concatenate([result.ready_at for result in results]),
    )


def middles(results: Sequence[BurnoutResult], weights: si.Ratios) -> Middles:
    """Return the middles of the draws that come to it.

    Parameters
    ----------
    results : sequence of BurnoutResult
    weights : array [-], shape (particles,)
        They add up to 1.

    Returns
    -------
    Middles
    """
    dry, clean, ready = (_middle(times, weights) for times in hours_of(results))
    return Middles(dry=dry, clean=clean, ready=ready)


def expected(
    drawn: Drawn, planned: Curve, room: si.Kelvin, *, control: str, seed: int, threads: int
) -> Middles:
    """Return the middles of a day of which nothing is read or done yet.

    Parameters
    ----------
    drawn : tuple of BlockCase, Matter and Burning
        Of all particles, those of the first future first.
    planned : Curve
    room : float [K]
        From which the kiln comes.
    control : {"hand", "programmed"}
    seed : int
    threads : int
        The answer is the same for any number.

    Returns
    -------
    Middles
    """
    begun, cold = np.zeros(1), np.array([room])
    rest = rest_of_plan(steps_of(planned), float(planned.temperature[0]), begun, cold)
    curves = futures(waiting(rest), begun, cold, control=control, body=None)
    results, weights, _ = weighed(drawn, curves, (), 0.0, seed=seed, threads=threads)
    return middles(results, weights)


def _middle(times: si.Seconds, weights: si.Ratios) -> si.Second | None:
    come = np.isfinite(times)
    if come.sum() < 2:
        return None
    share = weights[come] / weights[come].sum()
    return float(percentiles(times[come], share, (0.5,))[0])
