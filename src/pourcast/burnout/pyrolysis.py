"""Pyrolysis: when does the original turn to char and vapour as it heats?

Model.  The dry matter is many bonds that break each in a first-order reaction with
one frequency factor A and its own activation energy E, spread normally:

    share left = Σ w(E) exp(-∫ A exp(-E/RT) dt)                             (1)

A is 10¹³ 1/s, the pace at which a bond swings (k_B T/h is 1.3·10¹³ at 630 K).  Mean
and spread of E come from the two temperatures of the record: in a ramp of 10 K/min
5 % of the vapour is off at the start and 95 % at the end.  A reaction of one energy
is done over some 40 K of such a ramp; their mean is the temperature T where

    E = R T [ln(A R T²/(E b)) + 0.577],   b the ramp                       (2)

and their deviation, on the scale of E, is 1.283 R T.  Equation 2, solved again and
again as E stands under a logarithm, gives an energy for start and end, 1.645
deviations of the whole below and above the mean; what the width of a single reaction
takes of that is taken off as squares.

Nothing is fitted to a measured curve.  Held against pine wood at three ramps
(tests/burnout/test_pyrolysis.py) half of the mass goes 13 to 14 K too early, and the
upper half of the measured curve is steeper.

Left out: heat that the reaction takes or gives; oxygen, which makes it begin some
50 K earlier in the open, but hardly reaches matter that lies in a block and
breathes out vapour.  Both move it by minutes in a day of hours.

Sources: equation 1, Vand (1943), Proc. Phys. Soc. 55, 222, and Pitt (1962), Fuel 41,
267, both from memory; equation 2 after Kissinger (1957), Anal. Chem. 29, 1702, with the
mean and deviation of Gumbel (1935), from memory; start and end, records
plants.general.pyrolysis_start and pyrolysis_end.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_positive
from pourcast.kernels import kernel, small_kernel
from pourcast.units import GAS_CONSTANT

FREQUENCY = 1e13  # 1/s, A of equation 1; theory of the transition state, rounded
REFERENCE_RAMP = 10.0 / 60.0  # K/s, of thermal balances; convention
BANDS = 12
"""Bands that the energies are cut into, from -2.5 to 2.5 deviations."""

_REACH = 2.5  # deviations
_TAIL = 1.644_854  # deviations, under which 5 % of a normal spread lie
_PASSES = 30
_EULER = 0.577_216  # mean of Gumbel's law, which a single reaction in a ramp follows
_SINGLE = math.pi / math.sqrt(6.0)  # deviation of that law


def energies(
    start: si.Kelvins, end: si.Kelvins
) -> tuple[si.JoulesPerMole, si.JoulesPerMole, si.Ratios]:
    """Return the lowest energy, the step from band to band, and the share of each band.

    Parameters
    ----------
    start, end : array [K], shape (draws,)
        Where 5 % and 95 % of the vapour are off at 10 K/min; ``end`` the higher.

    Returns
    -------
    lowest, step : array [J/mol], shape (draws,)
    share : array [-], shape (BANDS,)
        Adds up to 1.

    Raises
    ------
    InputError
        If a temperature is not above 0, or an end not above its start.
    """
    require_positive("pyrolysis_start", start, "K")
    require_positive("pyrolysis_end", end, "K")
    if np.any(end <= start):
        worst = int(np.argmin(end - start))
        raise InputError(
            "pyrolysis_end", f"{end[worst]:g}", "K", f"above its start, {start[worst]:g} K"
        )
    low, high = energy_done_at(start), energy_done_at(end)
    middle, whole = 0.5 * (low + high), 0.5 * (high - low) / _TAIL
    single = _SINGLE * GAS_CONSTANT * 0.5 * (start + end)
    deviation = np.sqrt(np.maximum(whole**2 - single**2, 0.0))
    place = np.linspace(-_REACH, _REACH, BANDS)
    share = np.exp(-0.5 * place * place)
    step = 2.0 * _REACH * deviation / (BANDS - 1)
    return middle - _REACH * deviation, step, np.asarray(share / share.sum())


def energy_done_at(temperature: si.Kelvins) -> si.JoulesPerMole:
    """Return the energy of a reaction that is done at a temperature on the mean, equation 2.

    Parameters
    ----------
    temperature : array [K], any shape
        > 0.

    Returns
    -------
    array [J/mol], shape of ``temperature``
    """
    energy = 40.0 * GAS_CONSTANT * temperature
    for _ in range(_PASSES):
        energy = (
            GAS_CONSTANT
            * temperature
            * (
                np.log(FREQUENCY * GAS_CONSTANT * temperature**2 / (energy * REFERENCE_RAMP))
                + _EULER
            )
        )
    return np.asarray(energy)


@small_kernel
def band_rate(temperature: si.Kelvin, energy: si.JoulePerMole) -> si.PerSecond:
    """Return how fast the matter of one energy reacts [1/s].

    Parameters
    ----------
    temperature : float [K]
        > 0.
    energy : float [J/mol]

    Returns
    -------
    float [1/s]
    """
    return FREQUENCY * math.exp(-energy / (GAS_CONSTANT * temperature))


@kernel
def pyrolyse(
    temperature: si.Kelvin,
    step: si.Second,
    lowest: si.JoulePerMole,
    energy_step: si.JoulePerMole,
    band_share: si.Ratios,
    passed: si.Ratios,
) -> si.Ratio:
    """Return the share of the dry matter that is left after a step, equation 1 [-].

    Parameters
    ----------
    temperature : float [K]
        In the middle of the step.
    step : float [s]
    lowest, energy_step : float [J/mol]
        Energy of the first band, and from each band to the next.
    band_share : array [-], shape (bands,)
    passed : array [-], shape (bands,)
        The integral of each band; moved on.

    Returns
    -------
    float [-]
    """
    through = step * band_rate(temperature, lowest)
    slower = math.exp(-energy_step / (GAS_CONSTANT * temperature))
    left = 0.0
    for band in range(band_share.size):
        passed[band] += through
        through *= slower
        left += band_share[band] * math.exp(-passed[band])
    return left
