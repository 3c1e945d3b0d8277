"""Kiln load: what is a kiln like without the block that stood in it?

A wet block takes most of its heat in the first hours and boils at 100 °C.  Counted
as part of the kiln it makes the kiln slow on that day and wrong on the next.  The
power W that the block takes is known from its own heat; with the power P of one
setting the capacity of the kiln follows, and the load over it:

    C = P / q(setting),   l = W / C                                          (1)

q comes from a fit that needs l, so both are taken in turn until C stands still.

Left out: the block is worked out from the air of the log, which is the air that it
has cooled; the error of its heat, some 20 % (estimate), goes into the load.

Source: heat balance; the equations of `pourcast.burnout.kiln`.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import capacity_of
from pourcast.burnout.kiln_fit import KilnFit, fit_kiln
from pourcast.errors import InputError, SolveError, require_finite

_MOST_TURNS, _STILL = 50, 1e-4


def fit_under_load(
    time: si.Seconds,
    temperature: si.Kelvins,
    dial: si.Ratios,
    *,
    room: si.Kelvin,
    taken: si.Watts,
    setting: si.Ratio,
    power: si.Watt,
    known: KilnFit | None = None,
) -> tuple[KilnFit, si.KelvinsPerSecond]:
    """Return the kiln without its load, and the load over the capacity of the kiln.

    Parameters
    ----------
    time : array [s], shape (readings,)
        Rising.
    temperature : array [K], shape (readings,)
    dial : array [-], shape (readings,)
        Place of the dial from each reading to the next; 0 is off.
    room : float [K]
    taken : array [W], shape (readings,)
        By all blocks, from each reading to the next.
    setting : float [-]
        Of the log, whose power is known.
    power : float [W]
        That the elements take there; > 0.
    known : KilnFit or None
        As for `pourcast.burnout.kiln_fit.fit_kiln`.

    Returns
    -------
    tuple of KilnFit and array [K/s], shape (readings,)

    Raises
    ------
    InputError
        If a value is out of its limits, or the log cannot tell.
    SolveError
        If the capacity does not come to stand.
    """
    require_finite("heat that the block takes", taken, "W")
    if taken.shape != time.shape:
        raise InputError("heat that the block takes", taken.shape, "", "one for each reading")
    load = np.zeros(time.size)
    before = 0.0
    for _ in range(_MOST_TURNS):
        fit = fit_kiln(time, temperature, dial, room=room, load=load, known=known)
        capacity = capacity_of(fit.body, setting, power)
        load = taken / capacity
        if abs(capacity - before) <= _STILL * capacity:
            return fit, load
        before = capacity
    raise SolveError("capacity of the kiln", _MOST_TURNS, abs(capacity - before) / capacity)
