"""Gaps: how near do parts stand to the flask and to each other?

A gap under about 1 mm leaves a web of mould that breaks and floats off, and wax
or a coat bridges it.  Each segment is taken as a rod of its own thickness about
its middle line; a blade as three, one on each edge and one in the middle.  The gap
of two is

    least distance of their lines - half the sum of their thicknesses       (1)

Parts that grow on each other stand near by nature.  A pair counts only where the
way between the two places along the piece is over 6 mm and over three times
the straight way between them, which is that of a fork of 39° (both estimates).

Left out: gaps wider than 5 mm, which no one asks for; folds of one leaf; that
blades curl across their width.

Source: geometry; nearest points of two segments as in any book of computational
geometry.
"""

import numpy as np

from pourcast import units as si
from pourcast.mould.limbs import way_from_gate
from pourcast.mould.model import Limbs, NarrowGap
from pourcast.mould.places import frames
from pourcast.piece.model import RECTANGLE, Network

NARROW = 1e-3
"""Gap under which the web of mould breaks [m]; estimate of the trade."""

LOOK = 5e-3
"""Gaps are looked for up to this [m]."""

_LEAST_WAY = 6e-3  # m along the piece; estimate
_FORK = 3.0  # way along the piece over straight way; estimate
_ROWS = 512  # rods held against all others at a time


def wall_gaps(network: Network, found: Limbs, inside_diameter: si.Metre) -> si.Metres:
    """Return the least gap between each member and the flask.

    Parameters
    ----------
    network : Network
    found : Limbs
    inside_diameter : float [m]
        Of the flask.

    Returns
    -------
    array [m], shape (members,)
        Negative where it does not fit.
    """
    half = 0.5 * np.maximum(network.width, network.thickness)
    ends = (network.start_position, network.end_position)
    reach = np.max(
        [np.hypot(e[:, 0], e[:, 1]) + half[:, i] for i, e in enumerate(ends)],
        axis=0,
    )
    return np.asarray(0.5 * inside_diameter - np.maximum.reduceat(reach, found.first))


def neighbour_gaps(
    network: Network, found: Limbs
) -> tuple[si.Metres, si.Integers, tuple[NarrowGap, ...]]:
    """Return the nearest neighbour of each member, and all pairs that are too near.

    Parameters
    ----------
    network : Network
    found : Limbs

    Returns
    -------
    gap : array [m], shape (members,)
        Between surfaces, 0 or more; infinite where none is within 5 mm.
    neighbour : array of int, shape (members,)
        Member; -1: none.
    narrow : tuple of NarrowGap
        One for each pair of parts, the nearest first.
    """
    start, end, radius, segment = _rods(network)
    one, other = _near_pairs(start, end, radius, network.member[segment])
    apart, here, there = _least_distances(start, end, one, other)
    gap = np.maximum(apart - radius[one] - radius[other], 0.0)
    near = gap <= LOOK
    one, other, gap, apart = one[near], other[near], gap[near], apart[near]
    along = np.cumsum(network.length) - network.length
    base = along[found.first][network.member]
    arcs = [
        (along - base)[segment[rod]] + share[near] * network.length[segment[rod]]
        for rod, share in ((one, here), (other, there))
    ]
    members = network.member[segment[one]], network.member[segment[other]]
    way = _way_between(network, found, members, (arcs[0], arcs[1]))
    kept = way > np.maximum(_LEAST_WAY, _FORK * apart)
    first, second, gap = members[0][kept], members[1][kept], gap[kept]

    least = np.full(found.first.size, np.inf)
    neighbour = np.full(found.first.size, -1)
    both = np.concatenate([first, second])
    towards = np.concatenate([second, first])
    twice = np.concatenate([gap, gap])
    order = np.argsort(-twice, kind="stable")
    least[both[order]] = twice[order]
    neighbour[both[order]] = towards[order]
    return least, neighbour, _narrow(network, first, second, gap)


def _narrow(
    network: Network, first: si.Integers, second: si.Integers, gap: si.Metres
) -> tuple[NarrowGap, ...]:
    close = gap < NARROW
    first, second, gap = first[close], second[close], gap[close]
    found: dict[tuple[int, int], tuple[float, set[tuple[int, int]]]] = {}
    for a, b, distance in zip(first.tolist(), second.tolist(), gap.tolist(), strict=True):
        a, b = min(a, b), max(a, b)
        parts = int(network.member_part[a]), int(network.member_part[b])
        least, pairs = found.setdefault(parts, (distance, set()))
        pairs.add((a, b))
        found[parts] = (min(least, distance), pairs)
    return tuple(
        NarrowGap(
            part=network.part_names[a],
            other=network.part_names[b],
            distance=least,
            pairs=len(pairs),
        )
        for (a, b), (least, pairs) in sorted(found.items(), key=lambda item: item[1][0])
    )


