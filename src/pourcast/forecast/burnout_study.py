"""Burnout study: one curve looked at beside the usual one, without a pour."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import curve_of
from pourcast.burnout.model import BurnoutCase, BurnoutResult, Curve, Section
from pourcast.burnout.section import section
from pourcast.burnout.shortest import Shortest
from pourcast.findings import Finding
from pourcast.forecast.burn import burn, planned_curve, told, usual_curve
from pourcast.forecast.burnout_case import ROOM
from pourcast.forecast.burnout_forecast import burnout_forecast
from pourcast.forecast.model import BurnoutForecast, Calibration
from pourcast.forecast.prepare import Prepared, prepare
from pourcast.forecast.shortest_curve import SEARCH_DRAWS, shortest_curve
from pourcast.materials.middle import first_of_the_nearest
from pourcast.sheet.model import Plan

CurveName = Literal["written", "usual", "shortest"]
"""Which curve is asked for; written: that of the sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnoutStudy:
    """A curve, what it comes to, and the usual one beside it.

    Parameters
    ----------
    plan : Plan
    case : BurnoutCase
    burnout : BurnoutForecast
    usual : BurnoutForecast
    findings : tuple of Finding
        Of the curve that was asked for.
    middle : int
        The draw whose core comes nearest to the middle of all over the day.
    shortest : Shortest or None
        How that curve was found, if it is the shortest.
    draws, seed : int
    """

    plan: Plan
    case: BurnoutCase
    burnout: BurnoutForecast
    usual: BurnoutForecast
    findings: tuple[Finding, ...]
    middle: int
    shortest: Shortest | None
    draws: int
    seed: int


def study(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    which: CurveName = "written",
    log: Curve | None = None,
    draws: int,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
    progress: Callable[[int, int, si.Second], None] | None = None,
) -> BurnoutStudy:
    """Return what a burnout comes to, with the usual curve beside it.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration, optional
    which : {"written", "usual", "shortest"}
    log : Curve, optional
        The day as it was; goes before ``which``.
    draws : int
    rng : numpy.random.Generator or int
    threads : int
    progress : callable, optional
        Of the search for the shortest curve: curves asked for, the most that will
        be, and the least time [s] so far.

    Returns
    -------
    BurnoutStudy

    Raises
    ------
    InputError
        If the plan does not say how large the kiln is, or a value is outside its limits.
    """
    with plan.speech.errors():
        return _study(plan, calibration, which, log, draws, rng, threads, progress)


def _study(
    plan: Plan,
    calibration: Calibration | None,
    which: CurveName,
    log: Curve | None,
    draws: int,
    rng: np.random.Generator | int,
    threads: int,
    progress: Callable[[int, int, si.Second], None] | None,
) -> BurnoutStudy:
    ready = prepare(plan, calibration, draws, rng)
    found: Shortest | None = None
    if log is not None:
        curve = log
    elif which == "shortest":
        few = prepare(plan, calibration, min(draws, SEARCH_DRAWS), ready.seed)
        found = shortest_curve(plan, few, threads=threads, progress=progress)
        curve = _shortest(found, ready)
    else:
        curve = usual_curve(plan, ready) if which == "usual" else planned_curve(plan, ready)
    case, result = burn(plan, ready, curve, threads=threads)
    beside = usual_curve(plan, ready)
    _, usual = burn(plan, ready, beside, threads=threads)
    return BurnoutStudy(
        plan=plan,
        case=case,
        burnout=burnout_forecast(result),
        usual=burnout_forecast(usual),
        findings=told(plan, ready, (case, result)),
        middle=_middle(result),
        shortest=found,
        draws=draws,
        seed=ready.seed,
    )


def middle_section(study: BurnoutStudy) -> Section:
    """Return the block of the middle draw in section, at four moments of its day.

    Half dry, all but dry, clean, and at the pour; a fixed share of the day stands in
    for a moment that does not come.

    Parameters
    ----------
    study : BurnoutStudy

    Returns
    -------
    Section
    """
    curve = study.case.curve
    end = float(curve.time[-1])
    dry = study.burnout.dry_at.p50 or 0.5 * end
    clean = study.burnout.clean_at.p50 or 0.8 * end
    times = np.unique([0.6 * dry, 0.95 * dry, clean, end])
    return section(study.case.block, study.middle, curve, times)


def _middle(result: BurnoutResult) -> int:
    """Return the draw whose core lies nearest to the median of all, over the day."""
    core = result.heat.core
    return first_of_the_nearest(np.abs(core - np.median(core, axis=0)).mean(axis=1))


def _shortest(found: Shortest, ready: Prepared) -> Curve:
    fastest = ready.book.kiln["fastest_ramp"].si
    return curve_of(found.steps, start=ROOM, fastest=fastest, name="shortest")
