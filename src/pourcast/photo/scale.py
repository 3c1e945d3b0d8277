"""Scale: how large is a pixel on the bench?

The mark is a straight dark bar of known length.  Of all dark pieces it is the
one that fills the narrow rectangle about it; its ends are read along its middle
at half the light between bar and ground, below one pixel.

A pixel is that large in the plane of the mark only.  What stands nearer to the
camera by y looks larger by D / (D - y), at the distance D: 30 mm at 1 m are 3 %.

Left out: the distortion of the lens, and a mark that lies at a slant.
"""

import math

import numpy as np
from scipy import ndimage

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.photo.model import Mark, PerPixel, Pixel, Pixels, Scale, ScaleGiven, TwoPoints

_LEAST_ASPECT = 7.0  # length over width of a bar; estimate
_LEAST_FILL = 0.88  # of the rectangle about it; rounded corners and blur; estimate
_LEAST_LENGTH = 60.0  # pixels; half a pixel at either end is then 1 %
_END_ERROR = 0.5  # pixels at each end, a person's finger on the screen; estimate
_READ_ERROR = 0.2  # pixels at each end, read at half the light; estimate
_KNOWN = 0.005  # of the mark's own length: a ruler of a studio; estimate


def find_scale(
    given: ScaleGiven, light: si.Ratios, pieces: si.Integers, reduced: int
) -> tuple[Scale, int]:
    """Return the scale, and the number of the piece that is the mark (0: none).

    Parameters
    ----------
    given : Mark, TwoPoints or PerPixel
    light : array [-], shape (rows, columns)
        Over that of the ground.
    pieces : array of int, shape (rows, columns)
        Dark pieces.
    reduced : int
        Pixels of the file along one side of a pixel here.

    Returns
    -------
    Scale
    int

    Raises
    ------
    InputError
        If the mark is not found, or the points are too near to each other.
    """
    if isinstance(given, PerPixel):
        require_positive("mm per pixel", 1e3 * given.size, "mm")
        return Scale(size=given.size * reduced, error=_KNOWN), 0
    require_positive("length of the mark", given.length, "m")
    if isinstance(given, TwoPoints):
        first = _shrunk(given.first, reduced)
        second = _shrunk(given.second, reduced)
        apart = math.dist(first, second)
        if apart < _LEAST_LENGTH:
            raise InputError(
                "scale points",
                f"{apart * reduced:.0f}",
                "pixels apart",
                f"at least {_LEAST_LENGTH * reduced:.0f}",
                "Choose two marks of the ruler that are farther apart.",
            )
        error = math.hypot(_KNOWN, math.sqrt(2) * _END_ERROR / apart)
        return Scale(size=given.length / apart, error=error, mark=(first, second)), 0
    return _from_mark(given, light, pieces)


def _shrunk(point: tuple[Pixel, Pixel], reduced: int) -> tuple[Pixel, Pixel]:
    return (point[0] + 0.5) / reduced - 0.5, (point[1] + 0.5) / reduced - 0.5


def _from_mark(given: Mark, light: si.Ratios, pieces: si.Integers) -> tuple[Scale, int]:
    bars = []
    for number, box in enumerate(ndimage.find_objects(pieces), start=1):
        if box is None or max(s.stop - s.start for s in box) < _LEAST_LENGTH:
            continue
        row, column = np.nonzero(pieces[box] == number)
        points = np.stack([column + box[1].start, row + box[0].start], axis=1).astype(np.float64)
        bar = _as_bar(points)
        if bar is not None:
            bars.append((points[:, 1].mean(), number, *bar))
    if not bars:
        raise InputError(
            "scale mark",
            "not found",
            "",
            f"a straight dark bar, {_LEAST_ASPECT:.0f} times as long as wide and clear of all else",
            "Put it in the picture, or give two points and a length, or mm per pixel.",
        )
    _, number, middle, way, half = max(bars)
    first = _end(light, middle, -way, half)
    second = _end(light, middle, way, half)
    apart = first + second
    ends = middle - first * way, middle + second * way
    return (
        Scale(
            size=given.length / apart,
            error=math.hypot(_KNOWN, math.sqrt(2) * _READ_ERROR / apart),
            mark=((float(ends[0][0]), float(ends[0][1])), (float(ends[1][0]), float(ends[1][1]))),
        ),
        number,
    )


def _as_bar(points: Pixels) -> tuple[Pixels, Pixels, Pixel] | None:
    """Return middle, direction and half length of a piece that is a bar, else None."""
    middle = points.mean(axis=0)
    spread, ways = np.linalg.eigh(np.cov((points - middle).T))
    way = ways[:, 1] if ways[0, 1] >= 0 else -ways[:, 1]
    along, across = (points - middle) @ way, (points - middle) @ ways[:, 0]
    long, wide = np.ptp(along) + 1.0, np.ptp(across) + 1.0
    # A whole bar has spreads of length²/12 and width²/12; the tilted grid blurs the box by a pixel.
    thick = max(wide - 1.0, math.sqrt(12.0 * max(spread[0], 0.0)))
    if long < _LEAST_LENGTH or long < _LEAST_ASPECT * thick:
        return None
    if len(points) < _LEAST_FILL * long * max(1.0, wide - 1.0):
        return None
    return middle, way, 0.5 * long


def _end(light: si.Ratios, middle: Pixels, way: Pixels, half: Pixel) -> Pixel:
    """Return how far from the middle the bar ends, at half the light."""
    away = np.arange(0.0, half + 12.0, 0.25)
    places = middle[:, None] + way[:, None] * away
    seen = ndimage.map_coordinates(light, places[::-1], order=1, mode="nearest")
    level = 0.5 * (1.0 + float(np.median(seen[away < half - 4.0])))
    after = np.flatnonzero((seen >= level) & (away > half - 6.0))
    k = int(after[0]) if after.size else int(np.searchsorted(away, half))
    low, high = float(seen[k - 1]), float(seen[min(k, len(seen) - 1)])
    part = (level - low) / (high - low) if high > low else 0.5
    return float(away[k - 1] + 0.25 * min(1.0, max(0.0, part)))
