"""Poses: how the piece file says where a part stands.

The piece file counts from the parent: a place along it, an angle away from its
direction, a turn about it and a bend.  A part begins on the surface of its
parent at a turn t, so the place along the parent is that of the foot of the
scanned beginning on the parent's middle line.  In the plane of both directions
the heading of a part is a + b s at the share s of its length, and its chord
stands at a + b/2: so with the chord at the angle c

    a = c - b/2                                                                (1)

Each part is reckoned from its parent as the piece file places it, not as it was
scanned, and aims at its own scanned tip: errors of place do not add up.  What
the file cannot say is a bend out of that plane and how a blade lies about its
middle line; only a part that goes straight on has its turn free for that.

Source: the frames of `pourcast.piece.frames`; plane geometry.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.piece.lumps import base_ratio, tip_ratio, waist
from pourcast.scan.model import ScannedPart

_STRAIGHT = math.radians(2.0)  # under this angle the turn is free
_LEAST_BEND = math.radians(4.0)  # a smaller bend is not told from none; estimate
_TIP = 0.98  # of the length; a part nearer to the tip grows at the tip


@dataclass(frozen=True, slots=True, kw_only=True)
class Pose:
    """A part as the piece file places it.

    Parameters
    ----------
    at : float [-]
        Along its parent.
    angle, turn, bend : float [rad]
    origin : array [m], shape (3,)
        In the flask: the gate at 0, z up, the piece hanging.
    direction, side : array [-], shape (3,)
        At the base.
    part : ScannedPart
    base, tip : float [-]
        Of a lump, its section at the base and at the tip over the largest; else 1.
    """

    at: si.Ratio
    angle: si.Radian
    turn: si.Radian
    bend: si.Radian
    origin: si.Metres
    direction: si.Ratios
    side: si.Ratios
    part: ScannedPart
    base: si.Ratio
    tip: si.Ratio = 1.0

    def places(self, shares: si.Ratios) -> si.Metres:
        """Return places of the middle line at shares of the length.

        Parameters
        ----------
        shares : array [-], shape (shares,)

        Returns
        -------
        array [m], shape (shares, 3)
        """
        half = 0.5 * self.bend * shares[:, None]
        chord = self.part.length * shares[:, None] * np.sinc(half / math.pi)
        out: si.Metres = self.origin + chord * (
            np.cos(half) * self.direction + np.sin(half) * self.side
        )
        return out

    def frame(self, share: si.Ratio) -> tuple[si.Ratios, si.Ratios]:
        """Return direction and side at a share of the length.

        Parameters
        ----------
        share : float [-]

        Returns
        -------
        direction, side : array [-], shape (3,)
        """
        turn = self.bend * share
        return (
            math.cos(turn) * self.direction + math.sin(turn) * self.side,
            math.cos(turn) * self.side - math.sin(turn) * self.direction,
        )

    def section(self, share: si.Ratio) -> tuple[si.Metre, si.Metre]:
        """Return width and thickness at a share of the length.

        Parameters
        ----------
        share : float [-]

        Returns
        -------
        width, thickness : float [m]
        """
        (w0, w1), (t0, t1) = self.part.width, self.part.thickness
        if self.part.shape == "lump":
            scale = float(waist(np.array(share), self.base, self.tip))
            return w0 * scale, t0 * scale
        return w0 + (w1 - w0) * share, t0 + (t1 - t0) * share


def in_flask(points: si.Metres, gate: si.Metres, *, turned: bool) -> si.Metres:
    """Return places of the scan in the flask, where the piece hangs from its gate.

    Parameters
    ----------
    points : array [m], shape (points, 3)
    gate : array [m], shape (3,)
        In the scan.
    turned : bool
        True if the original stands on its gate in the scan.

    Returns
    -------
    array [m], shape (points, 3)
    """
    moved: si.Metres = points - gate
    return moved * np.array([1.0, -1.0, -1.0]) if turned else moved


def stands(parts: tuple[ScannedPart, ...]) -> bool:
    """Say whether the original stands on its gate in the scan, and does not hang from it.

    Parameters
    ----------
    parts : tuple of ScannedPart
    """
    first = parts[0].line
    return bool(first[-1, 2] >= first[0, 2])


def posed(parts: tuple[ScannedPart, ...]) -> tuple[Pose, ...]:
    """Return each part as the piece file places it.

    Parameters
    ----------
    parts : tuple of ScannedPart
        Each after its parent.

    Returns
    -------
    tuple of Pose
    """
    turned = stands(parts)
    gate = parts[0].line[0]
    lines = [in_flask(part.line, gate, turned=turned) for part in parts]
    out: list[Pose] = []
    for k, part in enumerate(parts):
        across = in_flask(part.across[None], np.zeros(3), turned=turned)[0]
        parent = out[part.parent] if part.parent >= 0 else None
        pose = _pose(part, lines[k], across, parent)
        if part.shape == "lump":
            grown = [j for j, other in enumerate(parts) if other.parent == k]
            there = [parts[j] for j in grown if _foot(lines[j][0], pose) == 1.0]
            pose = replace(pose, tip=_tip(part, there))
        out.append(pose)
    return tuple(out)


def _tip(lump: ScannedPart, there: list[ScannedPart]) -> si.Ratio:
    """Return the section of a lump at its tip over the largest, from the feet that stand there."""
    feet = [part for part in there if part.shape != "lump"]
    area = sum(
        part.width[0] * part.thickness[0] * (math.pi / 4 if part.shape == "rod" else 1.0)
        for part in feet
    )
    thickest = max((min(part.width[0], part.thickness[0]) for part in feet), default=0.0)
    return tip_ratio(area, thickest, lump.width[0], lump.thickness[0])


def _pose(part: ScannedPart, line: si.Metres, across: si.Ratios, parent: Pose | None) -> Pose:
    if parent is None:
        at, middle = 1.0, np.zeros(3)
        direction, side = np.array([0.0, 0.0, -1.0]), np.array([1.0, 0.0, 0.0])
    else:
        at = _foot(line[0], parent)
        middle = parent.places(np.array([at]))[0]
        direction, side = parent.frame(at)
    first, last = _unit(line[4] - line[0]), _unit(line[-1] - line[-5])
    origin = middle
    angle = bend = 0.0
    outward = side
    for _ in range(3):
        chord = _unit(line[-1] - origin)
        plane = chord - (chord @ direction) * direction
        straight = math.acos(max(-1.0, min(1.0, float(chord @ direction)))) < _STRAIGHT
        if straight:
            plane = _free_turn(part, first, last, across, direction)
        outward = _unit(plane)
        bend = _bend(first, last, direction, outward)
        lean = math.atan2(float(chord @ outward), float(chord @ direction))
        angle = lean - bend / 2
        if angle < 0.0 and not straight:
            angle, bend = 0.0, 2 * lean
        if straight and bend == 0.0:
            angle = 0.0
        if parent is not None:
            origin = middle + _half_section(parent, at, outward, side, direction, angle) * (
                math.copysign(1.0, angle) * outward
            )
    other = np.cross(direction, side)
    least = min(*part.width, *part.thickness)
    joint = min(parent.section(at)) if parent is not None else least
    return Pose(
        at=at,
        angle=angle,
        turn=math.atan2(float(outward @ other), float(outward @ side)),
        bend=bend,
        origin=origin,
        direction=math.cos(angle) * direction + math.sin(angle) * outward,
        side=math.cos(angle) * outward - math.sin(angle) * direction,
        part=part,
        base=base_ratio(joint, least) if part.shape == "lump" else 1.0,
    )


def _unit(way: si.Metres) -> si.Ratios:
    out: si.Ratios = way / max(float(np.linalg.norm(way)), 1e-300)
    return out


def _foot(base: si.Metres, parent: Pose) -> si.Ratio:
    """Return where along the parent its middle line comes nearest to the beginning of a part."""
    shares = np.linspace(0.0, 1.0, 501)
    apart = np.linalg.norm(parent.places(shares) - base, axis=1)
    at = float(shares[int(np.argmin(apart))])
    return 1.0 if at > _TIP else round(at, 3)


def _free_turn(
    part: ScannedPart,
    first: si.Ratios,
    last: si.Ratios,
    across: si.Ratios,
    direction: si.Ratios,
) -> si.Ratios:
    """Return the way out of a part that goes straight on: along its bend, or through a blade."""
    out = last - first
    out = out - (out @ direction) * direction
    if float(np.linalg.norm(out)) > 2 * math.sin(_LEAST_BEND / 2):
        return out
    if part.shape != "rod":
        normal = np.cross(direction, across)
        if float(np.linalg.norm(normal)) > 1e-6:
            return np.asarray(normal)
    some = np.eye(3)[int(np.argmin(np.abs(direction)))]
    return np.asarray(some - (some @ direction) * direction)


def _bend(first: si.Ratios, last: si.Ratios, direction: si.Ratios, outward: si.Ratios) -> si.Radian:
    """Return how far a part turns in the plane of its parent's direction and its own."""
    begin = math.atan2(float(first @ outward), float(first @ direction))
    end = math.atan2(float(last @ outward), float(last @ direction))
    # Both headings are those of an eighth of the length; the whole turn is 8/7 of theirs.
    turn = (math.remainder(end - begin, 2 * math.pi)) * 8 / 7
    return turn if abs(turn) > _LEAST_BEND else 0.0


def _half_section(
    parent: Pose,
    at: si.Ratio,
    outward: si.Ratios,
    side: si.Ratios,
    direction: si.Ratios,
    angle: si.Radian,
) -> si.Metre:
    """Return how far from the middle line of its parent a part begins."""
    width, thickness = parent.section(at)
    cosine = abs(float(outward @ side))
    sine = abs(float(outward @ np.cross(direction, side)))
    if parent.part.shape == "rod":
        out = width / 2
    elif parent.part.shape == "blade":
        out = 0.5 / max(cosine / thickness, sine / width)
    else:
        out = 0.5 / math.hypot(cosine / thickness, sine / width)
    return out * (math.sin(min(abs(angle), math.pi / 2)) if at > _TIP else 1.0)
