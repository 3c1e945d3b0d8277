"""Wedges: how much is counted twice or not at all where parts meet.

A part is reckoned with a flat end.  On a parent that is round, of diameter D,
the end stands off the surface by D/2 - √(D²/4 - x²) at the distance x from the
plane through the middle lines.  Over a round end of diameter d the gap is

    V = (D/2) (π d²/4) Σ c_k m_k (d/D)^2k,   c = 1/2, 1/8, 1/16,
                                             m = 1/4, 1/8, 5/64                (1)

whose first term is π d⁴ / (64 D); over a flat end of width w and thickness t
the first term is t w³ / (12 D).  An end that leans from the surface by β cuts
in on one half and stands off on the other: both halves of a round end come to

    V = d³ tan β / 6                                                           (2)

Left out: terms beyond the third (at d = D the sum is then 4 % short), those
beyond the first for a flat end (4 % short at half the parent, 22 % at all of it), the
curve of a lump along its length, and wedges of neighbours that meet.  β over
45° is taken as 45°: there the end is shaped by hand anyway (estimate).

Source: (1) from the series of √(1 - y²) and the moments of the disc, (2) from
the moment of the half disc; both worked out here and held against quadrature.
"""

import math

from pourcast import units as si

_TERMS = ((1 / 2, 1 / 4), (1 / 8, 1 / 8), (1 / 16, 5 / 64))  # c_k, m_k of (1)


def round_end_gap(diameter: si.Metre, parent: si.Metre) -> si.CubicMetre:
    """Gap between a flat round end and a round parent at right angles, equation (1).

    Parameters
    ----------
    diameter : float [m]
        Of the end; taken as the parent's where it is more.
    parent : float [m]
        Diameter of the parent.

    Returns
    -------
    float [m³]
    """
    ratio = min(1.0, diameter / parent)
    end = ratio * parent
    series = sum(c * m * ratio ** (2 * k) for k, (c, m) in enumerate(_TERMS, start=1))
    return parent / 2 * math.pi * end * end / 4 * series


def flat_end_gap(width: si.Metre, thickness: si.Metre, parent: si.Metre) -> si.CubicMetre:
    """Gap between a flat end and a round parent that its width lies across; first term.

    Parameters
    ----------
    width, thickness : float [m]
        Of the end; the width taken as the parent's diameter where it is more.
    parent : float [m]
        Diameter of the parent.

    Returns
    -------
    float [m³]
    """
    return thickness * min(width, parent) ** 3 / (12 * parent)


def leaning_end(diameter: si.Metre, lean: si.Radian) -> si.CubicMetre:
    """Both wedges of a round end that leans from the surface, equation (2).

    Parameters
    ----------
    diameter : float [m]
        Of the end, or of a round end of the same area.
    lean : float [rad]
        0 to π/2; over π/4 taken as π/4.

    Returns
    -------
    float [m³]
    """
    return diameter**3 * math.tan(min(lean, math.pi / 4)) / 6
