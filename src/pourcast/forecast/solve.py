"""Solve: all stages in order over the ranges of what nobody knows exactly."""

from collections.abc import Callable

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import Curve
from pourcast.errors import InputError
from pourcast.execute import Cancel, Executor, Threads, beside
from pourcast.findings import Finding, in_order
from pourcast.finish.checks import findings as finish_findings
from pourcast.finish.model import FinishResult
from pourcast.finish.solve import solve as solve_finish
from pourcast.forecast import checks
from pourcast.forecast.before_the_pour import melt_told, mould_told, piece_told
from pourcast.forecast.burn import burn_as_planned, told
from pourcast.forecast.burnout_forecast import burnout_forecast
from pourcast.forecast.burnout_unknowns import READING_ERRORS
from pourcast.forecast.chances import (
    chance_interval,
    members,
    outcomes,
    part_forecasts,
    rank_correlation,
    segment_chance,
)
from pourcast.forecast.finish_case import finish_case
from pourcast.forecast.freeze_case import freeze_case
from pourcast.forecast.freeze_forecast import freeze_forecast
from pourcast.forecast.many import BLOCK, FirstBlock, counted, require_draws
from pourcast.forecast.model import Calibration, Forecast, Unknown
from pourcast.forecast.prepare import Prepared, case_of, prepare, seed_of
from pourcast.forecast.slurry_case import slurry
from pourcast.forecast.whole import Ends, ends_of
from pourcast.freeze.checks import findings as freeze_findings
from pourcast.freeze.solve import solve as solve_freeze
from pourcast.pour.checks import findings as pour_findings
from pourcast.pour.model import PourCase, PourResult, Steps
from pourcast.pour.solve import solve as solve_pour
from pourcast.sheet.model import Plan

DRAWS = 400
"""Draws of a forecast unless told: the chance is then known to 2.5 in 100 or better."""

OTHER_TOP_DRAWS = 100
"""Of them, followed with the other top of the button too.  Against 400, the times told of
it move by up to 0.3 min in five, far less than from pour to pour (docs/freezing.md)."""

NOT_RANKED = (
    "metal_thermometer_error",
    "flask_thermometer_error",
    "gauge_error",
    "measure_error",
    "member_thickness_scatter",
    *READING_ERRORS,
    "fs50",
    "solidus",
)
"""Values that say how wide an error is, and those that are tied to the liquidus."""


