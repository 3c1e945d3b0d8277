"""Char: how fast does it burn where oxygen reaches it, as powder and in lumps?

Model.  Fine powder of carbon mass m burns in air with mole fraction x of oxygen as

    -dm/dt = k m,   k = A exp(-E/RT) (x/x₀)ⁿ                             (1)

A lump of half thickness L burns from outside inwards.  Of its char the share f
is left, as a core of relative size ρ = f^(1/g); g is 1 in a plate, 2 in a rod,
3 in a ball.  Oxygen of concentration c at the face of the lump goes through the
burnt layer (diffusivity D) and is taken up in the skin of the core:

    flux into the core = c / (1/h + L a(ρ)/D)                              (2)
    h = s / √(1 + (s/H)²),   s = κ L ρ / g,   H = √(2 κ D / (n + 1))        (3)
    a = 1 - ρ,   -ρ ln ρ,   ρ (1 - ρ)   for g = 1, 2, 3                     (4)

with κ = k b/c, where b is the oxygen that a volume of char takes [mol/m³].  Where
oxygen goes through the whole core, s < H, this is equation 1; where it does not,
the core shrinks, slowed by its chemistry or by the layer round it.

Product: carbon dioxide, one mole of oxygen for each of carbon.  Hot char gives
carbon monoxide too, with half of the oxygen; so burning that lacks oxygen is too
slow here, by up to a half.  Left out: heat of burning, which makes a glowing
lump hotter than its mould and burns it faster; ash that stops up the layer,
which burns it slower.

Sources: equation 1 and its order, records kiln.char_E, char_log10_A and
char_order_O2; limits of 2 to 4, Levenspiel, Chemical Reaction Engineering, table
25.1, and Thiele (1939), Ind. Eng. Chem. 31, 916.  Equation 3 joins the two limits
by hand: within 8 % of the exact form in a plate, 4 % in a rod and 8 % in a ball.
"""

import math

from pourcast import units as si
from pourcast.kernels import small_kernel
from pourcast.units import GAS_CONSTANT

OXYGEN_MOLAR = 31.998e-3  # kg/mol, of O₂, IUPAC standard atomic weight
OXYGEN_PER_CARBON = OXYGEN_MOLAR / si.CARBON_MOLAR  # kg/kg, C + O₂ = CO₂
ROD = 2
"""Shape that parts are burnt as: right for stems, too slow for lumps (g = 3)."""

_LEAST_CORE = 1e-6  # relative size under which a core counts as powder


@small_kernel
def powder_rate(
    temperature: si.Kelvin,
    oxygen: si.Ratio,
    activation: si.JoulePerMole,
    log10_rate: si.Ratio,
    rate_oxygen: si.Ratio,
    order: si.Ratio,
) -> si.PerSecond:
    """Return the rate of equation 1 [1/s].

    Parameters
    ----------
    temperature : float [K]
        > 0.
    oxygen : float [-]
        Mole fraction; >= 0.
    activation : float [J/mol]
    log10_rate : float [-]
        Logarithm to base 10 of A in 1/s.
    rate_oxygen : float [-]
        Mole fraction x₀ at which A holds.
    order : float [-]

    Returns
    -------
    float [1/s]
    """
    pace = math.exp(math.log(10.0) * log10_rate - activation / (GAS_CONSTANT * temperature))
    return pace * math.pow(oxygen / rate_oxygen, order)


@small_kernel
def core_size(left: si.Ratio, shape: int) -> si.Ratio:
    """Return the relative size ρ of the core that is left of a lump [-].

    Parameters
    ----------
    left : float [-]
        Share of the char; 0 to 1.
    shape : int
        1 plate, 2 rod, 3 ball.

    Returns
    -------
    float [-]
    """
    if shape == 2:
        size = math.sqrt(left)
    elif shape == 3:
        size = math.pow(left, 1.0 / 3.0)
    else:
        size = left
    return max(size, _LEAST_CORE)


@small_kernel
def burnt_layer(core: si.Ratio, shape: int) -> si.Ratio:
    """Return the way through the burnt layer, a of equation 4 [-].

    Parameters
    ----------
    core : float [-]
        From `core_size`; above 0, to 1.
    shape : int
        1 plate, 2 rod, 3 ball.

    Returns
    -------
    float [-]
        Over the half thickness, for each area of the core.
    """
    if shape == 2:
        return -core * math.log(core)
    if shape == 3:
        return core * (1.0 - core)
    return 1.0 - core


@small_kernel
def lump_rate(
    core: si.Ratio,
    layer: si.Ratio,
    rate: si.PerSecond,
    half: si.Metre,
    concentration: si.MolePerCubicMetre,
    stock: si.MolePerCubicMetre,
    char_diffusivity: si.SquareMetrePerSecond,
    layer_diffusivity: si.SquareMetrePerSecond,
    order: si.Ratio,
    shape: int,
) -> si.PerSecond:
    """Return the rate at which the char of a lump burns, over what is left of it [1/s].

    Parameters
    ----------
    core, layer : float [-]
        From `core_size` and `burnt_layer`.
    rate : float [1/s]
        Of powder at ``concentration``.
    half : float [m]
        Half thickness L; 0: the rate of powder.
    concentration : float [mol/m³]
        Of oxygen at the face; > 0.
    stock : float [mol/m³]
        Oxygen that a volume of char takes; > 0.
    char_diffusivity, layer_diffusivity : float [m²/s]
        In the core and in the burnt layer; > 0.
    order : float [-]
    shape : int
        1 plate, 2 rod, 3 ball.

    Returns
    -------
    float [1/s]
        Equations 2 and 3 times the face of the core, over what the core takes.
    """
    if half <= 0.0 or rate <= 0.0:
        return rate
    uptake = rate * stock / concentration
    through = uptake * half * core / shape
    skin_squared = 2.0 * uptake * char_diffusivity / (order + 1.0)
    resistance = math.sqrt(1.0 / (through * through) + 1.0 / skin_squared)
    resistance += half * layer / layer_diffusivity
    return concentration * shape / (resistance * half * core * stock)
