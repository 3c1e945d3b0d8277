"""Far end: does the block over the far end of the piece hold, and does it let the air out?

While the metal comes, the pump and the weight of the metal push that end out.  It
is taken as a round plate of the radius R and the thickness h that the flask holds
clamped all round.  The largest tension, at its rim, is

    σ = 3/4 p (R/h)²                                                        (1)

The air of the cavity leaves through the same end.  A cavity of the volume V
under the pressure p, an area A and the permeability K of the burnt block lose

    V dp/dt = -K A (p² - p_v²)/(2 μ h)                                        (2)

with the pump at p_v, so that from p₀ down to p₁

    t = V μ h/(K A p_v) · ln((p₀ - p_v)(p₁ + p_v)/((p₀ + p_v)(p₁ - p_v)))     (3)

with p₁ where nine tenths of the way to p_v are gone.

Left out: that so thick a plate arches and bears more than (1), and that only the
part of it over the piece is thin, both to the careful side; dry cracks and pores
of a poor mix, to the other; the gas in the pores of the block themselves, which
the pump takes first; the side walls, through which a perforated flask breathes
too, so (3) is long for it; the warming of the gas.

Source: (1) Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, and
Roark, Formulas for Stress and Strain, clamped round plate under even load, from
memory; (2) Darcy's law for an ideal gas at one temperature.
"""

from typing import Literal

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_not_negative, require_positive
from pourcast.mould.model import EndCase, EndCheck, FarEnd, Flask, Mould
from pourcast.piece.model import Measures

OF_DIAMETER = 0.25
"""Cover over the far end, of the inside diameter; common practice, one voice."""

FIXED = 20e-3
"""Cover over the far end [m], whatever the flask; common practice, no source."""

_HOLDS = 0.95  # of the draws, for the cover that is needed
_EMPTIED = 0.9  # of the way to the pressure of the pump

Rule = Literal["as planned", "quarter of the diameter", "20 mm"]


def far_end(mould: Mould, flask: Flask, measures: Measures, case: EndCase) -> FarEnd:
    """Return how the far end holds and breathes, as planned and by both rules of practice.

    Parameters
    ----------
    mould : Mould
    flask : Flask
    measures : Measures
    case : EndCase

    Returns
    -------
    FarEnd

    Raises
    ------
    InputError
        If a value is outside its limits, or the shapes do not go together.
    """
    draws = np.shape(case.pressure)
    for name in ("tensile_strength", "permeability", "gas_viscosity", "air_pressure", "vacuum"):
        if np.shape(getattr(case, name)) != draws:
            raise InputError(name, np.shape(getattr(case, name)), "", f"of shape {draws}")
    require_positive("tensile_strength", case.tensile_strength, "Pa")
    radius = flask.inside_diameter / 2.0
    shadow = np.pi * min(measures.reach, radius) ** 2
    rules: tuple[tuple[Rule, si.Metre], ...] = (
        ("as planned", mould.far_cover),
        ("quarter of the diameter", OF_DIAMETER * flask.inside_diameter),
        ("20 mm", FIXED),
    )
    checks = []
    for rule, cover in rules:
        if cover <= 0.0:
            continue
        stress = plate_stress(case.pressure, radius, cover)
        time = None
        if (case.vacuum > 0.0).all():
            time = float(np.median(empty_time(measures.volume, shadow, cover, case)))
        checks.append(
            EndCheck(
                rule=rule,
                cover=cover,
                stress=float(np.median(stress)),
                breaks=float((stress > case.tensile_strength).mean()),
                empty_time=time,
            )
        )
    needed = radius * np.sqrt(0.75 * case.pressure / case.tensile_strength)
    return FarEnd(checks=tuple(checks), needed=float(np.quantile(needed, _HOLDS)))


def plate_stress(pressure: si.Pascals, radius: si.Metre, cover: si.Metre) -> si.Pascals:
    """Return the largest tension in the plate, equation (1).

    Parameters
    ----------
    pressure : array [Pa]
        0 or more.
    radius, cover : float [m]
        Of the plate; its thickness; > 0.

    Returns
    -------
    array [Pa]
    """
    require_not_negative("pressure", pressure, "Pa")
    require_positive("radius", radius, "m")
    require_positive("cover", cover, "m")
    return np.asarray(0.75 * pressure * (radius / cover) ** 2)


def empty_time(
    volume: si.CubicMetre, area: si.SquareMetre, cover: si.Metre, case: EndCase
) -> si.Seconds:
    """Return how long the cavity takes to empty through the far end, equation (3).

    Parameters
    ----------
    volume : float [m³]
        Of the cavity; > 0.
    area : float [m²]
        That the gas leaves through; > 0.
    cover : float [m]
        > 0.
    case : EndCase

    Returns
    -------
    array [s], shape (draws,)

    Raises
    ------
    InputError
        If a value is outside its limits; the vacuum must lie between 0 and the air pressure.
    """
    require_positive("volume", volume, "m³")
    require_positive("area", area, "m²")
    require_positive("cover", cover, "m")
    require_positive("permeability", case.permeability, "m²")
    require_positive("gas_viscosity", case.gas_viscosity, "Pa·s")
    require_positive("vacuum", case.vacuum, "Pa")
    start = case.air_pressure
    pump = start - case.vacuum
    require_positive("pressure at the pump", pump, "Pa")
    end = start - _EMPTIED * case.vacuum
    # start - pump and end - pump are in (3) as 1 to 1 - 0.9 whatever the vacuum.
    ratio = (end + pump) / ((start + pump) * (1.0 - _EMPTIED))
    constant = case.gas_viscosity * cover * volume / (case.permeability * area * pump)
    return np.asarray(constant * np.log(ratio))
