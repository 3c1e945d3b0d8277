"""Limbs: how do the members of a piece hang together?

A load on a member bends the member, and then all that it grows on, up to the
button.  A member grows on a station: the end of a segment of its parent.  Members
on the button have no station; the button holds them.

Left out: what a joined tip bears of a load: it is taken as free.

Source: the network of the piece.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.mould.model import Limbs
from pourcast.piece.model import Network, first_segments


def limbs(network: Network) -> Limbs:
    """Return how the members hang together.

    Parameters
    ----------
    network : Network

    Returns
    -------
    Limbs

    Raises
    ------
    InputError
        If the segments do not stand member by member, or a way does not end at the gate.
    """
    ends = first_segments(network)
    first, last = ends[:-1], ends[1:] - 1
    lead = np.full(1 + max(int(network.start.max()), int(network.end.max())), -1)
    # A joined tip ends in a node of the other part: it leads nowhere.
    inner = np.flatnonzero(~network.is_joint)
    lead[network.end[inner]] = inner
    grows_on = lead[network.start[first]]
    segments, place = np.unique(grows_on[grows_on >= 0], return_inverse=True)
    station = np.full(first.size, -1)
    station[grows_on >= 0] = place
    member = network.member[segments]
    before = np.cumsum(network.length) - network.length
    return Limbs(
        first=first,
        last=last,
        level=_levels(station, member),
        station=station,
        station_segment=segments,
        station_member=member,
        tip=network.end_position[last],
        length=before[last] + network.length[last] - before[first],
    )


def way_from_gate(network: Network, found: Limbs) -> si.Metres:
    """Return how far the base of each member lies from the gate, along the piece [m].

    Parameters
    ----------
    network : Network
    found : Limbs
        Of this network.

    Returns
    -------
    array [m], shape (members,)
    """
    ends = np.cumsum(network.length)
    along = ends - (ends - network.length)[found.first][network.member]
    way = np.zeros(found.first.size)
    for level in range(1, 1 + int(found.level.max())):
        now = np.flatnonzero(found.level == level)
        on = found.station[now]
        way[now] = way[found.station_member[on]] + along[found.station_segment[on]]
    return way


def _levels(station: si.Integers, member: si.Integers) -> si.Integers:
    """Return how many members lie between each member and the button."""
    parent = np.full(station.size, -1)
    parent[station >= 0] = member[station[station >= 0]]
    level = np.zeros(station.size, dtype=np.int64)
    way = parent
    for _ in range(station.size):
        if (way < 0).all():
            return level
        level += way >= 0
        way = np.where(way >= 0, parent[way], -1)
    raise InputError("network", "a ring of parts", "", "parts whose ways end at the gate")
