"""Capillary threshold: the pressure below which metal will not enter a passage.

Liquid bronze does not wet a gypsum-bonded mould.  Its surface pushes back at
the mouth of every passage, and a thin stalk stays empty unless the metal
behind it presses harder.

Model: a straight passage, a still and clean metal surface that meets the wall
at the contact angle θ of 90° or more.  Over the mouth of the passage

    p · area = -γ · cos θ · girth                                      (1)

The oxide skin of the metal multiplies this by a film factor of 1 or more.
Left out: the roughness of the wall, which raises the threshold.

Source: Washburn (1921), Proc. Natl. Acad. Sci. 7, 115.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel


@kernel
def threshold_pressure(
    girth_over_area: si.PerMetre,
    surface_tension: si.NewtonPerMetre,
    contact_angle: si.Radian,
    film_factor: si.Ratio,
) -> si.Pascal:
    """Return the pressure that metal needs to enter a passage [Pa].

    Parameters
    ----------
    girth_over_area : float [1/m]
        4/d in a round hole, 2/w + 2/t in a slot; > 0.
    surface_tension : float [N/m]
    contact_angle : float [rad]
        Measured through the metal.  Below π/2 the wall would draw the metal
        in and the pressure comes out negative.
    film_factor : float [-]

    Returns
    -------
    float [Pa]
        Over the gas in the passage.
    """
    return -surface_tension * math.cos(contact_angle) * film_factor * girth_over_area
