"""Char: how much gas the carbon that is left in the cavity makes under the metal.

Model.  Where carbon touches the sulphate of the block under hot metal,

    CaSO4 + C + SiO2 -> CaSiO3 + SO2 + CO                                   (1)

so each mole of carbon makes two of gas.  Carbon is lost at first order,

    dn/dt = -n A exp(-E / (R T)),                                           (2)

at the temperature T of the mould's face under the metal.  Heat that leaves metal at T_m
through a bare face and soaks into the block, `pourcast.pour.heat` equation 1, leaves the face at

    T = T_mould + (T_m - T_mould) (1 - 1/w),   w = 1 + h R                  (3)

which begins at the block's temperature and nears that of the metal.  Hotter metal and a
hotter block both make it hotter.  The gas is ideal and as hot as the block: in a passage
of 1 mm it has come to the heat of its wall within a millisecond.

The carbon of a member lies evenly on its wall.  All gas of wetted wall goes ahead of
the metal, see `pourcast.pour.give_off`.

Left out, all of it on the side of too much gas but for the last two: gas that
goes into the block through the wall behind the front, or back out of the cup; that
char lies on the sulphate in spots and not as a mixed powder; that SO2 goes into
copper; that CaS may form, which makes less gas at first.  On the hopeful side: gas of
the dry wall ahead of the metal (at 600 °C a billionth of the carbon each second), and char that
stands in the way.

Source: rate, Strydom et al. (1997), J. Therm. Anal. 49, 1501, carbon powder and
CaSO4 in nitrogen; the record of the investment holds its values.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel
from pourcast.piece.model import Network
from pourcast.pour.sections import girth

GAS_PER_CARBON = 2.0  # mol of gas for each of carbon, equation 1


def gas_of_carbon(carbon: si.Kilograms, temperature: si.Kelvins) -> si.Joules:
    """Return pressure times volume of the gas that carbon makes in all [J].

    Parameters
    ----------
    carbon : array [kg], any shape
    temperature : array [K]
        That the gas has; of a shape that goes with ``carbon``.

    Returns
    -------
    array [J]
    """
    moles = GAS_PER_CARBON * carbon / si.CARBON_MOLAR
    return np.asarray(moles * si.GAS_CONSTANT * temperature)


def share_of_wall(network: Network) -> si.Ratios:
    """Return what each segment holds of the wall of its member [-].

    Parameters
    ----------
    network : Network

    Returns
    -------
    array [-], shape (segments,)
        Summed over a member it is 1.
    """
    middle_width = 0.5 * (network.width[:, 0] + network.width[:, 1])
    middle_thickness = 0.5 * (network.thickness[:, 0] + network.thickness[:, 1])
    sizes = zip(
        network.section.tolist(),
        middle_width.tolist(),
        middle_thickness.tolist(),
        strict=True,
    )
    wall = network.length * np.array([girth(*size) for size in sizes])
    return np.asarray(wall / np.bincount(network.member, weights=wall)[network.member])


@small_kernel
def face_temperature(metal: si.Kelvin, mould: si.Kelvin, slowness: si.Ratio) -> si.Kelvin:
    """Return the temperature of the mould's face under metal, equation 3 [K].

    Parameters
    ----------
    metal, mould : float [K]
    slowness : float [-]
        From `pourcast.pour.cool.face_slowness`; 1 or more.

    Returns
    -------
    float [K]
    """
    return mould + (metal - mould) * (1.0 - 1.0 / slowness)


@kernel
def reaction_rate(
    temperature: si.Kelvin, activation_temperature: si.Kelvin, log_rate: si.Ratio
) -> si.PerSecond:
    """Return the share of the carbon that is lost each second, equation 2 [1/s].

    Parameters
    ----------
    temperature : float [K]
        Of the face.
    activation_temperature : float [K]
        E / R.
    log_rate : float [-]
        Natural logarithm of A in 1/s.

    Returns
    -------
    float [1/s]
    """
    return math.exp(log_rate - activation_temperature / temperature)
