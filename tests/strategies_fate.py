"""Strategies: what lies in the cavity, how it burns, and what becomes of it."""

import math

import numpy as np
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.burnout.ash import AshPlaces, ash_places
from pourcast.burnout.fate import fates
from pourcast.burnout.fate_pack import Packed, pack
from pourcast.burnout.model import Burning, Fate, HeatDays, Matter
from pourcast.materials import Value, library
from tests.burnout.fate_cases import block, day
from tests.strategies import networks


def within(value: Value, draws: int) -> st.SearchStrategy[si.Floats]:
    """Draws from the low to the high end of a record."""
    numbers = st.floats(value.si_low, value.si_high, allow_nan=False)
    return st.lists(numbers, min_size=draws, max_size=draws).map(np.array)


@st.composite
def matters(draw: st.DrawFn, draws: int = 2) -> Matter:
    """Originals of one to four members and up to 40 g, over the whole of their records."""
    members = draw(st.integers(1, 4))
    plant = library().plants[draw(st.sampled_from(("leaf", "woody_stem", "seed_head", "cone")))]
    wax = library().waxes["casting"]
    mass = np.array(
        draw(st.lists(st.floats(0.0, 1e-2), min_size=members, max_size=members)), dtype=float
    )
    char, ash = draw(within(plant["char_yield"], draws)), draw(within(plant["ash"], draws))
    return Matter(
        dry_mass=np.tile(mass, (draws, 1)),
        water=0.1 * np.tile(mass, (draws, 1)),
        char_yield=np.tile(np.maximum(char, ash)[:, None], (1, members)),
        ash_fraction=np.tile(ash[:, None], (1, members)),
        half_thickness=np.array(
            draw(st.lists(st.floats(5e-5, 1e-2), min_size=members, max_size=members))
        ),
        member_part=np.zeros(members, dtype=np.int64),
        wax=np.full(draws, draw(st.floats(0.0, 0.1))),
        wax_melt_end=draw(within(wax["melt_end"], draws)),
        wax_boil_start=draw(within(wax["boil_off_start"], draws)),
        wax_boil_end=draw(within(wax["boil_off_end"], draws)),
        wax_ash=draw(within(wax["ash"], draws)),
        wax_oxygen=draw(within(wax["oxygen_need"], draws)),
        wax_soak=draw(within(wax["soak_share"], draws)),
        wax_char=draw(st.none() | within(wax["char_share"], draws)),
        wax_melt_density=draw(st.none() | within(wax["density_melt"], draws)),
        wax_viscosity=draw(within(wax["viscosity_80"], draws)),
    )


@st.composite
def burnings(draw: st.DrawFn, draws: int = 2) -> Burning:
    """Kilns of 8 to 200 litres with up to six masses, over the whole of their records."""
    kiln, plants = library().kiln, library().plants["general"]
    energy = draw(within(kiln["char_E"], draws))
    return Burning(
        pyrolysis_start=draw(within(plants["pyrolysis_start"], draws)),
        pyrolysis_end=draw(within(plants["pyrolysis_end"], draws)),
        dry_oxygen=draw(within(plants["oxygen_need_dry"], draws)),
        char_activation=energy,
        char_log10_rate=6.45 + 0.0726 * (energy / 1e3 - 120.0) + 0.5 * math.log10(0.20),
        char_rate_oxygen=0.20,
        char_order=draw(within(kiln["char_order_O2"], draws)),
        oxygen_diffusivity=draw(within(kiln["D_O2_air_20"], draws)),
        diffusivity_exponent=draw(within(kiln["D_exponent"], draws)),
        tortuosity=draw(within(library().investment["flow"]["tortuosity"], draws)),
        ash_bulk_density=draw(within(plants["ash_bulk_density"], draws)),
        kiln_volume=draw(st.integers(8, 200)) * 1e-3,
        air_changes=draw(within(kiln["air_changes_closed"], draws)),
        flasks=draw(st.integers(1, 6)),
        char_density=draw(within(kiln["char_density"], draws)),
        char_openness=draw(st.none() | within(kiln["char_openness"], draws)),
    )


@st.composite
def heats(draw: st.DrawFn, draws: int = 2) -> HeatDays:
    """Days up to a top of 200 to 760 °C, held, and down again; the block as hot as its kiln."""
    top, hold = draw(st.integers(200, 760)), draw(st.integers(0, 6))
    points = ((0.0, 20.0), (5.0, float(top)), (5.5 + hold, float(top)), (7.0 + hold, 150.0))
    return day(*points, draws=draws, every=600.0)


@st.composite
def fates_(draw: st.DrawFn, draws: int = 2) -> Fate:
    """Fates of drawn matter on drawn days."""
    flask = block(draws, wall=draw(st.sampled_from(("solid", "perforated", "bare"))))
    return fates(flask, draw(matters(draws)), draw(burnings(draws)), draw(heats(draws)))


@st.composite
def packed(draw: st.DrawFn, draws: int = 2) -> Packed:
    """Tables of drawn matter."""
    own, kiln, heat = draw(matters(draws)), draw(burnings(draws)), draw(heats(draws))
    return pack(block(draws), own, kiln, heat, 1e-6, 30.0)


@st.composite
def ashes(draw: st.DrawFn) -> AshPlaces:
    """Ash in drawn pieces."""
    network = draw(networks())
    each = np.full((1, network.member_part.size), draw(st.floats(1e-6, 1e-3)))
    return ash_places(network, each, np.array([300.0]))
