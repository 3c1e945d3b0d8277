"""Places: where along the segments are sections and loads looked at?

Each segment is looked at in the 6 places of Gauss's rule, which sums a straight,
even beam under an even load exactly, and a needle to 1/5 of its thickness to 0.1 %.

Source: Gauss's rule of integration, any book of numerical analysis.
"""

import numpy as np

from pourcast import units as si
from pourcast.materials.draws import ArrayInSI
from pourcast.mould.model import Limbs, SecondMoments
from pourcast.mould.stiffness import core, moments
from pourcast.piece.model import Network

_NODES, _HALVES = np.polynomial.legendre.leggauss(6)

PLACES: si.Ratios = 0.5 * _NODES + 0.5
"""Along a segment, 0 to 1."""

WEIGHTS: si.Ratios = 0.5 * _HALVES
"""What share of the segment each place stands for."""


def frames(network: Network) -> si.Ratios:
    """Return the directions of each segment.

    Parameters
    ----------
    network : Network

    Returns
    -------
    array [-], shape (segments, 3, 3)
        Rows: along, along the width, through the thickness.
    """
    along = network.end_position - network.start_position
    along = along / np.sqrt((along**2).sum(axis=1))[:, None]
    if network.across is None:
        # Any direction that is not along: sections of such a network are round.
        least = np.eye(3)[np.abs(along).argmin(axis=1)]
        across = cross(along, least)
    else:
        across = network.across - (network.across * along).sum(axis=1)[:, None] * along
    across = across / np.sqrt((across**2).sum(axis=1))[:, None]
    return np.stack([along, across, cross(along, across)], axis=1)


def sizes_at_places(network: Network) -> tuple[si.Metres, si.Metres]:
    """Return width and thickness at the places of each segment, coat included.

    Parameters
    ----------
    network : Network

    Returns
    -------
    width, thickness : array [m], shape (segments, places)
    """
    width = network.width[:, :1] + np.diff(network.width, axis=1) * PLACES
    thickness = network.thickness[:, :1] + np.diff(network.thickness, axis=1) * PLACES
    return width, thickness


def section_moments(
    network: Network, found: Limbs, coats: si.Metres, lump: si.Booleans
) -> tuple[SecondMoments, SecondMoments]:
    """Return second moments of the original and of its coat at the places of each segment.

    Parameters
    ----------
    network : Network
    found : Limbs
    coats : array [m], shape (parts,)
    lump : array of bool, shape (parts,)

    Returns
    -------
    core, coat : array [m⁴], shape (segments, places, 2)
        For a bend through the thickness and through the width.
    """
    part = network.member_part[network.member]
    width, thickness = sizes_at_places(network)
    coat = coats[part][:, None]
    kind = network.section[:, None]
    whole = moments(kind, width, thickness)
    inner = moments(kind, core(width, coat), core(thickness, coat))
    base = found.first[network.member]
    floor = np.where(lump[part], base, np.arange(base.size))
    at_base = whole[floor, :1], inner[floor, :1]
    thick = lump[part][:, None, None]
    whole = np.where(thick, np.maximum(whole, at_base[0]), whole)
    inner = np.where(thick, np.maximum(inner, at_base[1]), inner)
    return inner, np.maximum(whole - inner, 0.0)


def step_weights(network: Network) -> si.Metres:
    """Return the length that each place of each segment stands for [m].

    Parameters
    ----------
    network : Network

    Returns
    -------
    array [m], shape (segments, places)
    """
    return np.asarray(network.length[:, None] * WEIGHTS)


def to_tip(network: Network, found: Limbs) -> si.Metres:
    """Return how far the tip of its member lies from each place, along the member [m].

    Parameters
    ----------
    network : Network
    found : Limbs

    Returns
    -------
    array [m], shape (segments, places)
    """
    ends = np.cumsum(network.length)
    left = ends[found.last][network.member] - ends
    return np.asarray(left[:, None] + network.length[:, None] * (1.0 - PLACES))


def cross(first: ArrayInSI, second: ArrayInSI) -> ArrayInSI:
    """Return the vector product over the third axis, or the second of arrays of two.

    Parameters
    ----------
    first, second : array [SI], shape (segments, places, 3, ...) or (segments, 3)

    Returns
    -------
    array [SI]
    """
    # numpy.cross moves axes about and takes several times as long.
    axis = 2 if first.ndim > 2 else 1
    ax, ay, az = (np.take(first, i, axis=axis) for i in range(3))
    bx, by, bz = (np.take(second, i, axis=axis) for i in range(3))
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=axis)
