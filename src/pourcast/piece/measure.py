"""Measure: what volume, side, thinnest way and reach the piece has.

Volumes are those of the solids, exact, and not of the segments of the network.
A bent part has the volume of the straight one: its section stays square to its
middle line (Pappus).  Its side is taken as that of the straight one.  Heights
and reach come from sections at 17 places or more along each part; between two
places an arc may stand out by 0.2 % of its radius, a lump by 0.2 % of its width.

A part that is joined at its tip stands as its angles say, so its reach may be
too large by what the angles are off: that errs to a larger flask.
"""

import dataclasses
import math

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.piece.frames import cross
from pourcast.piece.lumps import lump_side, lump_volume
from pourcast.piece.model import Measures, Network, PartMeasures, Piece
from pourcast.piece.place import Placed, along, place, sections
from pourcast.piece.solids import (
    flat_taper_side,
    flat_taper_volume,
    round_taper_side,
    round_taper_volume,
)
from pourcast.piece.wedges import flat_end_gap, leaning_end, round_end_gap

_PLACES = 17  # sections along a part
_TURN = math.radians(7.5)  # of the direction from one section to the next, at most


def measure(piece: Piece, network: Network) -> Measures:
    """Volumes, sides and reach of a piece and of each part.

    Parameters
    ----------
    piece : Piece
    network : Network
        Of this piece, from `pourcast.piece.network.build`.

    Returns
    -------
    Measures

    Raises
    ------
    InputError
        If the network is not of this piece.
    """
    names = tuple(part.name for part in piece.parts)
    if network.part_names != names:
        raise InputError("network", network.part_names, "", f"that of a piece with parts {names}")
    placed = place(piece)
    parts = tuple(_measure_part(p) for p in placed)
    volume = sum(part.volume for part in parts)
    bare = sum(p.members * _volume(p) for p in place(_without_coats(piece)))
    button = piece.button
    return Measures(
        parts=parts,
        volume=volume,
        area=sum(part.area for part in parts),
        thinnest=min(part.thinnest for part in parts),
        button_volume=round_taper_volume(button.height, button.diameter, button.gate_diameter),
        joint_overlap=sum(p.members * _wedge(p, placed) for p in placed if p.parent >= 0),
        original_volume=bare,
        coat_volume=volume - bare,
        lowest=min(part.lowest for part in parts),
        reach=max(part.reach for part in parts),
    )


def _measure_part(p: Placed) -> PartMeasures:
    lowest, highest, reach = _extent(p)
    return PartMeasures(
        name=p.part.name,
        members=p.members,
        volume=p.members * _volume(p),
        area=p.members * _side(p),
        thinnest=min(*p.width, *p.thickness),
        lowest=lowest,
        highest=highest,
        reach=reach,
    )


def _without_coats(piece: Piece) -> Piece:
    parts = tuple(dataclasses.replace(part, coat=0.0) for part in piece.parts)
    return dataclasses.replace(piece, parts=parts)


def _volume(p: Placed) -> si.CubicMetre:
    if p.part.shape == "rod":
        return round_taper_volume(p.length, *p.width)
    if p.part.shape == "blade":
        return flat_taper_volume(p.length, p.width, p.thickness)
    return lump_volume(p.length, p.width[0], p.thickness[0], p.base, p.tip)


def _side(p: Placed) -> si.SquareMetre:
    if p.part.shape == "rod":
        return round_taper_side(p.length, *p.width)
    if p.part.shape == "blade":
        return flat_taper_side(p.length, p.width, p.thickness)
    return lump_side(p.length, p.width[0], p.thickness[0], p.base, p.tip)


def _extent(p: Placed) -> tuple[si.Metre, si.Metre, si.Metre]:
    """Lowest, highest and farthest from the axis, of all members."""
    steps = max(_PLACES - 1, math.ceil(abs(p.part.bend) / _TURN))
    share = np.linspace(0.0, 1.0, steps + 1)
    middle, direction, side = along(p, share)
    width, thickness = sections(p, share)
    broad = cross(direction, side)  # the way that the width is measured
    x, y, z = middle[..., 0], middle[..., 1], middle[..., 2]

    def half(sideways: si.Ratios, across: si.Ratios) -> si.Metres:
        """Half of a section in a direction, from its parts along side and broad way."""
        thick, wide = np.abs(sideways) * thickness / 2, np.abs(across) * width / 2
        return thick + wide if p.part.shape == "blade" else np.hypot(thick, wide)

    tall = half(side[..., 2], broad[..., 2])
    radius = np.hypot(x, y)
    far = np.where(radius > 0, radius, 1.0)
    ox, oy = np.where(radius > 0, x / far, 1.0), y / far
    outward = half(side[..., 0] * ox + side[..., 1] * oy, broad[..., 0] * ox + broad[..., 1] * oy)
    around = half(side[..., 1] * ox - side[..., 0] * oy, broad[..., 1] * ox - broad[..., 0] * oy)
    largest = (
        np.hypot(width, thickness) / 2
        if p.part.shape == "blade"
        else np.maximum(width, thickness) / 2
    )
    # Both are circles about the axis that hold the section; the smaller one is kept.
    reach = np.minimum(radius + largest, np.hypot(radius + outward, around))
    return float((z - tall).min()), float((z + tall).max()), float(reach.max())


def _wedge(p: Placed, placed: tuple[Placed, ...]) -> si.CubicMetre:
    """Return what one member counts twice or not at all where it starts."""
    parent = placed[p.parent]
    width, thickness = (float(way[0]) for way in sections(p, np.zeros(1)))
    alike = math.sqrt(width * thickness)
    if p.part.shape == "blade":
        alike *= math.sqrt(4 / math.pi)
    at_tip = min(p.part.position) == 1.0
    angle = abs(p.part.angle)
    lean = min(angle, math.pi - angle) if at_tip else abs(math.pi / 2 - angle)
    wedge = leaning_end(alike, lean)
    if at_tip or parent.part.shape == "blade":
        return wedge
    below = float(sections(parent, np.array([sum(p.part.position) / 2]))[0][0])
    if p.part.shape == "blade":
        return wedge + flat_end_gap(width, thickness, below)
    return wedge + round_end_gap(alike, below)
