"""Hull: how far towards the camera does a stick run that only one of two photographs shows?

Wherever it runs, it stands before or behind nothing but ground in neither picture: seen
from the other side it lies within what is dark there.  So each depth of its tip is tried,
with the depth of its fork known from what it grows on, and those that leave the dark of
the other picture are struck out.  Where one of them brings the tip to a tip that is still
free there, the two are the same.  A third photograph, half way between, strikes out more.
Else the middle of what is left is taken, and what is left is the range.

Source: Laurentini (1994), IEEE Transactions on Pattern Analysis and Machine Intelligence
16, 150, on what silhouettes can tell of a shape (from memory).  Left out: a stick that is
bent towards the camera.
"""

from collections.abc import Mapping

import numpy as np
from scipy import ndimage

from pourcast import units as si
from pourcast.photo.bench import TURNS, in_picture, on_bench
from pourcast.photo.model import Depth, Pixels, Stick, View
from pourcast.photo.space import flat_places

_STEP = 0.5e-3  # m between the depths that are tried
_LEAST, _MOST = 10e-3, 40e-3  # m, how deep at least and at most; estimate
_DEEP = 4.0  # times the length that is seen: 76 degrees; estimate
_OUT = 0.4e-3  # m that a line may leave the dark by, for the blur and the middle line; estimate
_BENT = 1.6e-3  # m, the same of a line that is bent; 20 degrees over 30 mm are 1.3 mm
_SAME_TIP = 1.5e-3  # m between two tips that are one; tuned on twigs of the seeds 0 to 23


def from_the_dark(view: View) -> Pixels:
    """Return how far each pixel lies from what is dark [px], shape (rows, columns).

    Parameters
    ----------
    view : View
    """
    return np.asarray(ndimage.distance_transform_edt(~view.silhouette.inside))


def depth_of(
    view: View,
    stick: Stick,
    other: View,
    away: Pixels,
    fork: si.Metre,
    tips: Mapping[int, Pixels],
    *,
    camera: si.Metre | None,
    swapped: bool,
    between: tuple[View, Pixels] | None = None,
) -> Depth | None:
    """Return how deep a stick of one view runs, by the dark of the other.

    Parameters
    ----------
    view : View
        That shows the stick.
    stick : Stick
    other : View
    away : array [px], shape (rows, columns)
        From its dark, see `from_the_dark`.
    fork : float [m]
        Depth of its fork.
    tips : dict of int to array [px], shape (2,)
        Tips of the other view that are still free, by stick.
    camera : float or None [m]
    swapped : bool
        True if ``view`` is the photograph that was taken second.
    between : pair of View and array [px], shape (rows, columns), or None
        The third photograph, half way between the two, and the way from its dark.

    Returns
    -------
    Depth or None
        None: at no depth does it lie within the dark.
    """
    share = np.linspace(0.0, 1.0, 17)
    seen = flat_places(view, stick, share * float(stick.along[-1]))
    length = float(np.hypot(*(seen[-1] - seen[0])))
    most = min(_MOST, max(_LEAST, _DEEP * length))
    deep = np.arange(-most, most + _STEP, _STEP)
    bench = on_bench(view, seen, fork + deep[:, None] * share, TURNS[int(swapped)], camera)
    place = in_picture(other, bench, TURNS[1 - int(swapped)], camera)
    size = other.scale.size
    out = out_of_dark(other, away, place)
    if between is not None:
        third, dark = between
        there = in_picture(third, bench, TURNS[2], camera)
        out = np.maximum(out, out_of_dark(third, dark, there))
    visible = share * float(stick.along[-1]) >= stick.hidden
    worst = out[:, visible].max(axis=1)
    numbers = list(tips)
    if numbers:
        there = np.array([tips[n] for n in numbers])
        apart = size * np.hypot(*np.moveaxis(place[:, -1, None] - there[None], 2, 0))
        apart[worst > _BENT] = np.inf
        k, n = np.unravel_index(int(np.argmin(apart)), apart.shape)
        if apart[k, n] < _SAME_TIP:
            near = deep[apart[:, n] < apart[k, n] + _STEP]
            return Depth(
                fork=fork,
                tip=fork + float(deep[k]),
                low=fork + float(near.min()),
                high=fork + float(near.max()),
                same=numbers[int(n)],
            )
    if worst.min() > _BENT:
        return None
    left = deep[worst < max(_OUT, float(worst.min()) + 0.5 * _OUT)]
    low, middle, high = (float(q) for q in np.quantile(left, [0.05, 0.5, 0.95]))
    middle = float(left[np.argmin(np.abs(left - middle))])
    return Depth(fork=fork, tip=fork + middle, low=fork + low, high=fork + high, same=-1)


def out_of_dark(view: View, away: Pixels, place: Pixels) -> si.Metres:
    """Return how far places of a picture lie out of its dark, or of the picture.

    Parameters
    ----------
    view : View
    away : array [px], shape (rows, columns)
        See `from_the_dark`.
    place : array [px], shape (..., 2)
        Columns and rows.

    Returns
    -------
    array [m], shape (...)
    """
    rows, columns = away.shape
    off = np.clip(place, 0.0, [columns - 1.0, rows - 1.0])
    out = ndimage.map_coordinates(away, [off[..., 1], off[..., 0]], order=1)
    return np.asarray(view.scale.size * (out + np.abs(place - off).sum(axis=-1)))
