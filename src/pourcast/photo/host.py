"""Host: which part does a stick grow on, once its line in space is known?

A picture shows a part that stands before the stem as if it grew there.  In space its line,
carried back, meets the part that it grows on and passes the others by.
"""

from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.photo.bench import on_bench
from pourcast.photo.grown import Made
from pourcast.photo.model import Depth, Stick, View
from pourcast.photo.nearest import nearest
from pourcast.photo.space import flat_places

STEM = np.array([[0.0, 0.0, -1e-3], [0.0, 0.0, 0.0], [0.0, 0.0, 1e-3]])
"""Where the first part stands on the button [m]."""

_BEYOND = 0.3  # of its length, that a stick is carried back beyond the fork that is seen
_WITHIN = 0.35  # of the width of a part, that a line on it passes its middle by; estimate
_ROOM = 0.4e-3  # m, beside that; estimate
_SEEN = 1.5e-3  # m, by which a part counts as nearer that a picture shows to bear it; estimate


def host_of(
    made: Sequence[Made],
    view: View,
    stick: Stick,
    turn: si.Radian,
    depth: Depth,
    camera: si.Metre | None,
    shown: Sequence[int],
) -> int:
    """Return the part that a stick grows on.

    Parameters
    ----------
    made : sequence of Made
        At least one.
    view : View
    stick : Stick
    turn : float [rad]
        Of the view.
    depth : Depth
    camera : float or None [m]
    shown : sequence of int
        Parts that the pictures show it to grow on, the likelier first.

    Returns
    -------
    int
    """
    long = float(stick.along[-1])
    # From where it is seen clear of its parent, backwards.
    along = np.linspace(float(stick.along[1]) + 0.15 * long, -_BEYOND * long, 120)
    flat = flat_places(view, stick, np.maximum(along, 0.0))
    way = flat_places(view, stick, np.array([0.0, stick.along[1]]))
    step = (way[1] - way[0]) / float(stick.along[1])
    flat = np.where(along[:, None] < 0.0, way[0] + along[:, None] * step, flat)
    line = on_bench(view, flat, depth.along(along / long), turn, camera)
    gone = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    best: tuple[float, int] | None = None
    for number, each in enumerate(made):
        if each.part.shape == "lump" and number not in shown:
            continue
        _, _, off = nearest(line, each.line)
        near = np.linalg.norm(off, axis=1) < _WITHIN * max(each.part.width) + _ROOM
        if not near.any():
            continue
        back = float(gone[int(np.argmax(near))]) - (_SEEN if number in shown else 0.0)
        if best is None or back < best[0]:
            best = back, number
    if best is None:
        return shown[0] if shown else 0
    return best[1]
