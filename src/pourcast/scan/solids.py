"""Solids: how much a part as the piece file holds it comes to.

    rod     V = π L (d0² + d0 d1 + d1²) / 12                                   (1)
    blade   V = L (2 w0 t0 + w0 t1 + w1 t0 + 2 w1 t1) / 6                      (2)
    lump    V = π A w t / 6 · (1 - k² (3 - 2 k)),  A = 2 L / (1 + √(1 - q²))   (3)

with q the section of the lump at its base over its largest, at most 0.7, and
k = (A - L) / A the share of the axis that is cut off there.

Source: textbook formulas (CRC Standard Mathematical Tables, mensuration), from
memory.
"""

import math

from pourcast import units as si
from pourcast.piece.model import Shape

_WIDEST_BASE = 0.7  # as a lump of a piece file; estimate


def solid_volume(
    shape: Shape,
    length: si.Metre,
    width: tuple[si.Metre, si.Metre],
    thickness: tuple[si.Metre, si.Metre],
    base: si.Metre,
) -> si.CubicMetre:
    """Return the volume of a part, equations (1) to (3).

    Parameters
    ----------
    shape : {"rod", "blade", "lump"}
    length : float [m]
    width, thickness : pair of float [m]
    base : float [m]
        Least way across what a lump grows on.

    Returns
    -------
    float [m³]
    """
    (w0, w1), (t0, t1) = width, thickness
    if shape == "rod":
        return math.pi * length * (w0 * w0 + w0 * w1 + w1 * w1) / 12
    if shape == "blade":
        return length * (2 * w0 * t0 + w0 * t1 + w1 * t0 + 2 * w1 * t1) / 6
    ratio = min(base / min(w0, t0), _WIDEST_BASE)
    axis = 2 * length / (1 + math.sqrt(1 - ratio * ratio))
    cut = (axis - length) / axis
    return math.pi * axis * w0 * t0 / 6 * (1 - cut * cut * (3 - 2 * cut))
