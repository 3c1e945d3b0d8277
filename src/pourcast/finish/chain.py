"""Chain: which members bear a push on a member, and how well each bears it?

A push on a leaf bends the leaf, the stem that it grows on and whatever that
grows on, up to the gate, where the casting is held.  On each member of that way
the equations of `pourcast.finish.cantilever` hold with the lever

    x = straight distance from the section to the load                     (1)

which is the lever of the worst direction of the push.  So (1) is exact for a
straight part alone, and for a bent part or a chain it gives the least force
over all directions, or less where no direction is square to all levers at once:
it errs to the careful side.  Deflections of a chain are added up as if the worst
direction were that of each member; they too err to the large side.

An even pressure on a face works on a member's own sections by equation (3)
there, along the part; on those it grows on as its sum in the middle of the face.

Within half the breadth of a part's base a joint is taken to be no thinner than
that base: without it the round end of a lump would hang on its pole.

Sections are looked at in 17 places of each segment, which puts the force up to
1 % too high in the sharpest needle.  A part that runs out to nothing bends at
its very point under any push on it, and so counts as bent.

Left out: what a joined tip bears of the load (it is taken as free), a part whose
parent gives way by twisting, the same blast on parent and neighbours.

Source: statics; Castigliano's theorem for the sum of deflections.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.finish.cantilever import second_moment, section_modulus
from pourcast.finish.model import Bearers
from pourcast.piece.model import Network, first_segments

_PLACES = np.linspace(0.0, 1.0, 17)  # of a segment
_SIMPSON = np.array([1.0, *[4.0, 2.0] * 7, 4.0, 1.0]) / 48.0


def bearers(network: Network) -> Bearers:
    """Return which members bear a load on each member.

    Parameters
    ----------
    network : Network

    Returns
    -------
    Bearers

    Raises
    ------
    InputError
        If the segments do not stand member by member, or a way does not end at the gate.
    """
    ends = first_segments(network)
    first, last = ends[:-1], ends[1:] - 1
    loaded, bearer, until, carried = _ways(network, first, last)
    rows, segments = _spread(first[bearer], until)

    places = _along(network.start_position, network.end_position)
    width, thickness = _along(*network.width.T), _along(*network.thickness.T)
    broad = np.maximum(width, thickness)
    modulus = section_modulus(network.section[:, None], width, thickness)
    moment = second_moment(network.section[:, None], width, thickness)
    base = first[carried[rows]]
    near = (loaded[rows] != bearer[rows])[:, None] & (
        _distance(network.start_position[base], places[segments]) <= broad[base, :1] / 2
    )
    moment = np.where(near, np.maximum(moment[segments], moment[base, :1]), moment[segments])
    modulus = np.where(near, np.maximum(modulus[segments], modulus[base, :1]), modulus[segments])

    tips = network.end_position[last]
    lever = _distance(tips[loaded[rows]], places[segments])
    give = (lever**2 / moment) @ _SIMPSON * network.length[segments]

    own = loaded[rows] == bearer[rows]
    arc = _arc(network, first)
    half = 0.5 * arc[last, -1]
    from_middle = _distance(_middles(network, first, arc, half)[loaded[rows]], places[segments])
    beyond = own[:, None] & (arc[segments] > half[loaded[rows], None])

    moments = _own_face(network, broad, arc, last)
    area, centre = _faces(network, broad, places, first)
    of_face = area[loaded[rows], None] * _distance(centre[loaded[rows]], places[segments])
    of_face = np.where(own[:, None], moments[segments], of_face)
    sway = (of_face * lever / moment) @ _SIMPSON * network.length[segments]

    starts = np.searchsorted(rows, np.arange(loaded.size))
    return Bearers(
        loaded=loaded,
        bearer=bearer,
        first=np.searchsorted(loaded, np.arange(first.size)),
        tip=_least(modulus, lever, starts),
        middle=_least(modulus, np.where(beyond, 0.0, from_middle), starts),
        face=_least(modulus, of_face, starts),
        give=np.add.reduceat(give, starts),
        face_give=np.add.reduceat(sway, starts),
    )


def _ways(
    network: Network, first: si.Integers, last: si.Integers
) -> tuple[si.Integers, si.Integers, si.Integers, si.Integers]:
    """Return, row by row, loaded member, bearer, its last segment that bears, and what it carries.

    What a bearer carries is the member of the way that grows on it; the loaded one carries itself.
    """
    lead = np.full(1 + max(int(network.start.max()), int(network.end.max())), -1)
    # A joined tip ends in a node of the other part: it leads nowhere.
    inner = np.flatnonzero(~network.is_joint)
    lead[network.end[inner]] = inner
    loaded, bearer, until = np.arange(first.size), np.arange(first.size), last
    found = [(loaded, bearer, until, bearer)]
    for _ in range(len(network.part_names)):
        until = lead[network.start[first[bearer]]]
        kept = until >= 0
        if not kept.any():
            rows = [np.concatenate(column) for column in zip(*found, strict=True)]
            order = np.argsort(rows[0], kind="stable")
            return rows[0][order], rows[1][order], rows[2][order], rows[3][order]
        loaded, until, carried = loaded[kept], until[kept], bearer[kept]
        bearer = network.member[until]
        found.append((loaded, bearer, until, carried))
    raise InputError("network", "a ring of parts", "", "parts whose ways end at the gate")


def _spread(start: si.Integers, end: si.Integers) -> tuple[si.Integers, si.Integers]:
    """Return, for ranges of segments one after the other, the row and the segment of each."""
    count = end - start + 1
    rows = np.repeat(np.arange(start.size), count)
    offset = np.cumsum(count) - count
    return rows, np.arange(rows.size) - np.repeat(offset - start, count)


def _along(start: si.Floats, end: si.Floats) -> si.Floats:
    """Return what changes evenly from start to end of each segment, at its places."""
    shape = (1, _PLACES.size) + (1,) * (start.ndim - 1)
    way = _PLACES.reshape(shape)
    return np.asarray(start[:, None] + way * (end - start)[:, None])


def _distance(point: si.Metres, places: si.Metres) -> si.Metres:
    away = places - point[:, None, :]
    return np.asarray(np.sqrt(np.einsum("ijk,ijk->ij", away, away)))


def _least(modulus: si.Floats, lever: si.Floats, starts: si.Integers) -> si.Floats:
    """Return the least modulus over lever of each row; a section without lever bears anything."""
    ratio = np.full(lever.shape, np.inf)
    np.divide(modulus, lever, out=ratio, where=lever > 0.0)
    least: si.Floats = np.minimum.reduceat(ratio.min(axis=1), starts)
    return least


def _arc(network: Network, first: si.Integers) -> si.Metres:
    """Return how far along its member each place lies, shape (segments, places)."""
    before = np.cumsum(network.length) - network.length
    base = before[first][network.member]
    return np.asarray((before - base)[:, None] + network.length[:, None] * _PLACES)


def _middles(network: Network, first: si.Integers, arc: si.Metres, half: si.Metres) -> si.Metres:
    """Return the point half-way along each member, shape (members, 3)."""
    passed = arc[:, -1] < half[network.member]
    segment = first + np.add.reduceat(passed.astype(np.int64), first)
    share = (half - arc[segment, 0]) / network.length[segment]
    start, end = network.start_position[segment], network.end_position[segment]
    return np.asarray(start + share[:, None] * (end - start))


def _own_face(network: Network, broad: si.Metres, arc: si.Metres, last: si.Integers) -> si.Floats:
    """Return the moment of a unit of pressure on a member's face at its own places [m³]."""
    step = network.length[:, None] / (_PLACES.size - 1)
    b0, b1, a0, a1 = broad[:, :-1], broad[:, 1:], arc[:, :-1], arc[:, 1:]
    area = step * (b0 + b1) / 2
    turning = step * (a0 * (2 * b0 + b1) + a1 * (b0 + 2 * b1)) / 6
    outer_area, outer_turning = _outside(area, last, network), _outside(turning, last, network)
    return np.asarray(np.maximum(outer_turning - arc * outer_area, 0.0))


def _outside(parts: si.Floats, last: si.Integers, network: Network) -> si.Floats:
    """Return the sum of what lies between each place and the tip of its member."""
    until = np.cumsum(parts).reshape(parts.shape)
    before = until[:, :1] - parts[:, :1]
    inside = np.hstack([before, until])
    return np.asarray(until[last, -1][network.member][:, None] - inside)


def _faces(
    network: Network, broad: si.Metres, places: si.Metres, first: si.Integers
) -> tuple[si.SquareMetres, si.Metres]:
    """Return the face of each member [m²] and its middle [m]."""
    piece = broad * _SIMPSON * network.length[:, None]
    area = np.add.reduceat(piece.sum(axis=1), first)
    turning = np.add.reduceat(np.einsum("ij,ijk->ik", piece, places), first, axis=0)
    return area, turning / area[:, None]
