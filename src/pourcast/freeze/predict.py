"""Predict: what each body gives to its mould in a step, as a straight line in its temperature.

Model: between the metal and the far mould stand the contact h, and the face of
`pourcast.freeze.wall`, which without more heat would be at θ_past and rises by Z
for each W/m².  With y = 1/Z + k/l,

    q = h (y ΔT - θ_past/Z) / (h + y)                                       (1)

The contact falls from that of liquid metal, where metal stops moving, to that
of a gap where all is solid; an estimate.

Heat and temperature are not on a straight line.  The line that the step works
with is drawn from where the body stands to where it would come with what ran along the
metal to it in the step before, less as it cools itself; but
not below the mould; so a thin body cannot fall under the mould however
long the step.  A body that its neighbours keep in the mush then keeps the heat of mush for
each kelvin: taken alone it was said to fall past its solidus in one long step, and froze up
to 14 % late (docs/freezing.md).

The face meets the temperature that the metal has at a share of the step, that at
which an even flow carries what a true one would: `pourcast.freeze.wall.MEETS`
where the metal changes slowly, and (3 + z)/(6 + z), the first terms of
1/(1 - exp(-z)) - 1/z, where it falls by z of its way in the step.

Left out: the change of the contact inside a step.
"""

from pourcast import units as si
from pourcast.freeze.wall import MEETS
from pourcast.kernels import kernel, small_kernel

LEAST_FALL = 1e-3  # J/kg, beside which the line is that of the place where the body stands
STEEPEST = 1e8  # J/(kg·K), of metal that freezes at one temperature


@small_kernel
def contact(
    solid: si.Ratio,
    stop: si.Ratio,
    touch: si.WattPerSquareMetreKelvin,
    gap: si.WattPerSquareMetreKelvin,
) -> si.WattPerSquareMetreKelvin:
    """Return the heat transfer from metal to face [W/(m²·K)].

    Parameters
    ----------
    solid, stop : float [-]
        Solid fraction, and that at which metal stops moving.
    touch, gap : float [W/(m²·K)]

    Returns
    -------
    float [W/(m²·K)]
    """
    return touch + (gap - touch) * min(max((solid - stop) / (1.0 - stop), 0.0), 1.0)


@small_kernel
def steepness(
    gone: si.JoulePerKilogram, kelvins: si.Kelvin, slope: si.KilogramKelvinPerJoule
) -> si.JoulePerKilogramKelvin:
    """Return the heat that a body keeps for each kelvin on its way [J/(kg·K)].

    Parameters
    ----------
    gone : float [J/kg]
        Heat from where it stands to where it would come by itself.
    kelvins : float [K]
        Between the two.
    slope : float [kg·K/J]
        Where it stands.

    Returns
    -------
    float [J/(kg·K)]
    """
    way = abs(gone) + LEAST_FALL
    return way / max(abs(kelvins) + LEAST_FALL * slope, way / STEEPEST)


@kernel
def faces(
    touch: si.WattPerSquareMetreKelvin,
    gap: si.WattPerSquareMetreKelvin,
    stop: si.Ratio,
    face: si.SquareMetres,
    ends: si.WattsPerSquareMetreKelvin,
    solid: si.Ratios,
    past: si.Kelvins,
    resistance: si.SquareMetresKelvinPerWatt,
    lost: si.WattsPerKelvin,
    returned: si.Watts,
    soaked: si.WattsPerSquareMetreKelvin,
    unsoaked: si.WattsPerSquareMetre,
) -> None:
    """Fill what each body gives to its mould, equation 1.

    Parameters
    ----------
    touch, gap : float [W/(m²·K)]
    stop : float [-]
    face : array [m²], shape (bodies,)
        0 where there is no metal.
    ends : array [W/(m²·K)], shape (bodies,)
        k/l of equation 1.
    solid : array [-]
    past : array [K], shape (bodies,)
    resistance : array [m²·K/W], shape (bodies,)
        From `pourcast.freeze.wall.look`.
    lost : array [W/K], shape (bodies,)
    returned : array [W], shape (bodies,)
        Filled: a body at T gives ``lost`` (T - mould) less ``returned``.
    soaked : array [W/(m²·K)], shape (bodies,)
    unsoaked : array [W/m²], shape (bodies,)
        Filled: of it, ``soaked`` (T - mould) less ``unsoaked`` for each area goes
        into the part of the wall that keeps it.
    """
    for body in range(face.size):
        into = contact(solid[body], stop, touch, gap)
        ease = 1.0 / resistance[body]
        drawn = ease + ends[body]
        lean = 1.0 / (into + drawn)
        kept = past[body] * ease
        both = face[body] * into * lean
        soaked[body] = into * ease * lean
        unsoaked[body] = kept - kept * ease * lean
        lost[body] = both * drawn
        returned[body] = both * kept


