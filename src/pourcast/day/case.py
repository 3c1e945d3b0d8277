"""Case: what a kiln day starts from, and what the plan says of it.

What the day is expected to come to is worked out with the same particles and the same
futures that the day is followed with (`pourcast.day.expected`), so that a day that runs
as planned is neither ahead nor behind.
"""

from dataclasses import dataclass, replace

from pourcast.burnout.curves import curve_of, steps_of
from pourcast.burnout.fate_pack import matter_radius
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.burnout.model import BlockCase, Burning, Curve, Matter
from pourcast.burnout.solve import solve as solve_burnout
from pourcast.day.expected import Middles, expected
from pourcast.day.futures import FUTURES, UNSAID
from pourcast.day.kilns import plain_kiln
from pourcast.day.particles import rows_of
from pourcast.day.pool import TIMES, standing_for_all
from pourcast.day.rest import waiting
from pourcast.errors import InputError
from pourcast.forecast.burn import planned_curve
from pourcast.forecast.burnout_case import ROOM, burnout_case
from pourcast.forecast.model import Calibration
from pourcast.forecast.prepare import Prepared, prepare
from pourcast.forecast.solve import DRAWS
from pourcast.sheet.model import Plan

PARTICLES = 4 * FUTURES
"""Of one forecast; drawn twice they take half a second on one core; our own choice."""

DIAL_TOP = 5
"""Highest place of a dial that nobody has named; estimate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayCase:
    """What a day starts from; it is made once.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration or None
    ready : Prepared
        Of the whole pool of draws; the metal is that of the forecast.
    block : BlockCase
        Of the particles, as ``matter`` and ``burning``.
    matter : Matter
    burning : Burning
    planned : Curve
    expected : Middles
        Of the day before anything is read or done.
    kiln : KilnFit
        As it is known before the day.
    threads : int
        The answer is the same for any number.
    """

    plan: Plan
    calibration: Calibration | None
    ready: Prepared
    block: BlockCase
    matter: Matter
    burning: Burning
    planned: Curve
    expected: Middles
    kiln: KilnFit
    threads: int


def day_case(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    particles: int = PARTICLES,
    seed: int = 0,
    kiln: KilnFit | None = None,
    dial_top: int | None = None,
    threads: int = 1,
) -> DayCase:
    """Return what a day of a plan starts from.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration, optional
    particles : int
        A multiple of `FUTURES`.
    seed : int
    kiln : KilnFit, optional
        Of an earlier day; None: a kiln of the records.
    dial_top : int, optional
        Highest place of its dial, where no earlier day tells; None: that of the plan.
    threads : int

    Returns
    -------
    DayCase

    Raises
    ------
    InputError
        If the plan does not say how large the kiln is, or a value is outside its limits.
    """
    if particles < FUTURES or particles % FUTURES:
        raise InputError("particles", particles, "", f"a multiple of {FUTURES}")
    ready = prepare(plan, calibration, TIMES * particles, seed)
    # One plan has one charge: that of the forecast, which more draws would move by some tenths.
    ready = replace(ready, metal=prepare(plan, calibration, DRAWS, seed).metal)
    planned = planned_curve(plan, ready)
    steps = waiting(steps_of(planned))
    first = float(planned.temperature[0])
    longer = curve_of(steps, start=first, fastest=UNSAID, name=planned.name)
    case = burnout_case(plan, ready, longer)
    result = solve_burnout(case, threads=threads)
    dry, clean = result.heat.dry_at, result.fate.clean_at
    rows = standing_for_all(clean, dry, particles)
    block = rows_of(case.block, rows)
    matter = replace(rows_of(case.matter, rows), room_radius=matter_radius(case.block, case.matter))
    burning = rows_of(case.burning, rows)
    return DayCase(
        plan=plan,
        calibration=calibration,
        ready=ready,
        block=block,
        matter=matter,
        burning=burning,
        planned=planned,
        expected=expected(
            (block, matter, burning),
            planned,
            ROOM,
            control=plan.kiln.control,
            seed=ready.seed,
            threads=threads,
        ),
        kiln=plain_kiln(ready.book.kiln, dial_top or top_of(plan), ROOM) if kiln is None else kiln,
        threads=threads,
    )


def top_of(plan: Plan) -> int:
    """Return the highest place of the dial of a plan's kiln; `DIAL_TOP` where it is not said.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    int
    """
    return plan.kiln.dial_top or DIAL_TOP
