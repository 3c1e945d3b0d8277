"""Directions: which way a part sets off, and where its bend takes it.

A frame is a direction d along the part and a side u square to it; v = d × u.
A part that leaves its parent (d, u, v) at the angle a and the turn t sets off
away from the parent along e = u cos t + v sin t:

    d' = d cos a + e sin a,   u' = e cos a - d sin a                           (1)

so its side lies in the plane of both directions and points away from the tip
of the parent.  A bend b, even along the length L, turns d towards u.  At the
share s of the length

    d(s) = d' cos bs + u' sin bs,   u(s) = u' cos bs - d' sin bs               (2)
    p(s) = p(0) + L s · sin(bs/2)/(bs/2) · d(s/2)                              (3)

(3) is the chord of the arc, and the arc keeps the length L.  Left out: twist
and bends that are not even.

Source: plane geometry (chord of a circle), Euclid III.
"""

import numpy as np

from pourcast import units as si


def gate_frame(tilt: si.Radian) -> tuple[si.Ratios, si.Ratios]:
    """Direction and side of the piece at the gate: straight down, leaning to +x by the tilt.

    Parameters
    ----------
    tilt : float [rad]
        About the y axis.

    Returns
    -------
    direction, side : array [-], shape (3,)
    """
    down = np.array([np.sin(tilt), 0.0, -np.cos(tilt)])
    side = np.array([np.cos(tilt), 0.0, np.sin(tilt)])
    return down, side


def cross(first: si.Ratios, second: si.Ratios) -> si.Ratios:
    """Direction square to two others.

    Parameters
    ----------
    first, second : array [-], shape (..., 3)

    Returns
    -------
    array [-], shape (..., 3)
    """
    # numpy.cross moves axes about and takes several times as long.
    ax, ay, az = first[..., 0], first[..., 1], first[..., 2]
    bx, by, bz = second[..., 0], second[..., 1], second[..., 2]
    return np.stack([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx], axis=-1)


def away(direction: si.Ratios, side: si.Ratios, turn: si.Radians) -> si.Ratios:
    """Direction square to a part, at a turn about it; 0 is its side.

    Parameters
    ----------
    direction, side : array [-], shape (..., 3)
    turn : array [rad], shape (...)

    Returns
    -------
    array [-], shape (..., 3)
    """
    other = cross(direction, side)
    turn = np.asarray(turn)[..., None]
    return np.cos(turn) * side + np.sin(turn) * other


def branch(
    direction: si.Ratios, outward: si.Ratios, angle: si.Radian
) -> tuple[si.Ratios, si.Ratios]:
    """Direction and side of a part that leaves its parent at an angle, equation (1).

    Parameters
    ----------
    direction : array [-], shape (..., 3)
        Of the parent.
    outward : array [-], shape (..., 3)
        From `away`.
    angle : float [rad]

    Returns
    -------
    direction, side : array [-], shape (..., 3)
    """
    cosine, sine = np.cos(angle), np.sin(angle)
    return cosine * direction + sine * outward, cosine * outward - sine * direction


def arc(
    origin: si.Metres,
    direction: si.Ratios,
    side: si.Ratios,
    length: si.Metre,
    bend: si.Radian,
    share: si.Ratios,
) -> tuple[si.Metres, si.Ratios, si.Ratios]:
    """Places and frames along evenly bent parts, equations (2) and (3).

    Parameters
    ----------
    origin : array [m], shape (members, 3)
    direction, side : array [-], shape (members, 3)
        At the base.
    length : float [m]
        Along the arc.
    bend : float [rad]
        From base to tip.
    share : array [-], shape (places,)
        Of the length.

    Returns
    -------
    place : array [m], shape (members, places, 3)
    direction, side : array [-], shape (members, places, 3)
    """
    half = bend * share / 2
    chord = length * share * np.sinc(half / np.pi)
    d, u = direction[:, None, :], side[:, None, :]
    place = origin[:, None, :] + chord[:, None] * _turned(d, u, half)
    return place, _turned(d, u, 2 * half), _turned(u, -d, 2 * half)


def _turned(first: si.Ratios, second: si.Ratios, angle: si.Radians) -> si.Ratios:
    return np.cos(angle)[:, None] * first + np.sin(angle)[:, None] * second
