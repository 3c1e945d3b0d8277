"""Particles: draws of block, matter and air that are weighed by what is read.

Each particle is one set of the values that nobody knows: conductivity, water, steam
and surface of the block, error of the thermometer, matter, char, air changes of the
kiln.  A reading y of the wall or the core, where the particle says x, weighs it by

    log w = -1/2 Σ n_i (y_i - x_i)² / (σ² + d²)                              (1)

d is what the place moves in `OFF`: while the last water goes, a core warms by 10 K a
minute, and a probe that sits a little off sees it some minutes early or late.

Readings within `TOGETHER` of each other are wrong in the same way, by where the probe
sits and by what the model leaves out, so that n of them weigh as one: n_i = 1/n.

Why particles, and not an ensemble Kalman filter: a burnout has thresholds (the last
water, the first char) and no straight line through them; and a particle that is
followed anew from the log each time is a pure function of the log, so a day that was
broken off and taken up again says the same to the last digit.  The price is that few
particles are left where a probe is sharp; `pourcast.day.renew` draws new ones then.

What no thermometer in the air of the kiln can tell stays as wide as it was: air
changes, char and its oxygen.  The kiln itself is read by `pourcast.day.kilns`.

Source: (1) Gordon, Salmond and Smith (1993), IEE Proc. F 140, 107.
"""

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any, TypeVar

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase, Burning, HeatDays, Matter
from pourcast.day.judge import believed
from pourcast.day.model import DayReading, Judged

READING_ERROR = {"wall": 15.0, "core": 15.0}
"""σ of (1), K: where the probe sits, and what the model leaves out; estimates."""

TOGETHER = 1800.0
"""s, in which readings are wrong in the same way; estimate."""

OFF = 600.0
"""s, by which a probe that sits a little off is early or late; estimate."""

_NOT_BY_DRAW = ("half_thickness", "member_part")

Record = TypeVar("Record", BlockCase, Matter, Burning)


def rows_of(record: Record, rows: si.Integers) -> Record:
    """Return a record with some of its draws, in a given order; any may come twice.

    Parameters
    ----------
    record : BlockCase, Matter or Burning
    rows : array of int, shape (draws,)

    Returns
    -------
    BlockCase, Matter or Burning
    """
    arrays: dict[str, Any] = {
        field.name: value[rows]
        for field in fields(record)
        if isinstance(value := getattr(record, field.name), np.ndarray)
        and not field.name.endswith("_at")
        and field.name not in _NOT_BY_DRAW
    }
    return replace(record, **arrays)


def log_weights(
    heats: Sequence[HeatDays], readings: tuple[Judged, ...], start: si.Second
) -> si.Ratios:
    """Return the logarithms of the weights of all particles, equation (1).

    Parameters
    ----------
    heats : sequence of HeatDays
        One for each future of the kiln, with its own particles.
    readings : tuple of Judged
    start : float [s]
        Since 1970.

    Returns
    -------
    array [-], shape (particles,)
        The highest is 0.
    """
    count = sum(heat.core.shape[0] for heat in heats)
    total = np.zeros(count)
    for place, error in READING_ERROR.items():
        seen = believed(readings, "wall" if place == "wall" else "core")
        seen = tuple(each for each in seen if each.at >= start)
        if not seen:
            continue
        time = np.array([each.at - start for each in seen])
        read = np.array([each.temperature for each in seen])
        before, said, after = (
            _said(heats, place, moments) for moments in (time - OFF, time, time + OFF)
        )
        # One error for all particles, so that no particle gains by being unsure.
        moved = 0.5 * np.median(np.abs(after - before), axis=0)
        total -= 0.5 * (_shares(seen) * (read - said) ** 2 / (error**2 + moved**2)).sum(axis=1)
    return np.asarray(total - total.max())


def _said(heats: Sequence[HeatDays], place: str, times: si.Seconds) -> si.Table:
    """Return what each particle says of wall or core at some moments."""
    return np.concatenate(
        [_at(each.time, each.wall if place == "wall" else each.core, times) for each in heats]
    )


def _at(moments: si.Seconds, values: si.Table, times: si.Seconds) -> si.Table:
    """Return values at some moments, as `along` does at one."""
    after = np.clip(np.searchsorted(moments, times), 1, moments.size - 1)
    first, last = moments[after - 1], moments[after]
    share = np.clip((times - first) / (last - first), 0.0, 1.0)
    return np.asarray(values[:, after - 1] + share * (values[:, after] - values[:, after - 1]))


def along(moments: si.Seconds, values: si.Table, time: si.Second) -> si.Table:
    """Return values at one moment; before the first and after the last they stay.

    Parameters
    ----------
    moments : array [s], shape (moments,)
    values : array [by column], shape (particles, moments)
    time : float [s]

    Returns
    -------
    array [by column], shape (particles,)
    """
    return np.asarray(_at(moments, values, np.array([time]))[:, 0])


def _shares(readings: Sequence[DayReading]) -> si.Ratios:
    at = np.array([each.at for each in readings])
    return np.asarray(1.0 / (np.abs(at[:, None] - at) <= 0.5 * TOGETHER).sum(axis=1))


def weights_of(logarithms: si.Ratios) -> si.Ratios:
    """Return weights that add up to 1.

    Parameters
    ----------
    logarithms : array [-], shape (particles,)

    Returns
    -------
    array [-], shape (particles,)
    """
    weights = np.exp(logarithms - logarithms.max())
    return np.asarray(weights / weights.sum())


def standing(weights: si.Ratios) -> si.Ratio:
    """Return how many particles of like weight these stand for: 1 / Σ w² [-].

    Parameters
    ----------
    weights : array [-], shape (particles,)

    Returns
    -------
    float [-]
    """
    return float(1.0 / (weights**2).sum())


def percentiles(values: si.Table, weights: si.Ratios, shares: Sequence[si.Ratio]) -> si.Table:
    """Return weighted percentiles, so wide that another draw lies inside as often as told.

    The i-th of n like draws stands at i / (n + 1), and between two it goes straight; unlike
    weights count as `standing` many.  Where one of the two does not happen, the nearer counts.

    Parameters
    ----------
    values : array [by column], shape (particles,)
        Infinite where something does not happen.
    weights : array [-], shape (particles,)
        Add up to 1.
    shares : sequence of float [-]

    Returns
    -------
    array [by column], shape of ``shares``

    Notes
    -----
    Source: Weibull's positions; type 6 of Hyndman and Fan (1996), The American Statistician
    50, 361.

    Examples
    --------
    >>> percentiles(np.array([1.0, 2.0, 3.0]), np.full(3, 1.0 / 3.0), [0.25, 0.5]).tolist()
    [1.0, 2.0]
    """
    order = np.argsort(values, kind="stable")
    sorted_values, each = values[order], weights[order]
    many = standing(each)
    at = ((np.cumsum(each) - 0.5 * each) * many + 0.5) / (many + 1.0)
    after = np.clip(np.searchsorted(at, shares), 1, order.size - 1)
    low, high = sorted_values[after - 1], sorted_values[after]
    span = at[after] - at[after - 1]
    part = np.clip((np.asarray(shares) - at[after - 1]) / np.maximum(span, 1e-300), 0.0, 1.0)
    way = np.subtract(high, low, out=np.zeros_like(high), where=np.isfinite(high))
    return np.where(np.isfinite(high), low + part * way, np.where(part < 0.5, low, high))
