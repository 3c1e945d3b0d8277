"""Corners: which points of a kiln curve does a day have to land on?

A logged curve has thousands of points, most of them on a straight line.  From a
point that is kept, the next is the last to which a straight line misses no point
between by more than a quarter of a kelvin, well under what a thermocouple knows.

Left out: nothing.
Source: geometry.
"""

import math

from pourcast import units as si
from pourcast.burnout.model import Curve

_SAME = 0.25  # K


def corners(curve: Curve) -> tuple[si.Seconds, si.Kelvins]:
    """Return the points of a curve that straight lines between them need.

    Parameters
    ----------
    curve : Curve

    Returns
    -------
    tuple of array [s], [K], shape (corners,)
        No point that is left out lies more than 0.5 K off.
    """
    time, kelvin = curve.time.tolist(), curve.temperature.tolist()
    chosen = [0]
    low, high = -math.inf, math.inf
    for k in range(1, len(time)):
        base = chosen[-1]
        run = time[k] - time[base]
        slope = (kelvin[k] - kelvin[base]) / run
        if not low <= slope <= high:
            chosen.append(k - 1)
            base = k - 1
            run = time[k] - time[base]
            slope = (kelvin[k] - kelvin[base]) / run
            low, high = -math.inf, math.inf
        low = max(low, slope - _SAME / run)
        high = min(high, slope + _SAME / run)
    chosen.append(len(time) - 1)
    return curve.time[chosen].copy(), curve.temperature[chosen].copy()
