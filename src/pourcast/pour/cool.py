"""Cool: how much heat the running metal has left, at its front and behind it.

Model.  The parcel at the front meets fresh wall all the time; the mean age τ
of the wall that it touches follows dτ/dt = 1 - τ v / D, so it nears D/v in
steady flow and grows while the front stands; over a step this is taken
exactly.  The metal behind it is one mixed body for each segment, fed from the
segment before.

Left out: conduction along the metal but for the first stretch behind a narrow
mouth (errs to the cold side at tips); folding and jets at wide places, which
trap gas and oxide.
"""

import math

from pourcast import units as si
from pourcast.kernels import small_kernel
from pourcast.pour.columns import (
    BORE,
    COOLING,
    DENSITY,
    FLOW,
    FRONT,
    HALF_SOLID,
    HEAT,
    LATENT_HEAT,
    LIQUIDUS,
    METAL_CONDUCTIVITY,
    MOULD_TEMPERATURE,
    MOUTH,
    SOLIDUS,
    SPECIFIC_HEAT,
    TIP_AGE,
    TIP_HEAT,
    WALL_RATE,
    WALL_WEIGHT,
    WETTED_AT,
)
from pourcast.pour.heat import soaking, temperature_of

_FEW_TURNS = 1e-3  # bores crossed in a step; below it a series is as exact
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
def face_slowness(age: si.Second, share: si.Ratio, run: int, fixed: si.Table) -> si.Ratio:
    """Return by how much the mould slows the heat that leaves through a bare face [-].

    Parameters
    ----------
    age : float [s]
        Time that the face has been in touch.
    share : float [-]
        Of the mould's resistance: 1 for metal that stands, ½ for the parcel
        at a front, whose wall has every age from 0 to ``age``.
    run : int
    fixed : array [by column]

    Returns
    -------
    float [-]
        1 + h R of `pourcast.pour.heat`, equation 1.
    """
    slowness: si.Ratio = 1.0 + share * fixed[run, WALL_WEIGHT] * soaking(fixed[run, WALL_RATE], age)
    return slowness


@small_kernel
def heat_loss(
    heat: si.JoulePerKilogram,
    slowness: si.Ratio,
    run: int,
    parameters: si.Table,
    fixed: si.Table,
) -> si.WattPerKilogram:
    """Return the rate at which metal in a passage loses heat [W/kg].

    Parameters
    ----------
    heat : float [J/kg]
    slowness : float [-]
        From `face_slowness`.
    run : int
    parameters, fixed : array [by column]

    Returns
    -------
    float [W/kg]
    """
    over = _temperature(heat, parameters) - parameters[MOULD_TEMPERATURE]
    loss: si.WattPerKilogram = fixed[run, COOLING] * over / slowness
    return loss


@small_kernel
def cool_body(
    feed_heat: si.JoulePerKilogram,
    held: si.CubicMetre,
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
    held : float [m³]
        Metal in the run.
    time, step : float [s]
        At the end of the step.
    run : int
    parameters, fixed, moving : array [by column]
    """
    fed = moving[run, FLOW] * step
    heat = moving[run, HEAT]
    slowness = face_slowness(time - moving[run, WETTED_AT], 1.0, run, fixed)
    loss = heat_loss(heat, slowness, run, parameters, fixed)
    moving[run, HEAT] = (held * (heat - loss * step) + fed * feed_heat) / (held + fed)


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
    turns = step * speed / fixed[run, BORE]
    kept = math.exp(-turns)
    fresh = (1.0 - kept) / turns if turns > _FEW_TURNS else 1.0 - 0.5 * turns
    half = (1.0 - fresh) / turns if turns > _FEW_TURNS else 0.5 - turns / 6.0
    age = moving[run, TIP_AGE]
    moving[run, TIP_AGE] = age * kept + step * fresh
    # The mean age over the step; its end would make the error of first order.
    slowness = face_slowness(age * fresh + step * half, 0.5, run, fixed)
    rate = heat_loss(before, slowness, run, parameters, fixed)
    middle = heat_loss(before - 0.5 * rate * step, slowness, run, parameters, fixed)
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


@small_kernel
def cool_front(
    feed_heat: si.JoulePerKilogram,
    speed: si.MetrePerSecond,
    step: si.Second,
    run: int,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Integers,
) -> None:
    """Take the parcel at a front one step on, with what it gets through a narrow mouth.

    Parameters
    ----------
    feed_heat : float [J/kg]
        Of the metal in the passage before.
    speed : float [m/s]
    step : float [s]
    run : int
    parameters, fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    cool_tip(speed, step, run, parameters, fixed, moving)
    if marks[run, MOUTH] == 1:
        warm_from_mouth(feed_heat, step, run, parameters, moving)
