"""Way of the oxygen: how well does the air of the kiln reach the cavity?

Model.  Oxygen diffuses through the pores of the dry block to the room in which the
original's matter lies, and through the open gate:

    mol/s = c (D ε/τ F + D A/l) (x_kiln - x_cavity)                        (1)

c is the molar concentration of the gas, D the diffusivity, ε/τ porosity over
tortuosity, A the area of the gate, l half of the block's height, and F [m] the shape
factor of `pourcast.burnout.oxygen_room`:

- bare block: side and both ends open, F_bare;
- solid wall: only the two ends, F_solid;
- perforated: what the side adds to the ends, F_bare - F_solid, in series with the
  holes, whose way is as long as a layer of block of thickness

    π a (1 - √s)^1.5 / (4 s) + t (ε/τ)/s                                   (2)

  for holes of radius a, open share s and a wall of thickness t.

Draught is left out, on these numbers: burnt gas is up to 8 % heavier than air; that
drives 0.05 Pa over a block, and through its pores (10⁻¹³ m²) 2·10⁻⁹ m/s, against
10⁻³ m/s of diffusion.  In a gate of 5 mm the exchange is a sixth of its diffusion,
which is itself a few thousandths of what the pores bring.  A kiln that cycles by 3 K
in five minutes pumps half a thousandth of that.  Left out too: collisions with the walls
of the pores (oxygen comes about 15 % slower at a pore of 4 µm: hopeful).

Vapour and steam that stream out keep oxygen off: with a stream of N mol/s against a
conductance G in mol/s the latter becomes N/(exp(N/G) - 1), Stefan's exact result.

Sources: diffusivity, records kiln.D_O2_air_20 and D_exponent; first term of
equation 2 after Mikic, from memory: constriction in a tube of flux, one side.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.burnout.model import BlockCase
from pourcast.burnout.oxygen_room import rooms, shape_factor
from pourcast.kernels import kernel, small_kernel
from pourcast.units import STANDARD_ATMOSPHERE

_REFERENCE = 293.15  # K, at which the diffusivity is given


def hole_layer(
    open_share: si.Ratios, hole: si.Metres, thickness: si.Metre, pores: si.Ratios
) -> si.Metres:
    """Return how thick a layer of block is like the wall of a perforated flask, equation 2.

    Parameters
    ----------
    open_share : array [-], shape (draws,)
        Holes over the side; above 0, to 1.
    hole : array [m], shape (draws,)
        Their diameter.
    thickness : float [m]
        Of the wall.
    pores : array [-], shape (draws,)
        Porosity over tortuosity.

    Returns
    -------
    array [m], shape (draws,)
    """
    crowding = (1.0 - np.sqrt(open_share)) ** 1.5
    narrowing = 0.25 * math.pi * 0.5 * hole * crowding / open_share
    return np.asarray(narrowing + thickness * pores / open_share)


def block_ways(
    block: BlockCase, matter_radius: si.Metre, layer: si.Metres, pores: si.Ratios
) -> si.Metres:
    """Return the way through the pores, (ε/τ) F of equation 1, as the char goes.

    Parameters
    ----------
    block : BlockCase
    matter_radius : float [m]
    layer : array [m], shape (draws,)
        From `hole_layer`; 0 where there are no holes to pass.
    pores : array [-], shape (draws,)

    Returns
    -------
    array [m], shape (draws, shares)
        For each of `pourcast.burnout.oxygen_room.ROOM_SHARES`.
    """
    area = 2.0 * math.pi * block.radius * block.height
    found = []
    for room in rooms(block, matter_radius):
        closed = shape_factor(block.radius, block.height, *room, open_side=False)
        way = np.full_like(pores, closed)
        if block.wall != "solid":
            bare = shape_factor(block.radius, block.height, *room, open_side=True)
            way = closed + (bare - closed) / (1.0 + (bare - closed) * layer / area)
        found.append(pores * way)
    return np.stack(found, axis=1)


@kernel
def way_at(left: si.Ratio, draw: int, room_share: si.Ratios, ways: si.Metres) -> si.Metre:
    """Return the way through the pores to the char that is left [m].

    Parameters
    ----------
    left : float [-]
        Share of all the char that there will be; 0 to 1.
    draw : int
    room_share : array [-], shape (shares,)
        Rising.
    ways : array [m], shape (draws, shares)

    Returns
    -------
    float [m]
        Straight between the shares, level beyond them.
    """
    last = room_share.size - 1
    if left <= room_share[0]:
        return float(ways[draw, 0])
    for place in range(last):
        if left <= room_share[place + 1]:
            part = (left - room_share[place]) / (room_share[place + 1] - room_share[place])
            before = float(ways[draw, place])
            return before + float(part) * (float(ways[draw, place + 1]) - before)
    return float(ways[draw, last])


@small_kernel
def diffusivity_at(
    temperature: si.Kelvin,
    pressure: si.Pascal,
    diffusivity: si.SquareMetrePerSecond,
    exponent: si.Ratio,
) -> si.SquareMetrePerSecond:
    """Return the diffusivity of oxygen in free gas [m²/s].

    Parameters
    ----------
    temperature : float [K]
    pressure : float [Pa]
    diffusivity : float [m²/s]
        At 293.15 K and one atmosphere.
    exponent : float [-]

    Returns
    -------
    float [m²/s]
    """
    return (
        diffusivity
        * math.pow(temperature / _REFERENCE, exponent)
        * (STANDARD_ATMOSPHERE / pressure)
    )


@small_kernel
def against_stream(conductance: si.MolePerSecond, stream: si.MolePerSecond) -> si.MolePerSecond:
    """Return what is left of a conductance against gas that streams out [mol/s].

    Parameters
    ----------
    conductance : float [mol/s]
        Per unit of mole fraction; >= 0.
    stream : float [mol/s]
        >= 0.

    Returns
    -------
    float [mol/s]
    """
    if stream <= 1e-6 * conductance:
        return conductance
    if stream >= 50.0 * conductance:
        return 0.0
    return stream / (math.exp(stream / conductance) - 1.0)
