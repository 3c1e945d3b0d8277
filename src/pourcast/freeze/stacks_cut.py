"""Cut: the thin parts in lengths, one a stack, and how these hang together.

Long segments are cut and short ones joined until each length is two to three cells.
Heat runs along the metal from length to length and into thick parts:

    flux = g (F_i - F_j),   1/g = arm_i / area_i + arm_j / area_j             (1)

with F of `pourcast.freeze.voxel_tables` and the arm the way from the middle of a
length to the joint.  Where more than two meet, all are joined to the one with the
largest area over arm; that is a little too easy a way between the others.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.freeze.voxel_passages import Passages
from pourcast.piece.model import Network

LONGEST, SHORTEST = 3.0, 2.0  # cells
_LEAST_ARM = 0.1  # of a length; for what sits at its middle


@dataclass(frozen=True, slots=True, kw_only=True)
class Rods:
    """Lengths of thin parts; a stack may hold several rows.

    Parameters
    ----------
    rows : array [by column], shape (rows, COLUMNS)
        As `pourcast.freeze.voxel_distance.nearest_passage` takes them.
    stack, segment : array of int, shape (rows,)
        Which stack a row belongs to, and which segment it was cut from.
    row_volume : array [m³], shape (rows,)
    length, girth, least : array [m], shape (stacks,)
        Girth and least way across as means along the length.
    volume : array [m³], shape (stacks,)
    area : array [m²], shape (stacks,)
        Of the section.
    caps : array of int, shape (stacks,)
        Free ends.
    place : array [m], shape (stacks, 3)
        Of the middle.
    part : array of int, shape (stacks,)
    joint_node, joint_stack : array of int, shape (joints,)
        Where a length meets a node of the network.
    joint_arm : array [m], shape (joints,)
    joint_place : array [m], shape (joints, 3)
    links : array of int, shape (links, 2)
        Pairs of stacks that metal joins.
    link_length : array [m], shape (links,)
        g of equation 1.
    into_cells : array of int, shape (ways,)
        Joints that lead into thick parts or the button.
    """

    rows: si.Table
    stack: si.Integers
    segment: si.Integers
    row_volume: si.CubicMetres
    length: si.Metres
    girth: si.Metres
    least: si.Metres
    volume: si.CubicMetres
    area: si.SquareMetres
    caps: si.Integers
    place: si.Metres
    part: si.Integers
    joint_node: si.Integers
    joint_stack: si.Integers
    joint_arm: si.Metres
    joint_place: si.Metres
    links: si.Integers
    link_length: si.Metres
    into_cells: si.Integers


def cut_rods(network: Network, passages: Passages, voxel: si.Metre) -> Rods:
    """Return the thin parts of a network in lengths.

    Parameters
    ----------
    network : Network
    passages : Passages
    voxel : float [m]

    Returns
    -------
    Rods
    """
    chosen = np.flatnonzero(passages.thin & passages.present)
    pieces = np.maximum(1, np.ceil(network.length[chosen] / (LONGEST * voxel))).astype(np.int64)
    segment = np.repeat(chosen, pieces)
    place = np.arange(segment.size) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    before, after = place / np.repeat(pieces, pieces), (place + 1) / np.repeat(pieces, pieces)
    rows = _cut_rows(passages.rows, segment, before, after)
    length = network.length[segment] * (after - before)
    last = place + 1 == np.repeat(pieces, pieces)
    # A cut inside a segment is a node of its own, beyond those of the network.
    cuts = network.start.max(initial=0) + network.end.max(initial=0) + 1 + np.arange(segment.size)
    end = np.where(last, network.end[segment], cuts)
    start = np.where(place == 0, network.start[segment], np.roll(end, 1))
    member = network.member[segment]
    stack, along = _joined(start, end, member, length, SHORTEST * voxel)
    stacks = int(stack.max(initial=-1)) + 1

    def mean(value: si.Floats) -> si.Floats:
        return np.bincount(stack, value * length, stacks) / np.bincount(stack, length, stacks)

    volume = _slice_volumes(passages, segment, before, after)
    whole = np.bincount(stack, length, stacks).astype(np.float64)
    middle = rows[:, 0:3] + 0.5 * rows[:, 9:10] * rows[:, 3:6]
    first = np.searchsorted(stack, np.arange(stacks))
    uses = np.bincount(
        np.concatenate([network.start[passages.present], network.end[passages.present]]),
        minlength=int(end.max(initial=0)) + 1,
    )
    free = last & (uses[np.where(last, end, 0)] == 1)
    held = np.bincount(stack, volume, stacks).astype(np.float64)
    joints = _joints(stack, start, end, along, length, whole, rows)
    links, conductance, ways = _links(network, passages, joints, held / whole, member[first])
    return Rods(
        rows=rows,
        stack=stack,
        segment=segment,
        row_volume=volume,
        length=whole,
        girth=mean(passages.girth[segment]),
        least=mean(passages.least[segment]),
        volume=held,
        area=held / whole,
        caps=np.bincount(stack, free, stacks).astype(np.int64),
        place=np.column_stack([mean(middle[:, axis]) for axis in range(3)]),
        part=passages.part[segment][first],
        joint_node=joints[0],
        joint_stack=joints[1],
        joint_arm=joints[2],
        joint_place=joints[3],
        links=links,
        link_length=conductance,
        into_cells=ways,
    )


def _cut_rows(
    rows: si.Table, segment: si.Integers, before: si.Ratios, after: si.Ratios
) -> si.Table:
    cut = rows[segment].copy()
    reach = cut[:, 9].copy()
    cut[:, 0:3] += (reach * before)[:, None] * cut[:, 3:6]
    cut[:, 9] = reach * (after - before)
    for low in (10, 12):
        first, last = rows[segment, low], rows[segment, low + 1]
        cut[:, low] = first + before * (last - first)
        cut[:, low + 1] = first + after * (last - first)
    # Only the distance for hosts is asked of these; ends need not reach into the parent.
    cut[:, [14, 15, 19, 20]] = 0.0
    return cut


def _slice_volumes(
    passages: Passages, segment: si.Integers, before: si.Ratios, after: si.Ratios
) -> si.CubicMetres:
    """Return the volume of each row so that the rows of a segment hold its volume."""
    rows = passages.rows[segment]
    middle = (before + after) / 2
    wide = rows[:, 10] + middle * (rows[:, 11] - rows[:, 10])
    thick = rows[:, 12] + middle * (rows[:, 13] - rows[:, 12])
    share = wide * thick * (after - before)
    whole = np.bincount(segment, share, passages.volume.size)
    return np.asarray(passages.volume[segment] * share / whole[segment])


def _joined(
    start: si.Integers,
    end: si.Integers,
    member: si.Integers,
    length: si.Metres,
    shortest: si.Metre,
) -> tuple[si.Integers, si.Metres]:
    """Return the stack of each row, and where in it the row begins."""
    stack = np.zeros(length.size, dtype=np.int64)
    along = np.zeros(length.size)
    current, filled = -1, 0.0
    for row in range(length.size):
        goes_on = row > 0 and member[row] == member[row - 1] and start[row] == end[row - 1]
        if not goes_on or filled >= shortest:
            current, filled = current + 1, 0.0
        stack[row], along[row] = current, filled
        filled += float(length[row])
    return stack, along


def _joints(
    stack: si.Integers,
    start: si.Integers,
    end: si.Integers,
    along: si.Metres,
    length: si.Metres,
    whole: si.Metres,
    rows: si.Table,
) -> tuple[si.Integers, si.Integers, si.Metres, si.Metres]:
    node = np.concatenate([start, end])
    of = np.concatenate([stack, stack])
    at = np.concatenate([along, along + length])
    place = np.concatenate([rows[:, 0:3], rows[:, 0:3] + rows[:, 9:10] * rows[:, 3:6]])
    # Two rows of one stack meet at a node inside it: one joint.
    _, kept = np.unique(np.column_stack([node, of]), axis=0, return_index=True)
    arm = np.abs(at - whole[of] / 2)
    return node[kept], of[kept], np.maximum(arm, _LEAST_ARM * whole[of])[kept], place[kept]


def _links(
    network: Network,
    passages: Passages,
    joints: tuple[si.Integers, si.Integers, si.Metres, si.Metres],
    area: si.SquareMetres,
    member: si.Integers,
) -> tuple[si.Integers, si.Metres, si.Integers]:
    node, stack, arm, _ = joints
    ease = area[stack] / arm
    thick = passages.present & ~passages.thin
    in_cells = np.zeros(int(node.max(initial=0)) + 1 + network.vent_diameter.size, dtype=np.bool_)
    in_cells[network.start[thick]] = True
    in_cells[network.end[thick]] = True
    in_cells[0] = True  # the gate: the button is cells
    pairs: list[tuple[int, int]] = []
    conductance: list[float] = []
    # A thick node joins its thin neighbours through its cells; only one member goes straight on.
    group = np.where(in_cells[node], member[stack] + 1, 0)
    order = np.lexsort((-ease, group, node))
    hub = -1
    for rank, joint in enumerate(order.tolist()):
        before = order[rank - 1] if rank else -1
        if rank == 0 or node[before] != node[joint] or group[before] != group[joint]:
            hub = joint
        elif stack[hub] != stack[joint]:
            pairs.append((int(stack[hub]), int(stack[joint])))
            conductance.append(1.0 / (1.0 / float(ease[hub]) + 1.0 / float(ease[joint])))
    links = np.array(pairs, dtype=np.int64).reshape(-1, 2)
    return links, np.array(conductance), np.flatnonzero(in_cells[node])
