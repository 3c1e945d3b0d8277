"""Kiln now: what is the air of the kiln, and what do bricks and block take from it?

The loss k and the heating q of each place of the dial are the kiln's own and stay all day.
What the bricks and the block take beside them, the pull p, comes and goes slowly.  From one
reading to the next, with t_s the time at place s,

    T' = T + Σ q_s t_s - k ∫ (T - Ta) dt - p t + error                       (1)
    p' = p exp(-t / τ) + error                                               (2)

where p left alone has the standard deviation `PULL` and forgets itself in τ, `FADES`.  Each
reading is T with an error of its own.  All is linear and normal, so that what is known after
each reading is in closed form (Kalman's filter), and the air is not the last reading but
what all of them say of it.

Why beside `pourcast.day.kilns.kiln_today`, which forgets old readings: it forgets with the
pull what it knew of the places of the dial that were not used for some hours.  Of 310
made-up kilns turned by it 6 passed 760 °C on a plan of 732; by (1) and (2) none of 150
(docs/kiln-day.md).

Left out: in the integral of (1) the air runs straight from reading to reading; a block that
stops boiling from one reading to the next, which (2) follows late.

Source: Kalman (1960), J. Basic Eng. 82, 35; (2) Uhlenbeck and Ornstein (1930), Phys. Rev.
36, 823.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import Body
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.day.kilns import HALF_LIFE, LEAST_LOSS, known_before, spans_of
from pourcast.day.so_far import SoFar

PULL = 30.0 / 3600.0
"""K/s, standard deviation of p of (2); of 36 settings tried on 60 made-up kilns that with
the likeliest readings (seeds 40000 to 40059)."""

FADES = 8.0 * 3600.0
"""s, τ of (2); chosen as `PULL`."""

READ = 1.5
"""K, standard error of a reading; chosen as `PULL`."""

JITTER = 0.3**2 / 900.0
"""K²/s, at which (1) is wrong beside the pull; chosen as `PULL`."""

USUAL = 4.0
"""Readings of the expected scatter that stand for the days before; estimate."""

LEAST, MOST = 0.5, 3.0
"""Of the scatter: a few readings that happen to fit do not make a kiln sure; estimates."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KilnNow:
    """The kiln at the last reading of a day.

    Parameters
    ----------
    body : Body
        Its own loss and heating, without the pull.
    air : float [K]
        As all readings have it.
    pull : float [K/s]
        What bricks and block take beside the body.
    spread : array [by column], shape (unknowns, unknowns)
        Covariance of the loss, each place of the dial beside off, the pull and the air.
    scatter : float [-]
        How far today's readings lie from what was expected of them, over that;
        `LEAST` to `MOST`.
    """

    body: Body
    air: si.Kelvin
    pull: si.KelvinPerSecond
    spread: si.Table
    scatter: si.Ratio


def kiln_now(day: SoFar, known: KilnFit) -> KilnNow:
    """Return the kiln at the last reading, by equations (1) and (2).

    Parameters
    ----------
    day : SoFar
        Readings before the dial is known count only by the last of them.
    known : KilnFit
        Of an earlier day, or of the records.

    Returns
    -------
    KilnNow
    """
    body = known.body
    lines, changes, ages, spans = spans_of(day, body)
    read = day.temperature[day.is_read][-changes.size - 1 :]
    own, covariance = known_before(known)
    pull, air = own.size, own.size + 1
    state = np.concatenate((own, [0.0, read[0]]))
    spread = np.zeros((air + 1, air + 1))
    spread[:pull, :pull] = covariance
    spread[pull, pull], spread[air, air] = PULL**2, READ**2
    step = np.eye(air + 1)
    squares = np.zeros(changes.size)
    for place, (line, span) in enumerate(zip(lines, spans.tolist(), strict=True)):
        fade = float(np.exp(-span / FADES))
        step[pull, pull], step[air, :pull], step[air, pull] = fade, line, -span
        state, spread = step @ state, step @ spread @ step.T
        spread[pull, pull] += PULL**2 * (1.0 - fade**2)
        spread[air, air] += unforeseen(span) ** 2
        both = _PULLED * span**2 / 2.0
        spread[pull, air] -= both
        spread[air, pull] -= both
        missed = read[place + 1] - state[air]
        certain = spread[air, air] + READ**2
        gain = spread[:, air] / certain
        state = state + gain * missed
        spread = spread - gain[:, None] * spread[air]
        squares[place] = missed**2 / certain
    weight = 0.5 ** (ages / HALF_LIFE)
    found = (USUAL + float(weight @ squares)) / (USUAL + float(weight.sum()))
    # More of the dial never heats less, whatever a few readings made of it.
    heating = np.maximum.accumulate(np.append(0.0, np.maximum(state[1:pull], 0.0)))
    return KilnNow(
        body=Body(
            loss=max(float(state[0]), LEAST_LOSS * body.loss),
            glow=0.0,
            settings=body.settings,
            heating=heating,
            room=body.room,
        ),
        air=float(state[air]),
        pull=float(state[pull]),
        spread=spread,
        scatter=min(max(float(np.sqrt(found)), LEAST), MOST),
    )


_PULLED = 2.0 * PULL**2 / FADES  # K²/s³, at which p of (2) wanders


def unforeseen(span: si.Second) -> si.Kelvin:
    """Return the standard error of the air that comes up within a while [K].

    Parameters
    ----------
    span : float [s]
        Short beside `FADES`.

    Returns
    -------
    float [K]
        By the jitter and by a pull that wanders.
    """
    return math.sqrt(JITTER * span + _PULLED * span**3 / 3.0)
