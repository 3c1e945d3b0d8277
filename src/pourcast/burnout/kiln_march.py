"""Kiln march: what is the air of a kiln after a while at one push?

With the push p, heating less load, of a kiln that loses heat at the rate k and by
radiation at the rate g (`pourcast.burnout.kiln`, equation 1), the air nears its
end from both sides where g is 0:

    T(t) = E + (T0 - E) exp(-k t),   E = Ta + p / k                          (1)

Else it is taken in steps of the classical fourth order.

Source: (1) Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, ch. 5.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel

GLOW_AT = 1000.0
"""K, Tr of equation (1); it only says at which heat ``glow`` is counted."""

LONGEST_STEP = 300.0
"""s, of the fourth-order steps; with k and g under 1/h together 1e-7 of the change."""


@small_kernel
def _after(
    air: si.Kelvin,
    push: si.KelvinPerSecond,
    span: si.Second,
    loss: si.PerSecond,
    glow: si.PerSecond,
    room: si.Kelvin,
) -> si.Kelvin:
    """Return the air after a span at one push; equation (1), or the body in steps."""
    here = air
    if glow == 0.0 and loss > 0.0:
        end = room + push / loss
        here = end + (air - end) * math.exp(-loss * span)
    else:
        shed = glow / (4.0 * GLOW_AT**3)
        cold = room**4
        cuts = math.ceil(span / LONGEST_STEP)
        step = span / cuts
        for _ in range(cuts):
            k1 = push - loss * (here - room) - shed * (here**4 - cold)
            middle = here + 0.5 * step * k1
            k2 = push - loss * (middle - room) - shed * (middle**4 - cold)
            middle = here + 0.5 * step * k2
            k3 = push - loss * (middle - room) - shed * (middle**4 - cold)
            far = here + step * k3
            k4 = push - loss * (far - room) - shed * (far**4 - cold)
            here += step * (k1 + 2.0 * k2 + 2.0 * k3 + k4) / 6.0
    return here


@kernel
def march(
    time: si.Seconds,
    push: si.KelvinsPerSecond,
    start: si.Kelvin,
    loss: si.PerSecond,
    glow: si.PerSecond,
    room: si.Kelvin,
    air: si.Kelvins,
) -> None:
    """Fill in the air of a kiln over the day; it checks nothing.

    Parameters
    ----------
    time : array [s], shape (moments,)
    push : array [K/s], shape (moments,)
        Heating less load, from each moment to the next.
    start : float [K]
    loss, glow : float [1/s]
    room : float [K]
    air : array [K], shape (moments,)
        Is written to.
    """
    here = start
    air[0] = here
    for place in range(time.size - 1):
        here = _after(here, push[place], time[place + 1] - time[place], loss, glow, room)
        air[place + 1] = here


@kernel
def march_ways(
    span: si.Second,
    push: si.KelvinsPerSecond,
    loss: si.PerSecond,
    glow: si.PerSecond,
    room: si.Kelvin,
    air: si.Kelvins,
) -> None:
    """Move many airs on by one span; it checks nothing.

    Parameters
    ----------
    span : float [s]
    push : array [K/s], shape (ways,)
    loss, glow : float [1/s]
    room : float [K]
    air : array [K], shape (ways,)
        Is written to.
    """
    for way in range(air.size):
        air[way] = _after(air[way], push[way], span, loss, glow, room)
