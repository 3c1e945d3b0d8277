"""Lines: the middle line of a part, smooth, and straight on beyond its ends.

A curve of low order is laid through the middles of the pieces of a part, by
least squares: straight if there are few, of second order, or of fourth where
the part turns by more than a right angle.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from pourcast import units as si

_STEP = 1e-4  # m, from one place of the line to the next
_CURVED = 7  # pieces that a curve needs


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A middle line.

    Parameters
    ----------
    place : array [m], shape (places, 3)
    along : array [m], shape (places,)
        Length along the line; 0 at the first middle that it was laid through.
    heading : array [-], shape (places, 3)
    end : float [m]
        Length at the last middle.
    """

    place: si.Metres
    along: si.Metres
    heading: si.Ratios
    end: si.Metre

    def at(self, along: si.Metre) -> si.Metres:
        """Return the place at a length.

        Parameters
        ----------
        along : float [m]

        Returns
        -------
        array [m], shape (3,)
        """
        return np.array([np.interp(along, self.along, self.place[:, k]) for k in range(3)])

    def toward(self, along: si.Metre) -> si.Ratios:
        """Return the direction at a length.

        Parameters
        ----------
        along : float [m]

        Returns
        -------
        array [-], shape (3,)
        """
        way = np.array([np.interp(along, self.along, self.heading[:, k]) for k in range(3)])
        out: si.Ratios = way / np.linalg.norm(way)
        return out

    def feet(self, points: si.Metres) -> tuple[si.Metres, si.Metres]:
        """Return how far along the line points lie, and how far off it they are.

        Parameters
        ----------
        points : array [m], shape (points, 3)

        Returns
        -------
        along : array [m], shape (points,)
        off : array [m], shape (points, 3)
        """
        if not len(points):
            return np.zeros(0), np.zeros((0, 3))
        _, k = cKDTree(self.place).query(points)
        off = points - self.place[k]
        ahead = np.einsum("ij,ij->i", off, self.heading[k])
        return self.along[k] + ahead, off - ahead[:, None] * self.heading[k]


def line_through(
    middles: si.Metres, weights: si.Ratios, *, beyond: si.Metre, toward: si.Ratios
) -> Line:
    """Return the middle line of a part.

    Parameters
    ----------
    middles : array [m], shape (pieces, 3)
        In their order.
    weights : array [-], shape (pieces,)
    beyond : float [m]
        How far the line goes straight on at both ends.
    toward : array [-], shape (3,)
        Direction, where the middles do not tell it.

    Returns
    -------
    Line
    """
    steps = np.linalg.norm(np.diff(middles, axis=0), axis=1)
    length = float(steps.sum())
    if len(middles) < 2 or length < 1e-6:
        middle = np.average(middles, axis=0, weights=weights)
        return _laid(np.stack([middle, middle + 1e-6 * toward]), beyond)
    at = np.concatenate([[0.0], np.cumsum(steps)]) / length
    order = 1
    if len(middles) >= _CURVED:
        first, last = middles[2] - middles[0], middles[-1] - middles[-3]
        cosine = float(first @ last / max(np.linalg.norm(first) * np.linalg.norm(last), 1e-300))
        order = 2 if cosine > math.cos(math.pi / 2) or len(middles) < 12 else 4
    basis = np.vander(at, order + 1)
    root = np.sqrt(weights)[:, None]
    found, *_ = np.linalg.lstsq(root * basis, root * middles, rcond=None)
    fine = np.linspace(0.0, 1.0, max(2, math.ceil(length / _STEP) + 1))
    return _laid(np.vander(fine, order + 1) @ found, beyond)


def _laid(curve: si.Metres, beyond: si.Metre) -> Line:
    """Return a line along a curve, with straight ends."""
    first = curve[1] - curve[0]
    last = curve[-1] - curve[-2]
    first, last = first / np.linalg.norm(first), last / np.linalg.norm(last)
    out = np.arange(1, math.ceil(beyond / _STEP) + 1)[:, None] * _STEP
    place = np.concatenate([(curve[0] - out * first)[::-1], curve, curve[-1] + out * last])
    steps = np.linalg.norm(np.diff(place, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    along -= along[len(out)]
    heading = np.gradient(place, axis=0)
    heading /= np.maximum(np.linalg.norm(heading, axis=1), 1e-300)[:, None]
    return Line(
        place=place, along=along, heading=heading, end=float(along[len(out) + len(curve) - 1])
    )
