"""Kilns: what is this kiln like, by an earlier day or by today's readings?

A kiln that nobody has logged is taken as a loaded studio kiln of the records: at the
top of its dial it heats at the fastest ramp, half way up it still does, and off it
cools as records say.  Between off and top its heating grows straight with the dial.
How wrong that may be stands in the covariance: `UNSURE` of the loss, `UNSURE` of all
heating together, and `APART` of each setting by itself.

From reading to reading the equation of `pourcast.burnout.kiln` without radiation,
integrated once, is straight in what is not known,

    T_2 - T_1 = Σ q_s t_s - k ∫ (T - Ta) dt + error                          (1)

with t_s the time at setting s.  With a normal prior and a normal error the answer is
normal and in closed form (linear regression with a prior).  A reading that is
`HALF_LIFE` old weighs half: a block that boils takes heat that it does not take later,
and one body cannot tell the two apart.

Why not the fit of `pourcast.burnout.kiln_fit`: it holds a whole day against one body
to half a degree.  On a made-up kiln of bricks the loss it read from the last hours was
eight times too high, and on some readings it refused, which set the dial at random.

Left out: the heat of the block itself, and radiation.  For some hours ahead the
forgetting makes up for both.

Source: (1) Gelman et al., Bayesian Data Analysis (3rd ed.), ch. 14.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import Body
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.day.so_far import SoFar
from pourcast.errors import require_positive
from pourcast.materials import Material

UNSURE, APART = 0.4, 0.15
"""Standard deviations over value, of a kiln that nobody has logged; estimates."""

HALF_LIFE = 2.0 * 3600.0
"""s, in which a reading loses half its weight; estimate."""

READ = 2.0
"""K, standard error of a reading; estimate."""

DRIFT = 4.0 / 900.0
"""K/s, by which the kiln leaves the one body; estimate, 4 K in a quarter of an hour."""

FROM_DAY_TO_DAY = 0.10
"""By which loss and heating may differ from one day to the next; estimate."""

LEAST_LOSS = 0.2
"""Of the loss as it was known, under which none is believed; estimate."""

SETTINGS = 2
"""Places of the dial that a day needs before another day rests on it; estimate."""

_COOLS_AT = 680.0  # K over the room, at which the record of cooling holds
_HEATS_AT = 340.0  # K over the room, half of that
_OF_TEN = 1.2816  # standard deviations either side that hold 8 of 10 of a normal law


def plain_kiln(record: Material, top: int, room: si.Kelvin) -> KilnFit:
    """Return a kiln of the records, with a dial from 0 to a top.

    Parameters
    ----------
    record : Material
        `Library.kiln`.
    top : int
        Highest place of the dial; 1 or more.
    room : float [K]

    Returns
    -------
    KilnFit
        Of no readings.

    Raises
    ------
    InputError
        If the dial has no place beside off.
    """
    require_positive("top of the dial", top, "")
    loss = record["fastest_cooling"].si / _COOLS_AT
    most = record["fastest_ramp"].si + loss * _HEATS_AT
    settings = np.arange(top + 1, dtype=float)
    heating = most * settings / top
    size = top + 1
    covariance = np.zeros((size, size))
    covariance[0, 0] = (UNSURE * loss) ** 2
    shared = UNSURE * heating[1:]
    covariance[1:, 1:] = np.outer(shared, shared) + np.diag((APART * heating[1:]) ** 2)
    error = np.sqrt(np.diag(covariance))
    return KilnFit(
        body=Body(loss=loss, glow=0.0, settings=settings, heating=heating, room=room),
        start=room,
        loss_error=float(error[0]),
        glow_error=0.0,
        heating_error=np.append(0.0, error[1:]),
        covariance=covariance,
        left_over=0.0,
        worst=0.0,
        readings=0,
    )


def fastest(fit: KilnFit) -> tuple[tuple[si.KelvinPerSecond, ...], tuple[si.KelvinPerSecond, ...]]:
    """Return how fast a kiln heats at the top of its dial, and cools with it off.

    It is the way back from `plain_kiln`: at the heats at which the records hold.

    Parameters
    ----------
    fit : KilnFit

    Returns
    -------
    ramp, cooling : tuple of float [K/s]
        Middle, low and high end, in which 8 of 10 lie; over `LEAST_LOSS` of the middle.
    """
    line = np.zeros((2, fit.covariance.shape[0]))
    line[0, 0], line[0, -1] = -_HEATS_AT, 1.0
    line[1, 0] = _COOLS_AT
    middle = line @ np.array([fit.body.loss, *fit.body.heating[1:]])
    error = np.sqrt(np.einsum("ij,jk,ik->i", line, fit.covariance, line))
    found = []
    for value, spread in zip(middle.tolist(), error.tolist(), strict=True):
        least = LEAST_LOSS * value
        found.append((value, max(value - _OF_TEN * spread, least), value + _OF_TEN * spread))
    return found[0], found[1]


def kiln_of_day(day: SoFar, plain: KilnFit) -> KilnFit | None:
    """Return the kiln that a whole day tells of; None where it cannot tell.

    Parameters
    ----------
    day : SoFar
    plain : KilnFit
        A kiln of the records, for what the day does not tell.

    Returns
    -------
    KilnFit or None
    """
    said = np.isfinite(day.dial[:-1])
    if np.unique(day.dial[:-1][said]).size < SETTINGS:
        return None
    return _learnt(day, plain, half_life=np.inf)


def kiln_today(day: SoFar, known: KilnFit) -> KilnFit:
    """Return the kiln as today's readings have it; as it was known where they cannot tell.

    Parameters
    ----------
    day : SoFar
    known : KilnFit
        Of an earlier day, or of the records.

    Returns
    -------
    KilnFit
    """
    return _learnt(day, known, half_life=HALF_LIFE)


def _learnt(day: SoFar, known: KilnFit, *, half_life: float) -> KilnFit:
    """Return a kiln by equation (1), each reading weighed by its age."""
    lines, changes, ages, spans = spans_of(day, known.body)
    if changes.size == 0:
        return known
    body = known.body
    prior, spread = known_before(known)
    certain = 0.5 ** (ages / half_life) / (2.0 * READ**2 + (DRIFT * spans) ** 2)
    inverse = np.linalg.inv(spread)
    after = np.asarray(
        np.linalg.inv(inverse + (lines * certain[:, None]).T @ lines), dtype=np.float64
    )
    theta = after @ (inverse @ prior + lines.T @ (certain * changes))
    missed = changes - lines @ theta
    loss = max(float(theta[0]), LEAST_LOSS * body.loss)
    # More of the dial never heats less, whatever a few readings made of it.
    heating = np.maximum.accumulate(np.append(0.0, np.maximum(theta[1:], 0.0)))
    error = np.sqrt(np.diag(after))
    return KilnFit(
        body=Body(loss=loss, glow=0.0, settings=body.settings, heating=heating, room=body.room),
        start=float(day.temperature[0]),
        loss_error=float(error[0]),
        glow_error=0.0,
        heating_error=np.append(0.0, error[1:]),
        covariance=after,
        left_over=float(np.sqrt(np.mean(missed**2))),
        worst=float(np.abs(missed).max()),
        readings=changes.size,
    )


def known_before(known: KilnFit) -> tuple[si.Table, si.Table]:
    """Return what is known of a kiln before the day: loss and heatings, and their covariance.

    Parameters
    ----------
    known : KilnFit
        Of an earlier day, which is loosened by `FROM_DAY_TO_DAY`, or of the records.

    Returns
    -------
    values : array [by column], shape (settings,)
        The loss, then each setting beside off.
    covariance : array [by column], shape (settings, settings)
    """
    values = np.array([known.body.loss, *known.body.heating[1:]])
    covariance = known.covariance.copy()
    if known.readings:
        covariance += np.diag((FROM_DAY_TO_DAY * values) ** 2)
    return values, covariance


def spans_of(day: SoFar, body: Body) -> tuple[si.Table, si.Kelvins, si.Seconds, si.Seconds]:
    """Return the lines of equation (1), what changed, how long ago, and over which span.

    Parameters
    ----------
    day : SoFar
    body : Body

    Returns
    -------
    lines : array [by column], shape (spans, settings)
        The loss, then each setting beside off.
    changes : array [K], shape (spans,)
    ages, spans : array [s], shape (spans,)
    """
    read = np.flatnonzero(day.is_read)
    shares = lines_of(body, np.nan_to_num(day.dial))
    lines, changes, ages, spans = [], [], [], []
    now = float(day.time[-1])
    for first, last in zip(read[:-1].tolist(), read[1:].tolist(), strict=True):
        dial = day.dial[first:last]
        if not np.isfinite(dial).all():
            continue
        step = np.diff(day.time[first : last + 1])
        over = day.temperature[first : last + 1] - body.room
        lost = -float((0.5 * (over[1:] + over[:-1])) @ step)
        lines.append(np.append(lost, step @ shares[first:last]))
        changes.append(float(day.temperature[last] - day.temperature[first]))
        ages.append(now - float(day.time[last]))
        spans.append(float(step.sum()))
    shape = np.array(lines).reshape(len(lines), body.settings.size)
    return shape, np.array(changes), np.array(ages), np.array(spans)


def lines_of(body: Body, dial: si.Ratios) -> si.Table:
    """Return how much of each heating a place of the dial has; straight between two.

    Parameters
    ----------
    body : Body
    dial : array [-], shape (places,)

    Returns
    -------
    array [by column], shape (places, settings less off)
    """
    inside = np.clip(dial, 0.0, body.settings[-1])
    unit = np.eye(body.settings.size)[1:]
    return np.column_stack([np.interp(inside, body.settings, each) for each in unit])
