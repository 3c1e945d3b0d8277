"""Circle: what is the smallest circle that holds the piece, seen along the flask?

A circle about the axis that holds points (x, y) has the radius

    R = max √(x² + y²)                                                      (1)

The smallest circle that holds them wherever its middle is touches two points that
lie opposite, or three that lie in no half of it.  It is found from the outside in:
take the smallest circle of the two or three points that hold the last one, find
the point that lies farthest outside, and begin again with it.  The radius grows at
each step, so no set of points comes twice and the last circle is the smallest.

Left out: nothing; the answer is exact to rounding.

Source: plane geometry; two or three points: Jung (1901), J. reine angew. Math. 123, from
memory.
"""

from itertools import combinations

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, SolveError, require_finite
from pourcast.gating.model import Circle

_SLACK = 1e-12  # of the size of the set: rounding of a distance
_MOST_STEPS = 1000  # each brings a point that was outside; tens are usual


def reach_about_axis(points: si.Metres) -> si.Metre:
    """Return the radius about the axis that holds points [m], equation (1).

    Parameters
    ----------
    points : array [m], shape (points, 2 or more)
        From the axis of the flask; only x and y are looked at.

    Returns
    -------
    float [m]
    """
    _require_points(points)
    return float(np.hypot(points[:, 0], points[:, 1]).max())


def enclosing_circle(points: si.Metres) -> Circle:
    """Return the smallest circle that holds points.

    Parameters
    ----------
    points : array [m], shape (points, 2 or more)
        Only x and y are looked at.

    Returns
    -------
    Circle

    Raises
    ------
    InputError
        If there is no point, or one is not finite.
    """
    _require_points(points)
    flat = np.ascontiguousarray(points[:, :2], dtype=float)
    slack = _SLACK * float(np.ptp(flat, axis=0).max())
    held = [0]
    circle = (float(flat[0, 0]), float(flat[0, 1]), 0.0)
    for _ in range(_MOST_STEPS):
        apart = np.hypot(flat[:, 0] - circle[0], flat[:, 1] - circle[1])
        far = int(apart.argmax())
        if apart[far] <= circle[2] + slack:
            return Circle(x=circle[0], y=circle[1], radius=max(circle[2], float(apart[far])))
        circle, held = _smallest(flat, [*held, far], slack)
    raise SolveError("smallest circle", _MOST_STEPS, float(apart[far] - circle[2]))


def _smallest(
    flat: si.Metres, among: list[int], slack: si.Metre
) -> tuple[tuple[float, float, float], list[int]]:
    """Return the smallest circle of up to four points, and the points that hold it."""
    best: tuple[tuple[float, float, float], list[int]] | None = None
    for size in (2, 3):
        for chosen in combinations(among, size):
            circle = _through(flat[list(chosen)])
            if circle is None or (best is not None and circle[2] >= best[0][2]):
                continue
            apart = np.hypot(flat[among, 0] - circle[0], flat[among, 1] - circle[1])
            if (apart <= circle[2] + 2.0 * slack).all():
                best = circle, list(chosen)
    if best is None:
        raise SolveError("smallest circle of four points", len(among), slack)
    return best


def _through(corners: si.Metres) -> tuple[float, float, float] | None:
    """Return the circle on two points as its diameter, or through three; None: on one line."""
    if len(corners) == 2:
        x, y = corners.mean(axis=0)
        return float(x), float(y), 0.5 * float(np.hypot(*(corners[1] - corners[0])))
    b, c = corners[1] - corners[0], corners[2] - corners[0]
    twice = 2.0 * float(b[0] * c[1] - b[1] * c[0])
    bb, cc = float(b @ b), float(c @ c)
    if abs(twice) <= _SLACK * (bb + cc):
        return None
    x = (c[1] * bb - b[1] * cc) / twice
    y = (b[0] * cc - c[0] * bb) / twice
    return float(corners[0, 0] + x), float(corners[0, 1] + y), float(np.hypot(x, y))


def _require_points(points: si.Metres) -> None:
    if points.ndim != 2 or points.shape[0] < 1 or points.shape[1] < 2:
        raise InputError("points", points.shape, "", "of shape (1 or more, 2 or more)")
    require_finite("points", points, "m")
