"""Fit: how well does a plain shape go with the widths along a stick?

A straight taper is w = a + b s.  A lump is the ellipse of
`pourcast.piece.model`, cut where it sits on what bears it: with q the width
there over the largest W, r = √(1 - q²) and s from 0 to 1

    w = W √(1 - x²),  x = s (1 + r) - r                                        (1)

A shape costs the sum of (miss / spread)².  The spread of a width is a third of
a pixel and 3 % of it (estimate: real stems are no cones), and more where the
ellipse is steep, for blur spreads a width along the line.  Left out: a hollow,
a wavy edge, a lump that is widest at one end.
"""

import math
from dataclasses import dataclass, replace
from typing import Annotated, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.photo.model import Pixel, Pixels

Weights: TypeAlias = Annotated[si.Floats, si.Unit("1/px²")]

BASES = (0.1, 0.2, 0.35, 0.5, 0.7)
"""Widths of a lump at its base over the largest that are tried [-]; the last is the most."""

NEWS = 0.25
"""Of the places along a line, that are news: neighbouring pixels share their noise (estimate)."""

_PIXEL_SPREAD = 0.35  # pixels
_SHARE_SPREAD = 0.03
_POLE = 0.15  # a lump ends in a flat of this much of its width
_LEAST_ROD = 1.5  # a taper is longer than wide by this (estimate)
_LEAST_LUMP_LENGTH = 0.6  # of its width (estimate)
_SHORT = 60.0  # price of a part shorter than that
_BLURRED = 1.5  # pixels along the line that a width is spread over


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """A shape along a stretch.

    Parameters
    ----------
    cost : float [-]
        In squares of the spread.
    lump : bool
    first, last : float [px]
        Widths at its ends; of a lump the largest, twice; nan where none was read.
    """

    cost: si.Ratio
    lump: bool
    first: Pixel
    last: Pixel


def spread_of(width: Pixels) -> Pixels:
    """Return one standard deviation of a width.

    Parameters
    ----------
    width : array [px], any shape

    Returns
    -------
    array [px], shape of ``width``
    """
    return np.hypot(_PIXEL_SPREAD, _SHARE_SPREAD * width)


def weight_of(width: Pixels) -> Weights:
    """Return what a place counts in a fit, 1 over the square of its spread.

    Parameters
    ----------
    width : array [px], any shape

    Returns
    -------
    array [1/px²], shape of ``width``
    """
    return np.asarray(NEWS / spread_of(width) ** 2)


def fit(along: Pixels, width: Pixels, start: Pixel, end: Pixel) -> Fit:
    """Return the better of taper and lump over a stretch.

    Parameters
    ----------
    along, width : array [px], shape (places,)
    start, end : float [px]

    Returns
    -------
    Fit
    """
    use = (along >= start) & (along < end)
    s, w = (along[use] - start) / max(end - start, 1e-9), width[use]
    if len(w) == 0:
        return Fit(cost=0.0, lump=False, first=math.nan, last=math.nan)
    if len(w) < 3:
        return Fit(cost=_SHORT, lump=False, first=float(w.mean()), last=float(w.mean()))
    straight = taper_fit(s, w, weight_of(w))
    if end - start < _LEAST_ROD * 0.5 * (straight.first + straight.last):
        straight = replace(straight, cost=straight.cost + _SHORT)
    lump = lump_fit(s, w, end - start)
    return lump if lump.cost < straight.cost else straight


def lump_fit(s: si.Ratios, w: Pixels, length: Pixel) -> Fit:
    """Return the best lump, equation (1), of several bases.

    Parameters
    ----------
    s : array [-], shape (places,)
        Share of the length.
    w : array [px], shape (places,)
    length : float [px]

    Returns
    -------
    Fit
    """
    q = np.array(BASES)[:, None]
    r = np.sqrt(1.0 - q * q)
    x = s * (1.0 + r) - r
    shape = np.sqrt(np.maximum(0.0, 1.0 - x * x))
    shape = np.where(x > 0, np.maximum(shape, _POLE), shape)
    steep = np.abs(x) * (1.0 + r) / np.maximum(shape, _POLE) / max(length, 1.0)
    guess = float(np.percentile(w, 90))
    variance = spread_of(w) ** 2 + (_BLURRED * guess * steep) ** 2
    weight = NEWS / variance
    big = (weight * shape * w).sum(axis=1) / (weight * shape * shape).sum(axis=1)
    miss = np.minimum((w - big[:, None] * shape) ** 2, 36.0 * variance)
    cost = (weight * miss).sum(axis=1)
    k = int(np.argmin(cost))
    size = float(big[k])
    short = _SHORT if length < _LEAST_LUMP_LENGTH * size else 0.0
    return Fit(cost=float(cost[k]) + short, lump=True, first=size, last=size)


def taper_fit(s: si.Ratios, w: Pixels, weight: Weights) -> Fit:
    """Return the best straight taper, fitted again without what lies far off it.

    Parameters
    ----------
    s : array [-], shape (places,)
        Share of the length.
    w : array [px], shape (places,)
    weight : array [1/px²], shape (places,)

    Returns
    -------
    Fit
    """
    use = np.ones(len(w), dtype=bool)
    a, b = float(np.median(w)), 0.0
    for _ in range(3):
        k = weight * use
        total, ms = k.sum(), (k * s).sum()
        mss, mw, msw = (k * s * s).sum(), (k * w).sum(), (k * s * w).sum()
        det = total * mss - ms * ms
        if det <= 1e-12 * total * total:
            break
        a, b = float((mss * mw - ms * msw) / det), float((total * msw - ms * mw) / det)
        far = np.abs(w - a - b * s) * np.sqrt(weight) * 2.0
        now = far < 4.0
        if now.sum() < 0.8 * len(w):
            break
        use = now
    miss = np.abs(w - a - b * s)
    cost = float((weight * np.minimum(miss, 6 * np.sqrt(NEWS / weight)) ** 2).sum())
    return Fit(cost=cost, lump=False, first=max(a, 0.2), last=max(a + b, 0.2))


def taper_costs(along: Pixels, width: Pixels, edges: Pixels) -> si.Ratios:
    """Return the cost of a straight taper from each edge to each, by sums up to each edge.

    Parameters
    ----------
    along, width : array [px], shape (places,)
    edges : array [px], shape (edges,)

    Returns
    -------
    array [-], shape (edges, edges)
    """
    k = weight_of(width)
    terms = np.stack([k, k * along, k * along**2, k * width, k * along * width, k * width**2])
    sums = np.concatenate([np.zeros((6, 1)), np.cumsum(terms, axis=1)], axis=1)
    at = sums[:, np.searchsorted(along, edges)]
    total, s1, s2, w1, sw, w2 = at[:, None, :] - at[:, :, None]
    safe = np.maximum(total, 1e-12)
    ss, cross = s2 - s1 * s1 / safe, sw - s1 * w1 / safe
    cost = w2 - w1 * w1 / safe - np.where(ss > 1e-9, cross**2 / np.maximum(ss, 1e-9), 0.0)
    length = edges[None, :] - edges[:, None]
    short = length < _LEAST_ROD * w1 / safe
    return np.where(total > 0, np.maximum(cost, 0.0) + _SHORT * short, 0.0)