def forecast(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    draws: int = DRAWS,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
    steps: Steps | None = None,
    curve: Curve | None = None,
    executor: Executor | None = None,
    cancel: Cancel | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Forecast:
    """Return how a hundred pours of this piece would end.

    Of more than `BLOCK` pours, all are counted for the chances, and the first are looked at
    in full: see `pourcast.forecast.many`.

    Parameters
    ----------
    plan : Plan
        From `pourcast.sheet.read_plan`.
    calibration : Calibration, optional
        What a studio has learnt.
    draws : int
        Pours to follow; 1 to 10 000 000.
    rng : numpy.random.Generator or int
        A generator gives its seed once; a number is the seed.
    threads : int
        The result is the same for any number.
    steps : Steps, optional
        How finely each pour is followed.
    curve : Curve, optional
        Of the kiln, in the place of that of the plan: the day as it was.
    executor : Executor, optional
        Who follows the blocks, in the place of ``threads``; the result is the same for any.
    cancel : Cancel, optional
        Calls the work off between two blocks.
    progress : callable, optional
        Is told how many draws are counted, and of how many, where there are several blocks.

    Returns
    -------
    Forecast

    Raises
    ------
    InputError
        If a value is outside its limits.
    SourceError
        If a material is not known.
    CancelledError
        If the work was called off.
    """
    require_draws(draws)
    hands = executor or Threads(threads)
    seed = seed_of(rng)
    with plan.speech.errors():
        first, block = _forecast(
            plan, calibration, min(draws, BLOCK), seed, hands.threads_here, steps=steps, curve=curve
        )
    if draws <= BLOCK:
        return first
    return counted(
        first, block, draws, hands, steps=steps, curve=curve, cancel=cancel, progress=progress
    )


def forecast_with_ends(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    draws: int = DRAWS,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
) -> tuple[Forecast, Ends]:
    """Return a forecast, and how each of its pours ends: two of them can be held together.

    Parameters and errors are those of `forecast`; draws are those of one block at most.
    """
    require_draws(draws)
    if draws > BLOCK:
        raise InputError("draws", draws, "", f"up to {BLOCK}")
    seed = seed_of(rng)
    with plan.speech.errors():
        said, block = _forecast(plan, calibration, draws, seed, threads, steps=None, curve=None)
    return said, ends_of(said.network, block.ends)


def _forecast(
    plan: Plan,
    calibration: Calibration | None,
    draws: int,
    seed: int,
    threads: int,
    *,
    steps: Steps | None,
    curve: Curve | None,
) -> tuple[Forecast, FirstBlock]:
    """Return the forecast of one block of draws, and its pours."""
    ready = prepare(plan, calibration, draws, seed)
    burnt = burn_as_planned(plan, ready, curve, threads=threads)
    case = case_of(plan, ready, burnt[1] if burnt else None)
    with beside(threads) as start:
        in_slurry = start(slurry, plan, ready, case)
        of_burnout = start(told, plan, ready, burnt)
        result = solve_pour(ready.poured, case, steps=steps, threads=threads)
        covered = plan.piece.button.top == "covered"
        freezing = freeze_case(ready, case, covered=covered)
        frozen = solve_freeze(ready.network, freezing, result, threads=threads)
        # Only what the other top would change is told: medians and shares of the same pours.
        other = solve_freeze(
            ready.network,
            freeze_case(ready, case, covered=not covered),
            result,
            threads=threads,
            draws=OTHER_TOP_DRAWS,
        )
    moved, clock, slurry_findings = in_slurry.result()
    finished = solve_finish(
        ready.network, ready.measures, ready.metal, finish_case(plan, ready, case)
    )
    ends = members(ready.network, result, ready.book.pour["full_share"].si)
    whole = np.asarray(ends.full.all(axis=1))
    ranked = _ranked(ready, ends.share.mean(axis=1))
    low, high = chance_interval(whole, ranked[0][1] if ranked else None)
    how = outcomes(ready.network, ends)
    shut = None
    if ready.network.is_joint.any():
        shut = float(result.cold_shut.any(axis=1).mean())
    unknowns = tuple(unknown for unknown, _ in ranked)
    said = Forecast(
        plan=plan,
        network=ready.network,
        measures=ready.measures,
        mould=ready.mould,
        metal=ready.metal,
        chance_all=float(whole.mean()),
        chance_low=low,
        chance_high=high,
        outcomes=how,
        parts=part_forecasts(ready.network, ready.measures, ends),
        segment_chance=segment_chance(result),
        unknowns=unknowns,
        findings=in_order(
            (
                *slurry_findings,
                *_stage_findings(plan, ready, of_burnout.result(), case, result),
                *freeze_findings(
                    ready.network, freezing, result, frozen, facts=ready.book.facts, other=other
                ),
                *_finish_findings(ready, finished),
                *checks.findings(how, unknowns, shut, calibration, burnt=burnt is not None),
            )
        ),
        draws=draws,
        seed=ready.seed,
        calibration=calibration.name if calibration else None,
        learnt=calibration,
        cold_shut_chance=shut,
        burnout=burnout_forecast(burnt[1]) if burnt else None,
        slurry=moved,
        clock=clock,
        freeze=freeze_forecast(ready.network, freezing, result, frozen),
        finish=finished,
    )
    return said, FirstBlock(ready=ready, result=result, ends=ends)


def _ranked(ready: Prepared, filled: si.Ratios) -> list[tuple[Unknown, si.Floats]]:
    """Return the unknowns with their draws, the strongest first."""
    found = []
    for name, value in ready.values.items():
        if name in NOT_RANKED:
            continue
        drawn = ready.drawn[name]
        found.append(
            (
                Unknown(
                    key=value.key,
                    rank_correlation=rank_correlation(drawn, filled),
                    value=value.value,
                    low=value.low,
                    high=value.high,
                    unit=value.unit,
                    kind=value.kind,
                    source=value.source,
                ),
                drawn,
            )
        )
    return sorted(found, key=lambda pair: -abs(pair[0].rank_correlation))


def _stage_findings(
    plan: Plan,
    ready: Prepared,
    of_burnout: tuple[Finding, ...],
    case: PourCase,
    result: PourResult,
) -> tuple[Finding, ...]:
    return (
        *piece_told(plan, ready),
        *mould_told(plan, ready),
        *of_burnout,
        *melt_told(plan, ready),
        *pour_findings(ready.network, case, result, facts=ready.book.facts),
    )


def _finish_findings(ready: Prepared, finished: FinishResult) -> tuple[Finding, ...]:
    book = ready.book
    return finish_findings(
        finished,
        alloy=ready.alloy,
        cut_off=book.finish["cut_off"],
        cleaning_air=book.limits["compressed_air_cleaning_osha"],
        facts=book.facts,
    )
