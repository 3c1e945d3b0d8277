"""Stress: how near the block comes to cracking, by steam in its pores and uneven heat.

A long round block that is free at its ends wants to grow by e(r) at each radius.
With mean growth ē over the section and ē(r) over the part inside r,

    σ_axial = E (ē - e)/(1 - ν),   σ_hoop = E (½ē + ½ē(r) - e)/(1 - ν)       (1)

(Timoshenko and Goodier).  Heat gives e = a (T - T_start) and, over the zone of
each inversion of silica, its growth.  Steam in the pores at p over the air acts like
a growth p (1 - 2ν)/E, and what loads the grains is (1) + p (Biot): at most p,
on the axis.  A thick-walled tube with p at its bore would tear at p (1 + b²)/(1 - b²),
b the bore over the outside: that is for a tight skin on the bore, which a front in
open pores does not have.

How sure.  The block is taken as sound, springy and as stiff hot as cold.  Burnt
plaster creeps and is full of fine cracks, so (1) errs high, most in the
inversions, where it gives many times the strength of a dry block.  Discs of burnt
investment held 3.4 to 10.1 MPa hot (Dent Mater 19, 2003, 552), where the tensile strength
drawn from the compressive strength at two hours is 0.2 to 1.4 MPa: by that alone the
ratio may be 7 to 20 times too high.  It ranks curves; it does not say that a block cracks.

Left out: the ends, corners and the piece itself, where stress gathers (errs low),
and the shrinking of gypsum from 350 to 450 °C, which opens cracks (errs low).

Sources: Timoshenko and Goodier (1970), Theory of Elasticity, 149 to 151; Biot
(1941), J. Appl. Phys. 12, 155; ν 0.2 for plaster, from memory; width of the zones:
estimate.
"""

import math

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.kernels import kernel

CRISTOBALITE, QUARTZ = 518.15, 846.15
"""Middles of the inversions, K; 245 and 573 °C, from memory."""

CRISTOBALITE_ZONE, QUARTZ_ZONE = 50.0, 20.0
"""Widths of the two, K: small grains change at different temperatures; estimate."""

POISSON = 0.2


@kernel
def most_loaded(
    rings: int,
    expansion: si.PerKelvin,
    jumps: si.Ratios,
    youngs_modulus: si.Pascal,
    start: si.Kelvin,
    over: si.Pascal,
    front: si.Metre,
    closed: bool,
    room: si.Table,
) -> si.Pascal:
    """Return the highest tension in the block, equation 1 [Pa].

    Parameters
    ----------
    rings : int
    expansion : float [1/K]
    jumps : array [-], shape (2,)
        Linear growth of the block in the inversions of cristobalite and quartz.
    youngs_modulus : float [Pa]
    start : float [K]
        At which the block is free of stress.
    over : float [Pa]
        Of steam over the air; inside the front, and everywhere in a closed flask.
    front : float [m]
        Outside it the pressure falls with the logarithm of the radius.
    closed : bool
    room : array [by column], shape (ROWS, rings + 3)

    Returns
    -------
    float [Pa]
        0 or more.
    """
    radius = room[c.OUTER, rings - 1]
    bore = max(front, 0.5 * room[c.OUTER, 0])
    fall = 1.0 / math.log(radius / bore) if bore < 0.999 * radius else 0.0
    soft = (1.0 - 2.0 * POISSON) / youngs_modulus
    area = total = 0.0
    for i in range(rings):
        kelvin = room[c.TEMPERATURE, i]
        middle = 0.5 * (room[c.INNER, i] + room[c.OUTER, i])
        pressure = over
        if not closed and middle > bore:
            pressure = over * math.log(radius / middle) * fall
        low = (kelvin - CRISTOBALITE) / CRISTOBALITE_ZONE + 0.5
        high = (kelvin - QUARTZ) / QUARTZ_ZONE + 0.5
        growth = expansion * (kelvin - start) + soft * pressure
        growth += jumps[0] * min(max(low, 0.0), 1.0) + jumps[1] * min(max(high, 0.0), 1.0)
        room[c.LOWER, i] = growth
        room[c.UPPER, i] = pressure
        total += growth * room[c.VOLUME, i]
        area += room[c.VOLUME, i]
    mean = total / area
    stiff = youngs_modulus / (1.0 - POISSON)
    worst = inside = within = 0.0
    for i in range(rings):
        growth, part = room[c.LOWER, i], room[c.VOLUME, i]
        inner = (within + 0.5 * growth * part) / (inside + 0.5 * part)
        within += growth * part
        inside += part
        along = stiff * (mean - growth)
        round_it = stiff * (0.5 * mean + 0.5 * inner - growth)
        worst = max(worst, max(along, round_it) + room[c.UPPER, i])
    return worst
