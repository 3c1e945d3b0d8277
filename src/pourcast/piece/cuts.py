"""Cuts: into how many segments a part goes, and where.

A part is cut where others grow on it or are joined to it, and in between so
that no segment is longer than 1/8 of the part or the finest length, whichever
is more, and turns by no more than 30°.  It has at least 3 segments and at most
12, more only where its children or its bend ask for them.  A child nearer than
2 % of the length to a cut shares it.  These numbers are estimates, chosen for
cost: the time of a pour goes with the segments.  Whether the chances depend on
them is for the pour to show.

Source: none; a choice of this program.
"""

import math
from collections.abc import Iterable

import numpy as np

from pourcast import units as si

SHARED = 0.02
"""Share of the length within which a child shares a cut."""

_LEAST, _MOST = 3, 12  # segments of a part
_LONGEST = 1 / 8  # of the length of a part
_TURN = math.radians(30.0)  # of one segment


def stops(places: Iterable[si.Ratio]) -> si.Ratios:
    """Both ends of a part and the places that must be cut, in their order.

    Parameters
    ----------
    places : iterable of float [-]
        Shares of the length where others are joined.

    Returns
    -------
    array [-], shape (stops,)
        From 0 to 1, no two nearer than 2 %.
    """
    kept = [0.0, 1.0]
    for place in sorted(set(places)):
        if all(abs(place - cut) >= SHARED for cut in kept):
            kept.append(place)
    return np.array(sorted(kept))


def steps(length: si.Metre, bend: si.Radian, finest: si.Metre) -> tuple[si.Ratio, int]:
    """Longest segment of a part as a share of its length, and how many it may have.

    Parameters
    ----------
    length : float [m]
    bend : float [rad]
    finest : float [m]
        Segments need not be shorter than this.

    Returns
    -------
    longest : float [-]
    most : int
    """
    turns = math.ceil(abs(bend) / _TURN - 1e-9)
    longest = max(finest / length, _LONGEST)
    return min(longest, 1 / turns if turns else 1.0), max(_MOST, turns)


def between(stops_: si.Ratios, longest: si.Ratio, most: int, *, least: int = _LEAST) -> si.Ratios:
    """All cuts: the stops, and even steps between them.

    Parameters
    ----------
    stops_ : array [-], shape (stops,)
        In their order; kept as they are.
    longest : float [-]
        Longest step, in the measure of the stops.
    most, least : int
        Steps in all; more than ``most`` only if the stops alone make more.

    Returns
    -------
    array [-], shape (steps + 1,)
    """
    gaps = np.diff(stops_).tolist()
    counts = [max(1, math.ceil(gap / longest - 1e-9)) for gap in gaps]
    places = range(len(gaps))
    while sum(counts) < least:
        counts[max(places, key=lambda i: gaps[i] / counts[i])] += 1
    while sum(counts) > max(most, len(gaps)):
        several = [i for i in places if counts[i] > 1]
        counts[min(several, key=lambda i: gaps[i] / (counts[i] - 1))] -= 1
    cuts: list[float] = []
    starts = stops_.tolist()
    for start, gap, count in zip(starts[:-1], gaps, counts, strict=True):
        cuts += [start + gap * k / count for k in range(count)]
    return np.array([*cuts, starts[-1]])


def nearest(cuts: si.Ratios, places: si.Ratios) -> si.Integers:
    """Find the cut that is nearest to each place, by its number.

    Parameters
    ----------
    cuts : array [-], shape (cuts,)
    places : array [-], shape (places,)

    Returns
    -------
    array of int, shape (places,)
    """
    found: si.Integers = np.abs(cuts[None, :] - places[:, None]).argmin(axis=1)
    return found
