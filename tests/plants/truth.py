"""Truth: each member of a test plant, and what all of it comes to.

A member is one spine, one leaf.  Its length is what a caliper reads, from the
surface of its parent to its tip; its volume is the integral of its sections
along that length.  Where a member begins, its flat end stands off a round
parent and its root reaches into it, so the members together are not the sum of
their volumes: `whole_volume_mm3` adds the shells as they are meshed and takes
off what lies in two of them, by points spread through the roots.

Uses `pourcast.piece.place` (frames, sections) and, for the whole volume,
`trimesh` to ask whether a point lies in a shell.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.spatial import cKDTree

from pourcast import units as si
from pourcast.piece.model import Piece, Shape
from pourcast.piece.place import Placed, along, place, sections

_UP = np.array([1.0, -1.0, -1.0])
"""The piece hangs from its gate in the flask and stands on it on the bench."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One member of one part, in millimetres, standing up.

    ``line`` is its middle line from base to tip at ``share`` of the length,
    ``broad`` the direction of its width there, ``width`` and ``thickness`` its
    sections there; ``parent`` is its index among the members, -1 the gate.
    """

    part: str
    number: int
    parent: int
    shape: Shape
    round: bool
    length: float
    ends: tuple[tuple[float, float], tuple[float, float]]
    share: si.Ratios
    line: si.Ratios
    direction: si.Ratios
    broad: si.Ratios
    width: si.Ratios
    thickness: si.Ratios
    volume: float

    @property
    def name(self) -> str:
        """Name of the part with the number of the member."""
        return f"{self.part} {self.number}"

    @property
    def base(self) -> si.Ratios:
        """Where it begins, on its middle line."""
        return np.asarray(self.line[0])

    @property
    def tip(self) -> si.Ratios:
        """Where it ends, on its middle line."""
        return np.asarray(self.line[-1])


def members(piece: Piece, *, spacing: float = 0.8) -> tuple[Member, ...]:
    """All members of a piece, part by part, a parent before its children.

    ``spacing`` is the distance of the stations along the middle lines [mm].
    """
    placed = place(piece)
    found: list[Member] = []
    first: list[int] = []
    for part in placed:
        first.append(len(found))
        share = _stations(part, spacing)
        line, direction, side = along(part, share)
        width, thickness = sections(part, share)
        broad = np.cross(direction, side)
        area = width * thickness * (1.0 if part.part.shape == "blade" else np.pi / 4)
        fine = np.linspace(0.0, 1.0, 4001)
        w, t = sections(part, fine)
        flat = 1.0 if part.part.shape == "blade" else np.pi / 4
        volume = float(np.trapezoid(w * t * flat, fine)) * part.length
        assert area.min() > 0.0
        for number in range(part.members):
            parent = -1 if part.parent < 0 else first[part.parent] + int(part.parent_member[number])
            found.append(
                Member(
                    part=part.part.name,
                    number=number + 1,
                    parent=parent,
                    shape=part.part.shape,
                    round=part.width == part.thickness,
                    length=1e3 * part.length,
                    ends=(_mm(part.width), _mm(part.thickness)),
                    share=share,
                    line=1e3 * line[number] * _UP,
                    direction=direction[number] * _UP,
                    broad=broad[number] * _UP,
                    width=1e3 * width,
                    thickness=1e3 * thickness,
                    volume=1e9 * volume,
                )
            )
    return tuple(found)


def _mm(pair: tuple[float, float]) -> tuple[float, float]:
    return 1e3 * pair[0], 1e3 * pair[1]


def _stations(part: Placed, spacing: float) -> si.Ratios:
    count = max(4, int(np.ceil(1e3 * part.length / spacing)))
    if part.part.shape != "lump":
        return np.linspace(0.0, 1.0, count + 1)
    # Even angles about the middle of the lump, so that its round ends are round.
    rise = float(np.sqrt(1.0 - part.base**2))
    angle = np.linspace(-np.arcsin(min(1.0, rise)), np.pi / 2, max(16, count) + 1)
    share = (np.sin(angle) + rise) / (1.0 + rise)
    share[0], share[-1] = 0.0, 1.0
    return np.asarray(share)


def closest_gap_mm(piece: Piece) -> float:
    """Least clear way between members that do not grow on each other [mm].

    Spheres along the middle lines stand for rods and lumps, rows of points for
    the flat ones.  Near the place where two members leave a common parent,
    twice its section from their bases, they may meet.
    """
    all_members = members(piece, spacing=1.0)
    points, radii = zip(*(_balls(member) for member in all_members), strict=True)
    trees = [cKDTree(p) for p in points]
    least = np.inf
    for i, one in enumerate(all_members):
        for j in range(i):
            other = all_members[j]
            if one.parent == j or other.parent == i:
                continue
            distance, nearest = trees[j].query(points[i])
            clear = distance - radii[i] - radii[j][nearest]
            if one.parent == other.parent and one.parent >= 0:
                room = 2.0 * float(all_members[one.parent].width.max())
                away = np.minimum(
                    np.linalg.norm(points[i] - one.base, axis=1),
                    np.linalg.norm(points[j][nearest] - other.base, axis=1),
                )
                clear = clear[away > room]
            elif one.parent >= 0 and _steps(all_members, i, j) == 2:
                # A child of a child begins near its grandparent where the stalk is short.
                room = 1.5 * float(all_members[one.parent].width.max())
                clear = clear[np.linalg.norm(points[i] - one.base, axis=1) > room]
            if clear.size:
                least = min(least, float(clear.min()))
    return least


def _steps(all_members: tuple[Member, ...], low: int, high: int) -> int:
    steps = 0
    while low >= 0 and low != high:
        low, steps = all_members[low].parent, steps + 1
    return steps if low == high else -1


def _balls(member: Member) -> tuple[si.Ratios, si.Ratios]:
    half = 0.5 * np.maximum(member.width, member.thickness)
    if member.shape != "blade":
        return member.line, half
    across = np.linspace(-0.5, 0.5, 9)[:, None, None]
    spread = member.line + across * member.width[:, None] * member.broad
    thick = np.broadcast_to(0.5 * member.thickness, (9, len(half)))
    return spread.reshape(-1, 3), thick.reshape(-1)


def whole_volume_mm3(shells: Any, *, points: int = 4000, seed: int = 0) -> float:
    """Volume of closed shells that overlap, what lies in several counted once [mm³].

    ``shells`` are trimesh meshes, each closed.  For each, points spread evenly
    through it are asked whether they lie in an earlier one: the share that does
    is taken off.  Spread with 4 000 points: about 0.1 % of the whole.
    """
    import trimesh

    rng = np.random.default_rng(seed)
    total = 0.0
    for i, shell in enumerate(shells):
        near = [s for s in shells[:i] if _boxes_meet(s.bounds, shell.bounds)]
        volume = abs(float(shell.volume))
        if near:
            low = np.maximum(shell.bounds[0], np.min([s.bounds[0] for s in near], axis=0))
            high = np.minimum(shell.bounds[1], np.max([s.bounds[1] for s in near], axis=0))
            inside = rng.uniform(low, high, (20 * points, 3))
            inside = inside[shell.contains(inside)]
            taken = np.zeros(len(inside), dtype=bool)
            for s in near:
                taken |= s.contains(inside)
            volume -= float(np.prod(high - low)) * taken.sum() / (20 * points)
        total += volume
    assert isinstance(shells[0], trimesh.Trimesh)
    return total


def _boxes_meet(a: si.Ratios, b: si.Ratios) -> bool:
    return bool((a[0] < b[1]).all() and (b[0] < a[1]).all())
