"""Outline: how wide is a part, and where does it end, below one pixel?

Along a chord square to the middle line the light rises from that of the part to
that of the ground.  Its edge lies where the light is half way between the two,
whatever the blur, as long as the part is wider than the blur.  Read between two
samples by a straight line.

Left out: a part narrower than about twice the blur of the picture reads too
wide, for its middle is no longer as dark as it is.
"""

import numpy as np
from scipy import ndimage

from pourcast import units as si
from pourcast.photo.model import Pixel, Pixels

_STEP = 0.5  # pixels between samples of a chord
_CORE = 0.35  # of the radius: so far from the middle the light is that of the part


def headings(line: Pixels, reach: Pixels) -> Pixels:
    """Return the direction of a line at each place, over a reach to both sides.

    Parameters
    ----------
    line : array [px], shape (places, 2)
    reach : array [px], shape (places,)

    Returns
    -------
    array [px], shape (places, 2)
        Unit vectors.
    """
    steps = np.hypot(*np.diff(line, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    ahead = np.minimum(along + reach, along[-1])
    behind = np.maximum(along - reach, 0.0)
    way = np.stack(
        [
            np.interp(ahead, along, line[:, k]) - np.interp(behind, along, line[:, k])
            for k in (0, 1)
        ],
        axis=1,
    )
    length = np.hypot(*way.T)
    return np.asarray(way / np.maximum(length, 1e-12)[:, None])


def chords(
    light: si.Ratios, line: Pixels, way: Pixels, radius: Pixels, reach: Pixels | None = None
) -> tuple[Pixels, Pixels]:
    """Return how far the part reaches to the left and the right of its middle line.

    Parameters
    ----------
    light : array [-], shape (rows, columns)
        Over that of the ground.
    line, way : array [px], shape (places, 2)
    radius : array [px], shape (places,)
        Of the circle about the place that the part holds.
    reach : array [px], shape (places,), or None
        About half the width; None: as ``radius``.

    Returns
    -------
    left, right : array [px], shape (places,)
        nan where no edge lies within 1.6 of the reach and 6 pixels.
    """
    reach = radius if reach is None else reach
    most = float(1.6 * reach.max() + 6.0)
    away = np.arange(0.0, most + _STEP, _STEP)
    # Right of the way as seen in the picture, whose rows count downwards.
    square = np.stack([-way[:, 1], way[:, 0]], axis=1)
    sides = []
    for sign in (-1.0, 1.0):
        places = line[:, None] + sign * away[None, :, None] * square[:, None]
        rows, columns = places[..., 1], places[..., 0]
        sides.append(ndimage.map_coordinates(light, [rows, columns], order=1, mode="nearest"))
    within = away[None] <= np.maximum(_CORE * radius, _STEP)[:, None]
    both = np.concatenate([np.where(within, side, np.nan) for side in sides], axis=1)
    core = np.nanmedian(both, axis=1)
    level = 0.5 * (1.0 + core)
    found = []
    for side in sides:
        over = side > level[:, None]
        over &= away[None] <= (1.6 * reach + 6.0)[:, None]
        k = np.argmax(over, axis=1)
        place = np.arange(len(side))
        low, high = side[place, np.maximum(k - 1, 0)], side[place, k]
        part = np.clip((level - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0)
        found.append(np.where(over.any(axis=1) & (k > 0), _STEP * (k - 1 + part), np.nan))
    return found[0], found[1]


def end_of(light: si.Ratios, place: Pixels, way: Pixels, most: Pixel) -> Pixel:
    """Return how far from a place inside the part its end lies, along a direction.

    Parameters
    ----------
    light : array [-], shape (rows, columns)
    place, way : array [px], shape (2,)
    most : float [px]
        No farther than this.

    Returns
    -------
    float [px]
    """
    away = np.arange(0.0, max(most, 2.0) + 0.25, 0.25)
    places = place[:, None] + way[:, None] * away
    seen = ndimage.map_coordinates(light, places[::-1], order=1, mode="nearest")
    level = 0.5 * (1.0 + float(seen[: max(2, len(seen) // 8)].min()))
    over = np.flatnonzero(seen > level)
    if not over.size or over[0] == 0:
        return 0.0 if over.size else float(away[-1])
    k = int(over[0])
    low, high = float(seen[k - 1]), float(seen[k])
    return float(0.25 * (k - 1 + (level - low) / (high - low)))
