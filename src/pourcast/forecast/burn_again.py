"""Burn again: how much of a burnout is the same for another plan?

A burnout is taken over where nothing that it hangs on differs.  Where only the matter
differs, as by a coat or a taller button, the hours of heat of the block are taken over
and char and ash are worked out anew; the mean radius at which the heat of the piece is
read may then be off by `ALIKE`.  All else moves no number.
"""

from dataclasses import fields, replace

import numpy as np

from pourcast.burnout.fate import fates
from pourcast.burnout.model import BurnoutCase
from pourcast.burnout.solve import solve as solve_burnout
from pourcast.forecast.burn import planned_curve
from pourcast.forecast.burn_some import Burnt, ended_some, some_of
from pourcast.forecast.burnout_case import burnout_case
from pourcast.forecast.prepare import Prepared
from pourcast.sheet.model import Plan

ALIKE = 0.05
"""Of the radius of the block; so far the mean radius of the piece may differ."""


def same_burnout(one: Plan, other: Plan) -> bool:
    """Return whether the burnouts of two plans are the same, draw by draw.

    Parameters
    ----------
    one, other : Plan

    Returns
    -------
    bool
        False in doubt.
    """
    return _burnt_of(one) == _burnt_of(other)


def burn_like(
    plan: Plan,
    ready: Prepared,
    like: Plan | None,
    burnt: Burnt | None,
    *,
    start: int = 0,
    stop: int | None = None,
    threads: int,
) -> Burnt | None:
    """Return the burnout of some draws, with as much of another plan's as is the same.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    like : Plan or None
        Another plan at the same draws.
    burnt : pair of BurnoutCase and BurnoutResult, or None
        Of that plan; taken where it has these draws.
    start, stop : int
        The draws from ``start`` up to, without it, ``stop``; None: to the last.
    threads : int

    Returns
    -------
    pair of BurnoutCase and BurnoutResult, or None
        The case is of all draws, the result of those that were asked for.  None: the sheet
        does not say how large the kiln is.
    """
    if plan.kiln.volume is None:
        return None
    last = ready.scale.shape[0] if stop is None else stop
    known = burnt if burnt is not None and burnt[1].ready_at.size >= last else None
    if like is not None and known is not None and same_burnout(like, plan):
        ended = ended_some(known[1], start, last)
        return known if ended is known[1] else (known[0], ended)
    case = burnout_case(plan, ready, planned_curve(plan, ready))
    own = some_of(case, start, last)
    if known is None or not _same_heat(some_of(known[0], start, last), own):
        return case, solve_burnout(own, threads=threads)
    ended = ended_some(known[1], start, last)
    fate = fates(
        own.block,
        own.matter,
        own.burning,
        ended.heat,
        clean_below=ended.fate.clean_below,
        threads=threads,
    )
    return case, replace(ended, fate=fate)


def _same_heat(one: BurnoutCase, other: BurnoutCase) -> bool:
    """Return whether the block goes through the same hours of heat."""
    if not all(_equal(one.curve, other.curve, name) for name in ("time", "temperature")):
        return False
    for field in fields(one.block):
        if field.name == "gate_diameter":
            continue  # wax and air go through it, heat does not
        if field.name == "piece_radius":
            if abs(other.block.piece_radius - one.block.piece_radius) > ALIKE * one.block.radius:
                return False
        elif not _equal(one.block, other.block, field.name):
            return False
    return True


def _equal(one: object, other: object, name: str) -> bool:
    return bool(np.array_equal(getattr(one, name), getattr(other, name)))


def _burnt_of(plan: Plan) -> tuple[object, ...]:
    """Return what the burnout of a plan hangs on; vents, pump and metal are not in it."""
    piece, studio = plan.piece, plan.studio
    # With a curve of the caster's own the flask at the pour and the alloy do not shape it.
    written = plan.kiln
    heat = None if written.steps else (plan.flask.temperature, plan.charge.alloy)
    return (
        replace(piece, vents=(), name="", displaced_volume=None),
        replace(plan.flask, temperature=None),
        plan.mix,
        written,
        plan.original,
        (studio.altitude, studio.air_pressure),
        heat,
    )
