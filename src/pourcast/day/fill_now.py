"""Fill now: in how many pours does every part fill under what the gauge shows?

A low gauge at the pour leaves the caster with one question: pour, or wait and mend the seal?
The forecast is asked again with that vacuum, at the same draws, so that the
difference is the vacuum's and not luck.

Left out: what was read of the block and dipped of the metal on the day.  Both numbers are those
of the plan, and differ in the vacuum alone.
"""

from dataclasses import dataclass, replace

from pourcast import units as si
from pourcast.day.case import DayCase
from pourcast.errors import InputError, require_not_negative
from pourcast.forecast.solve import DRAWS
from pourcast.forecast.whole import lay_out, pour_ends

WHAT = "gauge"


@dataclass(frozen=True, slots=True, kw_only=True)
class FillNow:
    """What a gauge makes of the chance that all of it comes out.

    Parameters
    ----------
    shown, planned : float [Pa]
        Below the air outside: by the gauge, and by the plan.
    chance, as_planned : float [-]
        Share of the draws in which every part fills, under each of them.
    """

    shown: si.Pascal
    planned: si.Pascal
    chance: si.Ratio
    as_planned: si.Ratio


def fill_now(case: DayCase, shown: si.Pascal, *, draws: int = DRAWS) -> FillNow:
    """Return the chance that every part fills under what the gauge shows.

    Parameters
    ----------
    case : DayCase
        Of a plan that is poured with a pump.
    shown : float [Pa]
        By the gauge, below the air outside.
    draws : int
        Of each; the first of those of the forecast.

    Returns
    -------
    FillNow

    Raises
    ------
    InputError
        If the plan is by gravity, or the gauge shows less than nothing.
    """
    plan = case.plan
    planned = plan.assist.vacuum
    if planned is None:
        raise InputError(WHAT, shown, "Pa", "left out: the piece is poured by gravity")
    require_not_negative(WHAT, shown, "Pa")
    meant = lay_out(plan, case.calibration, draws, case.ready.seed, threads=case.threads)
    other = lay_out(
        replace(plan, assist=replace(plan.assist, vacuum=shown)),
        case.calibration,
        draws,
        case.ready.seed,
        like=meant,
        threads=case.threads,
    )
    chance, as_planned = (
        float(pour_ends(layout, threads=case.threads).whole.mean()) for layout in (other, meant)
    )
    return FillNow(shown=shown, planned=planned, chance=chance, as_planned=as_planned)
