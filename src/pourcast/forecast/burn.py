"""Burn: which curve the kiln goes through, and the burnout of every draw."""

from dataclasses import fields, replace
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.burnout.ash_checks import ash_findings
from pourcast.burnout.checks import findings
from pourcast.burnout.curves import curve_of
from pourcast.burnout.days import heat_days
from pourcast.burnout.matter_checks import matter_findings
from pourcast.burnout.model import BlockCase, BurnoutCase, BurnoutResult, Curve, KilnStep
from pourcast.burnout.solve import solve as solve_burnout
from pourcast.burnout.usual import usual_steps, within_curve
from pourcast.findings import Finding
from pourcast.forecast.burnout_case import ROOM, burnout_case
from pourcast.forecast.burnout_unknowns import organs
from pourcast.forecast.prepare import Prepared, by_the_curve
from pourcast.materials import Material
from pourcast.mould.flask_heat import usual_flask_temperature
from pourcast.sheet.model import Plan

STRESS_DRAWS = 40
"""Draws in which the stress of a curve is held against that of the usual one."""


def planned_curve(plan: Plan, ready: Prepared) -> Curve:
    """Return the curve of the sheet; the usual one where it has none.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    Curve

    Raises
    ------
    InputError
        If the steps make no curve.
    """
    if not plan.kiln.steps:
        return usual_curve(plan, ready)
    fastest = ready.book.kiln["fastest_ramp"].si
    return curve_of(
        plan.kiln.steps,
        start=ROOM,
        fastest=fastest,
        fastest_cooling=ready.book.kiln["fastest_cooling"].si,
        name="as written",
    )


def usual_curve(plan: Plan, ready: Prepared) -> Curve:
    """Return the usual curve for a flask and an original like these.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    Curve
    """
    fastest = ready.book.kiln["fastest_ramp"].si
    return curve_of(steps_as_usual(plan, ready), start=ROOM, fastest=fastest, name="usual")


def steps_as_usual(plan: Plan, ready: Prepared) -> tuple[KilnStep, ...]:
    """Return the steps of the usual curve for a flask and an original like these.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    """
    limits = ready.book.investment["limits"]
    return usual_steps(
        limits,
        plan.flask.inside_diameter,
        within_curve(limits, casting_temperature(plan, ready)),
        plant=matter_record(plan, ready),
    )


def casting_temperature(plan: Plan, ready: Prepared) -> si.Kelvin:
    """Return the heat of the flask that is meant for the pour [K].

    That of the sheet; else the end of the curve (`pourcast.forecast.prepare.by_the_curve`);
    else what is usual for so thin a piece.

    Parameters
    ----------
    plan : Plan
    ready : Prepared

    Returns
    -------
    float [K]
    """
    if plan.flask.temperature is not None:
        return plan.flask.temperature
    if by_the_curve(plan):
        return plan.kiln.steps[-1].temperature
    return usual_flask_temperature(ready.alloy, ready.measures.thinnest).si


def matter_record(plan: Plan, ready: Prepared) -> Material | None:
    """Return the record of plant matter in general; None where the original is wax alone.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    """
    return ready.book.plants["general"] if organs(plan, ready.book) else None


def told(
    plan: Plan, ready: Prepared, burnt: tuple[BurnoutCase, BurnoutResult] | None
) -> tuple[Finding, ...]:
    """Return what the caster should know of the burnout, and of what must not be burnt.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    burnt : pair of BurnoutCase and BurnoutResult, or None
        None: only what the original holds is told.

    Returns
    -------
    tuple of Finding
    """
    found = matter_findings(plan.original, ready.book.matter)
    if burnt is None:
        return found
    case, result = burnt
    usual = usual_curve(plan, ready)
    block = ready.book.investment
    chemistry = block["chemistry"]
    return (
        *found,
        *findings(
            case,
            result,
            beside_usual=stress_beside(case, result, usual),
            limits=block["limits"],
            facts=ready.book.facts,
            planned=plan.flask.temperature,
            usual_time=float(usual.time[-1]),
        ),
        *ash_findings(
            ready.network,
            case,
            result,
            activation=chemistry["sulphate_carbon_E"],
            log10_rate=chemistry["sulphate_carbon_log10_A"],
        ),
    )


def stress_beside(case: BurnoutCase, result: BurnoutResult, usual: Curve) -> si.Ratios:
    """Return the worst stress of a curve over that of the usual one in the same block [-].

    Parameters
    ----------
    case : BurnoutCase
    result : BurnoutResult
    usual : Curve

    Returns
    -------
    array [-], shape (some of the draws,)
        The first `STRESS_DRAWS`.
    """
    some = min(STRESS_DRAWS, result.heat.dry_at.size)
    beside = heat_days(first_draws(case.block, some), usual)
    return np.asarray(result.heat.stress[:some].max(axis=1) / beside.stress.max(axis=1))


def first_draws(block: BlockCase, draws: int) -> BlockCase:
    """Return a block with its first draws alone.

    Parameters
    ----------
    block : BlockCase
    draws : int
    """
    arrays: dict[str, Any] = {
        field.name: value[:draws]
        for field in fields(block)
        if isinstance(value := getattr(block, field.name), np.ndarray)
        and not field.name.endswith("_at")
    }
    return replace(block, **arrays)


def burn_as_planned(
    plan: Plan, ready: Prepared, curve: Curve | None = None, *, threads: int = 1
) -> tuple[BurnoutCase, BurnoutResult] | None:
    """Return the burnout of a plan; None where it does not say how large the kiln is.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    curve : Curve, optional
        In the place of that of the plan.
    threads : int

    Returns
    -------
    pair of BurnoutCase and BurnoutResult, or None
        As from `burn`.

    Raises
    ------
    InputError
        If the steps make no curve, or a value is outside its limits.
    """
    if plan.kiln.volume is None:
        return None
    return burn(plan, ready, curve or planned_curve(plan, ready), threads=threads)


def burn(
    plan: Plan, ready: Prepared, curve: Curve, *, threads: int = 1
) -> tuple[BurnoutCase, BurnoutResult]:
    """Return what each burnout starts from, and how it ends.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    curve : Curve
    threads : int

    Returns
    -------
    case : BurnoutCase
    result : BurnoutResult

    Raises
    ------
    InputError
        If the plan does not say how large the kiln is, or a value is outside its limits.
    """
    case = burnout_case(plan, ready, curve)
    return case, solve_burnout(case, threads=threads)
