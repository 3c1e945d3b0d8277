"""Cool: how much heat the parcel of metal at a front has left.

Model.  The parcel at the front meets fresh wall all the time; how old the wall is that it
touches: `pourcast.pour.contact`.  The metal behind it: `pourcast.pour.behind`.

The short functions take numbers and no arrays: handing over a dozen arrays costs more
than their work.

Left out: conduction from the metal behind into the parcel, but for the stretch behind a
narrow mouth (errs to the cold side at tips); folding and jets at wide places, which
trap gas and oxide.
"""

from pourcast import units as si
from pourcast.kernels import small_kernel
from pourcast.pour.columns import (
    BEHIND,
    BORE,
    COOLING,
    CUP_HEAT,
    DENSITY,
    FEEDER,
    FRONT,
    HALF_SOLID,
    HEAT,
    LATENT_HEAT,
    LIQUIDUS,
    METAL_CONDUCTIVITY,
    MOULD_TEMPERATURE,
    MOUTH,
    NONE,
    SOLIDUS,
    SPECIFIC_HEAT,
    TIP_AGE,
    TIP_HEAT,
    WALL_RATE,
    WALL_WEIGHT,
)
from pourcast.pour.contact import contact_ages, mean_kept
from pourcast.pour.elementary import exponential
from pourcast.pour.heat import Curve, soaking, temperature_of

_LEAST_DISTANCE = 1e-5  # m; nearer to the mouth than this is at the mouth
_LEAST_GAP = 1e-6  # J/kg; a smaller gap is closed as if it were this
NO_FEED = -1e12  # J/kg; colder than any metal: no warmth comes through a mouth


@small_kernel
def face_slowness(
    age: si.Second, share: si.Ratio, weight: si.Ratio, rate: si.PerSecond
) -> si.Ratio:
    """Return by how much the mould slows the heat that leaves through a bare face [-].

    Parameters
    ----------
    age : float [s]
        Time that the face has been in touch.
    share : float [-]
        Of the mould's resistance: 1 for metal that stands, ½ for the parcel
        at a front, whose wall has every age from 0 to ``age``.
    weight : float [-]
        h a / k of the run, the column WALL_WEIGHT.
    rate : float [1/s]
        π α / a² of the run, the column WALL_RATE.

    Returns
    -------
    float [-]
        1 + h R of `pourcast.pour.heat`, equation 1.
    """
    return 1.0 + share * weight * soaking(rate, age)


@small_kernel
def heat_loss(
    heat: si.JoulePerKilogram,
    slowness: si.Ratio,
    cooling: si.WattPerKilogramKelvin,
    mould: si.Kelvin,
    curve: Curve,
) -> si.WattPerKilogram:
    """Return the rate at which metal in a passage loses heat [W/kg].

    Parameters
    ----------
    heat : float [J/kg]
    slowness : float [-]
        From `face_slowness`.
    cooling : float [W/(kg·K)]
        Of a bare face of the run, the column COOLING.
    mould : float [K]
    curve : Curve
        Of the metal.

    Returns
    -------
    float [W/kg]
    """
    temperature = temperature_of(heat, curve)
    return cooling * (temperature - mould) / slowness


@small_kernel
def warmed_from_mouth(
    before: si.JoulePerKilogram,
    heat: si.JoulePerKilogram,
    feed_heat: si.JoulePerKilogram,
    front: si.Metre,
    step: si.Second,
    conduction: si.Ratio,
    curve: Curve,
) -> si.JoulePerKilogram:
    """Return the heat of the parcel at a front, warmed for one step from a narrow mouth [J/kg].

    Heat runs along the metal from the mouth to the front at distance x, at the
    rate 2 k ΔT / (ρ x² ΔH), that of a parcel whose heat lies at x over a rod that is
    warm at its foot.  A front that is held at a mouth thus freezes with the passage before it.
    What the wall takes goes evenly over the step, while the parcel is warmed: taken before
    it, a front would be warmer the longer the step.

    Parameters
    ----------
    before : float [J/kg]
        Of the parcel at the start of the step.
    heat : float [J/kg]
        Of the parcel at its end, had it not been warmed.
    feed_heat : float [J/kg]
        Of the metal in the passage before; less than ``heat`` warms nothing.
    front : float [m]
        From the mouth.
    step : float [s]
    conduction : float [-]
        Conductivity over density of the metal, k/ρ in W·m²/(kg·K).
    curve : Curve

    Returns
    -------
    float [J/kg]
    """
    gap = max(feed_heat - heat, 0.0)
    distance = max(front, _LEAST_DISTANCE)
    fall = max(temperature_of(feed_heat, curve) - temperature_of(heat, curve), 0.0)
    rate = 2.0 * conduction * fall / (distance * distance * max(gap, _LEAST_GAP))
    turns = rate * step
    kept = exponential(-turns)
    return heat + gap * (1.0 - kept) - (before - heat) * (mean_kept(turns, kept) - kept)


