"""Network: which passages the piece leaves, and how they hang together.

Each member is cut into segments between nodes.  A part shares the node of its
parent at the place where it grows, whatever the distance of its start from the
middle line.  A part whose tip is joined to another ends in a node of the
nearest member of that part (of its own parent's, where both have the same
parent), and the joint closes a ring.  Such a part stands as its angles say, and
its last segment goes to the joint; its length stays the one that was measured.

Members are numbered part by part; within a part by the member of the parent,
then in the order of the turn.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.piece import cuts
from pourcast.piece.frames import cross
from pourcast.piece.limits import check, require_segments
from pourcast.piece.lumps import even_slices, share_at, slice_scale
from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND, Network, Piece
from pourcast.piece.place import Placed, along, place, sections


def build(piece: Piece, *, finest: si.Metre = 1.5e-3) -> Network:
    """Passages of the cavity as the flask stands at the pour.

    Parameters
    ----------
    piece : Piece
    finest : float [m]
        Segments need not be shorter than this; > 0.

    Returns
    -------
    Network

    Raises
    ------
    InputError
        If the piece is outside the limits of `pourcast.piece.limits`, has more
        than 20 000 segments, or is joined in a ring of tips.
    """
    check(piece)
    require_positive("finest", finest, "m")
    placed = place(piece)
    index = {part.name: i for i, part in enumerate(piece.parts)}
    cut = _all_cuts(placed, index, finest)
    require_segments(piece, [(len(c) - 1) * p.members for c, p in zip(cut, placed, strict=True)])

    points = [along(p, c)[0] for p, c in zip(placed, cut, strict=True)]
    nodes, count = _number(placed, cut)
    same = np.arange(count)
    for p, here, ends in zip(placed, nodes, points, strict=True):
        if p.part.tip_on is not None:
            other = index[p.part.tip_on]
            j = int(cuts.nearest(cut[other], np.array([p.part.tip_position]))[0])
            member = _nearest_member(p, ends[:, -1], placed[other], points[other][:, j], other)
            same[here[:, -1]] = nodes[other][member, j]
            ends[:, -1] = points[other][member, j]
    same = _resolve(same, len(placed))
    kept = same == np.arange(count)
    final = (np.cumsum(kept) - 1)[same]

    diameter, length, vacuum = _vents(piece, index, [final[n[:, -1]] for n in nodes], kept.sum())
    shapes = [_sections(p, c) for p, c in zip(placed, cut, strict=True)]
    first = np.cumsum([0, *(p.members for p in placed)])
    joined = [
        np.zeros((p.members, len(c) - 1), dtype=bool) for p, c in zip(placed, cut, strict=True)
    ]
    for p, last in zip(placed, joined, strict=True):
        last[:, -1] = p.part.tip_on is not None
    return Network(
        start=final[np.concatenate([n[:, :-1].ravel() for n in nodes])],
        end=final[np.concatenate([n[:, 1:].ravel() for n in nodes])],
        start_position=np.concatenate([p[:, :-1].reshape(-1, 3) for p in points]),
        end_position=np.concatenate([p[:, 1:].reshape(-1, 3) for p in points]),
        section=np.repeat([_section(p) for p in placed], [j.size for j in joined]),
        length=np.concatenate(
            [np.tile(p.length * np.diff(c), p.members) for p, c in zip(placed, cut, strict=True)]
        ),
        width=np.concatenate(
            [np.tile(w, (p.members, 1)) for (w, _), p in zip(shapes, placed, strict=True)]
        ),
        thickness=np.concatenate(
            [np.tile(t, (p.members, 1)) for (_, t), p in zip(shapes, placed, strict=True)]
        ),
        member=np.concatenate(
            [
                np.repeat(np.arange(p.members) + f, len(c) - 1)
                for p, c, f in zip(placed, cut, first[:-1], strict=True)
            ]
        ),
        member_part=np.repeat(np.arange(len(placed)), [p.members for p in placed]),
        part_names=tuple(part.name for part in piece.parts),
        vent_diameter=diameter,
        vent_length=length,
        vent_to_vacuum=vacuum,
        is_joint=np.concatenate([j.ravel() for j in joined]),
        across=np.concatenate(
            [_across(p, c).reshape(-1, 3) for p, c in zip(placed, cut, strict=True)]
        ),
        measure_error=_measure_error(piece),
    )


def _measure_error(piece: Piece) -> si.Ratios | None:
    errors = [part.measure_error for part in piece.parts]
    if all(error is None for error in errors):
        return None
    return np.array([np.nan if error is None else error for error in errors])


def _across(placed: Placed, cut: si.Ratios) -> si.Ratios:
    """Return the direction of the width at the middle of each segment of all members."""
    _, direction, side = along(placed, 0.5 * (cut[:-1] + cut[1:]))
    return cross(direction, side)


def _all_cuts(
    placed: tuple[Placed, ...], index: dict[str, int], finest: si.Metre
) -> list[si.Ratios]:
    places: list[list[float]] = [[] for _ in placed]
    for p in placed:
        if p.parent >= 0:
            places[p.parent] += p.at[: p.part.count].tolist()
        if p.part.tip_on is not None:
            places[index[p.part.tip_on]].append(p.part.tip_position)
    made = []
    for p, joints in zip(placed, places, strict=True):
        must = cuts.stops(joints)
        longest, most = cuts.steps(p.length, p.part.bend, finest)
        if p.part.shape == "lump":
            angles, longest_angle = even_slices(must, p.base, p.tip)
            inner = share_at(cuts.between(angles, longest_angle, 10, least=6), p.base, p.tip)
            # The way there and back is true to rounding only; the ends must be exact.
            inner[0], inner[-1] = 0.0, 1.0
            made.append(inner)
        else:
            made.append(cuts.between(must, longest, most))
    return made


def _number(placed: tuple[Placed, ...], cut: list[si.Ratios]) -> tuple[list[si.Integers], int]:
    """Nodes of each part, shape (members, cuts), and how many there are; 0 is the gate."""
    nodes: list[si.Integers] = []
    count = 1
    for p, c in zip(placed, cut, strict=True):
        inner = len(c) - 1
        here = np.zeros((p.members, inner + 1), dtype=np.int64)
        here[:, 1:] = np.arange(count, count + p.members * inner).reshape(p.members, inner)
        if p.parent >= 0:
            here[:, 0] = nodes[p.parent][p.parent_member, cuts.nearest(cut[p.parent], p.at)]
        nodes.append(here)
        count += p.members * inner
    return nodes, count


def _nearest_member(
    p: Placed, tips: si.Metres, other: Placed, places: si.Metres, index: int
) -> si.Integers:
    if p.parent == index:
        return p.parent_member
    apart = sum((tips[:, None, k] - places[None, :, k]) ** 2 for k in range(3))
    distance = np.asarray(apart)
    if p.parent == other.parent:
        distance[p.parent_member[:, None] != other.parent_member[None, :]] = np.inf
    found: si.Integers = distance.argmin(axis=1)
    return found


def _resolve(same: si.Integers, parts: int) -> si.Integers:
    """Follow tips that are joined to tips to the node that stays."""
    # One link at a time: to double the links would take two tips joined each to each for still.
    end = same
    for _ in range(parts):
        onward = same[end]
        if np.array_equal(onward, end):
            return end
        end = onward
    raise InputError(
        "tip_on",
        "a ring of tips",
        "",
        "an end that stays",
        "Join one of the tips, not each to each.",
    )


def _vents(
    piece: Piece, index: dict[str, int], tips: list[si.Integers], count: int
) -> tuple[si.Metres, si.Metres, si.Booleans]:
    diameter, length = np.zeros(count), np.zeros(count)
    vacuum = np.zeros(count, dtype=bool)
    for vent in piece.vents:
        at = tips[index[vent.part]]
        diameter[at] = vent.diameter
        length[at] = vent.length
        vacuum[at] = vent.leads_to == "vacuum"
    return diameter, length, vacuum


def _section(p: Placed) -> int:
    if p.part.shape == "blade":
        return RECTANGLE
    return ROUND if p.width == p.thickness else ELLIPSE


def _sections(p: Placed, cut: si.Ratios) -> tuple[si.Metres, si.Metres]:
    """Width and thickness at both ends of each segment, shape (segments, 2)."""
    width, thickness = sections(p, cut)
    if p.part.shape == "lump":
        scale = slice_scale(cut, p.base, p.tip)
        width, thickness = width * scale, thickness * scale
    return (
        np.column_stack([width[:-1], width[1:]]),
        np.column_stack([thickness[:-1], thickness[1:]]),
    )
