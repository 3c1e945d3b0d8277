"""Burnout forecast: from how every burnout ends to what a hundred would give."""

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BurnoutResult
from pourcast.forecast.chances import spread
from pourcast.forecast.model import BurnoutForecast, Hour

_PERCENT = (10.0, 50.0, 90.0)


def burnout_forecast(result: BurnoutResult) -> BurnoutForecast:
    """Return what the burnouts of all draws come to.

    Parameters
    ----------
    result : BurnoutResult

    Returns
    -------
    BurnoutForecast
    """
    heat, fate = result.heat, result.fate
    left = fate.char_left.sum(axis=1)
    return BurnoutForecast(
        curve=result.curve,
        dry_at=hour(heat.dry_at),
        wax_gone_at=hour(fate.wax_gone_at),
        clean_at=hour(fate.clean_at),
        ready_at=hour(result.ready_at),
        clean_below=fate.clean_below,
        chance_clean=float((left < fate.clean_below).mean()),
        char_left=spread(left),
        peak_core=spread(heat.core.max(axis=1)),
        peak_wall=spread(heat.wall.max(axis=1)),
        flask_temperature=spread(result.flask_temperature),
        overpressure=spread(heat.overpressure.max(axis=1)),
        stress=spread(heat.stress.max(axis=1)),
        ash_volume=spread(fate.ash_volume),
        oxygen_used=spread(fate.oxygen_used),
        least_oxygen=spread(fate.kiln_oxygen.min(axis=1)),
        time=heat.time,
        kiln=np.interp(heat.time, result.curve.time, result.curve.temperature),
        wall=np.percentile(heat.wall, _PERCENT, axis=0),
        core=np.percentile(heat.core, _PERCENT, axis=0),
        water=np.percentile(heat.free_water, _PERCENT, axis=0),
        char=np.percentile(fate.char, _PERCENT, axis=0),
    )


def hour(times: si.Seconds) -> Hour:
    """Return when something has happened in 10, 50 and 90 of 100 draws.

    Parameters
    ----------
    times : array [s], shape (draws,)
        Not a number where it did not happen within the curve.

    Returns
    -------
    Hour

    Examples
    --------
    >>> hour(np.array([1.0, 2.0, np.nan, np.nan])).p90 is None
    True
    """
    late = np.where(np.isnan(times), np.inf, times)
    # A time that lies between one that is known and one that is not is not known.
    found = np.percentile(late, _PERCENT, method="higher").tolist()
    low, middle, high = (when if np.isfinite(when) else None for when in found)
    return Hour(p10=low, p50=middle, p90=high)
