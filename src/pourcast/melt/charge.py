"""Charge: how much metal to melt, and from what is it made up?

The cavity is filled with liquid.  With the measured volume of the piece V_p
known to a factor s, the button V_b, the density ρ of the liquid and the share f
of the metal weighed out that is lost to skin, dross, crucible and splash,

    metal to melt = (s V_p + V_b) ρ / (1 - f)                               (1)

draw by draw.  The charge is made up of new metal and returns (old sprues and
buttons).  Returns are at most half of it, unless the new metal on hand does not
reach:

    returns used = min(returns, charge/2), then new = min(on hand, rest),
    and further returns only for what is still missing                      (2)

Left out: metal that a wide flask rim or a leak takes, and metal poured on top
while the casting shrinks.  Both ask for more than (1) says.  A solid of the
same volume weighs more than the liquid, by what the button gives up as it
sinks; a caster who multiplies by the solid density has that much in hand.

Sources: (1) mass balance.  (2) half of the charge new: common practice, one
voice.
"""

from pourcast import units as si
from pourcast.errors import (
    InputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)

MOST_RETURNS = 0.5  # share of the charge; common practice, one voice
ROUNDING = 1e-12  # share of the charge; of sums of a few doubles


def metal_to_melt(
    piece_volume: si.CubicMetre,
    button_volume: si.CubicMetre,
    volume_scale: si.Ratios,
    density: si.KilogramsPerCubicMetre,
    loss: si.Ratios,
) -> si.Kilograms:
    """Metal to melt, draw by draw, equation (1).

    Parameters
    ----------
    piece_volume : float [m³]
        Of the cavity without the button; > 0.
    button_volume : float [m³]
        0 or more.
    volume_scale : array [-], shape (draws,)
        True volume of the piece over the measured one; > 0.
    density : array [kg/m³], shape (draws,)
        Of the liquid metal; > 0.
    loss : array [-], shape (draws,)
        Share of the metal weighed out that does not reach the mould; 0 to 0.5.

    Returns
    -------
    array [kg], shape (draws,)

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_positive("piece_volume", piece_volume, "m³")
    require_not_negative("button_volume", button_volume, "m³")
    require_positive("volume_scale", volume_scale, "")
    require_positive("density", density, "kg/m³")
    require_between("loss", loss, "", 0.0, 0.5)
    return (volume_scale * piece_volume + button_volume) * density / (1.0 - loss)


def make_up(
    charge: si.Kilogram,
    on_hand: si.Kilogram | None,
    returns: si.Kilogram | None,
) -> tuple[si.Kilogram, si.Kilogram, si.Kilogram]:
    """Return new metal, returns and what is missing, equation (2).

    Parameters
    ----------
    charge : float [kg]
        To make up; > 0.
    on_hand, returns : float or None [kg]
        New metal and returns that the caster has; 0 or more.  New metal that is
        not said counts as enough, returns that are not said as none.

    Returns
    -------
    tuple of float [kg]
        New metal, returns and what is missing; they add up to ``charge``,
        to rounding.

    Raises
    ------
    InputError
        If a value is outside its limits.

    Examples
    --------
    >>> make_up(0.5, 0.4, 0.375)
    (0.25, 0.25, 0.0)
    """
    require_positive("charge", charge, "kg")
    for what, value in (("on_hand", on_hand), ("returns", returns)):
        if value is not None:
            require_not_negative(what, value, "kg")
    kept = 0.0 if returns is None else returns
    used = min(kept, MOST_RETURNS * charge)
    new = charge - used if on_hand is None else min(on_hand, charge - used)
    used = min(kept, charge - new)
    short = charge - new - used
    # What rounding leaves over is not a shortage to tell the caster of.
    return new, used, short if short > ROUNDING * charge else 0.0


def wax_factor(
    metal_density: si.KilogramPerCubicMetre, wax_density: si.KilogramPerCubicMetre
) -> si.Ratio:
    """Mass of metal over mass of wax of the same volume, both solid.

    Parameters
    ----------
    metal_density, wax_density : float [kg/m³]
        > 0.

    Returns
    -------
    float [-]

    Raises
    ------
    InputError
        If a density is not above 0, or the wax is denser than the metal.
    """
    require_positive("metal_density", metal_density, "kg/m³")
    require_positive("wax_density", wax_density, "kg/m³")
    require_finite("wax factor", metal_density / wax_density, "")
    if wax_density >= metal_density:
        raise InputError("wax_density", f"{wax_density:g}", "kg/m³", "less than the metal's")
    return metal_density / wax_density
