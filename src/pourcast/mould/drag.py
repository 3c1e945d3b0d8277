"""Drag: how hard does slurry that moves past a part push on it?

A Bingham fluid pushes with a yield part, which does not care for speed, and a
viscous part.  Over a length l of a part, in the flow v square to it,

    yield part    F_y = N τ d l                                             (1)
    viscous part  F_v = K μ v l                                             (2)
    drag          F = (√F_y + √F_v)²                                        (3)

with d the way across that faces the flow.  The numbers N, at the limit of no speed:

    round rod     2π + 4√2 = 11.94        long flat blade  3π + 2 = 11.42   (4)
    ball          13.99 on its shadow, which is 13.99 d of each slice of it (5)

Along a part, and edgewise along a blade, the slurry shears off at the surface:
N d is the girth there, or twice the width and N of the edge.  A flow at a slant
is taken apart into these three ways.  The numbers K of the viscous part:

    rod in a room of k times its size  K = 4π/(ln k - (k² - 1)/(k² + 1))     (6)
    ball                               K = 3π (Stokes: 6π μ r v)            (7)

with the flask as the room, and half of that of (6) along the part, 2π/ln k.

(3) has no slow or fast limit wrong; between them it lies within 10 % of the
published fit for a ball, F/(6π μ r v) = 1 + 2.93 B^0.83 with B = τ d/(μ v), from
B = 1 to 100.  The same root stands in the theory of weak yield stress.

A body stays put in slurry at rest where its own pull F is too weak:

    ball  |Δρ| g d < 20.98 τ,     rod  |Δρ| g π d/4 < 11.94 τ               (8)

Left out: slip at a wet surface, which takes N of a rod down to 9.14; other parts
near by; the film of the surface, whose pull of 0.06 to 0.14 N on each metre of
a thin stalk lasts until the stalk is under, and can be the larger for hairs.

Sources: rod: Randolph and Houlsby (1984), Géotechnique 34, 613, and Tokpavi,
Magnin and Jay (2008), J Non-Newtonian Fluid Mech 154, 65; blade: deep plate in
plastic clay; ball: Beris, Tsamopoulos, Armstrong and Brown (1985), J Fluid Mech
158, 219; fit: Blackery and Mitsoulis (1997), J Non-Newtonian Fluid Mech 70, 59;
weak yield stress: Taylor-West and Hogg (2025), J Fluid Mech, abstract: a
correction as the root of B; (6) Happel and Brenner, Low Reynolds Number
Hydrodynamics.  All but the two abstracts from memory.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import require_not_negative, require_positive
from pourcast.piece.model import ELLIPSE, RECTANGLE

ROD = 2.0 * math.pi + 4.0 * math.sqrt(2.0)
BLADE = 3.0 * math.pi + 2.0
BALL = 13.99

_LEAST_ROOM = 5.0  # times the part; nearer walls would need another law (estimate)


def drag(yield_part: si.Newtons, viscous_part: si.Newtons) -> si.Newtons:
    """Return the drag of both parts, equation (3).

    Parameters
    ----------
    yield_part, viscous_part : array [N], any shape; 0 or more

    Returns
    -------
    array [N]
    """
    require_not_negative("yield_part", yield_part, "N")
    require_not_negative("viscous_part", viscous_part, "N")
    return np.asarray((np.sqrt(yield_part) + np.sqrt(viscous_part)) ** 2)


def viscous_number(across: si.Metres, room: si.Metre) -> si.Ratios:
    """Return K of a rod square to the flow, equation (6).

    Parameters
    ----------
    across : array [m]
        Size of the rod; > 0.
    room : float [m]
        Size of what it stands in; taken as 5 times the rod where it is less.

    Returns
    -------
    array [-]
    """
    k = _room(across, room)
    return np.asarray(4.0 * math.pi / (np.log(k) - (k**2 - 1.0) / (k**2 + 1.0)))


def yield_widths(
    section: si.Integers, lump: si.Booleans, width: si.Metres, thickness: si.Metres
) -> si.Metres:
    """Return N d for flow along, edgewise and broadside, equations (1), (4) and (5).

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE; broadcasts with the sizes.
    lump : array of bool
        True where the piece is a lump.
    width, thickness : array [m]; > 0

    Returns
    -------
    array [m], shape of the sizes and (3,)
        Along the part, along its width, along its thickness.
    """
    require_positive("width", width, "m")
    require_positive("thickness", thickness, "m")
    flat = np.asarray(section) == RECTANGLE
    number = np.where(lump | (np.asarray(section) == ELLIPSE), BALL, np.where(flat, BLADE, ROD))
    girth = np.where(flat, 2.0 * (width + thickness), math.pi / 2.0 * (width + thickness))
    along = np.where(lump, BALL * np.sqrt(width * thickness), girth)
    edge = number * thickness + np.where(flat, 2.0 * width, 0.0)
    return np.stack([along, edge, number * width], axis=-1)


def viscous_numbers(
    lump: si.Booleans, width: si.Metres, thickness: si.Metres, room: si.Metre
) -> si.Ratios:
    """Return K for flow along, edgewise and broadside, equations (6) and (7).

    Parameters
    ----------
    lump : array of bool
        True where the piece is a lump; broadcasts with the sizes.
    width, thickness : array [m]; > 0
        An oval acts as a rod of the mean of both.
    room : float [m]
        Inside diameter of the flask; > 0.

    Returns
    -------
    array [-], shape of the sizes and (3,)
    """
    require_positive("room", room, "m")
    across = 0.5 * (width + thickness)
    square = viscous_number(across, room)
    along = 2.0 * math.pi / np.log(_room(across, room))
    ball = 3.0 * math.pi
    return np.stack(
        [
            np.where(lump, ball, along),
            np.where(lump, ball, square),
            np.where(lump, ball, square),
        ],
        axis=-1,
    )


def stays_put(
    density_step: si.KilogramsPerCubicMetre,
    across: si.Metres,
    yield_stress: si.Pascals,
    lump: si.Booleans,
) -> si.Booleans:
    """Return whether slurry at rest holds a loose body by its yield stress, equation (8).

    Parameters
    ----------
    density_step : array [kg/m³]
        Of the slurry over the body; of any sign.
    across : array [m]
        Least way across; > 0.
    yield_stress : array [Pa]; 0 or more
    lump : array of bool
        True: a ball; False: a rod or a blade, which is held at least as well.

    Returns
    -------
    array of bool
    """
    require_positive("across", across, "m")
    require_not_negative("yield_stress", yield_stress, "Pa")
    pull = np.abs(density_step) * si.GRAVITY * across
    held = np.where(lump, 1.5 * BALL, 4.0 / math.pi * ROD) * yield_stress
    return np.asarray(pull < held)


def held_bubble(density: si.KilogramsPerCubicMetre, yield_stress: si.Pascals) -> si.Metres:
    """Return the diameter of the largest bubble that does not rise by itself, equation (8).

    Parameters
    ----------
    density : array [kg/m³]
        Of the slurry; > 0.
    yield_stress : array [Pa]; 0 or more

    Returns
    -------
    array [m]
        As of a light ball; a bubble gives way and slips, so true ones are smaller.
    """
    require_positive("density", density, "kg/m³")
    require_not_negative("yield_stress", yield_stress, "Pa")
    return np.asarray(1.5 * BALL * yield_stress / (density * si.GRAVITY))


def _room(across: si.Metres, room: si.Metre) -> si.Ratios:
    require_positive("across", across, "m")
    return np.maximum(room / across, _LEAST_ROOM)
