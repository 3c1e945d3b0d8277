"""Clocks: does the clock of a log run with ours?

A reading that is sent as it is taken arrives a little after its moment.  One from the
future, or a row of them that all arrive late by the same, tells of a clock that was
never set, or that stands in another zone.
"""

from collections.abc import Sequence

import numpy as np

from pourcast import units as si

AHEAD = 120.0
"""s, by which a reading may come from the future before it is told; estimate."""

BEHIND = 600.0
"""s, by which a row of readings arrives late before it is told; estimate."""

STEADY = 60.0
"""s, within which their delays are alike; estimate."""

LEAST = 3
"""Readings that a clock behind is told from; estimate."""


def skew(taken: Sequence[si.Second], arrived: Sequence[si.Second]) -> si.Second | None:
    """Return by how much a log's clock stands ahead of ours; None: nothing to be told.

    Parameters
    ----------
    taken : sequence of float [s]
        Moments that the log gives, each of a reading that was new as it arrived.
    arrived : sequence of float [s]
        Moments of our clock.

    Returns
    -------
    float or None [s]
        Below 0: it stands behind.

    Examples
    --------
    >>> skew([7_200.0], [3_600.0])
    3600.0
    """
    late = np.asarray(arrived, dtype=float) - np.asarray(taken, dtype=float)
    if late.size == 0:
        return None
    if late.min() < -AHEAD:
        return float(-late.min())
    last = late[-LEAST:]
    if last.size == LEAST and last.min() > BEHIND and np.ptp(last) <= STEADY:
        return float(-np.median(last))
    return None
