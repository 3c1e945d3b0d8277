"""Lines: the middle line of a part, smooth, and straight on beyond its ends.

A curve of low order is laid through the middles of the pieces of a part, by
least squares: straight if there are few, of second order, or of fourth where
the part turns by more than a right angle.

A piece beside a knee or a fork is cut askew, and leans the line: by 0.1 mm on a
foot of 3.5 mm.  So the line of a round part is moved to the middle of its surface.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from pourcast import units as si

_STEP = 1e-4  # m, from one place of the line to the next
_CURVED = 7  # pieces that a curve needs
_ROUNDS = 2  # of moving a line to the middle of its surface
_BOW, _SWELL = 2, 3  # order of the way that a line is moved, and of the radius along it
_LEAST_SAMPLES = 40  # on the surface, that tell where its middle is; estimate
_MOST_MOVED = 1.0  # of the radius; farther is no middle of this part
_STRAIGHT = 1.0 - 1e-9  # cosine between its headings at both ends, of a line laid straight
_EDGE = 0.2  # of the line, at most left out at each end


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


def centred(line: Line, place: si.Metres, *, edge: si.Metre) -> Line:
    """Return the line of a round part, moved to the middle of its surface.

    A place whose way off the line has the length R and the direction u lies on a circle of
    the radius r about a middle that is off by c:

        R = r + u · c                                                          (1)

    to first order in c.  With c of second and r of third order along the line these are linear
    equations for all places; those that fit badly, at the feet of others, count little.

    Parameters
    ----------
    line : Line
    place : array [m], shape (samples, 3)
        On the surface of the part.
    edge : float [m]
        Left out at each end.

    Returns
    -------
    Line
        As it was if too few places tell, or if it would leave the part.
    """
    inner = (line.along >= 0.0) & (line.along <= line.end)
    curve, heading = line.place[inner], line.heading[inner]
    side = np.cross(heading, np.eye(3)[np.abs(heading.sum(axis=0)).argmin()])
    side /= np.linalg.norm(side, axis=1)[:, None]
    other = np.cross(heading, side)
    # The rough surface of a short part would bow a line that is straight by its pieces.
    order = 1 if float(heading[0] @ heading[-1]) > _STRAIGHT else _BOW
    all_along = np.vander(np.linspace(-1.0, 1.0, len(curve)), order + 1)
    margin = min(edge, _EDGE * line.end)
    for _ in range(_ROUNDS):
        now = _laid(curve, _STEP)
        along, off = now.feet(place)
        radius = np.linalg.norm(off, axis=1)
        good = (along > margin) & (along < now.end - margin) & (radius > 0.0)
        if good.sum() < _LEAST_SAMPLES:
            return line
        radius, at = radius[good], along[good] / now.end
        way = off[good] / radius[:, None]
        k = np.rint(at * (len(curve) - 1)).astype(np.int64)
        bow = np.vander(2.0 * at - 1.0, order + 1)
        rows = np.hstack(
            [
                np.einsum("ij,ij->i", way, side[k])[:, None] * bow,
                np.einsum("ij,ij->i", way, other[k])[:, None] * bow,
                np.vander(2.0 * at - 1.0, _SWELL + 1),
            ]
        )
        found = _fitted(rows, radius)
        over = all_along @ found[: 2 * order + 2].reshape(2, order + 1).T
        told = np.abs(np.linspace(-1.0, 1.0, len(curve))) <= 1.0 - 2.0 * margin / now.end
        if np.linalg.norm(over[told], axis=1).max() > _MOST_MOVED * np.median(radius):
            return line
        curve = curve + over[:, :1] * side + over[:, 1:] * other
    return _laid(curve, float(line.along[-1] - line.end))


def _fitted(rows: si.Ratios, values: si.Metres) -> si.Metres:
    """Return what solves linear equations best; those that fit badly count little."""
    weight: si.Ratios = np.ones(len(rows))
    found: si.Metres = np.zeros(rows.shape[1])
    for _ in range(4):
        square = (rows.T * weight) @ rows + 1e-9 * np.eye(rows.shape[1])
        found = np.asarray(np.linalg.solve(square, (rows.T * weight) @ values), dtype=np.float64)
        miss = rows @ found - values
        usual = 1.4826 * float(np.median(np.abs(miss))) + 1e-6
        weight = 1.0 / (1.0 + (miss / (2.0 * usual)) ** 2) ** 2
    return found


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
