"""Shortest curve: what a kiln curve comes to at the 90th percentile, and what it may.

Limits that rest on a number of someone else stand as such; for the others nobody
has said what a block bears, and the rule is that no curve may be worse there than
the usual one, which the trade has tried.

    stress            as the usual curve
    skin to core      as the usual curve, once the block is dry
    inversions        as the usual curve
    top with char     under the hard stop
    char              clean, or as the usual curve
    core              within `NEAR` of casting heat
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import curve_of
from pourcast.burnout.margins import Margins
from pourcast.burnout.model import NEAR, BurnoutResult, KilnStep
from pourcast.burnout.shortest import Shortest, shortest
from pourcast.burnout.solve import CLEAN_BELOW
from pourcast.burnout.stress import CRISTOBALITE, QUARTZ
from pourcast.burnout.usual import least_steps, usual_steps
from pourcast.forecast.burn import burn, casting_temperature, matter_record
from pourcast.forecast.burnout_case import ROOM
from pourcast.forecast.prepare import Prepared
from pourcast.sheet.model import Plan

SEARCH_DRAWS = 40
"""Draws that each curve of the search is judged by; the answer is worked out with all."""

ROOM_FOR_ROUNDING = 1.02
"""By which a curve may be worse than the usual one, which a coarse search would else
refuse for the last figure of a number; estimate."""

_NINETY = 90.0
_ABOUT = 25.0  # K on each side of a change of silica; estimate


def shortest_curve(
    plan: Plan,
    ready: Prepared,
    *,
    threads: int = 1,
    progress: Callable[[int, int, si.Second], None] | None = None,
) -> Shortest:
    """Return the shortest curve that keeps every limit in 9 of 10 draws, beside the usual one.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
        With few draws: see `SEARCH_DRAWS`.
    threads : int
    progress : callable or None
        As for `pourcast.burnout.shortest.shortest`.

    Returns
    -------
    Shortest

    Raises
    ------
    InputError
        If the plan does not say how large the kiln is, or the casting temperature
        lies outside the usual curve.
    """
    limits = ready.book.investment["limits"]
    casting = casting_temperature(plan, ready)
    plant = matter_record(plan, ready)
    fastest = ready.book.kiln["fastest_ramp"].si
    usual = usual_steps(limits, plan.flask.inside_diameter, casting, plant=plant)

    def evaluate(steps: Sequence[KilnStep]) -> Margins:
        curve = curve_of(steps, start=ROOM, fastest=fastest, name="shortest")
        _, result = burn(plan, ready, curve, threads=threads)
        return margins_of(result)

    reached = evaluate(usual)
    allowed = allowed_beside(reached, hard_stop=limits["burnout_peak_hard_stop"].si)
    return shortest(
        usual,
        least_steps(limits, casting, plant=plant),
        evaluate,
        allowed,
        start=ROOM,
        fastest=fastest,
        progress=progress,
    )


def margins_of(result: BurnoutResult) -> Margins:
    """Return what a curve comes to; 9 of 10 draws stay below each.

    Parameters
    ----------
    result : BurnoutResult

    Returns
    -------
    Margins
    """
    heat, fate = result.heat, result.fate
    # A draw that never dries counts as wet all day.
    wet = ~(heat.time[None, :] >= np.nan_to_num(heat.dry_at, nan=np.inf)[:, None])
    apart = np.where(wet, 0.0, np.abs(heat.wall - heat.core)).max(axis=1)
    rise = np.diff(heat.wall, axis=1) / np.diff(heat.time)[None, :]
    middle = 0.5 * (heat.wall[:, 1:] + heat.wall[:, :-1])
    passing = (np.abs(middle - CRISTOBALITE) < _ABOUT) | (np.abs(middle - QUARTZ) < _ABOUT)
    charred = fate.char > fate.clean_below
    wanted = float(result.curve.temperature[-1])
    return Margins(
        stress=_ninety(heat.stress.max(axis=1)),
        skin_to_core=_ninety(apart),
        inversion_ramp=_ninety(np.where(passing, rise, 0.0).max(axis=1)),
        hot_char=_ninety(np.where(charred, heat.kiln, 0.0).max(axis=1)),
        char=_ninety(fate.char_left.sum(axis=1)),
        core_off=_ninety(np.abs(heat.core[:, -1] - wanted)),
    )


def allowed_beside(usual: Margins, *, hard_stop: si.Kelvin) -> Margins:
    """Return what a curve may come to, beside what the usual one comes to.

    Parameters
    ----------
    usual : Margins
    hard_stop : float [K]

    Returns
    -------
    Margins
    """
    slack = ROOM_FOR_ROUNDING
    return replace(
        usual,
        stress=slack * usual.stress,
        skin_to_core=slack * usual.skin_to_core,
        inversion_ramp=slack * usual.inversion_ramp,
        hot_char=max(hard_stop, usual.hot_char),
        char=max(CLEAN_BELOW, slack * usual.char),
        core_off=max(NEAR, slack * usual.core_off),
    )


def _ninety(values: si.Floats) -> float:
    return float(np.percentile(values, _NINETY))
