"""Load: what does a full flask weigh, and how much heat does it take?

A tube of steel of the inside diameter D, the wall t and the height H has the mass

    m = ρ π ((D/2 + t)² - (D/2)²) H (1 - o)                                 (1)

with o the share of its side that is holes.  From the room to the top of the burnout
block, water and steel take

    Q = m_b c ΔT + m_w (L + 80 K · c_w) + m_g h + V_s (ρc)_s ΔT             (2)

with burnt block b, free water w, gypsum g that gives off its water, and steel s.  The
kiln gives as much in Q over its power, and never in less.  On a steady ramp the middle
of a long cylinder comes after its wall by

    t = (D/2)²/(4 α)                                                        (3)

Left out: what the kiln itself takes and loses, which is often more than (2), so that
the time of (2) is the least there can be; the ends of the block, which make it quicker
than (3); the water, which holds the middle at 100 °C for much longer than (3) says and
is followed in `burnout`.

Source: (1), (2) balances; (3) Carslaw and Jaeger (1959), Conduction of Heat in Solids,
7.7, cylinder whose surface warms evenly, from memory.
"""

import math

from pourcast import units as si
from pourcast.errors import InputError, require_not_negative, require_positive
from pourcast.gating.model import Load, ShelfFlask
from pourcast.materials import Library
from pourcast.mould.model import Mould
from pourcast.mould.slurry import free_water
from pourcast.mould.solve import powder_of
from pourcast.sheet.model import Plan

ROOM = 293.15  # K, of what goes into the kiln; estimate
_BOIL = 80.0  # K, from the room to boiling
_WATER_HEAT = 4180.0  # J/(kg·K), of water, from memory


def shell_volume(flask: ShelfFlask) -> si.CubicMetre:
    """Return the volume of the steel of a flask without holes [m³], as in equation (1).

    Parameters
    ----------
    flask : ShelfFlask

    Returns
    -------
    float [m³]
    """
    require_positive("inside_diameter", flask.inside_diameter, "m")
    require_positive("flask height", flask.height, "m")
    require_not_negative("wall_thickness", flask.wall_thickness, "m")
    inside = 0.5 * flask.inside_diameter
    return math.pi * ((inside + flask.wall_thickness) ** 2 - inside**2) * flask.height


def ramp_lag(radius: si.Metre, diffusivity: si.SquareMetrePerSecond) -> si.Second:
    """Return by how much the middle of a block comes after its wall, equation (3) [s].

    Parameters
    ----------
    radius : float [m]
    diffusivity : float [m²/s]
        > 0.

    Returns
    -------
    float [s]
    """
    require_positive("diffusivity", diffusivity, "m²/s")
    require_not_negative("radius", radius, "m")
    return radius**2 / (4.0 * diffusivity)


def load(flask: ShelfFlask, mould: Mould, metal: si.Kilogram, plan: Plan, library: Library) -> Load:
    """Return what a flask weighs from bench to pour, and what heat it takes.

    Parameters
    ----------
    flask : ShelfFlask
    mould : Mould
        Of this flask.
    metal : float [kg]
        In piece and button.
    plan : Plan
        Its mix and its kiln.
    library : Library

    Returns
    -------
    Load

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    require_not_negative("metal", metal, "kg")
    thermal, chemistry = library.investment["thermal"], library.investment["chemistry"]
    full = shell_volume(flask)
    if flask.wall == "perforated":
        full *= 1.0 - library.kiln["wall_open_share"].si
    steel = full * library.kiln["flask_steel_density"].si
    slurry = mould.full_mass / mould.slurry_density
    powder_mass = slurry * mould.powder_per_volume
    powder = powder_of(library.investment, plan.mix.powder)
    burnt = slurry * mould.burnt_density
    free = powder_mass * free_water(powder, plan.mix.water_to_powder)
    gypsum = powder_mass * powder.hemihydrate_fraction * (1.0 + powder.hydration_water)
    usual = library.investment["limits"]["burnout_peak_default"].si
    top = max((step.temperature for step in plan.kiln.steps), default=usual)
    if top <= ROOM:
        raise InputError("top of the kiln curve", f"{top:.0f}", "K", f"over {ROOM:.0f} K")
    rise = top - ROOM
    specific_heat = thermal["cp_burnt_mean_20_600"].si
    heat = (
        burnt * specific_heat * rise
        + free * (library.kiln["water_latent_heat"].si + _BOIL * _WATER_HEAT)
        + gypsum * chemistry["heat_gypsum_to_anhydrite_total"].si
        + steel * library.kiln["flask_steel_heat"].si * rise
    )
    diffusivity = thermal["k_burnt_400"].si / (mould.burnt_density * specific_heat)
    power = plan.kiln.power
    return Load(
        steel=steel,
        fresh=mould.full_mass + steel,
        burnt=burnt + steel,
        poured=burnt + steel + metal,
        heat=heat,
        power_time=heat / power if power else None,
        lag=ramp_lag(0.5 * flask.inside_diameter, diffusivity),
    )
