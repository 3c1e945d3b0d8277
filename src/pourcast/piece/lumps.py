"""Lumps: an ellipsoid that sits on its parent, as one solid and as slices.

A lump of length L, from the surface of its parent to its tip, with the largest
width w and thickness t, is an ellipsoid cut off where its section comes down to
the section of the parent, and at its tip where it comes down to that of what
stands there.  With q and f those sections over its largest, r = √(1 - q²) and
r' = √(1 - f²), the whole axis is 2 L / (r + r') and at the share s of the length

    waist(s) = √(1 - x²),   x = s (r + r') - r                                 (1)
    V = ellipsoid - caps,   their heights axis (1 - r) / 2, axis (1 - r') / 2  (2)

Where nothing stands on the tip f is 0, and the lump ends in its pole.  Else f is
the largest of two: the area of all feet there over the largest section, as a
root, and the thickness of the thickest foot over that of the lump.  A foot that
is broader than the lump makes it end at its widest, f = 1.  So a caliper reads
L from the parent to where the next part begins, and no foot is narrowed.

Left out: the fillet at both ends, and ends that are not round.  A parent that
is thicker than 0.7 of the lump is taken as 0.7 of it (estimate), else the lump
would be cut near its middle.  A lump that stands on the tip of a lump has no
foot that was measured, so it counts for nothing in f; neither does a tip that is
joined there.  Both err to a neck that is too thin: the careful side.

For the flow of metal the lump is a row of tapers with straight sides.  A pole
is closed by a flat of 0.15 of the waist: in eight slices of like angle the last
taper then holds what the round tip holds (a paraboloid needs (√3 - 1)/2 of the
waist one slice before, which is 0.38).  All waists are then multiplied by one
number, 1.00 to 1.02, so that the slices hold the volume (2) to rounding.

Source: geometry of the ellipsoid; see `pourcast.piece.solids`.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.piece.solids import (
    ellipsoid_area,
    ellipsoid_cap_volume,
    ellipsoid_volume,
    spheroid_zone_area,
)

_WIDEST_BASE = 0.7  # of the largest section, estimate
_POLE = 0.15  # flat at the tip, of the largest section, see above
_SLICES = 8  # of like angle; children that sit on a lump add cuts


def base_ratio(parent: si.Metre, thickness: si.Metre) -> si.Ratio:
    """Section of a lump at its base, over its largest section.

    Parameters
    ----------
    parent : float [m]
        Least way across the parent at the joint.
    thickness : float [m]
        Least way across the lump.

    Returns
    -------
    float [-]
        At most 0.7.
    """
    return min(parent / thickness, _WIDEST_BASE)


def tip_ratio(
    area: si.SquareMetre, thickest: si.Metre, width: si.Metre, thickness: si.Metre
) -> si.Ratio:
    """Section of a lump at its tip over its largest section, f of equation (1).

    Parameters
    ----------
    area : float [m²]
        Of all feet that stand there together; 0: none.
    thickest : float [m]
        Least way across the thickest of them.
    width, thickness : float [m]
        Largest of the lump.

    Returns
    -------
    float [-]
        0 where nothing stands there; at most 1.
    """
    together = math.sqrt(4 * area / (math.pi * width * thickness))
    return min(1.0, max(together, thickest / min(width, thickness)))


def waist(share: si.Ratios, base: si.Ratio, tip: si.Ratio = 0.0) -> si.Ratios:
    """Section along a lump over its largest, equation (1), with the flat at the pole.

    Parameters
    ----------
    share : array [-], any shape
        Of the length, 0 at the base.
    base, tip : float [-]
        From `base_ratio` and `tip_ratio`.

    Returns
    -------
    array [-], shape of ``share``
    """
    below, above = _reaches(base, tip)
    x = share * (below + above) - below
    round_waist: si.Ratios = np.sqrt(np.maximum(0.0, 1 - x * x))
    # The base of a lump on a hair is thinner than the flat: the flat is for the tip alone.
    return np.where(x > 0, np.maximum(round_waist, _POLE), round_waist)


def lump_volume(
    length: si.Metre, width: si.Metre, thickness: si.Metre, base: si.Ratio, tip: si.Ratio = 0.0
) -> si.CubicMetre:
    """Volume of a lump, equation (2).

    Parameters
    ----------
    length, width, thickness : float [m]
        Length from the surface of the parent, largest width and thickness.
    base, tip : float [-]
        From `base_ratio` and `tip_ratio`.

    Returns
    -------
    float [m³]
    """
    axis, start, end = _span(length, base, tip)
    caps = sum(ellipsoid_cap_volume(axis, width, thickness, cap) for cap in (start, axis - end))
    return ellipsoid_volume(axis, width, thickness) - caps


def lump_side(
    length: si.Metre, width: si.Metre, thickness: si.Metre, base: si.Ratio, tip: si.Ratio = 0.0
) -> si.SquareMetre:
    """Surface of a lump without its base, and without what feet cover at its tip.

    Exact where it is round; else the whole ellipsoid (1.1 % at most) times the
    share of a round one with the same section (estimate).

    Parameters
    ----------
    length, width, thickness : float [m]
        Length from the surface of the parent, largest width and thickness.
    base, tip : float [-]
        From `base_ratio` and `tip_ratio`.

    Returns
    -------
    float [m²]
    """
    axis, start, end = _span(length, base, tip)
    mean = math.sqrt(width * thickness)
    side = spheroid_zone_area(axis, mean, start, end)
    if math.isclose(width, thickness):
        return side
    whole = spheroid_zone_area(axis, mean, 0.0, axis)
    return side * ellipsoid_area(axis, width, thickness) / whole


def even_slices(
    stops: si.Ratios, base: si.Ratio, tip: si.Ratio = 0.0
) -> tuple[si.Radians, si.Radian]:
    """Angles of the stops about the middle of the lump, and the angle of one slice.

    Parameters
    ----------
    stops : array [-], shape (stops,)
        Shares of the length, from 0 to 1.
    base, tip : float [-]
        From `base_ratio` and `tip_ratio`.

    Returns
    -------
    angles : array [rad], shape (stops,)
    slice : float [rad]
    """
    below, above = _reaches(base, tip)
    x = np.clip(stops * (below + above) - below, -1.0, 1.0)
    angles: si.Radians = np.arccos(-x)
    return angles, float(angles[-1] - angles[0]) / _SLICES


def share_at(angles: si.Radians, base: si.Ratio, tip: si.Ratio = 0.0) -> si.Ratios:
    """Shares of the length at angles about the middle; the inverse of `even_slices`.

    Parameters
    ----------
    angles : array [rad], any shape
    base, tip : float [-]
        From `base_ratio` and `tip_ratio`.

    Returns
    -------
    array [-], shape of ``angles``
    """
    below, above = _reaches(base, tip)
    return np.clip((below - np.cos(angles)) / (below + above), 0.0, 1.0)


def slice_scale(share: si.Ratios, base: si.Ratio, tip: si.Ratio = 0.0) -> si.Ratio:
    """Factor on the waists of the slices that keeps the volume.

    Parameters
    ----------
    share : array [-], shape (slices + 1,)
        Places of the cuts, from 0 to 1.
    base, tip : float [-]
        From `base_ratio` and `tip_ratio`.

    Returns
    -------
    float [-]
    """
    cut = waist(share, base, tip)
    tapers = np.diff(share) * (cut[:-1] ** 2 + cut[:-1] * cut[1:] + cut[1:] ** 2) / 3
    # Length and largest section 1: the solid is then 4/π of its volume.
    return math.sqrt(lump_volume(1.0, 1.0, 1.0, base, tip) * 4 / math.pi / float(tapers.sum()))


def _reaches(base: si.Ratio, tip: si.Ratio) -> tuple[si.Ratio, si.Ratio]:
    """Return how far the lump goes to both sides of its middle, over half its axis."""
    return math.sqrt(1 - base * base), math.sqrt(1 - tip * tip)


def _span(length: si.Metre, base: si.Ratio, tip: si.Ratio) -> tuple[si.Metre, si.Metre, si.Metre]:
    """Return the whole axis, and where along it the lump begins and ends."""
    below, above = _reaches(base, tip)
    axis = 2 * length / (below + above)
    end = axis * (1 + above) / 2
    return axis, end - length, end
