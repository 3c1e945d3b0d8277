"""Sections: area, girth and laminar drag of round, flat and oval passages.

Model: a passage is straight and its section is measured between smooth walls.
With D = 4 area / girth the drag of slow flow is

    pressure drop / (length · flow) = 128 μ / (π d⁴)                 round     (1)
    ... = 2 Po μ / (D² · area)                                       rectangle (2)
    ... = 4 μ (a² + b²) / (π a³ b³), half axes a and b               oval      (3)

and Po = 24 (1 - 1.3553 β + 1.9467 β² - 1.7012 β³ + 0.9564 β⁴ - 0.2537 β⁵)
with β = small side / large side.

Left out: the rounded edge of a leaf, which makes the flat section a little too large.

Source: (1) Hagen and Poiseuille; (2) Shah and London (1978), Laminar Flow
Forced Convection in Ducts, from memory; (3) exact solution for the ellipse,
Boussinesq (1868), from memory.  Girth of the ellipse: Ramanujan (1914), from memory.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND
from pourcast.pour.elementary import exponential, logarithm

STRAIGHT = 0.01
"""Taper below which length and volume go alike, within a quarter of it."""


@kernel
def area(section: int, width: si.Metre, thickness: si.Metre) -> si.SquareMetre:
    """Return the area of a section [m²].

    Parameters
    ----------
    section : int
        ROUND, RECTANGLE or ELLIPSE of `pourcast.piece.model`.
    width, thickness : float [m]
        Of a round section ``thickness`` is the diameter.

    Returns
    -------
    float [m²]
    """
    if section == ROUND:
        return 0.25 * math.pi * thickness * thickness
    if section == ELLIPSE:
        return 0.25 * math.pi * width * thickness
    return width * thickness


@kernel
def girth(section: int, width: si.Metre, thickness: si.Metre) -> si.Metre:
    """Return the length of wall round a section [m].

    Parameters
    ----------
    section : int
        ROUND, RECTANGLE or ELLIPSE.
    width, thickness : float [m]

    Returns
    -------
    float [m]
    """
    if section == ROUND:
        return math.pi * thickness
    if section == ELLIPSE:
        a = 0.5 * width
        b = 0.5 * thickness
        return math.pi * (3.0 * (a + b) - math.sqrt((3.0 * a + b) * (a + 3.0 * b)))
    return 2.0 * (width + thickness)


@kernel
def mean_area(
    section: int,
    width_start: si.Metre,
    thickness_start: si.Metre,
    width_end: si.Metre,
    thickness_end: si.Metre,
) -> si.SquareMetre:
    """Return the volume over the length of a passage that tapers evenly [m²].

    Parameters
    ----------
    section : int
        ROUND, RECTANGLE or ELLIPSE.
    width_start, thickness_start, width_end, thickness_end : float [m]

    Returns
    -------
    float [m²]
        Of the cone frustum, the wedge, or the oval frustum.
    """
    if section == ROUND:
        width_start = thickness_start
        width_end = thickness_end
    box = (
        2.0 * width_start * thickness_start
        + width_start * thickness_end
        + width_end * thickness_start
        + 2.0 * width_end * thickness_end
    ) / 6.0
    if section != RECTANGLE:
        return 0.25 * math.pi * box
    return box


@kernel
def drag_of_taper(start: si.Ratio, end: si.Ratio) -> si.Ratio:
    """Return the slow drag of a taper over that of its middle [-].

    Parameters
    ----------
    start, end : float [-]
        Bores at its ends over that of its middle.

    Returns
    -------
    float [-]
        (b² + b e + e²) / (3 b³ e³): the mean of 1/d⁴ along a cone, exact if round or if
        width and thickness taper alike, and within 2 % for a wedge that halves.
    """
    return (start * start + start * end + end * end) / (3.0 * (start * end) ** 3)


@kernel
def length_share(volume_share: si.Ratio, taper: si.Ratio) -> si.Ratio:
    """Return how far along a taper a share of its volume reaches [-].

    Parameters
    ----------
    volume_share : float [-]
        From its start, 0 to 1.
    taper : float [-]
        Root of the area at its end over that at its start, less 1.

    Returns
    -------
    float [-]
        Share of the length; exact where the root of the area is straight along it.
    """
    if abs(taper) < STRAIGHT:
        return volume_share
    whole = (1.0 + taper) ** 3
    return (exponential(logarithm(1.0 + volume_share * (whole - 1.0)) / 3.0) - 1.0) / taper


@kernel
def laminar_drag(
    section: int, width: si.Metre, thickness: si.Metre, viscosity: si.PascalSecond
) -> si.PascalSecondPerMetreFour:
    """Return the pressure drop of slow flow, per metre and per m³/s [Pa·s/m⁴].

    Parameters
    ----------
    section : int
        ROUND, RECTANGLE or ELLIPSE.
    width, thickness : float [m]
    viscosity : float [Pa·s]

    Returns
    -------
    float [Pa·s/m⁴]
        Equations 1 to 3.
    """
    if section == ROUND:
        return 128.0 * viscosity / (math.pi * thickness**4)
    if section == ELLIPSE:
        a = 0.5 * width
        b = 0.5 * thickness
        return 4.0 * viscosity * (a * a + b * b) / (math.pi * (a * b) ** 3)
    ratio = min(width / thickness, thickness / width)
    poiseuille = 24.0 * (
        1.0
        - ratio * (1.3553 - ratio * (1.9467 - ratio * (1.7012 - ratio * (0.9564 - 0.2537 * ratio))))
    )
    across = width * thickness
    bore = 2.0 * across / (width + thickness)
    return 2.0 * poiseuille * viscosity / (bore * bore * across)
