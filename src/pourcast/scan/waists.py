"""Waists: where a strand is narrow between two bulges, as an insect between head, chest and tail.

Where each part is a surface of its own the wall tells it.  In one closed surface a ray
at the waist runs along it, not through it, and a neck is often no longer than one piece.
There the cells that a piece holds tell the diameter of a like circle,

    d = √(4 V / (π s))                                                         (1)

with the volume V of the piece and the width s of its band.  A bulge that is flattened by
a quarter has √(1/0.75) of its wall for d, and more is not taken, since feet of legs and
shoots add to what a piece holds.  It is no farther from its neck than it is thick: what
narrows over a longer way is a taper.

The limits are our own choice, tried on a few drawn plants (estimate).
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.scan.model import Pieces
from pourcast.scan.slices import FLAT, Slices
from pourcast.scan.steps import LEAST, filled, smoothed

WAIST = 1.3
"""Ratio of a bulge to the waist beside it that makes a cut."""

NECK = 1.25
"""The same by equation (1); bands of two and of three cells alone make √1.5 = 1.22."""

_FLATTENED = 1.15  # of its wall, that a bulge is across by equation (1), at most
_TOLD = 2.5  # bands; equation (1) tells the section of what is as thick as that


def neck(line: si.Integers, pieces: Pieces, slices: Slices, wide: si.Ratios) -> int | None:
    """Return the place of a neck between two thick bulges of one surface; None: there is none.

    Parameters
    ----------
    line : array of int, shape (pieces of the strand,)
        In their order.
    pieces : Pieces
    slices : Slices
    wide : array [-], shape (pieces of the strand,)
        Logarithm of the width [m].

    Returns
    -------
    int or None
    """
    held = np.maximum(np.sqrt(4.0 / math.pi * pieces.volume[line] / pieces.step), 1e-6)
    wall = smoothed(filled(slices.through[line], slices.deep[line]))
    size = np.minimum(held, _FLATTENED * wall)
    at = np.arange(len(line))
    near = (np.abs(at[:, None] - at) * pieces.step <= size) & (size >= _TOLD * pieces.step)
    bulge = np.where(near, size, 1e-6)
    beside = np.minimum(np.tril(bulge).max(axis=1), np.triu(bulge).max(axis=1))
    return _narrowest(wide, np.log(held), np.log(beside), NECK)


def waist(wide: si.Ratios, through: si.Ratios) -> int | None:
    """Return the narrowest place between two bulges of a round strand; None: there is none.

    Parameters
    ----------
    wide, through : array [-], shape (pieces of the strand,)
        Logarithms of width and wall [m].

    Returns
    -------
    int or None
    """
    size = smoothed(through)
    before = np.maximum.accumulate(size)
    after = np.maximum.accumulate(size[::-1])[::-1]
    return _narrowest(wide, size, np.minimum(before, after), WAIST)


def _narrowest(wide: si.Ratios, size: si.Ratios, beside: si.Ratios, least: si.Ratio) -> int | None:
    """Return where a round strand is so much narrower than the bulges beside; None: nowhere."""
    if np.median(wide - size) > math.log(FLAT) or len(wide) < 5:
        return None
    depth = beside - size
    place = int(depth.argmax())
    if depth[place] < math.log(least) or place < LEAST or len(size) - place < LEAST:
        return None
    return place
