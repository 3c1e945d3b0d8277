"""Sulphate: how much of the block's sulphate breaks down where char touches it?

Model.  Calcium sulphate in touch with carbon is taken apart in a first-order
reaction,

    share left = exp(-∫ A exp(-E/RT) dt)                                   (1)

over the time in which there is char; the gas, sulphur dioxide and carbon monoxide,
roughens and pits the skin of the casting.  The temperature is that of the block at
the original's matter.  Calcium sulphate alone holds out to about 900 °C.

Left out: that the touch is lost as the first skin has reacted, and that the char
burns away meanwhile (both make it too much); silica, with which the balance of the
reaction lies far lower, and iron, which speeds it (both make it too little).

Source: Strydom et al. (1997), J. Therm. Anal. 49, 1501, sulphate with carbon powder in
nitrogen; records chemistry.sulphate_carbon_E and sulphate_carbon_log10_A.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import Fate, HeatDays
from pourcast.errors import InputError, require_finite, require_positive
from pourcast.units import GAS_CONSTANT

_FINE = 16  # parts of each interval between kept moments; the rate grows tenfold in 50 K


def sulphate_rate(
    temperature: si.Kelvins, activation: si.JoulePerMole, log10_rate: si.Ratio
) -> si.PerSeconds:
    """Return how fast sulphate in touch with carbon reacts.

    Parameters
    ----------
    temperature : array [K], any shape
        > 0.
    activation : float [J/mol]
        > 0.
    log10_rate : float [-]
        Logarithm to base 10 of A in 1/s.

    Returns
    -------
    array [1/s], shape of ``temperature``

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_positive("temperature", temperature, "K")
    require_positive("activation", activation, "J/mol")
    require_finite("log10_rate", log10_rate, "")
    return np.asarray(
        np.exp(math.log(10.0) * log10_rate - activation / (GAS_CONSTANT * temperature))
    )


def sulphate_reacted(
    heat: HeatDays, fate: Fate, activation: si.JoulePerMole, log10_rate: si.Ratio
) -> si.Ratios:
    """Return the share of the sulphate beside char that has reacted by the end of the day.

    Parameters
    ----------
    heat : HeatDays
    fate : Fate
        Of the same draws and moments.
    activation : float [J/mol]
    log10_rate : float [-]

    Returns
    -------
    array [-], shape (draws,)
        0 to 1; counted while more char is left than `Fate.clean_below`.

    Raises
    ------
    InputError
        If heat and fate do not belong together, or a value is outside its limits.
    """
    if heat.piece.shape != fate.char.shape:
        raise InputError(
            "shape of the char", fate.char.shape, "", f"that of the heat, {heat.piece.shape}"
        )
    span = np.diff(heat.time)
    passed = np.zeros(heat.piece.shape[0])
    # An interval in which the char goes counts up to the moment it is gone.
    gone = np.where(np.isnan(fate.clean_at), np.inf, fate.clean_at)
    touched = np.maximum(fate.char[:, :-1], fate.char[:, 1:]) > fate.clean_below
    lasts = np.clip((gone[:, None] - heat.time[:-1]) / span, 0.0, 1.0) * touched
    for part in range(_FINE):
        share = (part + 0.5) / _FINE * lasts
        temperature = heat.piece[:, :-1] + share * np.diff(heat.piece, axis=1)
        rate = sulphate_rate(temperature, activation, log10_rate)
        passed += (rate * lasts * span / _FINE).sum(axis=1)
    return np.asarray(-np.expm1(-passed))
