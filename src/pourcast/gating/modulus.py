"""Modulus: how thick must a gate be so that it freezes after what it feeds?

The time to freeze grows with the square of the casting modulus, volume over cooling
surface (Chvorinov's rule), so a gate of the modulus M feeds what has the modulus m if

    M >= f m                                                                (1)

with f = 1.2, which is 1.44 times as long.  A long rod of the diameter d has the modulus
d/4, so

    d = 4 f m                                                               (2)

Left out: that gate, button and piece warm each other; that a gate in use has been
heated by the metal that ran through it, which lets a thinner one do; the ends of a
short gate, which cool it.

Source: (1) Chvorinov (1940), Giesserei 27, 177, from memory; f: common practice, no
source, the same in foundry textbooks for feeders (Campbell, Castings, from memory).
"""

from pourcast import units as si
from pourcast.errors import require_positive
from pourcast.freeze.feeder import MODULUS_FACTOR


def rod_for(modulus: si.Metre, *, factor: si.Ratio = MODULUS_FACTOR) -> si.Metre:
    """Return the diameter of a long rod that feeds a place, equation (2).

    Parameters
    ----------
    modulus : float [m]
        Volume over cooling surface of what draws on it; > 0.
    factor : float [-]
        > 0.

    Returns
    -------
    float [m]
    """
    require_positive("modulus", modulus, "m")
    require_positive("factor", factor, "")
    return 4.0 * factor * modulus
