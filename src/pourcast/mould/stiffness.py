"""Stiffness: how does a part with its coat bend?

A part and its coat bend together, so their stiffnesses add up.  About each of
its two ways, of the width b and the thickness t over all and the coat c,

    E I = E_part I(b - 2c, t - 2c) + E_coat (I(b, t) - I(b - 2c, t - 2c))      (1)

    round or oval  I = π b t³/64,    flat  I = b t³/12                        (2)

and the stiffness against twist, with J that of (3), is E J / 2 (1 + ν):

    J = 4 I_t I_b/(I_t + I_b)                                                 (3)

which is exact for a round or oval section and for a thin blade, and 19 % too
stiff for a square one.  ν is 0.3 (estimate: plants twist more easily than that).

A lump is taken to be nowhere thinner than at its base: what grows on its round
end would else hang on a point.  Coats thicker than the part allows are cut to
what leaves 5 % of it.

Left out: a coat that cracks or slips; hollow stems, which the modulus of the
organ has to stand for; that soft wax creeps in the minutes of the mixing.

Source: beam theory of Euler and Bernoulli; Roark, Formulas for Stress and Strain,
tables of sections, from memory.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import require_not_negative, require_positive
from pourcast.mould.model import SecondMoments, Stiffnesses
from pourcast.piece.model import RECTANGLE

_POISSON = 0.3
_LEAST_CORE = 0.05  # of the way across, left to the original under its coat


def core(across: si.Metres, coat: si.Metres) -> si.Metres:
    """Return the way across the original under its coat.

    Parameters
    ----------
    across : array [m]
        Coat included; > 0.
    coat : array [m]
        On one side; 0 or more.

    Returns
    -------
    array [m]
        At least 5 % of ``across``.
    """
    require_positive("across", across, "m")
    require_not_negative("coat", coat, "m")
    return np.maximum(across - 2.0 * coat, _LEAST_CORE * across)


def areas(section: si.Integers, width: si.Metres, thickness: si.Metres) -> si.SquareMetres:
    """Return areas of sections.

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE; broadcasts with the sizes.
    width, thickness : array [m]

    Returns
    -------
    array [m²]
    """
    share = np.where(np.asarray(section) == RECTANGLE, 1.0, math.pi / 4.0)
    return np.asarray(share * width * thickness)


def moments(section: si.Integers, width: si.Metres, thickness: si.Metres) -> SecondMoments:
    """Return second moments for a bend through the thickness and through the width, (2).

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE; broadcasts with the sizes.
    width, thickness : array [m]; > 0

    Returns
    -------
    array [m⁴], shape of the sizes and (2,)
    """
    require_positive("width", width, "m")
    require_positive("thickness", thickness, "m")
    share = np.where(np.asarray(section) == RECTANGLE, 1.0 / 12.0, math.pi / 64.0)
    through = share * width * thickness
    return np.stack([through * thickness**2, through * width**2], axis=-1)


def twist_moment(bend: SecondMoments) -> SecondMoments:
    """Return what takes the place of the second moment in a twist, (3) over 2 (1 + ν).

    Parameters
    ----------
    bend : array [m⁴], shape (..., 2)
        From `moments`.

    Returns
    -------
    array [m⁴], shape (...)
    """
    return np.asarray(
        4.0 * bend[..., 0] * bend[..., 1] / bend.sum(axis=-1) / (2.0 * (1.0 + _POISSON))
    )


def stiffness(
    core_moment: SecondMoments,
    coat_moment: SecondMoments,
    part_youngs: si.Pascals,
    coat_youngs: si.Pascals,
) -> Stiffnesses:
    """Return the bending stiffness of part and coat together, equation (1).

    Parameters
    ----------
    core_moment, coat_moment : array [m⁴]; 0 or more
    part_youngs, coat_youngs : array [Pa]; > 0
        All broadcast together.

    Returns
    -------
    array [N·m²]
    """
    require_positive("part_youngs", part_youngs, "Pa")
    require_positive("coat_youngs", coat_youngs, "Pa")
    require_not_negative("core_moment", core_moment, "m⁴")
    require_not_negative("coat_moment", coat_moment, "m⁴")
    return np.asarray(part_youngs * core_moment + coat_youngs * coat_moment)
