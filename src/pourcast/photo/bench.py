"""Bench: where on the bench does a place of a picture lie, and the other way round?

A place on the bench is x to the right, y away from the first camera and z up, from the
foot.  For the second photograph the original is turned a quarter turn clockwise as seen
from above, for the third half of that.  With the turn t, a camera sees

    right = x cos t + y sin t,   deep = y cos t - x sin t                        (1)

and shows what lies deep behind the plane of the mark, at its distance D, smaller by
D / (D + deep) about the middle of the picture.
"""

import math
from typing import Final

import numpy as np

from pourcast import units as si
from pourcast.photo.model import Pixels, View

TURNS: Final = (0.0, 0.5 * math.pi, 0.25 * math.pi)
"""By how much the original is turned for each photograph [rad]."""

_FAR = 1e3  # m, a camera whose distance is not known


def middle_of(view: View) -> si.Metres:
    """Return the middle of the picture, right of the foot and over it.

    Parameters
    ----------
    view : View

    Returns
    -------
    array [m], shape (2,)
    """
    rows, columns = view.silhouette.light.shape
    size = view.scale.size
    right = (0.5 * (columns - 1) - view.foot[0]) * size
    return np.array([right, (view.foot[1] - 0.5 * (rows - 1)) * size])


def on_bench(
    view: View, flat: si.Metres, deep: si.Metres, turn: si.Radian, camera: si.Metre | None
) -> si.Metres:
    """Return where places that a view shows lie on the bench, at the depths that they have.

    Parameters
    ----------
    view : View
    flat : array [m], shape (places, 2)
        As shown: right of the foot and over it, in the plane of the mark.
    deep : array [m], shape (..., places)
        Behind that plane, seen from the camera.
    turn : float [rad]
    camera : float or None [m]

    Returns
    -------
    array [m], shape (..., places, 3)
    """
    middle = middle_of(view)
    far = 1.0 + deep / (_FAR if camera is None else camera)
    right = middle[0] + (flat[:, 0] - middle[0]) * far
    up = middle[1] + (flat[:, 1] - middle[1]) * far
    c, s = math.cos(turn), math.sin(turn)
    return np.stack([c * right - s * deep, s * right + c * deep, up], axis=-1)


def as_seen(places: si.Metres, turn: si.Radian) -> si.Metres:
    """Return right, deep and up of places on the bench once it is turned, equation (1).

    Parameters
    ----------
    places : array [m], shape (..., 3)
    turn : float [rad]

    Returns
    -------
    array [m], shape (..., 3)
    """
    x, y, z = np.moveaxis(places, -1, 0)
    c, s = math.cos(turn), math.sin(turn)
    return np.stack([c * x + s * y, c * y - s * x, z], axis=-1)


def shown(view: View, places: si.Metres, turn: si.Radian, camera: si.Metre | None) -> si.Metres:
    """Return where a picture shows places on the bench, in the plane of the mark.

    Parameters
    ----------
    view : View
    places : array [m], shape (..., 3)
    turn : float [rad]
    camera : float or None [m]

    Returns
    -------
    array [m], shape (..., 2)
        Right of the foot and over it.
    """
    right, deep, up = np.moveaxis(as_seen(places, turn), -1, 0)
    middle = middle_of(view)
    far = 1.0 + deep / (_FAR if camera is None else camera)
    return np.stack(
        [middle[0] + (right - middle[0]) / far, middle[1] + (up - middle[1]) / far], axis=-1
    )


def in_picture(view: View, places: si.Metres, turn: si.Radian, camera: si.Metre | None) -> Pixels:
    """Return where a picture shows places on the bench.

    Parameters
    ----------
    view : View
    places : array [m], shape (..., 3)
    turn : float [rad]
    camera : float or None [m]

    Returns
    -------
    array [px], shape (..., 2)
        Columns and rows.
    """
    flat = shown(view, places, turn, camera) / view.scale.size
    return np.stack([view.foot[0] + flat[..., 0], view.foot[1] - flat[..., 1]], axis=-1)