def _rods(network: Network) -> tuple[si.Metres, si.Metres, si.Metres, si.Integers]:
    """Return ends and radius of the rods that stand for the segments, and their segments."""
    across = frames(network)[:, 1]
    flat = network.section == RECTANGLE
    thin = np.minimum(network.width, network.thickness)
    round_radius = np.maximum(network.width, network.thickness).mean(axis=1) / 2
    radius = np.where(flat, thin.mean(axis=1) / 2, round_radius)
    out = 0.5 * np.maximum(network.width - thin, 0.0)
    blades = np.flatnonzero(flat)
    starts, ends = [network.start_position], [network.end_position]
    for side in (-1.0, 1.0):
        shift = side * across[blades]
        starts.append(network.start_position[blades] + out[blades, :1] * shift)
        ends.append(network.end_position[blades] + out[blades, 1:] * shift)
    segment = np.concatenate([np.arange(flat.size), blades, blades])
    return np.concatenate(starts), np.concatenate(ends), radius[segment], segment


def _near_pairs(
    start: si.Metres, end: si.Metres, radius: si.Metres, member: si.Integers
) -> tuple[si.Integers, si.Integers]:
    """Return pairs of rods of different members that may be within reach."""
    middle = 0.5 * (start + end)
    room = 0.5 * np.sqrt(((end - start) ** 2).sum(axis=1)) + radius
    axis = int(np.ptp(middle, axis=0).argmax())
    order = np.argsort(middle[:, axis], kind="stable")
    middle, room, sorted_member = middle[order], room[order], member[order]
    widest = float(room.max())
    ones, others = [], []
    for low in range(0, order.size, _ROWS):
        high = min(low + _ROWS, order.size)
        # Only forwards along the longest axis: each pair is met once.
        reach = middle[high - 1, axis] + room[low:high].max() + widest + LOOK
        until = int(np.searchsorted(middle[:, axis], reach, side="right"))
        step = middle[None, low:until] - middle[low:high, None]
        limit = room[low:high, None] + room[None, low:until] + LOOK
        near = np.einsum("ijk,ijk->ij", step, step) <= limit**2
        near &= sorted_member[low:high, None] != sorted_member[None, low:until]
        i, j = np.nonzero(np.triu(near, 1))
        ones.append(order[low + i])
        others.append(order[low + j])
    return np.concatenate(ones), np.concatenate(others)


def _least_distances(
    start: si.Metres, end: si.Metres, one: si.Integers, other: si.Integers
) -> tuple[si.Metres, si.Ratios, si.Ratios]:
    """Return the least distance of the lines of each pair, and where on each it is."""
    p, q = start[one], start[other]
    u, v = end[one] - p, end[other] - q
    w = p - q
    uu, vv, uv = (u * u).sum(axis=1), (v * v).sum(axis=1), (u * v).sum(axis=1)
    uw, vw = (u * w).sum(axis=1), (v * w).sum(axis=1)
    square = uu * vv - uv**2
    crossing = square > 1e-9 * uu * vv
    s = np.where(crossing, (uv * vw - vv * uw) / np.where(crossing, square, 1.0), 0.0)
    s = np.clip(s, 0.0, 1.0)
    t = (uv * s + vw) / vv
    clipped = np.clip(t, 0.0, 1.0)
    s = np.where(t == clipped, s, np.clip((uv * clipped - uw) / uu, 0.0, 1.0))
    step = w + s[:, None] * u - clipped[:, None] * v
    return np.sqrt((step**2).sum(axis=1)), s, clipped


def _way_between(
    network: Network,
    found: Limbs,
    members: tuple[si.Integers, si.Integers],
    arcs: tuple[si.Metres, si.Metres],
) -> si.Metres:
    """Return the way along the piece from a place on one member to a place on another."""
    from_gate = way_from_gate(network, found)
    foot = np.zeros(found.first.size)
    parent = np.full(found.first.size, -1)
    on = found.station
    grown = on >= 0
    parent[grown] = found.station_member[on[grown]]
    foot[grown] = from_gate[grown] - from_gate[parent[grown]]
    (a, b), (x, y) = members, arcs
    x, y, way = x.copy(), y.copy(), np.zeros(a.size)
    # One place more: -1 is the button, under all.
    level = np.append(found.level, -1)
    parent, foot = np.append(parent, -1), np.append(foot, 0.0)
    for _ in range(2 * (2 + int(level.max()))):
        apart = a != b
        # From the deeper of the two go down to what it grows on.
        down_a = apart & (level[a] >= level[b])
        down_b = apart & ~down_a
        way += np.where(down_a, x, 0.0) + np.where(down_b, y, 0.0)
        x, y = np.where(down_a, foot[a], x), np.where(down_b, foot[b], y)
        a, b = np.where(down_a, parent[a], a), np.where(down_b, parent[b], b)
    return np.asarray(way + np.abs(x - y))
