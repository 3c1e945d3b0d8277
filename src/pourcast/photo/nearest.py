"""Nearest: which place of a line lies nearest to another place?"""

from typing import Annotated, TypeAlias

import numpy as np

from pourcast import units as si

Lengths: TypeAlias = Annotated[si.Floats, si.Unit("m or px")]


def nearest(
    places: Lengths, line: Lengths, *, over: bool = False
) -> tuple[si.Integers, si.Ratios, Lengths]:
    """Return for each place where on a line the nearest one lies, and how it lies off that.

    Parameters
    ----------
    places : array [m or px], shape (places, dimensions)
    line : array [m or px], shape (vertices, dimensions)
    over : bool
        True: the line goes on straight over its ends.

    Returns
    -------
    stretch : array of int [-], shape (places,)
        The nearest place lies between the vertex of this number and the next.
    share : array [-], shape (places,)
        How far along that stretch.
    off : array [m or px], shape (places, dimensions)
        From the line to the place.
    """
    steps = np.diff(line, axis=0)
    low, high = np.zeros(len(steps)), np.ones(len(steps))
    if over:
        low[0], high[-1] = -np.inf, np.inf
    apart = places[:, None] - line[None, :-1]
    share = (apart * steps).sum(axis=2) / np.maximum((steps**2).sum(axis=1), 1e-18)
    share = np.clip(share, low, high)
    off = apart - share[..., None] * steps
    stretch = np.linalg.norm(off, axis=2).argmin(axis=1)
    row = np.arange(len(places))
    return stretch, share[row, stretch], off[row, stretch]
