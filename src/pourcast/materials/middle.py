"""Middle: which draw stands for all of them, whatever its last bit is?

The median of an even number of values lies half way between two of them, and which of the
two is nearer is a matter of rounding.  Another machine rounds otherwise, and a picture, or
the rod that is advised, would then be that of another draw.  So of all draws that are as
near as the nearest, but for rounding, the first counts.
"""

from typing import Annotated

import numpy as np

from pourcast import units as si

ROUNDING = 1e-9
"""Of the largest distance; what another machine rounds otherwise is 1e-13 (measured)."""


def first_of_the_nearest(distance: Annotated[si.Floats, si.Unit("any")]) -> int:
    """Return the first draw that lies nearest to the middle.

    Parameters
    ----------
    distance : array [any], shape (draws,)
        From the middle, 0 or more; not a number where a draw does not count.

    Returns
    -------
    int
        0 where no draw counts.

    Examples
    --------
    >>> import numpy as np
    >>> first_of_the_nearest(np.array([3.0, 1.0 + 1e-15, 1.0]))
    1
    """
    known = np.isfinite(distance)
    if not known.any():
        return 0
    most = distance[known].max()
    near = known & (distance <= distance[known].min() + ROUNDING * most)
    return int(np.flatnonzero(near)[0])
