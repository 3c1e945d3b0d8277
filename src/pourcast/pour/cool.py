"""Cool: how much heat the running metal has left, at its front and behind it.

Model.  The parcel at the front meets fresh wall all the time; the mean age τ
of the wall that it touches follows dτ/dt = 1 - τ v / D, so it nears D/v in
steady flow and grows while the front stands.  The metal behind it is one
mixed body for each segment, fed from the segment before.

Left out: conduction along the metal but for the first stretch behind a narrow
mouth (errs to the cold side at tips); folding and jets at wide places, which
trap gas and oxide.
"""

import math

from pourcast import units as si
from pourcast.kernels import small_kernel
from pourcast.pour.columns import (
    BORE,
    CONDUCTIVITY,
    DENSITY,
    DIFFUSIVITY,
    FLOW,
    FRONT,
    GIRTH_AREA,
    HALF_SOLID,
    HEAT,
    INTERFACE,
    LATENT_HEAT,
    LIQUIDUS,
    METAL_CONDUCTIVITY,
    MOULD_TEMPERATURE,
    RADIUS,
    SOLIDUS,
    SPECIFIC_HEAT,
    TIP_AGE,
    TIP_HEAT,
    WETTED_AT,
)
from pourcast.pour.flow import LEAST_WET
from pourcast.pour.heat import mould_resistance, temperature_of

_LEAST_DISTANCE = 1e-5  # m; nearer to the mouth than this is at the mouth


@small_kernel
def _temperature(heat: si.JoulePerKilogram, parameters: si.Table) -> si.Kelvin:
    return temperature_of(
        heat,
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )


@small_kernel
def heat_loss(
    heat: si.JoulePerKilogram,
    age: si.Second,
    share: si.Ratio,
    girth_area: si.PerMetre,
    radius: si.Metre,
    parameters: si.Table,
) -> si.WattPerKilogram:
    """Return the rate at which metal in a passage loses heat [W/kg].

    Parameters
    ----------
    heat : float [J/kg]
    age : float [s]
        Of the wall's contact.
    share : float [-]
        Of the mould's resistance: 1 for metal that stands, ½ for the parcel
        at a front, whose wall has every age from 0 to ``age``.
    girth_area : float [1/m]
        Girth over area.
    radius : float [m]
        Girth over 2π.
    parameters : array [by column]

    Returns
    -------
    float [W/kg]
    """
    temperature = _temperature(heat, parameters)
    resistance = 1.0 / parameters[INTERFACE]
    if parameters[CONDUCTIVITY] > 0.0:
        resistance += share * mould_resistance(
            radius, parameters[CONDUCTIVITY], parameters[DIFFUSIVITY], age
        )
    over = temperature - parameters[MOULD_TEMPERATURE]
    return girth_area * over / (resistance * parameters[DENSITY])


@small_kernel
def cool_body(
    feed_heat: si.JoulePerKilogram,
    length: si.Metre,
    area: si.SquareMetre,
    time: si.Second,
    step: si.Second,
    run: int,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
) -> None:
    """Take the heat of the metal behind a front, or in a full run, one step on.

    Parameters
    ----------
    feed_heat : float [J/kg]
        Of the metal that flows in.
    length : float [m]
        Wet length of the run.
    area : float [m²]
    time, step : float [s]
        At the end of the step.
    run : int
    parameters, fixed, moving : array [by column]
    """
    held = max(length, LEAST_WET * fixed[run, BORE]) * area
    fed = moving[run, FLOW] * step
    age = time - moving[run, WETTED_AT]
    loss = heat_loss(
        moving[run, HEAT], age, 1.0, fixed[run, GIRTH_AREA], fixed[run, RADIUS], parameters
    )
    moving[run, HEAT] = (held * (moving[run, HEAT] - loss * step) + fed * feed_heat) / (held + fed)


@small_kernel
def cool_tip(
    speed: si.MetrePerSecond,
    step: si.Second,
    run: int,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
) -> None:
    """Take the heat of the parcel at a front one step on.

    Parameters
    ----------
    speed : float [m/s]
    step : float [s]
    run : int
    parameters, fixed, moving : array [by column]
    """
    before = moving[run, TIP_HEAT]
    moving[run, TIP_AGE] = (moving[run, TIP_AGE] + step) / (1.0 + step * speed / fixed[run, BORE])
    rate = heat_loss(
        before, moving[run, TIP_AGE], 0.5, fixed[run, GIRTH_AREA], fixed[run, RADIUS], parameters
    )
    middle = heat_loss(
        before - 0.5 * rate * step,
        moving[run, TIP_AGE],
        0.5,
        fixed[run, GIRTH_AREA],
        fixed[run, RADIUS],
        parameters,
    )
    moving[run, TIP_HEAT] = before - middle * step
    # The metal behind is never colder than the parcel that went before it.
    if moving[run, HEAT] < moving[run, TIP_HEAT]:
        moving[run, HEAT] = moving[run, TIP_HEAT]


@small_kernel
def warm_from_mouth(
    feed_heat: si.JoulePerKilogram,
    step: si.Second,
    run: int,
    parameters: si.Table,
    moving: si.Table,
) -> None:
    """Let the metal before a narrow mouth warm the parcel at the front for one step.

    Heat runs along the metal from the mouth to the front at distance x, at the
    rate 2 k ΔT / (ρ x² ΔH), that of a parcel whose heat lies at x over a rod that is
    warm at its foot.  A front that is held at a mouth thus freezes with the passage before it.

    Parameters
    ----------
    feed_heat : float [J/kg]
        Of the metal in the passage before.
    step : float [s]
    run : int
    parameters, moving : array [by column]
    """
    gap = feed_heat - moving[run, TIP_HEAT]
    if gap <= 0.0:
        return
    distance = max(moving[run, FRONT], _LEAST_DISTANCE)
    fall = _temperature(feed_heat, parameters) - _temperature(moving[run, TIP_HEAT], parameters)
    rate = 2.0 * parameters[METAL_CONDUCTIVITY] * fall / (parameters[DENSITY] * distance**2 * gap)
    moving[run, TIP_HEAT] += gap * (1.0 - math.exp(-rate * step))
    if moving[run, HEAT] < moving[run, TIP_HEAT]:
        moving[run, HEAT] = moving[run, TIP_HEAT]
