"""Shape: where on the piece does a wax rod or thread begin and end?

Small questions that several proposals ask of the piece and its network, and how a
measure is written in the piece file.
"""

import math
from collections.abc import Iterable

import numpy as np

from pourcast import units as si
from pourcast.piece.cuts import SHARED
from pourcast.piece.model import Network, Part, Piece, first_segments
from pourcast.sheet.takes import InUnitOfKey

WAX_OF_RODS = "sprue"
"""Key of the wax that feeders are rolled from."""

WAX_OF_THREADS = "casting"
"""Key of the wax that threads are drawn from."""


def members_of(network: Network, part: str) -> si.Integers:
    """Return the members of a part.

    Parameters
    ----------
    network : Network
    part : str
    """
    return np.flatnonzero(network.member_part == network.part_names.index(part))


def tips_of(network: Network, part: str) -> si.Metres:
    """Return where the members of a part end [m], shape (members, 3).

    Parameters
    ----------
    network : Network
    part : str
    """
    members = members_of(network, part)
    return np.asarray(network.end_position[first_segments(network)[members + 1] - 1])


def share_along(network: Network, segment: int) -> si.Ratio:
    """Return how far along its member the middle of a segment is, 0 to 1 [-].

    Parameters
    ----------
    network : Network
    segment : int
    """
    first = first_segments(network)
    member = int(network.member[segment])
    lengths = network.length[first[member] : first[member + 1]]
    before = segment - int(first[member])
    return float((lengths[:before].sum() + 0.5 * lengths[before]) / lengths.sum())


def way_down(piece: Piece, part: str) -> tuple[Part, ...]:
    """Return the parts from one down to the button, itself first.

    Parameters
    ----------
    piece : Piece
    part : str
    """
    by_name = {each.name: each for each in piece.parts}
    way = [by_name[part]]
    while way[-1].parent in by_name:
        way.append(by_name[way[-1].parent])
    return tuple(way)


def has_free_tip(piece: Piece, part: Part) -> bool:
    """Return whether nothing is joined to the tip of a part and nothing grows on it.

    Parameters
    ----------
    piece : Piece
    part : Part
    """
    if part.tip_on is not None:
        return False
    return not any(
        (other.parent == part.name and max(other.position) > 1.0 - SHARED)
        or (other.tip_on == part.name and other.tip_position > 1.0 - SHARED)
        for other in piece.parts
    )


def unused(name: str, taken: Iterable[str]) -> str:
    """Return a name that no part has: the name, or with a number behind it.

    Parameters
    ----------
    name : str
    taken : iterable of str
    """
    known = set(taken)
    short = name[:56].rstrip()
    if short not in known:
        return short
    return next(f"{short} {n}" for n in range(2, len(known) + 3) if f"{short} {n}" not in known)


def mm(length: si.Metre) -> InUnitOfKey:
    """Return a length in mm to a tenth, as it is written in the piece file.

    Parameters
    ----------
    length : float [m]
    """
    return round(1e3 * length, 1)


def mm_up(length: si.Metre) -> InUnitOfKey:
    """Return a length in mm, rounded up to a tenth: what must not be thinner or shorter.

    Parameters
    ----------
    length : float [m]
    """
    return math.ceil(1e4 * length - 1e-6) / 10.0


def degrees(angle: si.Radian) -> InUnitOfKey:
    """Return an angle in degrees to a tenth, from -180 to 180.

    Parameters
    ----------
    angle : float [rad]
    """
    found = round(math.degrees(angle), 1) + 0.0  # no -0.0
    return found if abs(found) <= 180.0 else round((found + 180.0) % 360.0 - 180.0, 1)
