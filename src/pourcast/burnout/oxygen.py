"""Oxygen: how much is there in the air of the kiln, and how much of it burns char?

Model.  The air of the kiln is one well-mixed room that holds n = pV/(RT) moles.  Over
a step a moles of air come in, and s moles of steam and vapour; what is too much goes
out with the mole fraction x of the room.  From 0 to 1, x taken at the end:

    x₁ (n₀ + a + s) = n₀ x₀ + a x_air - b_vapour - b_char                  (1)

with the oxygen b that burns.  Where the room cools so fast that n₁ is more than
n₀ + a + s, the difference comes in as air too.  Vapour of wax and original burns
first and takes at most what there is, so oxygen is never negative; the rest of the
vapour goes out as smoke.  All masses in the kiln are alike.

The char of one mass gets b = G (x₁ - x_cavity) over the step, G from
`pourcast.burnout.oxygen_way`.  With equation 1 that is a straight line in x_cavity:

    b = G (Q - N x_cavity) / (N + f G)                                     (2)

Q is the right side of 1 before char, N the bracket on the left, f the masses.  What
char burns grows with x_cavity, so the two meet in one place, below Q/N; it is found on
the logarithm of x_cavity/(Q/N - x_cavity) by secants that are held in a bracket.

Parts burn side by side in one x_cavity, each at its own rate: thin parts, which burn
as powder, are gone before thick ones.

Left out: gas that burning adds, a third of the oxygen that wax takes (hopeful by a few
hundredths of x while wax burns); a kiln that burns fuel has little oxygen of its own
(hopeful); vapour under about 400 °C that leaves unburnt (too slow here).

Source of the air's oxygen: U.S. Standard Atmosphere (1976), table 3.
"""

import math

from pourcast import units as si
from pourcast.burnout.char import lump_rate
from pourcast.kernels import kernel, small_kernel
from pourcast.units import GAS_CONSTANT

AIR_OXYGEN = 0.209_476
"""Mole fraction in dry air; U.S. Standard Atmosphere (1976), table 3."""

_NEAR = 1e-3  # relative, of the two sides of the balance
_MOST_PASSES = 40
_REACH = 30.0  # end of the bracket, on the logarithm of x/(x_highest - x)


@small_kernel
def moles_held(pressure: si.Pascal, volume: si.CubicMetre, temperature: si.Kelvin) -> si.Mole:
    """Return how much gas a room holds [mol].

    Parameters
    ----------
    pressure : float [Pa]
    volume : float [m³]
    temperature : float [K]

    Returns
    -------
    float [mol]
    """
    return pressure * volume / (GAS_CONSTANT * temperature)


@kernel
def burn_step(
    classes: int,
    step: si.Second,
    start: si.Ratio,
    highest: si.Ratio,
    supply_full: si.Mole,
    concentration: si.MolePerCubicMetre,
    pace: si.PerSecond,
    rate_oxygen: si.Ratio,
    order: si.Ratio,
    stock: si.MolePerCubicMetre,
    diffusivity: si.SquareMetrePerSecond,
    shape: int,
    half: si.Metres,
    char: si.Kilograms,
    core: si.Ratios,
    layer: si.Ratios,
    burnt: si.Kilograms,
) -> si.Ratio:
    """Return the mole fraction of oxygen in the cavity, and fill what burns in a step.

    Parameters
    ----------
    classes : int
        Of parts of one thickness.
    step : float [s]
    start : float [-]
        Mole fraction to begin the search with.
    highest : float [-]
        At which nothing would come through; > 0.
    supply_full : float [mol]
        b of equation 2 where the cavity has none; it falls in a straight line to 0
        at ``highest``.
    concentration : float [mol/m³]
        Of all gas in the cavity.
    pace : float [1/s]
        Rate of powder at ``rate_oxygen``.
    rate_oxygen, order : float [-]
    stock : float [mol/m³]
    diffusivity : float [m²/s]
        In char and burnt layer.
    shape : int
    half : array [m], shape (classes,)
    char : array [kg], shape (classes,)
    core, layer : array [-], shape (classes,)
        From `pourcast.burnout.char`.
    burnt : array [kg], shape (classes,)
        Filled.

    Returns
    -------
    float [-]
    """
    low, high = -_REACH, _REACH
    before_place, before_off = 0.0, 0.0
    share = min(max(start / highest, 1e-12), 1.0 - 1e-12)
    place = math.log(share / (1.0 - share))
    oxygen, total, comes = 0.0, 0.0, 0.0
    for passed in range(_MOST_PASSES):
        oxygen = highest / (1.0 + math.exp(-place))
        rate = pace * math.pow(oxygen / rate_oxygen, order)
        at_face = concentration * oxygen
        total = 0.0
        for each in range(classes):
            burnt[each] = 0.0
            if char[each] > 0.0:
                relative = lump_rate(
                    core[each],
                    layer[each],
                    rate,
                    half[each],
                    at_face,
                    stock,
                    diffusivity,
                    diffusivity,
                    order,
                    shape,
                )
                burnt[each] = -char[each] * math.expm1(-relative * step)
                total += burnt[each]
        comes = supply_full / (1.0 + math.exp(place))
        if total <= 0.0 or comes <= 0.0:
            break
        off = math.log(total / (si.CARBON_MOLAR * comes))
        if abs(off) <= _NEAR:
            break
        if off > 0.0:
            high = place
        else:
            low = place
        guess = place - off
        if passed > 0 and (off - before_off) * (place - before_place) > 0.0:
            guess = place - off * (place - before_place) / (off - before_off)
        before_place, before_off = place, off
        place = guess if low < guess < high else 0.5 * (low + high)
    # No more burns than oxygen comes for, however little the search was off.
    if total > si.CARBON_MOLAR * comes:
        for each in range(classes):
            burnt[each] *= si.CARBON_MOLAR * comes / total
    return oxygen