@small_kernel
def cooled_parcel(
    heat: si.JoulePerKilogram,
    mean_age: si.Second,
    step: si.Second,
    weight: si.Ratio,
    rate: si.PerSecond,
    cooling: si.WattPerKilogramKelvin,
    mould: si.Kelvin,
    curve: Curve,
) -> si.JoulePerKilogram:
    """Return the heat of the parcel at a front after a step [J/kg].

    Parameters
    ----------
    heat : float [J/kg]
    mean_age : float [s]
        From `pourcast.pour.contact.contact_ages`.
    step : float [s]
    weight : float [-]
    rate : float [1/s]
    cooling : float [W/(kg·K)]
        The columns WALL_WEIGHT, WALL_RATE and COOLING of its run.
    mould : float [K]
    curve : Curve

    Returns
    -------
    float [J/kg]
    """
    slowness = face_slowness(mean_age, 0.5, weight, rate)
    loss = heat_loss(heat, slowness, cooling, mould, curve)
    middle = heat_loss(heat - 0.5 * loss * step, slowness, cooling, mould, curve)
    return heat - middle * step


@small_kernel
def feed_heat_of(
    run: int, parameters: si.Table, moving: si.Table, marks: si.Places
) -> si.JoulePerKilogram:
    """Return the heat that a front gets through a narrow mouth behind it; none: NO_FEED [J/kg].

    Parameters
    ----------
    run : int
    parameters, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    feed = NO_FEED
    if marks[run, MOUTH] == 1:
        feeder = marks[run, FEEDER]
        feed = parameters[CUP_HEAT] if feeder == NONE else moving[feeder, HEAT]
    return feed


@small_kernel
def cool_front(
    speed: si.MetrePerSecond,
    step: si.Second,
    run: int,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
    marks: si.Places,
) -> None:
    """Take the parcel at a front one step on, with what it gets through a narrow mouth.

    Parameters
    ----------
    speed : float [m/s]
    step : float [s]
    run : int
    parameters, fixed, moving : array [by column]
    marks : array of int, shape (runs, MARKS)
    """
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    mean_age, age = contact_ages(moving[run, TIP_AGE], step * speed / fixed[run, BORE], step)
    after = cooled_parcel(
        moving[run, TIP_HEAT],
        mean_age,
        step,
        fixed[run, WALL_WEIGHT],
        fixed[run, WALL_RATE],
        fixed[run, COOLING],
        parameters[MOULD_TEMPERATURE],
        curve,
    )
    after = warmed_from_mouth(
        moving[run, TIP_HEAT],
        after,
        feed_heat_of(run, parameters, moving, marks),
        moving[run, BEHIND] + moving[run, FRONT],
        step,
        parameters[METAL_CONDUCTIVITY] / parameters[DENSITY],
        curve,
    )
    moving[run, TIP_AGE] = age
    moving[run, TIP_HEAT] = after
    # The metal behind is never colder than the parcel that went before it.
    moving[run, HEAT] = max(moving[run, HEAT], after)


@small_kernel
def heat_taken(
    heat: si.JoulePerKilogram,
    taken: si.JoulePerKilogram,
    mould_temperature: si.Kelvin,
    curve: Curve,
) -> si.JoulePerKilogram:
    """Return what a step takes from metal: at most what brings it to the mould [J/kg].

    A long step at the loss of its start would take more from a hair than it has over
    the mould, and swing wider with each step.

    Parameters
    ----------
    heat : float [J/kg]
    taken : float [J/kg]
        By the loss at the start of the step.
    mould_temperature : float [K]
    curve : Curve
    """
    most = curve.specific_heat * (temperature_of(heat, curve) - mould_temperature)
    return min(taken, most) if most > 0.0 else max(taken, most)
