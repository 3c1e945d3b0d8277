"""Joints: which of two bodies at one joint a third one grows on.

The rays of a whorl leave the stem at one place and lie against each other for a
few millimetres, so a ray may have more contact with its neighbour than with the
stem.  A part begins inside what it grows on and meets a neighbour only on its
way out.  So of two bodies that it meets at one joint, where the one hangs on the
other, a body hangs on the one whose contact lies farther from its own middle, if
that is no mere graze.

Contact is told by cells, so two joints closer to each other than a cell are one.
"""

import numpy as np
from scipy import ndimage
from scipy.spatial import cKDTree

from pourcast import units as si

_HELD = 1 / 3
"""Least contact with what bears a body, of that with its neighbour; estimate.

Rays of drawn seed heads had 0.6 and more, the feelers of an insect, which reach through its
head and graze the chest, 0.2 at most.
"""

_NEAR = 1  # cells between two contacts of one joint; estimate


def parted(place: si.Integers, body: si.Integers, hangs: si.Integers) -> si.Integers:
    """Return the body that each body hangs on, neighbours at a joint told from what bears them.

    Parameters
    ----------
    place : array of int, shape (entries, 3)
        Cells; one that lies in two bodies stands there twice.
    body : array of int, shape (entries,)
    hangs : array of int, shape (bodies,)
        From `pourcast.scan.bodies.hung`.

    Returns
    -------
    array of int, shape (bodies,)
        As ``hangs``.
    """
    if (hangs >= 0).sum() < 2:
        return hangs
    hangs = hangs.copy()
    grids = _Grids(place, body, len(hangs))
    for one in _from_the_gate(hangs):
        # At most as many times as there are bodies on the way to the gate.
        while (over := int(hangs[one])) >= 0 and (next_ := int(hangs[over])) >= 0:
            if not grids.farther(one, next_, over):
                break
            hangs[one] = next_
    return hangs


def _from_the_gate(hangs: si.Integers) -> list[int]:
    order = np.flatnonzero(hangs == -1).tolist()
    for one in order:
        order += np.flatnonzero(hangs == one).tolist()
    return order


class _Grids:
    """Contacts between bodies, each found once."""

    def __init__(self, place: si.Integers, body: si.Integers, many: int) -> None:
        order = np.argsort(body, kind="stable")
        ends = np.searchsorted(body[order], np.arange(1, many))
        self._cells = [place[some] for some in np.split(order, ends)]
        self._met: dict[tuple[int, int], si.Integers] = {}

    def farther(self, one: int, bears: int, beside: int) -> bool:
        """Say whether a body meets two others at one joint, and the first nearer to its end."""
        root, side = self._contact(one, bears), self._contact(one, beside)
        joint = self._contact(beside, bears)
        if not len(side) or not len(joint) or len(root) < _HELD * len(side):
            return False
        if not (_close(side, joint) and _close(root, joint)):
            return False
        middle = self._cells[one].mean(axis=0)
        away = [float(np.linalg.norm(some - middle, axis=1).mean()) for some in (root, side)]
        return away[0] > away[1]

    def _contact(self, one: int, other: int) -> si.Integers:
        """Return the cells of a body that lie in another or beside it."""
        if (one, other) not in self._met:
            self._met[one, other] = _beside(self._cells[one], self._cells[other])
        return self._met[one, other]


def _beside(cells: si.Integers, others: si.Integers) -> si.Integers:
    low, high = others.min(axis=0) - 1, others.max(axis=0) + 1
    near: si.Integers = cells[((cells >= low) & (cells <= high)).all(axis=1)]
    if not len(near):
        return near
    grid = np.zeros(tuple(high - low + 1), dtype=bool)
    grid[tuple((others - low).T)] = True
    grid = ndimage.binary_dilation(grid)
    found: si.Integers = near[grid[tuple((near - low).T)]]
    return found


def _close(one: si.Integers, other: si.Integers) -> bool:
    """Say whether some cells of two contacts are near to each other."""
    apart, _ = cKDTree(one).query(other, distance_upper_bound=_NEAR + 0.9)
    return bool(np.isfinite(apart).any())
