"""Scheil: how an alloy freezes when nothing moves in its solid.

The law, with K the partition coefficient,

    f = 1 - ((T_melting - T) / (T_melting - T_liquidus)) ** (-1 / (1 - K))      (1)

gives the temperatures of the knots of `pourcast.freeze.solid`; what it has not
frozen at the solidus freezes there.

Left out: diffusion in the solid, which lets an alloy freeze at a higher temperature
than (1) says.

Source: Scheil (1942), Z. Metallkunde 34, 70, from memory.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_positive


def scheil_fraction(
    temperature: si.Kelvins, melting: si.Kelvin, liquidus: si.Kelvin, partition: si.Ratio
) -> si.Ratios:
    """Return the solid fraction by the law of Scheil, equation 1 [-].

    Parameters
    ----------
    temperature : array [K], any shape
    melting : float [K]
        Of the pure solvent; above ``liquidus``.
    liquidus : float [K]
    partition : float [-]
        Concentration in the solid over that in the liquid; 0 or more, below 1.

    Returns
    -------
    array [-], shape of ``temperature``
        0 above the liquidus; below 1.

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    _check_scheil(melting, liquidus, partition)
    depth = np.maximum((melting - temperature) / (melting - liquidus), 1.0)
    return np.asarray(1.0 - depth ** (-1.0 / (1.0 - partition)))


def scheil_temperature(
    solid_fraction: si.Ratio,
    melting: si.Kelvin,
    liquidus: si.Kelvin,
    solidus: si.Kelvin,
    partition: si.Ratio,
) -> si.Kelvin:
    """Return the temperature of a solid fraction by the law of Scheil [K].

    Parameters
    ----------
    solid_fraction : float [-]
        0 to 1.
    melting, liquidus, solidus : float [K]
        What is still liquid at the solidus freezes there.
    partition : float [-]

    Returns
    -------
    float [K]

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    _check_scheil(melting, liquidus, partition)
    require_between("solid_fraction", solid_fraction, "", 0.0, 1.0)
    liquid = 1.0 - solid_fraction
    if liquid <= 0.0:
        return solidus
    depth = (melting - liquidus) * math.pow(liquid, partition - 1.0)
    return max(melting - depth, solidus)


def _check_scheil(melting: si.Kelvin, liquidus: si.Kelvin, partition: si.Ratio) -> None:
    require_positive("melting less liquidus", melting - liquidus, "K")
    if not 0.0 <= partition < 1.0:
        raise InputError("partition", partition, "", "0 or more, below 1")
