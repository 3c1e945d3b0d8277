"""Resist: what the metal in a run opposes to its flow, apart from the flow itself.

For a full run these values change only with the crystals in it; for a run with
a front they are taken anew in each step, where the front stands.

Model: see `pourcast.pour.flow`, equation 1.  A front that has just come to a
narrow mouth has no wet length yet; it is given a share of its bore.

FRONT counts volume: it is the length of a passage of the mean area.  Where the front
stands in a taper, and how wide the passage is there, follows from it.
"""

from pourcast import units as si
from pourcast.kernels import kernel, small_kernel
from pourcast.pour.columns import (
    AREA,
    AREA_GIRTH_END,
    AREA_GIRTH_START,
    AREA_START,
    BEHIND,
    BODY,
    BORE,
    CHOKE,
    DENSITY,
    DRAG,
    ENTRY,
    FIXED,
    FLOW,
    FRONT,
    HALF_SOLID,
    HEAT,
    INERTIA,
    INERTIA_PER_LENGTH,
    LATENT_HEAT,
    LENGTH,
    LIQUIDUS,
    LOSS_SQUARE,
    MOVING,
    PUSH,
    SOLIDUS,
    SPECIFIC_HEAT,
    SQUARE,
    SWIRL,
    SWIRL_PER_LENGTH,
    TAPER,
    WEIGHT,
    WET_DRAG,
    of_width,
)
from pourcast.pour.friction import crystal_factor
from pourcast.pour.heat import Curve, solid_fraction_of
from pourcast.pour.sections import STRAIGHT, length_share

LEAST_WET = 0.2  # of its bore, at a narrow mouth; estimate, it only keeps a new front solvable
_LEAST_LENGTH = 1e-5  # m, elsewhere: the metal behind has inertia enough


@kernel
def entry_pressure(fixed: si.Table, run: int, front: si.Metre) -> si.Pascal:
    """Return the threshold pressure where the front of a run stands [Pa].

    Area over girth is straight along a round taper, and nearly so along others.

    Parameters
    ----------
    fixed : array [by column], shape (runs, FIXED)
    run : int
    front : float [m]
        As FRONT counts it.

    Returns
    -------
    float [Pa]
    """
    share = length_share(front / fixed[run, LENGTH], fixed[run, TAPER])
    threshold: si.Pascal = fixed[run, ENTRY] / (
        fixed[run, AREA_GIRTH_START]
        + (fixed[run, AREA_GIRTH_END] - fixed[run, AREA_GIRTH_START]) * share
    )
    return threshold


@small_kernel
def thickened(
    drag: si.PascalSecondPerCubicMetre,
    heat: si.JoulePerKilogram,
    choke: si.Ratio,
    curve: Curve,
) -> si.PascalSecondPerCubicMetre:
    """Return the drag of slow flow with the crystals that the metal holds [Pa·s/m³].

    Parameters
    ----------
    drag : float [Pa·s/m³]
        Without crystals.
    heat : float [J/kg]
    choke : float [-]
        Solid fraction at which the passage closes.
    curve : Curve

    Returns
    -------
    float [Pa·s/m³]
    """
    thick = drag
    if heat < 0.0:
        solid = solid_fraction_of(heat, curve)
        thick *= crystal_factor(solid, choke)
    return thick


@kernel
def resist_full(run: int, parameters: si.Table, fixed: si.Table, moving: si.Table) -> None:
    """Fill what a run that has just become full opposes to its flow.

    Parameters
    ----------
    run : int
    parameters, fixed, moving : array [by column]
    """
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    length = fixed[run, LENGTH]
    moving[run, INERTIA] = fixed[run, INERTIA_PER_LENGTH] * length
    moving[run, SQUARE] = fixed[run, LOSS_SQUARE]
    moving[run, SWIRL] = fixed[run, SWIRL_PER_LENGTH] * length
    moving[run, PUSH] = fixed[run, WEIGHT]
    moving[run, WET_DRAG] = thickened(
        fixed[run, DRAG] * length, moving[run, HEAT], parameters[CHOKE], curve
    )


@kernel
def resist_fronts(
    fronts: si.Places,
    count: int,
    step: si.Second,
    parameters: si.Table,
    fixed: si.Table,
    moving: si.Table,
) -> None:
    """Fill what the metal behind each front opposes to its flow, where the front stands.

    Parameters
    ----------
    fronts : array of int, shape (runs,)
        The first ``count`` are the runs whose front is still running.
    count : int
    step : float [s]
        The values are those of the middle of the step, by the flow at its start.
    parameters, fixed, moving : array [by column]
    """
    of_width(fixed, FIXED)
    of_width(moving, MOVING)
    curve = Curve(
        parameters[LIQUIDUS],
        parameters[HALF_SOLID],
        parameters[SOLIDUS],
        parameters[SPECIFIC_HEAT],
        parameters[LATENT_HEAT],
    )
    choke = parameters[CHOKE]
    for place in range(count):
        run = fronts[place]
        held = fixed[run, AREA] * moving[run, FRONT] + 0.5 * step * moving[run, FLOW]
        share = min(held / fixed[run, BODY], 1.0)
        if abs(fixed[run, TAPER]) >= STRAIGHT:
            share = length_share(share, fixed[run, TAPER])
        least = LEAST_WET * fixed[run, BORE] if moving[run, BEHIND] == 0.0 else _LEAST_LENGTH
        wet = max(share * fixed[run, LENGTH], least)
        narrow = 1.0 + fixed[run, TAPER] * share
        per_area = 1.0 / (fixed[run, AREA_START] * narrow)
        moving[run, INERTIA] = parameters[DENSITY] * wet * per_area
        # The velocity head is lost where the front ends the run.
        per_area /= narrow
        moving[run, SQUARE] = fixed[run, LOSS_SQUARE]
        moving[run, SQUARE] += 0.5 * parameters[DENSITY] * per_area * per_area
        moving[run, SWIRL] = fixed[run, SWIRL_PER_LENGTH] * wet
        threshold = fixed[run, ENTRY] / (
            fixed[run, AREA_GIRTH_START]
            + (fixed[run, AREA_GIRTH_END] - fixed[run, AREA_GIRTH_START]) * share
        )
        moving[run, PUSH] = fixed[run, WEIGHT] * share - threshold
        moving[run, WET_DRAG] = thickened(fixed[run, DRAG] * wet, moving[run, HEAT], choke, curve)
