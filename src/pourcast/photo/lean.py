"""Lean: where do a lump and a cut end lie that lean towards the camera?

The outline of an ellipsoid of the half axis A and the half width B, whose axis leans by the
angle f out of the plane of the picture, is an ellipse about its middle of the half axis

    A' = √(A² cos² f + B² sin² f)                                               (1)

while its ends lie A cos f from the middle: it looks longer than it is.  With q the width
where it sits over the largest, and r = √(1 - q²), its base lies r A cos f below its middle,
and looks to lie r A' below.  A rod of the width w that is cut square shows its round end as
an ellipse, which reaches

    (w / 2) sin f                                                               (2)

beyond its middle.  Left out: an end that is round; of the same rod it is then told too
short, by 0.2 w at 45 degrees.

Source of (1): the outline of an ellipsoid seen from afar, by projection of its matrix.
"""

import math

from pourcast import units as si
from pourcast.photo.fit import BASES
from pourcast.photo.model import Pixel, Stick

_LEAST = 0.3  # of the axis that is seen; what leans more is not told so; estimate


def middle_of_lump(stick: Stick) -> Pixel | None:
    """Return where along a stick the middle of the lump lies that ends it; None: there is none.

    Parameters
    ----------
    stick : Stick
    """
    if not stick.sections or stick.sections[-1].shape != "lump":
        return None
    half, _, _ = _axes(stick, len(stick.sections) - 1)
    return stick.sections[-1].end - half


def true_span(stick: Stick, k: int, lean: si.Radian) -> tuple[Pixel, Pixel]:
    """Return where along a stick a section begins and ends, once its lean is known.

    Parameters
    ----------
    stick : Stick
    k : int
        Which section.
    lean : float [rad]
        Of its end, out of the plane of the picture.

    Returns
    -------
    start, end : float [px]
    """
    section = stick.sections[k]
    last = k == len(stick.sections) - 1
    if section.shape == "lump":
        half, wide, rise = _axes(stick, k)
        shown = _shown(half, wide, lean)
        middle = section.end - half
        return middle - rise * shown, middle + shown if last else section.end
    if not last and stick.sections[k + 1].shape == "lump":
        half, wide, rise = _axes(stick, k + 1)
        middle = stick.sections[k + 1].end - half
        return section.start, middle - rise * _shown(half, wide, lean)
    if last and section.shape == "rod" and stick.joined < 0:
        over = 0.5 * section.width[1] * math.sin(lean)
        return section.start, max(section.end - over, 0.5 * (section.start + section.end))
    return section.start, section.end


def _axes(stick: Stick, k: int) -> tuple[Pixel, Pixel, si.Ratio]:
    """Return the half axis of a lump as it looks, its half width, and r of equation (1)."""
    section = stick.sections[k]
    wide = 0.5 * max(section.width)
    bears = 0.5 * stick.sections[k - 1].width[1] if k > 0 else BASES[0] * wide
    rise = math.sqrt(1.0 - min(bears / max(wide, 1e-9), BASES[-1]) ** 2)
    return (section.end - section.start) / (1.0 + rise), wide, rise


def _shown(half: Pixel, wide: Pixel, lean: si.Radian) -> Pixel:
    """Return A cos f of equation (1)."""
    square = half**2 - (wide * math.sin(lean)) ** 2
    return math.sqrt(max(square, (_LEAST * half) ** 2))
