"""Rising air: how wide must a passage be for air to come up through the metal in it?

Metal that stands over air in an upright round passage is held by its surface.  A
wide surface gives way: metal runs down one side and air comes up the other.

Model: a still surface, free to slide on the wall, that meets it at the contact angle
θ.  With all lengths over the capillary length √(γ/(ρ g)) it has the profile of a
hanging drop,

    dr/ds = cos ψ,  dz/ds = sin ψ,  dψ/ds = 2 κ - z - sin ψ / r               (1)

Moved sideways it is the same surface, and so costs nothing; at a wall that stands
where ψ is at its largest the moved surface also keeps its angle.  From there on it
slides off.  So the greatest ψ of a profile is |90° - θ|, and the square of r there
is the critical Bond number

    ρ g R² / γ = B(θ)                                                          (2)

It is 3.39 at 90°, where the surface is flat (1.841, the first maximum of the Bessel
function J1, squared), and 0.842 at 0 and at 180°: that of Bretherton, below which a
long bubble does not rise in a tube that the liquid wets.  Metal does not wet the
mould, so it needs the wider passage of its own angle.

Once it gives way, air rises at most as a long bubble in a wide tube does, at

    v = 0.35 √(g d)                                                            (3)

Left out: the oxide skin and a rough wall that holds the edge of the surface (both
hold wider passages closed), a lean of the passage (air then rises in narrower
ones), metal that is jetting.

Source: Bretherton (1961), J. Fluid Mech. 10, 166, abstract; Concus (1968), J. Fluid
Mech. 34, 481, for other angles, and Davies and Taylor (1950), Proc. R. Soc. A 200,
375, both from memory.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import require_between, require_positive
from pourcast.units import GRAVITY

_STEP = 0.02  # of the profile, in capillary lengths; 2e-4 in (2)
_STEPS = 120  # flat profiles turn back at 1.84 along, sagging ones sooner
_CURVATURES = np.linspace(0.01, 1.3, 60)  # at the middle; the last sags by more than 90°
_RISE = 0.35  # of (3)


def critical_bond(contact_angle: si.Radians) -> si.Ratios:
    """Bond number by radius from which on liquid over air gives way, equation (2).

    Parameters
    ----------
    contact_angle : array [rad], any shape
        Through the liquid; 0 to π.

    Returns
    -------
    array [-], shape of ``contact_angle``
        0.842 to 3.39.

    Raises
    ------
    InputError
        If an angle is outside its limits.
    """
    require_between("contact_angle", contact_angle, "rad", 0.0, math.pi)
    slope, radius = _turning_points()
    wanted = np.abs(0.5 * math.pi - np.asarray(contact_angle))
    return np.asarray(np.interp(wanted, slope, radius)) ** 2


def widest_held(
    surface_tension: si.NewtonsPerMetre,
    density: si.KilogramsPerCubicMetre,
    contact_angle: si.Radians,
) -> si.Metres:
    """Bore up to which metal keeps the air under it from coming up, from (2).

    Parameters
    ----------
    surface_tension : array [N/m], any shape
    density : array [kg/m³], the same shape
    contact_angle : array [rad], the same shape
        0 to π.

    Returns
    -------
    array [m], the same shape

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_positive("surface_tension", surface_tension, "N/m")
    require_positive("density", density, "kg/m³")
    length = np.sqrt(surface_tension / (density * GRAVITY))
    return np.asarray(2.0 * length * np.sqrt(critical_bond(contact_angle)))


def quickest_exchange(volume: si.CubicMetre, bore: si.Metre) -> si.Second:
    """Return the time in which air leaves at the soonest through an upright passage [s].

    Parameters
    ----------
    volume : float [m³]
        Of the air.
    bore : float [m]
        Of the passage; well over `widest_held`, else air rises slower than by (3).

    Returns
    -------
    float [s]
    """
    require_positive("bore", bore, "m")
    return volume / (0.25 * math.pi * bore * bore * _RISE * math.sqrt(GRAVITY * bore))


def _turning_points() -> tuple[si.Ratios, si.Ratios]:
    """Return the greatest slope of profiles (1) in rad, and the radius there."""
    state = np.zeros((3, _CURVATURES.size))
    turning = _CURVATURES.copy()
    slope, radius = np.zeros_like(turning), np.zeros_like(turning)
    rising = np.ones_like(turning, dtype=bool)
    for _ in range(_STEPS):
        onward = _stepped(state)
        after = _along(onward)[2]
        here = rising & (after <= 0.0)
        share = turning[here] / (turning[here] - after[here])
        between = state[:, here] + share * (onward[:, here] - state[:, here])
        radius[here], slope[here] = between[0], between[2]
        rising &= ~here
        state, turning = onward, after
    # A surface that is hardly curved: the flat one, in front of those that were followed.
    return np.r_[0.0, slope], np.r_[radius[0], radius]


def _stepped(state: si.Ratios) -> si.Ratios:
    """Return r, z and ψ one step on, by the rule of Runge and Kutta of fourth order."""
    one = _along(state)
    two = _along(state + 0.5 * _STEP * one)
    three = _along(state + 0.5 * _STEP * two)
    four = _along(state + _STEP * three)
    return np.asarray(state + _STEP / 6.0 * (one + 2.0 * two + 2.0 * three + four))


def _along(state: si.Ratios) -> si.Ratios:
    """Return the right hand sides of (1)."""
    r, z, psi = state
    middle = r <= 0.0
    around = np.where(middle, _CURVATURES, np.sin(psi) / np.where(middle, 1.0, r))
    return np.stack([np.cos(psi), np.sin(psi), 2.0 * _CURVATURES - z - around])
