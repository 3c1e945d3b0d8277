"""Cantilever: what bends a part that is held at one end?

A part of the casting is a beam of cast metal, held where it grows.  With the
section modulus Z about its weaker axis and the second moment I of its section,
a force F across its tip at the distance x yields the metal where

    F x = σ Z(x)                                                           (1)

first holds on the way from the tip to the root.  The tip moves by

    δ = F/E ∫ x²/I dx                                                      (2)

which is F L³/(3 E I) where the section is the same all along.  An even
pressure p on a face of the width b has at the distance x from the tip

    M = p ∫ b(ξ) (x - ξ) dξ,   p b L²/2 at the root of an even blade       (3)

Sections, of the diameter or width b and the thickness t, bent over the flat:

    round   Z = π d³/32,     I = π d⁴/64                                   (4)
    flat    Z = b t²/6,      I = b t³/12                                   (5)
    oval    Z = π b t²/32,   I = π b t³/64                                 (6)

Left out: shear and twist, which matter for stubs alone; that the metal bears up
to 1.7 times (1) for a round and 1.5 times for a flat section before it folds,
and hardens as it bends (the forces here are those at which it begins to stay
bent); pores and laps, which weaken it.

Source: beam theory of Euler and Bernoulli; Roark, Formulas for Stress and
Strain, and Gere, Mechanics of Materials, tables of beams and sections, all from
memory.
"""

import math
from typing import Annotated, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.errors import require_positive
from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND

SectionModuli: TypeAlias = Annotated[si.Floats, si.Unit("m³")]
SecondMoments: TypeAlias = Annotated[si.Floats, si.Unit("m⁴")]

_MODULUS = {ROUND: math.pi / 32, RECTANGLE: 1 / 6, ELLIPSE: math.pi / 32}
_MOMENT = {ROUND: math.pi / 64, RECTANGLE: 1 / 12, ELLIPSE: math.pi / 64}
_SHARE = {ROUND: math.pi / 4, RECTANGLE: 1.0, ELLIPSE: math.pi / 4}


def section_modulus(section: si.Integers, width: si.Metres, thickness: si.Metres) -> SectionModuli:
    """Section moduli about the weaker axis, equations (4) to (6).

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE; broadcasts with the sizes.
    width, thickness : array [m], any shape; > 0
        Whichever is less is the way that it bends.

    Returns
    -------
    array [m³]

    Raises
    ------
    InputError
        If a size is not above 0.
    """
    broad, thin = _ordered(width, thickness)
    return _factor(_MODULUS, section) * broad * thin**2


def second_moment(section: si.Integers, width: si.Metres, thickness: si.Metres) -> SecondMoments:
    """Second moments about the weaker axis, equations (4) to (6).

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE; broadcasts with the sizes.
    width, thickness : array [m], any shape; > 0

    Returns
    -------
    array [m⁴]

    Raises
    ------
    InputError
        If a size is not above 0.
    """
    broad, thin = _ordered(width, thickness)
    return _factor(_MOMENT, section) * broad * thin**3


def section_area(section: si.Integers, width: si.Metres, thickness: si.Metres) -> si.SquareMetres:
    """Areas of sections.

    Parameters
    ----------
    section : array of int
        ROUND, RECTANGLE or ELLIPSE; broadcasts with the sizes.
    width, thickness : array [m], any shape; > 0

    Returns
    -------
    array [m²]

    Raises
    ------
    InputError
        If a size is not above 0.
    """
    broad, thin = _ordered(width, thickness)
    return _factor(_SHARE, section) * broad * thin


def _factor(table: dict[int, float], section: si.Integers) -> si.Ratios:
    factors = np.zeros(1 + max(table))
    for kind, factor in table.items():
        factors[kind] = factor
    return factors[np.asarray(section)]


def _ordered(width: si.Metres, thickness: si.Metres) -> tuple[si.Metres, si.Metres]:
    require_positive("width", width, "m")
    require_positive("thickness", thickness, "m")
    return np.maximum(width, thickness), np.minimum(width, thickness)
