"""Hotter: by how much may the kiln be hotter at the next look than told?

The way from one look to the next is wrong by the air that it starts at, by the kiln's own
loss and heating, of which a place of the dial that was not used today is known worst, and by
what bricks and block take, which hang together as the readings have it,

    s² = f² (x S xᵀ + u)                                                     (1)

with x the line of equation (1) of `pourcast.day.kiln_now` over the time to the look, S its
covariance, u what comes up within this time, and f the scatter of today's readings.  The air
is told `SURE` times s under the stop at the next look, and so at each look after it, for the
kiln is read again there.

Left out: a load that changes within the quarter of an hour by more than u has.  The study
in docs/kiln-day.md says how often the stop is passed.

Source: Gelman et al., Bayesian Data Analysis (3rd ed.), ch. 14, a forecast by a line.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.dial import Doubt
from pourcast.day.kiln_now import KilnNow, unforeseen

SURE = 2.5
"""Standard errors under the stop: our own choice, by the study in docs/kiln-day.md."""


def hotter_than_told(now: KilnNow) -> Doubt:
    """Return by how much the air may be hotter than told, equation (1).

    Parameters
    ----------
    now : KilnNow

    Returns
    -------
    callable
        For `pourcast.burnout.dial.dial_plan`.
    """
    body = now.body
    size = body.settings.size
    # The loss, each place of the dial with off, of which nothing is in doubt, pull and air.
    known = np.append(0, np.arange(2, size + 3))
    whole = np.zeros((size + 3, size + 3))
    whole[np.ix_(known, known)] = now.spread
    of_loss, with_loss = float(whole[0, 0]), whole[0, 1 : size + 1]
    of_heating = whole[1 : size + 1, 1 : size + 1]
    last = size - 2

    def doubt(
        before: si.Kelvins, after: si.Kelvins, place: si.Ratios, span: si.Second
    ) -> si.Kelvins:
        # Half way between two airs is the mean of a straight way.
        over = 0.5 * (before + after) - body.room
        lower = np.clip(np.searchsorted(body.settings, place, side="right") - 1, 0, last)
        more = (place - body.settings[lower]) / (body.settings[lower + 1] - body.settings[lower])
        less = 1.0 - more
        # x S xᵀ written out, for a line has no more than two places of the dial in it.
        heat = (
            less**2 * of_heating[lower, lower]
            + 2.0 * less * more * of_heating[lower, lower + 1]
            + more**2 * of_heating[lower + 1, lower + 1]
        )
        both = less * with_loss[lower] + more * with_loss[lower + 1]
        # Air and pull are in every line alike.
        rest = whole[-1] - span * whole[-2]
        with_rest = rest[1 : size + 1]
        beside = less * with_rest[lower] + more * with_rest[lower + 1] - over * rest[0]
        square = (
            span**2 * (over**2 * of_loss - 2.0 * over * both + heat)
            + 2.0 * span * beside
            + float(rest[-1] - span * rest[-2])
        )
        return np.asarray(SURE * now.scatter * np.sqrt(square + unforeseen(span) ** 2))

    return doubt
