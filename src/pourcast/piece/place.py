"""Place: where each member of each part stands as the flask stands at the pour.

The gate is at z = 0 and the piece hangs from it; a part on the button starts at
the middle of the gate.  Another part starts on the surface of its parent: on
the side that it points to, half the section of the parent away from its middle
line.  At the tip of the parent it starts on the end face, sin(angle) of that
far from the middle, so that a part at the angle 0 goes straight on.

The broad way of a blade lies square to the plane of its parent's direction and
its own, so a leaf bends through its thickness.  Sections are those of the
cavity, with the coat on both sides; a coat also lengthens a free tip unless a
child goes straight on there.  Places along a coated part are shares of that
longer length.  Left out: how soft parts sag when the piece is hung.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.piece.cuts import SHARED
from pourcast.piece.frames import arc, away, branch, gate_frame
from pourcast.piece.lumps import base_ratio, tip_ratio, waist
from pourcast.piece.model import Part, Piece

_STRAIGHT = 1e-6  # rad; a child at less than this angle goes on straight


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One part in its place, all its members.

    Parameters
    ----------
    part : Part
    parent : int
        Index of its parent; -1: the button.
    parent_member : array of int, shape (members,)
        Among the members of the parent.
    at : array [-], shape (members,)
        Where along the parent.
    origin : array [m], shape (members, 3)
    direction, side : array [-], shape (members, 3)
        At the base.
    length : float [m]
        Of the cavity.
    width, thickness : pair of float [m]
        Of the cavity.
    base, tip : float [-]
        Of a lump, its section at the base and at the tip over the largest; else 1.
    """

    part: Part
    parent: int
    parent_member: si.Integers
    at: si.Ratios
    origin: si.Metres
    direction: si.Ratios
    side: si.Ratios
    length: si.Metre
    width: tuple[si.Metre, si.Metre]
    thickness: tuple[si.Metre, si.Metre]
    base: si.Ratio
    tip: si.Ratio

    @property
    def members(self) -> int:
        """How many there are in all."""
        return len(self.origin)


def along(placed: Placed, share: si.Ratios) -> tuple[si.Metres, si.Ratios, si.Ratios]:
    """Middle line and frames of all members of a part.

    Parameters
    ----------
    placed : Placed
    share : array [-], shape (places,)
        Of the length.

    Returns
    -------
    place : array [m], shape (members, places, 3)
    direction, side : array [-], shape (members, places, 3)
    """
    return arc(placed.origin, placed.direction, placed.side, placed.length, placed.part.bend, share)


def sections(placed: Placed, share: si.Ratios) -> tuple[si.Metres, si.Metres]:
    """Width and thickness along a part, coat included.

    Parameters
    ----------
    placed : Placed
    share : array [-], shape (places,)
        Of the length.

    Returns
    -------
    width, thickness : array [m], shape (places,)
    """
    (w0, w1), (t0, t1) = placed.width, placed.thickness
    if placed.part.shape == "lump":
        scale = waist(share, placed.base, placed.tip)
        return w0 * scale, t0 * scale
    return w0 + (w1 - w0) * share, t0 + (t1 - t0) * share


def place(piece: Piece) -> tuple[Placed, ...]:
    """All parts in their place, in the order of the piece.

    Parameters
    ----------
    piece : Piece
        Within the limits of `pourcast.piece.limits`.

    Returns
    -------
    tuple of Placed
    """
    index = {part.name: i for i, part in enumerate(piece.parts)}
    down, side = gate_frame(piece.button.tilt)
    straight_on = {
        part.parent
        for part in piece.parts
        if abs(part.angle) < _STRAIGHT and max(part.position) > 1 - SHARED
    }
    placed: list[Placed] = []
    for part in piece.parts:
        turns: si.Radians = part.turn + part.turn_step * np.arange(part.count, dtype=np.float64)
        at: si.Ratios = np.linspace(part.position[0], part.position[1], part.count)
        parent = index.get(part.parent, -1)
        if parent < 0:
            members = 1
            start = np.zeros((1, part.count, 3))
            direction = np.broadcast_to(down, start.shape)
            outward = away(direction, np.broadcast_to(side, start.shape), turns)
            joint = piece.button.gate_diameter
        else:
            members = placed[parent].members
            middle, direction, sides = along(placed[parent], at)
            outward = away(direction, sides, turns)
            width, thickness = sections(placed[parent], at)
            out = _half_section(placed[parent], width, thickness, turns)
            out *= np.where(at > 1 - SHARED, _end_face(part.angle), 1.0)
            start = middle + (math.copysign(1.0, part.angle) * out)[:, None] * outward
            joint = _least_at(placed[parent], sum(part.position) / 2)
        way, its_side = branch(direction, outward, part.angle)
        coat = 2 * part.coat
        free = part.tip_on is None and part.name not in straight_on
        thick = (part.thickness[0] + coat, part.thickness[1] + coat)
        wide = (part.width[0] + coat, part.width[1] + coat)
        least = min(thick[0], wide[0])
        placed.append(
            Placed(
                part=part,
                parent=parent,
                parent_member=np.repeat(np.arange(members), part.count),
                at=np.tile(at, members),
                origin=start.reshape(-1, 3),
                direction=way.reshape(-1, 3),
                side=its_side.reshape(-1, 3),
                length=part.length + (part.coat if free else 0.0),
                width=wide,
                thickness=thick,
                base=base_ratio(joint, least) if part.shape == "lump" else 1.0,
                tip=_tip(piece, part, wide[0], thick[0]) if part.shape == "lump" else 1.0,
            )
        )
    return tuple(placed)


def _tip(piece: Piece, lump: Part, width: si.Metre, thickness: si.Metre) -> si.Ratio:
    """Return the section of a lump at its tip over the largest, from the feet that stand there."""
    area, thickest = 0.0, 0.0
    for part in piece.parts:
        if part.parent != lump.name or part.shape == "lump":
            continue
        there = int((np.linspace(*part.position, part.count) > 1 - SHARED).sum())
        if there:
            wide, thick = part.width[0] + 2 * part.coat, part.thickness[0] + 2 * part.coat
            area += there * wide * thick * (math.pi / 4 if part.shape == "rod" else 1.0)
            thickest = max(thickest, min(wide, thick))
    return tip_ratio(area, thickest, width, thickness)


def _half_section(
    parent: Placed, width: si.Metres, thickness: si.Metres, turns: si.Radians
) -> si.Metres:
    """From the middle line to the surface, at a turn; thickness lies along the turn 0."""
    if parent.part.shape == "rod":
        return width / 2
    cosine, sine = np.abs(np.cos(turns)), np.abs(np.sin(turns))
    if parent.part.shape == "blade":
        return 0.5 / np.maximum(cosine / thickness, sine / width)
    return 0.5 / np.sqrt((cosine / thickness) ** 2 + (sine / width) ** 2)


def _end_face(angle: si.Radian) -> si.Ratio:
    return math.sin(min(abs(angle), math.pi / 2))


def _least_at(parent: Placed, share: si.Ratio) -> si.Metre:
    width, thickness = sections(parent, np.array([share]))
    return float(min(width[0], thickness[0]))
