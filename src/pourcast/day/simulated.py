"""Simulated: a kiln that does not exist, with constants that are known.

For training, for the demonstration and for the tests.  Two bodies of heat: the air
with the elements, and the bricks behind it,

    dT/dt = q(dial) - l(t) - k (T - Ta) - e (T - B)                           (1)
    dB/dt = e s (T - B)                                                       (2)

with e the exchange and s the capacity of the air over that of the bricks.  The load l
is what the block takes.  Steps of the classical fourth order.  With e = 0 and no load
the air follows one exponential, as `pourcast.burnout.kiln_march` says it.

A gauge reads the air with an error of its own and noise.

Source: heat balance of two lumped bodies.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import Body, heating_at

_STEP = 20.0  # s


@dataclass(frozen=True, slots=True, kw_only=True)
class SimulatedKiln:
    """A made-up kiln.

    Parameters
    ----------
    body : Body
        Its glow is not used.
    exchange : float [1/s]
        Of air and bricks, over the capacity of the air; 0: no bricks.
    share : float [-]
        Capacity of the air over that of the bricks.
    noise : float [K]
        Of a reading, one standard deviation.
    """

    body: Body
    exchange: si.PerSecond = 0.0
    share: si.Ratio = 0.1
    noise: si.Kelvin = 1.0


def made_up_kiln(room: si.Kelvin = 293.15) -> SimulatedKiln:
    """Return the kiln of the demonstration: five settings, bricks, 1 K of noise.

    Parameters
    ----------
    room : float [K]

    Returns
    -------
    SimulatedKiln
    """
    heating = np.array([0.0, 90.0, 190.0, 290.0, 400.0, 520.0]) / 3600.0
    body = Body(loss=0.30 / 3600.0, glow=0.0, settings=np.arange(6.0), heating=heating, room=room)
    return SimulatedKiln(body=body, exchange=0.4 / 3600.0, share=0.25)


def moved_on(
    kiln: SimulatedKiln,
    air: si.Kelvin,
    bricks: si.Kelvin,
    setting: si.Ratio,
    span: si.Second,
    load: si.KelvinPerSecond = 0.0,
) -> tuple[si.Kelvin, si.Kelvin]:
    """Return air and bricks after a span at one setting, equations (1) and (2).

    Parameters
    ----------
    kiln : SimulatedKiln
    air, bricks : float [K]
    setting : float [-]
    span : float [s]
    load : float [K/s]

    Returns
    -------
    tuple of float [K] and float [K]
    """
    push = float(heating_at(kiln.body, np.array([setting]))[0]) - load
    cuts = max(1, int(np.ceil(span / _STEP)))
    step = span / cuts

    def rate(here: float, behind: float) -> tuple[float, float]:
        to_bricks = kiln.exchange * (here - behind)
        out = kiln.body.loss * (here - kiln.body.room)
        return push - out - to_bricks, kiln.share * to_bricks

    for _ in range(cuts):
        a1, b1 = rate(air, bricks)
        a2, b2 = rate(air + 0.5 * step * a1, bricks + 0.5 * step * b1)
        a3, b3 = rate(air + 0.5 * step * a2, bricks + 0.5 * step * b2)
        a4, b4 = rate(air + step * a3, bricks + step * b3)
        air += step * (a1 + 2.0 * a2 + 2.0 * a3 + a4) / 6.0
        bricks += step * (b1 + 2.0 * b2 + 2.0 * b3 + b4) / 6.0
    return air, bricks
