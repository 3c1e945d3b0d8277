"""Outline: which points of its surface decide whether the piece fits?

Of a straight taper the two end faces, for its hull is theirs.  Of a bent part or a
lump sections at 17 places or more.  A round section is a polygon of 16 corners drawn
round it, so a rod of 7 mm counts as up to 0.07 mm too thick: the careful side.
Between two sections an arc may stand out by 0.2 % of its radius.

Source: geometry.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.piece.frames import cross
from pourcast.piece.model import Button, Piece
from pourcast.piece.place import Placed, along, place, sections

_PLACES = 17  # sections along a part that is not straight
_TURN = math.radians(7.5)  # of the direction from one section to the next, at most
_CORNERS = 16  # of a polygon round a section
_RIM = 64  # of a polygon round the rim of the button


def surface_points(piece: Piece) -> tuple[si.Metres, si.Integers]:
    """Return points that the hull of each member goes through, and the part of each.

    Parameters
    ----------
    piece : Piece

    Returns
    -------
    points : array [m], shape (points, 3)
        x and y from the axis of the flask, z up from the gate; the button is not in it.
    part : array of int, shape (points,)
    """
    placed = place(piece)
    found = [_of_part(p).reshape(-1, 3) for p in placed]
    part = np.repeat(np.arange(len(placed)), [len(points) for points in found])
    return np.concatenate(found), part


def button_points(button: Button) -> si.Metres:
    """Return points round the rim of the button [m], shape (points, 3).

    Parameters
    ----------
    button : Button
    """
    turn = np.linspace(0.0, 2.0 * math.pi, _RIM, endpoint=False)
    radius = 0.5 * button.diameter / math.cos(math.pi / _RIM)
    height = np.full(_RIM, button.height)
    return np.column_stack([radius * np.cos(turn), radius * np.sin(turn), height])


def _of_part(p: Placed) -> si.Metres:
    """Return the corners of the sections of a part, shape (members, places, corners, 3)."""
    straight = p.part.bend == 0.0 and p.part.shape != "lump"
    steps = 1 if straight else max(_PLACES - 1, math.ceil(abs(p.part.bend) / _TURN))
    share = np.linspace(0.0, 1.0, steps + 1)
    middle, direction, side = along(p, share)
    broad = cross(direction, side)  # the way that the width is measured
    width, thickness = sections(p, share)
    if p.part.shape == "blade":
        wide, thick = np.array([1.0, 1.0, -1.0, -1.0]), np.array([1.0, -1.0, 1.0, -1.0])
    else:
        turn = np.linspace(0.0, 2.0 * math.pi, _CORNERS, endpoint=False)
        around = 1.0 / math.cos(math.pi / _CORNERS)
        wide, thick = around * np.cos(turn), around * np.sin(turn)
    to_edge = 0.5 * width[:, None] * wide
    to_face = 0.5 * thickness[:, None] * thick
    return np.asarray(
        middle[:, :, None, :]
        + to_edge[None, :, :, None] * broad[:, :, None, :]
        + to_face[None, :, :, None] * side[:, :, None, :]
    )
