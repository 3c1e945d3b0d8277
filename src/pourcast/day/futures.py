"""Futures: what may the kiln do from here on?

The rest of the plan is gone through `FUTURES` times, each with its own pace and its
own heat, which stand for what the caster and the kiln will do otherwise than planned:

    ramp = planned · exp(s_r z),   hold at planned + s_T z'                  (1)

z and z' are the middles of `FUTURES` equal shares of a normal law, drawn apart until
their mean square is 1, in two orders that have nothing to do with each other.  Six of
them were too few: the outer ones, a sixth each, stood at 1.5 standard deviations, where
the tenth of a normal law stands at 1.28, so that what hangs on the pace was told too wide.  A kiln
with a controller keeps its plan closer than a hand.  A kiln that is known ramps no
faster than its top setting heats, and cools no faster than with its dial off.

Left out: a caster who falls asleep.
"""

import math
from collections.abc import Sequence
from statistics import NormalDist

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import Body
from pourcast.burnout.kiln_march import GLOW_AT
from pourcast.burnout.model import NEAR, Curve, KilnStep

FUTURES = 24
"""Of the kiln; our own choice.  The tenth of 24 lies at 1.30 standard deviations."""

PACE = {"hand": 0.08, "programmed": 0.01}
"""s_r of (1), by how the kiln is controlled; estimates."""

HEAT = {"hand": 6.0, "programmed": 2.0}
"""s_T of (1), K; estimates."""

UNSAID = 1.0 / 60.0
"""K/s, of a step whose ramp nobody has said; estimate."""

LEAST = 20.0 / 3600.0
"""K/s, under which a kiln is taken to have come to its end; estimate."""

_ORDER = tuple(19 * place % FUTURES for place in range(FUTURES))  # of z'; no tie to z: -0.004
_STEP = 300.0  # s


def futures(
    rest: Sequence[KilnStep],
    time: si.Seconds,
    temperature: si.Kelvins,
    *,
    control: str,
    body: Body | None,
) -> tuple[Curve, ...]:
    """Return `FUTURES` days: the log up to now, and each time another rest.

    Parameters
    ----------
    rest : sequence of KilnStep
        Still to be done; empty: the day ends with the log.
    time : array [s], shape (points,)
    temperature : array [K], shape (points,)
        Of the kiln so far.
    control : {"hand", "programmed"}
    body : Body or None
        None: the kiln is not known, and follows whatever is planned.

    Returns
    -------
    tuple of Curve
    """
    made = []
    middles = normal_middles()
    for place in range(FUTURES):
        pace = math.exp(PACE[control] * middles[place])
        off = HEAT[control] * middles[_ORDER[place]]
        made.append(one_future(rest, time, temperature, pace=pace, off=off, body=body))
    return tuple(made)


def one_future(
    rest: Sequence[KilnStep],
    time: si.Seconds,
    temperature: si.Kelvins,
    *,
    pace: si.Ratio = 1.0,
    off: si.Kelvin = 0.0,
    body: Body | None = None,
) -> Curve:
    """Return the day so far and one rest of it.

    Parameters
    ----------
    rest : sequence of KilnStep
    time : array [s], shape (points,)
    temperature : array [K], shape (points,)
    pace : float [-]
        Ramps over those planned.
    off : float [K]
        Holds less those planned.
    body : Body or None

    Returns
    -------
    Curve
    """
    times, heats = [float(time[-1])], [float(temperature[-1])]
    for step in rest:
        here, began = heats[-1], times[-1]
        ramp = pace * (UNSAID if step.ramp is None else step.ramp)
        _ramp(times, heats, step.temperature + off, ramp, body)
        hold = step.hold
        if step is rest[0] and abs(here - step.temperature) <= NEAR:
            # A kiln that drifts within a hold is in the hold already.
            drift = times[-1] - began - abs(here - step.temperature) / ramp
            hold = max(hold - max(drift, 0.0), 0.0)
        if hold > 0.0:
            times.append(times[-1] + hold)
            heats.append(heats[-1])
    end = max(times[-1], float(time[0]) + 1.0)
    if time.size == 1 and len(times) == 1:
        # A day without a reading and without a plan still is a day.
        times, heats = [times[0], end], [heats[0], heats[0]]
    return Curve(
        name="logged",
        time=np.concatenate((time, times[1:])),
        temperature=np.concatenate((temperature, heats[1:])),
    )


def _ramp(
    times: list[float], heats: list[float], goal: float, ramp: float, body: Body | None
) -> None:
    """Add the way from the last temperature to a goal."""
    here = heats[-1]
    if abs(goal - here) < 1.0:
        return
    if body is None:
        times.append(times[-1] + abs(goal - here) / ramp)
        heats.append(goal)
        return
    up = goal > here
    most = float(body.heating[-1]) if up else 0.0
    while abs(goal - here) >= 1.0:
        glow = body.glow * (here**4 - body.room**4) / (4.0 * GLOW_AT**3)
        able = most - body.loss * (here - body.room) - glow
        rate = min(ramp, able) if up else min(ramp, -able)
        if rate < LEAST:
            return
        step = min(_STEP, abs(goal - here) / rate)
        here += step * rate if up else -step * rate
        times.append(times[-1] + step)
        heats.append(here)


def normal_middles() -> tuple[si.Ratio, ...]:
    """Return the middles of `FUTURES` equal shares of a normal law, z of equation (1) [-].

    Returns
    -------
    tuple of float [-]
        Rising; their mean square is 1.
    """
    law = NormalDist()
    middles = [law.inv_cdf((each + 0.5) / FUTURES) for each in range(FUTURES)]
    spread = math.sqrt(sum(each**2 for each in middles) / FUTURES)
    return tuple(each / spread for each in middles)
