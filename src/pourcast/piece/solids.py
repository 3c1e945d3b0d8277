"""Solids: what volume and what side each plain shape has.

Exact, but for the side of an ellipsoid with three unlike axes.

    round taper     V = π L (d0² + d0 d1 + d1²) / 12                           (1)
    flat taper      V = L (2 w0 t0 + w0 t1 + w1 t0 + 2 w1 t1) / 6              (2)
    ellipsoid       V = π L w t / 6                                            (3)
    its cap         V_cap = V k² (3 - 2 k), k = height of the cap over L       (4)
    its surface     S = 4 π (((ab)^p + (ac)^p + (bc)^p) / 3)^(1/p), p = 1.6075 (5)

A cylinder is (1) and a box is (2) with like ends; a sphere is (3) with like
axes.  (2) is the integral of two straight tapers; π/4 times it is the same for
an ellipse.

Source: (1) to (4) are textbook formulas (CRC Standard Mathematical Tables,
mensuration); (5) Knud Thomsen (2004), at most 1.061 % off, both from memory.
"""

import math

from pourcast import units as si

_THOMSEN = 1.6075  # exponent of (5), from memory


def round_taper_volume(length: si.Metre, first: si.Metre, last: si.Metre) -> si.CubicMetre:
    """Volume of a rod, equation (1).

    Parameters
    ----------
    length : float [m]
    first, last : float [m]
        Diameters of its ends.

    Returns
    -------
    float [m³]
    """
    return math.pi * length * (first * first + first * last + last * last) / 12


def round_taper_side(length: si.Metre, first: si.Metre, last: si.Metre) -> si.SquareMetre:
    """Side of a rod without its ends: mean girth times slant.

    Parameters
    ----------
    length : float [m]
    first, last : float [m]
        Diameters of its ends.

    Returns
    -------
    float [m²]
    """
    return math.pi * (first + last) / 2 * math.hypot(length, (first - last) / 2)


def flat_taper_volume(
    length: si.Metre,
    width: tuple[si.Metre, si.Metre],
    thickness: tuple[si.Metre, si.Metre],
) -> si.CubicMetre:
    """Volume of a blade whose width and thickness both taper straight, equation (2).

    Parameters
    ----------
    length : float [m]
    width, thickness : pair of float [m]
        At its two ends.

    Returns
    -------
    float [m³]
    """
    (w0, w1), (t0, t1) = width, thickness
    return length * (2 * w0 * t0 + w0 * t1 + w1 * t0 + 2 * w1 * t1) / 6


def flat_taper_side(
    length: si.Metre,
    width: tuple[si.Metre, si.Metre],
    thickness: tuple[si.Metre, si.Metre],
) -> si.SquareMetre:
    """Both faces and both edges of a blade, without its ends.

    Each is a plane trapezium; its height is the slant of the other taper.

    Parameters
    ----------
    length : float [m]
    width, thickness : pair of float [m]
        At its two ends.

    Returns
    -------
    float [m²]
    """
    (w0, w1), (t0, t1) = width, thickness
    faces = (w0 + w1) * math.hypot(length, (t0 - t1) / 2)
    edges = (t0 + t1) * math.hypot(length, (w0 - w1) / 2)
    return faces + edges


def ellipsoid_volume(length: si.Metre, width: si.Metre, thickness: si.Metre) -> si.CubicMetre:
    """Volume of a whole ellipsoid, equation (3).

    Parameters
    ----------
    length, width, thickness : float [m]
        Its three whole axes.

    Returns
    -------
    float [m³]
    """
    return math.pi * length * width * thickness / 6


def ellipsoid_cap_volume(
    length: si.Metre, width: si.Metre, thickness: si.Metre, height: si.Metre
) -> si.CubicMetre:
    """Volume cut off an ellipsoid by a plane across its length, equation (4).

    Parameters
    ----------
    length, width, thickness : float [m]
        Its three whole axes.
    height : float [m]
        Of the cap, along the length; 0 to ``length``.

    Returns
    -------
    float [m³]
    """
    share = height / length
    return ellipsoid_volume(length, width, thickness) * share * share * (3 - 2 * share)


def ellipsoid_area(length: si.Metre, width: si.Metre, thickness: si.Metre) -> si.SquareMetre:
    """Surface of a whole ellipsoid, equation (5), at most 1.061 % off.

    Parameters
    ----------
    length, width, thickness : float [m]
        Its three whole axes.

    Returns
    -------
    float [m²]
    """
    a, b, c, p = length / 2, width / 2, thickness / 2, _THOMSEN
    mean = ((a * b) ** p + (a * c) ** p + (b * c) ** p) / 3
    return 4 * math.pi * float(mean ** (1 / p))


def spheroid_zone_area(
    length: si.Metre, diameter: si.Metre, start: si.Metre, end: si.Metre
) -> si.SquareMetre:
    """Side of a round ellipsoid between two planes across its length; exact.

    With x from the middle, a and b the half axes and k = (a² - b²) / a⁴, the
    side is 2 π b ∫ √(1 - k x²) dx.

    Parameters
    ----------
    length, diameter : float [m]
        Its whole axes.
    start, end : float [m]
        Places of the planes along the length, 0 to ``length``.

    Returns
    -------
    float [m²]
    """
    a, b = length / 2, diameter / 2
    bulge = (a * a - b * b) / a**4
    root = math.sqrt(abs(bulge))

    def whole(x: float) -> float:
        slope = math.sqrt(max(0.0, 1 - bulge * x * x))
        if root * a < 1e-6:  # a sphere: the arc below is 0 over 0
            arc = x
        elif bulge > 0:
            arc = math.asin(max(-1.0, min(1.0, root * x))) / root
        else:
            arc = math.asinh(root * x) / root
        return (x * slope + arc) / 2

    return 2 * math.pi * b * (whole(end - a) - whole(start - a))