@kernel
def lines(
    step: si.Second,
    mould: si.Kelvin,
    coldest: si.JoulePerKilogram,
    base_heat: si.JoulesPerKilogram,
    base_temperature: si.Kelvins,
    rise: si.KilogramKelvinsPerJoule,
    mass: si.Kilograms,
    heat: si.JoulesPerKilogram,
    temperature: si.Kelvins,
    slope: si.KilogramKelvinsPerJoule,
    lost: si.WattsPerKelvin,
    returned: si.Watts,
    near_way: si.WattsPerKelvin,
    far_way: si.WattsPerKelvin,
    fed: si.Watts,
    lead: si.Ratios,
    stiff: si.WattsPerKelvin,
    given: si.Watts,
) -> None:
    """Fill the line of each body of the piece for one step.

    Parameters
    ----------
    step : float [s]
    mould : float [K]
    coldest : float [J/kg]
        Heat of metal as cold as the mould.
    base_heat : array [J/kg], shape (PIECES,)
    base_temperature : array [K], shape (PIECES,)
    rise : array [kg·K/J], shape (PIECES,)
        Rows of the freezing curve.
    mass : array [kg], shape (bodies + SLICES,)
    heat : array [J/kg]
    temperature : array [K]
    slope : array [kg·K/J]
    lost : array [W/K], shape (bodies,)
    returned : array [W], shape (bodies,)
        From `faces`.
    near_way, far_way : array [W/K], shape (bodies,)
        From `ways`.
    fed : array [W], shape (bodies,)
        What came along the metal in the step before, from `flows`.
    lead : array [-], shape (bodies,)
        Filled: share of the step whose temperature the face meets.
    stiff : array [W/K], shape (bodies,)
    given : array [W], shape (bodies,)
        Filled: both sides of equation 1 of `pourcast.freeze.conduct`.
    """
    often = 1.0 / step
    half, seventy, ninety, solidus = base_heat[2], base_heat[3], base_heat[4], base_heat[5]
    for body in range(lost.size):
        out = lost[body]
        hot = temperature[body]
        back = returned[body]
        held = mass[body] * often
        loses = out * (hot - mould) - back - fed[body]
        stiffer = (out + near_way[body] + far_way[body]) * slope[body]
        gone = min(loses / (held + stiffer), max(heat[body] - coldest, 0.0))
        target = heat[body] - gone
        # All pieces are worked out and one is picked: that runs on several bodies at once.
        there = base_temperature[0] + rise[0] * (target - base_heat[0])
        other = base_temperature[1] + rise[1] * (target - base_heat[1])
        there = other if target < 0.0 else there
        other = base_temperature[2] + rise[2] * (target - base_heat[2])
        there = other if target < half else there
        other = base_temperature[3] + rise[3] * (target - base_heat[3])
        there = other if target < seventy else there
        other = base_temperature[4] + rise[4] * (target - base_heat[4])
        there = other if target < ninety else there
        other = base_temperature[5] + rise[5] * (target - base_heat[5])
        there = other if target <= solidus else there
        keeps = held * steepness(gone, hot - there, slope[body])
        meets = max(MEETS, (3.0 * keeps + out) / (6.0 * keeps + out))
        lead[body] = meets
        stiff[body] = keeps + meets * out
        given[body] = (keeps - (1.0 - meets) * out) * hot + out * mould + back


@kernel
def ways(
    liquid_conductivity: si.WattPerMetreKelvin,
    solid_conductivity: si.WattPerMetreKelvin,
    solid: si.Ratios,
    near_size: si.Metres,
    far_size: si.Metres,
    near_way: si.WattsPerKelvin,
    far_way: si.WattsPerKelvin,
) -> None:
    """Fill the conductance from the middle of each body to its ends.

    Parameters
    ----------
    liquid_conductivity, solid_conductivity : float [W/(m·K)]
    solid : array [-]
    near_size, far_size : array [m], shape (bodies,)
        Section over half of the length; 0 where nothing passes.
    near_way, far_way : array [W/K], shape (bodies,)
        Filled.
    """
    for body in range(near_size.size):
        metal = liquid_conductivity + solid[body] * (solid_conductivity - liquid_conductivity)
        near_way[body] = metal * near_size[body]
        far_way[body] = metal * far_size[body]


@kernel
def flows(
    bodies: int,
    mould: si.Kelvin,
    near: si.Places,
    far: si.Places,
    lost: si.WattsPerKelvin,
    returned: si.Watts,
    soaked: si.WattsPerSquareMetreKelvin,
    unsoaked: si.WattsPerSquareMetre,
    lead: si.Ratios,
    near_way: si.WattsPerKelvin,
    far_way: si.WattsPerKelvin,
    temperature: si.Kelvins,
    found: si.Kelvins,
    node_found: si.Kelvins,
    flow: si.WattsPerSquareMetre,
    fed: si.Watts,
    given: si.Watts,
) -> si.Watt:
    """Fill what flows into each wall and to each body; return what the mould gets [W].

    Parameters
    ----------
    bodies : int
    mould : float [K]
    near, far : array of int, shape (bodies,)
    lost, near_way, far_way : array [W/K], shape (bodies,)
    returned : array [W], shape (bodies,)
    soaked : array [W/(m²·K)], shape (bodies,)
    unsoaked : array [W/m²], shape (bodies,)
    lead : array [-], shape (bodies,)
        As `faces` and `lines` left them.
    temperature, found : array [K], shape (bodies + SLICES,)
        Before and at the end of the step.
    node_found : array [K], shape (nodes,)
        At the end of the step.
    flow : array [W/m²], shape (bodies,)
        Filled: into the part of the wall that keeps it.
    fed : array [W], shape (bodies,)
        Filled: what comes along the metal to each body.
    given : array [W], shape (bodies + SLICES,)
        Filled for the bodies of the piece: of it, what the mould does not take.

    Returns
    -------
    float [W]
    """
    total = 0.0
    for body in range(bodies):
        hot = found[body]
        over = temperature[body] + lead[body] * (hot - temperature[body]) - mould
        out = lost[body] * over - returned[body]
        total += out
        flow[body] = soaked[body] * over - unsoaked[body]
        comes = near_way[body] * (node_found[near[body]] - hot) + far_way[body] * (
            node_found[far[body]] - hot
        )
        fed[body] = comes
        given[body] = comes - out
    return total
