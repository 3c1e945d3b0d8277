"""Fresh slurry: how stiff is it at its age, and how fast does it pass the original?

The slurry is a Bingham fluid: it does not flow under its yield stress, and above
it with the plastic viscosity.  Both stay as mixed until the age t₁ and then grow,

    τ(t) = τ₀ exp((t - t₁)/t_c),   μ(t) = μ₀ exp((t - t₁)/t_c)              (1)

A mix with less water is stiffer.  Between the three mixes that the records know
the factor on both runs straight in its logarithm; at 40 parts it is 1.    (2)

While the flask is filled in the time t_f its surface rises over the height H,
and in the vacuum chamber the froth of the volume ratio r climbs in its own time,

    v = H/t_f,   v_froth = (r - 1) H/t_froth                               (3)

Left out: thinning of the slurry by stirring and the thickening of one at rest,
which pull (1) both ways; the jet of the pour, which hits harder than all that
stands here; that froth is a foam with a yield stress of its own: that of the
slurry is taken.

Source: law and values of the investment records, estimates: no measurement of a
plaster or casting slurry in Pa was found.
"""

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_not_negative, require_positive
from pourcast.materials.draws import ArrayInSI

FIRMEST, STIFF, USUAL, THIN, THINNEST = 0.36, 0.38, 0.40, 0.42, 0.46
"""Water to powder: ends of what (2) is used for, and the three mixes of the records."""


GROWTH_BEFORE = 180.0
"""From t₁ to the time at which the slurry must be still [s]; estimate of the records."""

_EARLIEST = 1.0  # s; a slurry that stiffens at once


def growth_from(still_by: si.Seconds) -> si.Seconds:
    """Return the age t₁ at which the slurry begins to stiffen.

    Parameters
    ----------
    still_by : array [s]
        Age at which it must be still; > 0.

    Returns
    -------
    array [s]
        At least 1.
    """
    require_positive("still_by", still_by, "s")
    return np.maximum(still_by - GROWTH_BEFORE, _EARLIEST)


def grown(
    value: ArrayInSI, age: si.Seconds, start: si.Seconds, growth_time: si.Seconds
) -> ArrayInSI:
    """Return a yield stress or viscosity at an age, equation (1).

    Parameters
    ----------
    value : array [SI], any shape
        As mixed; 0 or more.
    age, start, growth_time : array [s], shape of ``value``
        ``start`` is t₁; ``growth_time`` > 0.

    Returns
    -------
    array [SI]
        ``value`` or more.

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_not_negative("value", value, "")
    require_not_negative("age", age, "s")
    require_not_negative("start", start, "s")
    require_positive("growth_time", growth_time, "s")
    # 20 e-folds: by then it is set, and the number means no more than "solid".
    late = np.clip((age - start) / growth_time, 0.0, 20.0)
    return np.asarray(value * np.exp(late))


def water_factor(
    water_to_powder: si.Ratio, stiff_factor: si.Ratios, thin_factor: si.Ratios
) -> si.Ratios:
    """Return the factor on yield stress and viscosity of a mix, equation (2).

    Parameters
    ----------
    water_to_powder : float [-]
        Mass of water over mass of powder; beyond 0.36 and 0.46 the factor of these.
    stiff_factor, thin_factor : array [-], shape (draws,)
        At 38 and at 42 parts of water to 100; > 0.

    Returns
    -------
    array [-], shape (draws,)

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_between("water_to_powder", water_to_powder, "", 0.2, 1.0)
    require_positive("stiff_factor", stiff_factor, "")
    require_positive("thin_factor", thin_factor, "")
    water = min(max(water_to_powder, FIRMEST), THINNEST)
    if water <= USUAL:
        return np.asarray(stiff_factor ** ((USUAL - water) / (USUAL - STIFF)))
    return np.asarray(thin_factor ** ((water - USUAL) / (THIN - USUAL)))


def rise_speed(height: si.Metre, pour_time: si.Seconds) -> si.MetresPerSecond:
    """Return how fast the surface rises while the flask is filled, equation (3).

    Parameters
    ----------
    height : float [m]
        Of the slurry in the flask; > 0.
    pour_time : array [s]
        > 0.

    Returns
    -------
    array [m/s]
    """
    require_positive("height", height, "m")
    require_positive("pour_time", pour_time, "s")
    return np.asarray(height / pour_time)


def froth_speed(
    height: si.Metre, froth_rise: si.Ratios, froth_time: si.Seconds
) -> si.MetresPerSecond:
    """Return how fast the froth passes the original, up and then down, equation (3).

    Parameters
    ----------
    height : float [m]
        Of the slurry in the flask; > 0.
    froth_rise : array [-]
        Volume of the froth over that of the slurry; over 1.
    froth_time : array [s]
        > 0.

    Returns
    -------
    array [m/s]

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_positive("height", height, "m")
    require_positive("froth_time", froth_time, "s")
    if not (np.asarray(froth_rise) > 1.0).all():
        raise InputError("froth_rise", float(np.min(froth_rise)), "", "over 1")
    return np.asarray((froth_rise - 1.0) * height / froth_time)
