"""Solve: the block through its day in the kiln, and what is left in its cavity."""

import numpy as np

from pourcast import units as si
from pourcast.burnout.days import heat_days
from pourcast.burnout.fate import fates
from pourcast.burnout.model import NEAR, BurnoutCase, BurnoutResult, HeatDays

CLEAN_BELOW = 1e-6
"""Char that may be left near thin parts, kg: 1 mg; estimate."""


def solve(
    case: BurnoutCase, *, clean_below: si.Kilogram = CLEAN_BELOW, threads: int = 1
) -> BurnoutResult:
    """Return how the burnouts of all draws end.

    Heat comes first and matter follows it: the heat that burning sets free, some
    hundredths of what the block takes up, is left out.

    Parameters
    ----------
    case : BurnoutCase
    clean_below : float [kg]
        Char in the whole cavity under which it counts as clean.
    threads : int
        The result is the same for any number.

    Returns
    -------
    BurnoutResult

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.
    """
    heat = heat_days(case.block, case.curve, threads=threads)
    return ended(case, heat, clean_below=clean_below, threads=threads)


def ended(
    case: BurnoutCase,
    heat: HeatDays,
    *,
    clean_below: si.Kilogram = CLEAN_BELOW,
    threads: int = 1,
) -> BurnoutResult:
    """Return how burnouts end whose heat is known already.

    Parameters
    ----------
    case : BurnoutCase
    heat : HeatDays
        Of this case.
    clean_below : float [kg]
    threads : int

    Returns
    -------
    BurnoutResult

    Raises
    ------
    InputError
        As `solve`.
    """
    fate = fates(
        case.block, case.matter, case.burning, heat, clean_below=clean_below, threads=threads
    )
    wanted = float(case.curve.temperature[-1])
    return BurnoutResult(
        curve=case.curve,
        heat=heat,
        fate=fate,
        ready_at=_ready_at(heat, wanted),
        flask_temperature=heat.piece[:, -1],
    )


def _ready_at(heat: HeatDays, wanted: si.Kelvin) -> si.Seconds:
    """Return from when on the core stays near a temperature; not a number where it does not."""
    near = np.abs(heat.core - wanted) <= NEAR
    # The last moment at which it was off; all after it are near.
    count = near.shape[1]
    last_off = np.where((~near).any(axis=1), count - 1 - np.argmax(~near[:, ::-1], axis=1), -1)
    first = np.minimum(last_off + 1, count - 1)
    return np.where(last_off == count - 1, np.nan, heat.time[first])
