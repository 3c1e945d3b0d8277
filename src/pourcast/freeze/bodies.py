"""Bodies: the piece as lumps of metal that hang together, in the order that heat is passed on.

Each segment of the network is one body with one temperature.  Bodies are kept in
the order of their way from the gate, so that each comes after the one it hangs
on.  A body that would close a ring is cut at its far end; heat over the cut is
worked out apart (`pourcast.freeze.conduct`).

Model: volume of the even taper, sides of girth times length (along the slope where
the section is round), and the end face of a free tip.  Faces that a branch covers are
not taken off, which errs to the quick side by the share of the branch in the girth of
its parent.
"""

import math
from collections import deque
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND, Network


@dataclass(frozen=True, slots=True, kw_only=True)
class Bodies:
    """Sizes of the bodies as measured, and how they hang together.

    Parameters
    ----------
    order : array of int, shape (bodies,)
        Segment of each body.
    above : array of int, shape (bodies,)
        Body that it hangs on; -1: the gate.
    near, far : array of unsigned int, shape (bodies,)
        Nodes; ``far`` is a node of its own where a ring is cut.
    nodes : int
    cut, meets : array of int, shape (rings,)
        Bodies that are cut from a ring, and the node where each would end.
    volume : array [m³], shape (bodies,)
    side, tip : array [m²], shape (bodies,)
        Cooling faces: of the side, and of the end where it is free.
    section : array [m²], shape (bodies,)
        Mean area that heat passes along the metal.
    girth, length : array [m], shape (bodies,)
    member_length : array [m], shape (bodies,)
        Of the member that a body is part of.
    member : array of int, shape (bodies,)
    """

    order: si.Integers
    above: si.Integers
    near: si.Places
    far: si.Places
    nodes: int
    cut: si.Integers
    meets: si.Integers
    volume: si.CubicMetres
    side: si.SquareMetres
    tip: si.SquareMetres
    section: si.SquareMetres
    girth: si.Metres
    length: si.Metres
    member_length: si.Metres
    member: si.Integers


def area(section: si.Integers, width: si.Metres, thickness: si.Metres) -> si.SquareMetres:
    """Return the areas of sections [m²].

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE.
    width, thickness : array [m], shape of ``section``
        Of a round section ``thickness`` is the diameter.

    Returns
    -------
    array [m²]
    """
    round_ = 0.25 * math.pi * thickness * np.where(section == ELLIPSE, width, thickness)
    return np.asarray(np.where(section == RECTANGLE, width * thickness, round_))


def girth(section: si.Integers, width: si.Metres, thickness: si.Metres) -> si.Metres:
    """Return the lengths of wall round sections; the ellipse by Ramanujan (1914) [m].

    Parameters
    ----------
    section : array of int
    width, thickness : array [m], shape of ``section``

    Returns
    -------
    array [m]
    """
    a, b = 0.5 * np.where(section == ROUND, thickness, width), 0.5 * thickness
    oval = math.pi * (3.0 * (a + b) - np.sqrt((3.0 * a + b) * (a + 3.0 * b)))
    return np.asarray(np.where(section == RECTANGLE, 2.0 * (width + thickness), oval))


def sizes(network: Network) -> tuple[si.CubicMetres, si.SquareMetres]:
    """Return volume and cooling face of each segment as measured [m³] and [m²].

    Parameters
    ----------
    network : Network

    Returns
    -------
    pair of array [m³] and [m²], shape (segments,)
    """
    bodies = bodies_of(network)
    volume, face = np.empty(bodies.order.size), np.empty(bodies.order.size)
    volume[bodies.order] = bodies.volume
    face[bodies.order] = bodies.side + bodies.tip
    return volume, face


def modulus(network: Network) -> si.Metres:
    """Return the casting modulus of each segment, volume over cooling face [m].

    Parameters
    ----------
    network : Network

    Returns
    -------
    array [m], shape (segments,)
    """
    volume, face = sizes(network)
    return np.asarray(volume / face)


def bodies_of(network: Network) -> Bodies:
    """Return the bodies of a network.

    Parameters
    ----------
    network : Network

    Returns
    -------
    Bodies

    Raises
    ------
    InputError
        If a segment cannot be reached from the gate.
    """
    order, above, near, far, nodes, cut, meets = _walk(network)
    section = network.section
    start = (network.width[:, 0], network.thickness[:, 0])
    end = (network.width[:, 1], network.thickness[:, 1])
    middle = (0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1]))
    # Simpson's rule is exact for a taper.
    mean = (area(section, *start) + 4.0 * area(section, *middle) + area(section, *end)) / 6.0
    round_ = girth(section, *middle)
    # The side of a lump leans; the faces of a blade that grows narrow do not.
    lean = np.where(
        section == RECTANGLE, 0.0, (girth(section, *end) - girth(section, *start)) / (2.0 * math.pi)
    )
    count = np.bincount(np.concatenate([network.start, network.end]), minlength=nodes)
    free = (count[network.end] == 1) & (network.vent_diameter[network.end] == 0.0)
    lengths = np.bincount(network.member, weights=network.length).astype(np.float64)
    return Bodies(
        order=order,
        above=above,
        near=near,
        far=far,
        nodes=nodes + cut.size,
        cut=cut,
        meets=meets,
        volume=(mean * network.length)[order],
        side=(round_ * np.hypot(network.length, lean))[order],
        tip=np.where(free, area(section, *end), 0.0)[order],
        section=mean[order],
        girth=round_[order],
        length=network.length[order],
        member_length=lengths[network.member][order],
        member=network.member[order].astype(np.int64),
    )


def _walk(
    network: Network,
) -> tuple[si.Integers, si.Integers, si.Places, si.Places, int, si.Integers, si.Integers]:
    """Return the bodies in their order from the gate, and the rings that were cut."""
    starts, ends = network.start.tolist(), network.end.tolist()
    nodes = max(*starts, *ends) + 1
    ways: list[list[int]] = [[] for _ in range(nodes)]
    for segment, (start, end) in enumerate(zip(starts, ends, strict=True)):
        ways[start].append(segment)
        ways[end].append(segment)
    led_by = [-2] * nodes
    led_by[0] = -1
    taken = [False] * len(starts)
    rows: list[tuple[int, int, int, int]] = []
    rings: list[tuple[int, int]] = []
    queue = deque([0])
    while queue:
        node = queue.popleft()
        for segment in ways[node]:
            if taken[segment]:
                continue
            taken[segment] = True
            other = ends[segment] if starts[segment] == node else starts[segment]
            body = len(rows)
            if led_by[other] == -2:
                led_by[other] = body
                queue.append(other)
                rows.append((segment, led_by[node], node, other))
            else:
                rows.append((segment, led_by[node], node, nodes + len(rings)))
                rings.append((body, other))
    if not all(taken):
        lost = taken.index(False)
        raise InputError("segment", lost, "", "joined to the gate by other segments")
    table = np.array(rows, dtype=np.int64)
    pairs = np.array(rings, dtype=np.int64).reshape(-1, 2)
    order, above = (np.ascontiguousarray(table[:, column]) for column in range(2))
    # A kernel looks whether a place with a sign counts from the end: 6 % of the freezing.
    near, far = (table[:, column].astype(np.uint32) for column in (2, 3))
    return order, above, near, far, nodes, pairs[:, 0].copy(), pairs[:, 1].copy()
