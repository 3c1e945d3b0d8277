"""Lumps: an ellipsoid that sits on its parent, as one solid and as slices.

A lump of length L, from the surface of its parent to its tip, with the largest
width w and thickness t, is an ellipsoid cut off where its section comes down to
the section of the parent.  With q that section over its largest and r = √(1 - q²)
the whole axis is 2 L / (1 + r), and at the share s of the length

    waist(s) = √(1 - x²),   x = s (1 + r) - r                                  (1)
    V = ellipsoid - cap,    height of the cap = axis (1 - r) / 2               (2)

Left out: the fillet at the base, and a base that is not round.  A parent that
is thicker than 0.7 of the lump is taken as 0.7 of it (estimate), else the lump
would be cut near its middle.

For the flow of metal the lump is a row of tapers with straight sides.  Its pole
is closed by a flat of 0.15 of the waist: in eight slices of like angle the last
taper then holds what the round tip holds (a paraboloid needs (√3 - 1)/2 of the
waist one slice before, which is 0.38).  All waists are then multiplied by one
number, 1.01 to 1.02, so that the slices hold the volume (2) to rounding.

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


def waist(share: si.Ratios, base: si.Ratio) -> si.Ratios:
    """Section along a lump over its largest, equation (1), with the flat at the pole.

    Parameters
    ----------
    share : array [-], any shape
        Of the length, 0 at the base.
    base : float [-]
        From `base_ratio`.

    Returns
    -------
    array [-], shape of ``share``
    """
    rise = math.sqrt(1 - base * base)
    x = share * (1 + rise) - rise
    round_waist: si.Ratios = np.sqrt(np.maximum(0.0, 1 - x * x))
    # The base of a lump on a hair is thinner than the flat: the flat is for the tip alone.
    return np.where(x > 0, np.maximum(round_waist, _POLE), round_waist)


def lump_volume(
    length: si.Metre, width: si.Metre, thickness: si.Metre, base: si.Ratio
) -> si.CubicMetre:
    """Volume of a lump, equation (2).

    Parameters
    ----------
    length, width, thickness : float [m]
        Length from the surface of the parent, largest width and thickness.
    base : float [-]
        From `base_ratio`.

    Returns
    -------
    float [m³]
    """
    axis = _axis(length, base)
    cap = ellipsoid_cap_volume(axis, width, thickness, axis - length)
    return ellipsoid_volume(axis, width, thickness) - cap


def lump_side(
    length: si.Metre, width: si.Metre, thickness: si.Metre, base: si.Ratio
) -> si.SquareMetre:
    """Surface of a lump without its base.

    Exact where it is round; else the whole ellipsoid (1.1 % at most) times the
    share of a round one with the same section (estimate).

    Parameters
    ----------
    length, width, thickness : float [m]
        Length from the surface of the parent, largest width and thickness.
    base : float [-]
        From `base_ratio`.

    Returns
    -------
    float [m²]
    """
    axis = _axis(length, base)
    mean = math.sqrt(width * thickness)
    side = spheroid_zone_area(axis, mean, axis - length, axis)
    if math.isclose(width, thickness):
        return side
    whole = spheroid_zone_area(axis, mean, 0.0, axis)
    return side * ellipsoid_area(axis, width, thickness) / whole


def even_slices(stops: si.Ratios, base: si.Ratio) -> tuple[si.Radians, si.Radian]:
    """Angles of the stops about the middle of the lump, and the angle of one slice.

    Parameters
    ----------
    stops : array [-], shape (stops,)
        Shares of the length, from 0 to 1.
    base : float [-]
        From `base_ratio`.

    Returns
    -------
    angles : array [rad], shape (stops,)
    slice : float [rad]
    """
    rise = math.sqrt(1 - base * base)
    x = np.clip(stops * (1 + rise) - rise, -1.0, 1.0)
    angles: si.Radians = np.arccos(-x)
    return angles, float(angles[-1] - angles[0]) / _SLICES


def share_at(angles: si.Radians, base: si.Ratio) -> si.Ratios:
    """Shares of the length at angles about the middle; the inverse of `even_slices`.

    Parameters
    ----------
    angles : array [rad], any shape
    base : float [-]
        From `base_ratio`.

    Returns
    -------
    array [-], shape of ``angles``
    """
    rise = math.sqrt(1 - base * base)
    return np.clip((rise - np.cos(angles)) / (1 + rise), 0.0, 1.0)


def slice_scale(share: si.Ratios, base: si.Ratio) -> si.Ratio:
    """Factor on the waists of the slices that keeps the volume.

    Parameters
    ----------
    share : array [-], shape (slices + 1,)
        Places of the cuts, from 0 to 1.
    base : float [-]
        From `base_ratio`.

    Returns
    -------
    float [-]
    """
    cut = waist(share, base)
    tapers = np.diff(share) * (cut[:-1] ** 2 + cut[:-1] * cut[1:] + cut[1:] ** 2) / 3
    # Length and largest section 1: the solid is then 4/π of its volume.
    return math.sqrt(lump_volume(1.0, 1.0, 1.0, base) * 4 / math.pi / float(tapers.sum()))


def _axis(length: si.Metre, base: si.Ratio) -> si.Metre:
    return 2 * length / (1 + math.sqrt(1 - base * base))
