"""Friction: what the wall of a passage takes from the push of fast metal.

Model: Darcy's friction factor f, pressure drop = f (L/D) ρv²/2.  Below Re 2000
the flow is laminar (`pourcast.pour.sections`).  Above Re 4000 Haaland's law

    1/√f = -1.8 log10( (ε/D / 3.7)^1.11 + 6.9/Re )                    (1)

holds; between the two f goes over in proportion.  Metal with crystals in it
drags more, by (1 - s/s_choke)^-2 at solid fraction s.

Left out: the run-in length behind the front, which adds drag in the first few
diameters (errs to the hopeful side in short thick parts).

Source: Haaland (1983), J. Fluids Eng. 105, 89.  The factor for crystals is an
estimate of the shape of Krieger and Dougherty (1959), Trans. Soc. Rheol. 3, 137.
"""

import math

from pourcast import units as si
from pourcast.kernels import kernel
from pourcast.pour.elementary import exponential, logarithm

LAMINAR_TO = 2000.0  # Reynolds number; handbook value, from memory
TURBULENT_FROM = 4000.0  # Reynolds number; handbook value, from memory


@kernel
def rough_term(roughness: si.Metre, bore: si.Metre) -> si.Ratio:
    """Return the roughness term of equation 1 [-].

    Parameters
    ----------
    roughness : float [m]
        Height of the grains of the wall; >= 0.
    bore : float [m]
        4 area / girth; > 0.

    Returns
    -------
    float [-]
    """
    if roughness <= 0.0:
        return 0.0
    return exponential(1.11 * logarithm(roughness / bore / 3.7))


@kernel
def turbulent_factor(reynolds: si.Ratio, roughness: si.Ratio) -> si.Ratio:
    """Return Darcy's friction factor of turbulent flow, equation 1 [-].

    Parameters
    ----------
    reynolds : float [-]
        > 0.
    roughness : float [-]
        From `rough_term`.

    Returns
    -------
    float [-]
    """
    root = 1.8 / math.log(10.0) * logarithm(roughness + 6.9 / reynolds)
    return 1.0 / (root * root)


@kernel
def turbulent_share(reynolds: si.Ratio) -> si.Ratio:
    """Return how far the flow has gone over from laminar to turbulent, 0 to 1 [-].

    Parameters
    ----------
    reynolds : float [-]

    Returns
    -------
    float [-]
    """
    return min(max((reynolds - LAMINAR_TO) / (TURBULENT_FROM - LAMINAR_TO), 0.0), 1.0)


@kernel
def crystal_factor(solid_fraction: si.Ratio, choke: si.Ratio) -> si.Ratio:
    """Return by how much crystals in the metal raise its laminar drag [-].

    Parameters
    ----------
    solid_fraction : float [-]
        0 to 1; held at 0.92 of ``choke``, where the factor is 156.
    choke : float [-]
        Solid fraction at which the passage closes.

    Returns
    -------
    float [-]
    """
    if solid_fraction <= 0.0:
        return 1.0
    rest = 1.0 - min(solid_fraction / choke, 0.92)
    return 1.0 / (rest * rest)
