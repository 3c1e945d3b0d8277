"""Dial study: how to turn a kiln by hand, from a day of it that was logged.

A log alone cannot tell the heat that its own block took from what the kiln loses:
on another day such a fit ran up to 46 K hotter than told (made-up kilns,
docs/burnout.md).  So the air is kept `RESERVE_WITHOUT_LOAD` under the top.
"""

from pourcast import units as si
from pourcast.burnout.dial import DialPlan, dial_plan
from pourcast.burnout.kiln_fit import KilnFit, fit_kiln
from pourcast.burnout.log import KilnLog, without_doubles
from pourcast.burnout.model import Curve
from pourcast.errors import InputError
from pourcast.forecast.burnout_case import ROOM
from pourcast.materials import library

CHECK_EVERY = 900.0
"""Between two looks at a kiln that is turned by hand, s; common practice, no source."""

RESERVE_WITHOUT_LOAD = 50.0
"""Under the top where the heat of the block is not known, K; found on made-up kilns."""


def dial_study(log: KilnLog, curve: Curve, start: si.Second) -> tuple[KilnFit, DialPlan]:
    """Return the kiln of a logged day, and the turns that keep it near a curve.

    Parameters
    ----------
    log : KilnLog
        With places of the dial.
    curve : Curve
    start : float [s]
        Since midnight, when the block goes in.

    Returns
    -------
    fit : KilnFit
    plan : DialPlan

    Raises
    ------
    InputError
        If the log has no dial, or cannot tell what the kiln is like.
    """
    if log.dial is None:
        raise InputError(
            "kiln log", "without a dial", "", "one with a column dial", "Write dial in its head."
        )
    read = without_doubles(log)
    assert read.dial is not None
    fit = fit_kiln(read.time, read.temperature, read.dial, room=ROOM)
    return fit, dial_of_kiln(fit, curve, start)


def dial_of_kiln(fit: KilnFit, curve: Curve, start: si.Second) -> DialPlan:
    """Return the turns that keep a kiln that is known near a curve.

    Parameters
    ----------
    fit : KilnFit
    curve : Curve
    start : float [s]
        Since midnight, when the block goes in.

    Returns
    -------
    DialPlan

    Raises
    ------
    InputError
        If no setting keeps the kiln under the top.
    """
    return dial_plan(
        fit.body,
        curve,
        fit.body.settings.tolist(),
        every=CHECK_EVERY,
        start_clock=start,
        top=library().investment["limits"]["burnout_peak_hard_stop"].si,
        reserve=RESERVE_WITHOUT_LOAD,
    )
