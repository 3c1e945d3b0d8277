"""Pull-down: how does the gauge of a vacuum chamber move with a burnt flask on it?

The chamber holds the volume V of air at the pressure p.  The pump takes the volume
flow s (0 once its valve is shut), the seals let c (p_air - p) in, and the block lets
in by Darcy's law for a gas that expands on its way

    g/2 (p_air² - p²),   g = K S / μ · T_room / T_block                        (1)

with K the permeability, μ the viscosity of air in the block and S the shape of the
way through it, a length.  Together

    V dp/dt = -s p + (p_air - p) (g (p_air + p)/2 + c)                         (2)

which is dp/dt = A - B p - C p² and has the answer, with p± its two resting points,
p+ ≥ 0 > p-, r = (p0 - p+) / (p0 - p-) and λ = C (p+ - p-),

    p(t) = (p+ - p- r e^(-λt)) / (1 - r e^(-λt))                               (3)

and without the block (C = 0) p = A/B + (p0 - A/B) e^(-Bt).

Shapes.  A block in a tight wall, open at its top, drawn on at its end:

    S = π R² / H                                                               (4)

A block in a perforated wall with a bore of radius a and length L down its middle, the
top face covered but for the bore:

    S = 2π L / ln(R / a)                                                       (5)

Left out: the air that the pores hold themselves (the block answers within about a
second; leave out the first readings), slip of gas in small pores (K comes out 1.2 to
1.8 times too high near a full vacuum, an estimate, and it is that K which counts at the
pour), flow into the closed end of the bore (K a little too high).

Sources: Darcy (1856), and Muskat (1937), The Flow of Homogeneous Fluids, ch. 4 and 11,
for the shapes and for gas; (3) is the solution of Riccati's equation with constant
coefficients, any text on differential equations.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive


def axial_shape(radius: si.Metre, height: si.Metre) -> si.Metre:
    """Return the shape of a block open at the top and drawn on at its end, by (4) [m].

    Parameters
    ----------
    radius, height : float [m]
        Of the block.

    Examples
    --------
    >>> round(axial_shape(0.05, 0.1), 5)
    0.07854
    """
    require_positive("radius", radius, "m")
    require_positive("height", height, "m")
    return math.pi * radius**2 / height


def radial_shape(radius: si.Metre, bore_radius: si.Metre, bore_length: si.Metre) -> si.Metre:
    """Return the shape of a block with a bore, drawn on all round, by (5) [m].

    Parameters
    ----------
    radius : float [m]
        Of the block.
    bore_radius, bore_length : float [m]

    Raises
    ------
    InputError
        If the bore is not narrower than the block, or a size is not above 0.
    """
    require_positive("bore_radius", bore_radius, "m")
    require_positive("bore_length", bore_length, "m")
    if not bore_radius < radius:
        raise InputError("bore_radius", bore_radius, "m", f"below {radius:g}, that of the block")
    return 2.0 * math.pi * bore_length / math.log(radius / bore_radius)


def pressure(
    time: si.Seconds,
    start: si.Pascal,
    *,
    air: si.Pascal,
    volume: si.CubicMetre,
    pump: si.CubicMetrePerSecond,
    through: si.CubicMetrePerPascalSecond,
    leak: si.CubicMetrePerSecond,
) -> si.Pascals:
    """Return the pressure in the chamber, by (3) [Pa].

    Parameters
    ----------
    time : array [s], shape (readings,)
        0 or more.
    start : float [Pa]
        At time 0.
    air : float [Pa]
        Outside.
    volume : float [m³]
        V; > 0.
    pump : float [m³/s]
        s; 0 or more.
    through : float [m³/(Pa·s)]
        g of the block; 0 or more.
    leak : float [m³/s]
        c of the seals; 0 or more.

    Returns
    -------
    array [Pa], shape (readings,)
    """
    a = (0.5 * through * air * air + leak * air) / volume
    b = (pump + leak) / volume
    c = 0.5 * through / volume
    if c * air < 1e-9 * (b + c * air):
        rate = b + c * air
        if rate == 0.0:
            return np.full_like(time, start)
        rest = a / rate
        return np.asarray(rest + (start - rest) * np.exp(-rate * time))
    root = math.sqrt(b * b + 4.0 * a * c)
    # Written so that no two near numbers are subtracted.
    upper, lower = 2.0 * a / (b + root), -(b + root) / (2.0 * c)
    fading = (start - upper) / (start - lower) * np.exp(-root * time)
    return np.asarray((upper - lower * fading) / (1.0 - fading))
