"""Hotter: by how much may the kiln be hotter at the next look than told?

The way from one look to the next is wrong by three things that have nothing to do with
each other: the reading it starts at, the kiln that leaves its one body, and the loss and
the heating, of which a place of the dial that was not used today is known worst,

    s² = f² (READ² + (DRIFT t)²) + x S xᵀ                                    (1)

with x the line of equation (1) of `pourcast.day.kilns` over the time t, S the covariance
of the kiln, and f how far today's readings lie from the line, over what was expected:

    f² = (n + Σ w e² / s_e²) / (n + Σ w)                                     (2)

w halves in `pourcast.day.kilns.HALF_LIFE`, and `USUAL` readings of the expected scatter
stand for the days before.  The air is told `SURE` times s under the stop at the next
look, and so at each look after it, for the kiln is read again there.

Left out: a load that changes within the quarter of an hour; errors that hang together
from look to look.  The study in docs/kiln-day.md says how often the stop is passed.

Source: (1) Gelman et al., Bayesian Data Analysis (3rd ed.), ch. 14; (2) ch. 2.6, a
normal law of known mean and unknown spread.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.dial import Doubt
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.day.kilns import DRIFT, HALF_LIFE, READ, spans_of
from pourcast.day.so_far import SoFar

SURE = 2.5
"""Standard errors under the stop: our own choice, by the study in docs/kiln-day.md."""

USUAL = 4.0
"""n of (2), readings; estimate."""

LEAST, MOST = 0.4, 3.0
"""Of f: a few readings that happen to lie on the line do not make a kiln sure; estimates."""


def hotter_than_told(kiln: KilnFit, day: SoFar) -> Doubt:
    """Return by how much the air may be hotter than told, equation (1).

    Parameters
    ----------
    kiln : KilnFit
        As today's readings have it.
    day : SoFar

    Returns
    -------
    callable
        For `pourcast.burnout.dial.dial_plan`.
    """
    body = kiln.body
    scatter = scatter_of(kiln, day)
    # The loss, then each place of the dial with off, of which nothing is in doubt.
    off = np.zeros((body.settings.size + 1, body.settings.size + 1))
    held = np.append(0, np.arange(2, body.settings.size + 1))
    off[np.ix_(held, held)] = kiln.covariance
    of_loss, with_loss, of_heating = float(off[0, 0]), off[0, 1:], off[1:, 1:]

    last = body.settings.size - 2

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
        known = span**2 * (over**2 * of_loss - 2.0 * over * both + heat)
        return np.asarray(SURE * np.sqrt(scatter**2 * (READ**2 + (DRIFT * span) ** 2) + known))

    return doubt


def scatter_of(kiln: KilnFit, day: SoFar) -> si.Ratio:
    """Return how far today's readings lie from the kiln's line, f of equation (2) [-].

    Parameters
    ----------
    kiln : KilnFit
    day : SoFar

    Returns
    -------
    float [-]
        `LEAST` to `MOST`; 1: as expected.
    """
    lines, changes, ages, spans = spans_of(day, kiln.body)
    missed = changes - lines @ np.array([kiln.body.loss, *kiln.body.heating[1:]])
    weight = 0.5 ** (ages / HALF_LIFE)
    square = missed**2 / (2.0 * READ**2 + (DRIFT * spans) ** 2)
    found = (USUAL + float(weight @ square)) / (USUAL + float(weight.sum()))
    return min(max(float(np.sqrt(found)), LEAST), MOST)
