"""Out of the kiln: how fast does a hot flask cool on the bench and on the vacuum plate?

The dry block is cut into `RINGS` rings of like thickness, each of one temperature.
Heat goes from ring to ring and leaves at the face,

    q = h (T_f - T_a) + ε σ (T_f⁴ - T_a⁴)                                     (1)

and, on the vacuum plate, with the air that is drawn through the pores,

    m c_p (T - T_a),   m = K A (p² - p_v²) / (2 μ R T L)                      (2)

(Darcy, ideal gas, along the height), shared out over the rings by their volume.  Steps
are implicit in the temperatures; the loss at the face is taken at the start of a step.
In a chamber no air stirs outside the flask, and h is left out.

Held against the lumped body (conductivity without end: T - T_a falls as exp(-h A t/C))
and the plate (Carslaw and Jaeger 1959, sec. 3.11), for which the rings are laid flat.

Left out: the two ends, and the cup with the cavity (a flask cools faster than told,
by a tenth to a fifth of its loss at usual shapes); the steel wall, which holds a part
of its heat back (slower).

Source: (2) Darcy's law for an ideal gas, as in `pourcast.burnout.steam`.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.errors import require_not_negative, require_positive

RINGS = 24
"""Halving their thickness moves no minute by more than 2 in 100 (tests)."""

STEP = 5.0
"""s."""

_AIR_HEAT = 1100.0  # J/(kg·K), of air at 400 °C; from memory
_AIR_VISCOSITY = 3.3e-5  # Pa·s, of air at 400 °C; from memory
_AIR_GAS = 287.0  # J/(kg·K), of dry air; from memory


@dataclass(frozen=True, slots=True, kw_only=True)
class HotBlock:
    """A dry block as it comes out of the kiln.

    Parameters
    ----------
    radius, height : float [m]
        Of a plate: half of its thickness, and any height.
    conductivity : float [W/(m·K)]
    capacity : float [J/(m³·K)]
        Heat of a unit volume.
    convection : float [W/(m²·K)]
        0: no air stirs.
    emissivity : float [-]
    room : float [K]
    drawn : float [kg/s]
        Air drawn through the pores.
    is_plate : bool
        True: rings laid flat, for a plate that loses heat on both faces.
    """

    radius: si.Metre
    height: si.Metre
    conductivity: si.WattPerMetreKelvin
    capacity: si.JoulePerCubicMetreKelvin
    convection: si.WattPerSquareMetreKelvin
    emissivity: si.Ratio
    room: si.Kelvin
    drawn: si.KilogramPerSecond = 0.0
    is_plate: bool = False


def cooling(
    block: HotBlock, start: si.Kelvin, place: si.Metre, length: si.Second, *, rings: int = RINGS
) -> tuple[si.Seconds, si.Kelvins, si.Kelvins]:
    """Return the block at one place and at its face over the minutes.

    Parameters
    ----------
    block : HotBlock
    start : float [K]
        Of all of it.
    place : float [m]
        From the axis; inside the block.
    length : float [s]
    rings : int

    Returns
    -------
    time : array [s], shape (moments,)
        Every `STEP`.
    inside, face : array [K], shape (moments,)

    Raises
    ------
    InputError
        If a number is outside its limits.
    """
    for what, value, unit in (
        ("radius", block.radius, "m"),
        ("height", block.height, "m"),
        ("conductivity", block.conductivity, "W/(m·K)"),
        ("capacity", block.capacity, "J/(m³·K)"),
        ("room", block.room, "K"),
        ("start", start, "K"),
        ("length", length, "s"),
    ):
        require_positive(what, value, unit)
    for what, value, unit in (
        ("convection", block.convection, "W/(m²·K)"),
        ("emissivity", block.emissivity, ""),
        ("air drawn", block.drawn, "kg/s"),
        ("place", place, "m"),
    ):
        require_not_negative(what, value, unit)
    edges = np.linspace(0.0, block.radius, rings + 1)
    middles = 0.5 * (edges[1:] + edges[:-1])
    if block.is_plate:
        areas, volumes = np.ones(rings + 1), np.diff(edges)
    else:
        areas = 2.0 * np.pi * edges * block.height
        volumes = np.pi * np.diff(edges**2) * block.height
    between = block.conductivity * areas[1:-1] / np.diff(middles)
    to_face = block.conductivity * areas[-1] / (block.radius - middles[-1])
    held = block.capacity * volumes
    drawn = block.drawn * _AIR_HEAT * volumes / volumes.sum()
    inverse = np.linalg.inv(_matrix(held, between, drawn))
    moments = int(np.ceil(length / STEP)) + 1
    here = np.full(rings, start)
    inside, face = np.empty(moments), np.empty(moments)
    for moment in range(moments):
        outer = _face(block, float(here[-1]), to_face, float(areas[-1]))
        face[moment] = outer
        seen = np.append(middles, block.radius)
        inside[moment] = np.interp(place, seen, np.append(here, outer))
        out = to_face * (here[-1] - outer)
        pushed = held * here / STEP + drawn * block.room
        pushed[-1] -= out
        here = inverse @ pushed
    return STEP * np.arange(moments, dtype=np.float64), inside, face


def minutes_until(time: si.Seconds, temperature: si.Kelvins, least: si.Kelvin) -> si.Second | None:
    """Return when a cooling body comes to a temperature; None: not in the time followed [s].

    Parameters
    ----------
    time : array [s], shape (moments,)
    temperature : array [K], shape (moments,)
        Falling.
    least : float [K]
    """
    under = np.flatnonzero(temperature < least)
    if under.size == 0:
        return None
    first = int(under[0])
    if first == 0:
        return 0.0
    high, low = temperature[first - 1], temperature[first]
    return float(time[first - 1] + (time[first] - time[first - 1]) * (high - least) / (high - low))


def air_drawn(
    *,
    permeability: si.SquareMetre,
    radius: si.Metre,
    length: si.Metre,
    air: si.Pascal,
    below: si.Pascal,
    temperature: si.Kelvin,
) -> si.KilogramPerSecond:
    """Return the air that a vacuum draws through a block along its height, equation (2).

    Parameters
    ----------
    permeability : float [m²]
    radius, length : float [m]
    air, below : float [Pa]
        Outside, and the vacuum below it.
    temperature : float [K]
        Of the block.

    Returns
    -------
    float [kg/s]

    Raises
    ------
    InputError
        If a number is outside its limits.
    """
    for what, value, unit in (
        ("permeability", permeability, "m²"),
        ("radius", radius, "m"),
        ("length", length, "m"),
        ("air", air, "Pa"),
        ("temperature", temperature, "K"),
    ):
        require_positive(what, value, unit)
    require_not_negative("vacuum", below, "Pa")
    inner = max(air - below, 0.0)
    area = np.pi * radius**2
    resists = 2.0 * _AIR_VISCOSITY * _AIR_GAS * temperature * length
    return float(permeability * area * (air**2 - inner**2) / resists)


def _matrix(held: si.Table, between: si.Table, drawn: si.Table) -> si.Table:
    lines = np.diag(held / STEP + drawn)
    for place, way in enumerate(between.tolist()):
        lines[place, place] += way
        lines[place + 1, place + 1] += way
        lines[place, place + 1] -= way
        lines[place + 1, place] -= way
    return lines


def _face(block: HotBlock, ring: float, to_face: float, area: float) -> float:
    """Return the face at which as much arrives from the outer ring as leaves, equation (1)."""
    low, high = block.room, ring
    for _ in range(50):
        face = 0.5 * (low + high)
        out = block.convection * (face - block.room)
        out += block.emissivity * si.STEFAN_BOLTZMANN * (face**4 - block.room**4)
        low, high = (face, high) if to_face * (ring - face) > area * out else (low, face)
    return 0.5 * (low + high)
