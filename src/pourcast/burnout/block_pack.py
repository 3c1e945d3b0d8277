"""Pack: the block as numbers that the kernels read, and the long block that stands for it.

A working block stands for the finite one in `pourcast.burnout.days`, which follows
the radius only.  Its radius R_w is that of a long block whose axis lags as far
behind a steady ramp as the middle of the true block does behind the same ramp of its
whole face,

    R_w² = R² [1 - 8 Σ 1/(λ³ J1(λ) cosh(λ H/2R))],  J0(λ) = 0                (1)

It has the true volume and, with its faces counted wider, the true area of side and
ends, so that the slow limit (heat held back at the face) and the fast one (held
back inside) are both those of the true block.  A water front, which eats its way in
at a pace like that of a ramp's lag, obeys nearly the same sum.

Left out: the ends standing on a shelf (one end warms later than (1) says).
`pourcast.burnout.section` follows the finite block; tests/burnout hold the two together.

Source: Carslaw and Jaeger (1959), Conduction of Heat in Solids, 8.3, steady state
of a finite cylinder with even sources; zeros: Abramowitz and Stegun (1964), table 9.5.
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.burnout import columns as c
from pourcast.burnout import gypsum, steam
from pourcast.burnout.model import BlockCase
from pourcast.errors import require_positive

_ZEROS = (2.404_825_56, 5.520_078_11, 8.653_727_91, 11.791_534_44, 14.930_917_71)
_J1 = (0.519_147_50, -0.340_264_81, 0.271_452_30, -0.232_459_83, 0.206_546_43)

GYPSUM_DENSITY, ANHYDRITE_DENSITY = 2320.0, 2960.0  # kg/m³, from memory
WATER_DENSITY = 998.2  # kg/m³ at 20 °C, CRC Handbook
TOUCHING = 1e4  # W/(m²·K), above which a contact is as good as none


def working_radius(radius: si.Metre, height: si.Metre) -> si.Metre:
    """Return the radius of the long block that stands for a finite one, equation 1 [m].

    Parameters
    ----------
    radius, height : float [m]
        > 0.

    Returns
    -------
    float [m]
        Under ``radius``.

    Raises
    ------
    InputError
        If a length is not above 0.

    Examples
    --------
    >>> round(working_radius(0.0635, 0.178), 4)
    0.061
    """
    require_positive("radius", radius, "m")
    require_positive("height", height, "m")
    shape = 0.5 * height / radius
    if shape < 0.25:
        # A flat cake is a plate: its lag is (H/2)²/2, the series would need more terms.
        return math.sqrt(0.5) * height
    taken = sum(
        1.0 / (zero**3 * bessel * math.cosh(min(zero * shape, 700.0)))
        for zero, bessel in zip(_ZEROS, _J1, strict=True)
    )
    return radius * math.sqrt(1.0 - 8.0 * taken)


def block_values(block: BlockCase) -> si.Table:
    """Return what the kernels know of each draw, by the columns of `columns`.

    Parameters
    ----------
    block : BlockCase

    Returns
    -------
    array [by column], shape (draws, VALUES)
    """
    draws = block.free_water.size
    values = np.empty((draws, c.VALUES))
    first, second = block.gypsum * gypsum.FIRST_WATER, block.gypsum * gypsum.SECOND_WATER
    at_base = np.array(
        [
            np.interp(steam.BASE, block.burnt_specific_heat_at, row)
            for row in block.burnt_specific_heat
        ]
    )
    bound_heat = (block.gypsum_specific_heat - gypsum.ANHYDRITE * at_base) / gypsum.WATER
    shrunk = block.gypsum * (1.0 / GYPSUM_DENSITY - gypsum.ANHYDRITE / ANHYDRITE_DENSITY)
    room = WATER_DENSITY * max(block.porosity - shrunk, 0.05)
    full = np.minimum(block.free_water / room, 1.0)
    wet = block.set_conductivity + full * (block.wet_conductivity - block.set_conductivity)
    columns = {
        c.WET_CONDUCTIVITY: wet,
        c.SET_CONDUCTIVITY: block.set_conductivity,
        c.BURNT_DENSITY: block.set_density - block.gypsum * gypsum.WATER,
        c.FREE_WATER: block.free_water,
        c.FIRST_WATER: first,
        c.SECOND_WATER: second,
        c.BOUND_HEAT: bound_heat,
        c.FIRST_HEAT: block.first_heat / gypsum.FIRST_WATER,
        c.SECOND_HEAT: block.second_heat * gypsum.HEMIHYDRATE / gypsum.SECOND_WATER,
        c.PERMEABILITY: block.permeability,
        c.WET_PERMEABILITY: block.wet_permeability,
        c.OPEN_SHARE: block.porosity ** (4.0 / 3.0),
        c.EMISSIVITY: block.emissivity,
        c.CONVECTION: block.convection,
        c.KILN_ERROR: block.kiln_error,
        c.START: block.start_temperature,
        c.AIR_PRESSURE: block.air_pressure,
        c.GAP: _gap_passes(block),
    }
    for column, value in columns.items():
        values[:, column] = value
    return values


def _gap_passes(block: BlockCase) -> si.Table:
    """Return section times permeability of the gap to the steel [by column]."""
    if block.flask_gap is None or block.wall != "solid":
        return np.zeros(block.free_water.size)
    round_it = 2.0 * math.pi * working_radius(block.radius, block.height) ** 2 / block.radius
    return np.asarray(round_it * block.flask_gap**3 / 12.0)


def block_measures(block: BlockCase) -> si.Table:
    """Return what the kernels know of the flask, by the columns of `columns`.

    Parameters
    ----------
    block : BlockCase

    Returns
    -------
    array [by column], shape (draws, MEASURES)
    """
    draws = block.free_water.size
    radius = working_radius(block.radius, block.height)
    side = 2.0 * math.pi * radius**2 / block.radius
    ends = 2.0 * math.pi * radius**2 / block.height
    share = open_share(block)
    steel = side * (1.0 - share)
    measures = np.zeros((draws, c.MEASURES))
    measures[:, c.RADIUS] = radius
    measures[:, c.OPEN_AREA] = ends + share * side
    measures[:, c.STEEL_AREA] = steel
    measures[:, c.STEEL_HEAT] = steel * block.wall_thickness * block.wall_heat
    measures[:, c.CONTACT] = steel * min(block.contact_conductance, TOUCHING)
    if block.wall == "solid":
        measures[:, c.AXIAL] = 0.25 * block.height**2
    measures[:, c.NARROWS] = 2.0 * math.pi * way_to_holes(block) / (side + ends)
    measures[:, c.PIECE] = block.piece_radius * radius / block.radius
    return measures


def open_share(block: BlockCase) -> si.Ratios:
    """Return the share of the side of the block that sees the kiln, draw by draw [-].

    Parameters
    ----------
    block : BlockCase

    Returns
    -------
    array [-], shape (draws,)
    """
    draws = block.free_water.size
    if block.wall == "solid":
        return np.zeros(draws)
    if block.wall == "bare" or block.open_share is None:
        return np.ones(draws)
    return block.open_share


def way_to_holes(block: BlockCase) -> si.Metres:
    """Return the way through the block that the steam of a perforated wall goes besides [m].

    From a half-space to a disc, less what the neighbours of a hole share.

    Parameters
    ----------
    block : BlockCase

    Returns
    -------
    array [m], shape (draws,)

    Notes
    -----
    Source: Cooper, Mikic and Yovanovich (1969), Int. J. Heat Mass Transfer 12, 279,
    from memory.
    """
    share = open_share(block)
    if block.wall != "perforated" or block.hole_diameter is None:
        return np.zeros(share.size)
    narrow = (1.0 - np.sqrt(share)) ** 1.5
    return np.asarray(math.pi / 8.0 * block.hole_diameter / share * narrow)


def burnt_tables(block: BlockCase) -> tuple[si.Table, si.Table]:
    """Return specific heat and conductivity of the burnt block at the entries of `columns`.

    Parameters
    ----------
    block : BlockCase

    Returns
    -------
    tuple of array [by column], shape (draws, ENTRIES)
        J/(kg·K) and W/(m·K); as at the nearest end beyond what is known.
    """
    entries = c.COLDEST + c.SPACING * np.arange(c.ENTRIES)
    heats = [
        np.interp(entries, block.burnt_specific_heat_at, row) for row in block.burnt_specific_heat
    ]
    conducts = [
        np.interp(entries, block.burnt_conductivity_at, row) for row in block.burnt_conductivity
    ]
    return np.array(heats), np.array(conducts)
