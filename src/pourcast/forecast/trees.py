"""Trees: how a spread, an hour and a time that may not come stand in every JSON."""

import math

from pourcast import units as si
from pourcast.forecast.model import Hour, Spread
from pourcast.materials.model import Written


def spread_tree(spread: Spread, unit: str) -> dict[str, Written]:
    """Return the three percentiles of draws in a written unit.

    Parameters
    ----------
    spread : Spread
        In SI.
    unit : str
        As in `pourcast.units`.

    Returns
    -------
    dict of str to float [as written]
    """
    named = {"p10": spread.p10, "p50": spread.p50, "p90": spread.p90}
    return {name: si.from_si(value, unit) for name, value in named.items()}


def hour_tree(hour: Hour, unit: str) -> dict[str, Written | None]:
    """Return early, usual and late in a written unit; None where it does not come.

    Parameters
    ----------
    hour : Hour
    unit : str
        As in `pourcast.units`.

    Returns
    -------
    dict of str to float or None [as written]
    """
    named = {"p10": hour.p10, "p50": hour.p50, "p90": hour.p90}
    return {name: None if at is None else si.from_si(at, unit) for name, at in named.items()}


def known(time: si.Second) -> si.Second | None:
    """Return a time; None where it is not a number [s].

    Parameters
    ----------
    time : float [s]
    """
    return time if math.isfinite(time) else None
