"""Fate: balances, a general-purpose solver, steps, and what may not get worse."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.char import OXYGEN_MOLAR, OXYGEN_PER_CARBON
from pourcast.burnout.fate import fates, followed
from pourcast.burnout.fate_pack import Packed, matter_radius
from pourcast.burnout.model import Burning, Fate, Matter
from pourcast.burnout.oxygen import AIR_OXYGEN
from pourcast.burnout.oxygen_room import ROOM_SHARES
from pourcast.burnout.oxygen_way import block_ways
from pourcast.errors import InputError
from pourcast.units import CARBON_MOLAR
from tests.burnout.fate_cases import HOUR, block, burning, day, matter, slimmer, values
from tests.strategies_fate import fates_, packed

DAY = ((0.0, 20.0), (5.0, 730.0), (9.0, 730.0), (11.0, 500.0))


def clean_hour(fate: Fate) -> float:
    """Return the hour of a clean cavity; infinite where it is not clean."""
    hour = float(fate.clean_at[0]) / HOUR
    return math.inf if math.isnan(hour) else hour


def as_powder(kiln: Burning) -> Burning:
    return replace(kiln, char_density=None, char_openness=None)


def test_carbon_hydrogen_and_oxygen_balance() -> None:
    """Conservation, element by element; matter is carbon, water and ash.  Rounding.

    Carbon: what went out as carbon dioxide and smoke, and what is left as char, is what
    was in dry matter and wax that left; hydrogen and oxygen leave as the water they came as.
    """
    own, kiln = matter(dry=12e-3, wax=30e-3, half=(3e-4, 2e-3, 9e-3)), burning(changes=0.3)
    heat = day((0.0, 20.0), (5.0, 600.0), (5.5, 600.0))

    fate, account = followed(block(wall="solid"), own, kiln, heat)

    assert fate.char[0, -1] > 1e-5
    assert account[0, at.SMOKE] > 1e-3
    assert fate.wax[0, -1] == 0.0
    burnt_or_smoke = account[0, [at.TO_CHAR, at.TO_VAPOUR, at.TO_WAX, at.SMOKE]].sum()
    gone = own.dry_mass.sum() * (1.0 - fate.dry_mass[0, -1] / 12e-3)
    # Dry matter that is left keeps the char that it would give.
    taken = gone * kiln.dry_oxygen[0] / OXYGEN_MOLAR
    taken += 30e-3 * own.wax_soak[0] * own.wax_oxygen[0] / OXYGEN_MOLAR
    assert burnt_or_smoke + fate.char[0, -1] / CARBON_MOLAR == pytest.approx(taken, rel=1e-9)
    carbon = gone * kiln.dry_oxygen[0] / OXYGEN_PER_CARBON
    water = gone - carbon - gone * own.ash_fraction[0, 0]
    vapour = gone * (1.0 - own.char_yield[0, 0])
    char = gone * (own.char_yield[0, 0] - own.ash_fraction[0, 0])
    assert water + (carbon - char) == pytest.approx(vapour, rel=1e-12)


def test_char_of_the_members_is_the_char_of_the_cavity() -> None:
    """Conservation: members share the char by their mass; ash is ash.  Rounding."""
    own = matter(dry=15e-3, half=(1e-3, 1.02e-3, 6e-3))
    uneven = replace(own, dry_mass=own.dry_mass * np.array([[1.0, 2.0, 0.5]]))

    fate = fates(block(wall="solid"), uneven, burning(), day((0.0, 20.0), (3.0, 560.0)))

    left = fate.char_left[0]
    assert left.sum() == pytest.approx(fate.char[0, -1], rel=1e-12)
    assert left[1] == pytest.approx(2.0 * left[0], rel=1e-12)
    assert fate.ash == pytest.approx(uneven.dry_mass * 0.015)
    assert fate.ash_volume[0] == pytest.approx(fate.ash.sum() / 300.0, rel=1e-12)


def test_burning_agrees_with_a_general_purpose_solver() -> None:
    """Computed outside: scipy's solve_ivp and brentq on the same equations.

    Powder in a solid flask at a steady 560 °C, three flasks in a small kiln, from the
    end of pyrolysis on.  Tolerance 1 % of the char and 2 % of the air's oxygen, which
    rises by a third in the minute when the last char goes: steps of 30 s.
    Found: 0.1 % and 1.4 %.
    """
    own, lump = block(wall="solid"), matter(dry=8e-3)
    kiln = as_powder(burning(litres=15.0, changes=4.0, flasks=3))
    heat = day((0.0, 560.0), (8.0, 560.0), every=600.0)
    fate, _ = followed(own, lump, kiln, heat)
    first = int(np.flatnonzero(fate.dry_mass[0] <= 0.0)[0])
    kelvin, whole = 833.15, float((lump.dry_mass * (lump.char_yield - lump.ash_fraction)).sum())
    pores = own.porosity / kiln.tortuosity
    ways = block_ways(own, matter_radius(own, lump), np.zeros(1), pores)[0]
    gate = math.pi / 4.0 * own.gate_diameter**2 / (0.5 * own.height)
    held = 0.015 * si.STANDARD_ATMOSPHERE / (si.GAS_CONSTANT * kelvin)
    air = 4.0 / HOUR * 0.015 * si.STANDARD_ATMOSPHERE / (si.GAS_CONSTANT * 293.15)
    gas = si.STANDARD_ATMOSPHERE / (si.GAS_CONSTANT * kelvin)
    free = 2e-5 * (kelvin / 293.15) ** 1.75
    pace = 10.0 ** kiln.char_log10_rate[0] * math.exp(
        -kiln.char_activation[0] / (si.GAS_CONSTANT * kelvin)
    )

    def slope(_: float, state: si.Floats) -> list[float]:
        char, x = max(float(state[0]), 0.0), max(float(state[1]), 1e-12)
        way = float(np.interp(char / whole, ROOM_SHARES, ways)) + gate
        conductance = gas * free * way

        def off(inside: float) -> float:
            rate = pace * (inside / 0.20) ** float(kiln.char_order[0])
            return float(conductance * (x - inside) - char * rate / CARBON_MOLAR)

        flow = conductance * (x - float(brentq(off, 0.0, x, xtol=1e-18)))
        return [-flow * CARBON_MOLAR, (air * (AIR_OXYGEN - x) - 3.0 * flow) / held]

    begun = [fate.char[0, first], fate.kiln_oxygen[0, first]]
    span = (heat.time[first], heat.time[-1])
    exact = solve_ivp(
        slope, span, begun, t_eval=heat.time[first:], method="LSODA", rtol=1e-7, atol=1e-10
    )

    assert exact.success
    assert begun[0] > 0.5 * whole
    assert exact.y[0, -1] < 0.05 * whole
    assert np.abs(fate.char[0, first:] - exact.y[0]).max() < 0.01 * whole
    assert np.abs(fate.kiln_oxygen[0, first:] - exact.y[1]).max() < 0.02 * AIR_OXYGEN


def test_shorter_steps_change_the_char_in_first_order() -> None:
    """Order: the end of each step is taken.  Steps of 240, 120, 60 s against 2 s.

    Char of a lump and a leaf half way through the burning; order within 0.3 of 1 (two
    errors of either sign add up), the last error below 1 % of the char.
    """
    own, kiln = matter(dry=15e-3, half=(3e-4, 6e-3)), burning(changes=3.0)
    heat = day((0.0, 20.0), (5.0, 730.0), (6.0, 730.0), every=1200.0)
    place = 13

    char = {
        step: float(followed(block(wall="solid"), own, kiln, heat, longest=step)[0].char[0, place])
        for step in (240.0, 120.0, 60.0, 2.0)
    }

    assert 0.1 * char[2.0] < char[2.0] < 0.9 * 15e-3 * 0.245
    errors = [abs(char[step] - char[2.0]) for step in (240.0, 120.0, 60.0)]
    assert math.log2(errors[0] / errors[1]) == pytest.approx(1.0, abs=0.3)
    assert errors[2] < 0.01 * char[2.0]


@pytest.mark.parametrize("wall", ["solid", "perforated"])
def test_halving_the_step_moves_the_clean_hour_by_less_than_a_minute(wall: str) -> None:
    """Convergence: the default step of 30 s against 15 s."""
    own = matter(dry=15e-3, wax=20e-3, half=(3e-4, 1e-3, 6e-3))
    flask = block(wall=wall)  # type: ignore[arg-type]

    usual, _ = followed(flask, own, burning(changes=3.0), day(*DAY))
    finer, _ = followed(flask, own, burning(changes=3.0), day(*DAY), longest=15.0)

    assert usual.clean_at[0] == pytest.approx(finer.clean_at[0], abs=60.0)


def test_supply_says_what_rules() -> None:
    """Limits: powder at 430 °C waits for its chemistry, a thick stock at 730 °C for air."""
    cool = fates(
        block(wall="bare"), slimmer(matter(), 1e-3), as_powder(burning()), day((0, 430), (2, 430))
    )
    hot = fates(block(wall="solid"), matter(dry=30e-3), burning(), day((0, 730), (1, 730)))

    assert cool.supply[0, 12] < 0.05
    assert hot.supply[0, 6] > 0.9
    assert hot.supply[0, 0] == 0.0


def test_kiln_without_air_leaves_the_char() -> None:
    """Limit: no air changes burn no more than what the kiln held: 5 g in 60 litres cold 17 g."""
    kiln = burning(litres=60.0, changes=0.0)

    fate = fates(block(), matter(dry=60e-3), kiln, day(*DAY))

    held = 0.06 * si.STANDARD_ATMOSPHERE / (si.GAS_CONSTANT * 293.15) * AIR_OXYGEN * OXYGEN_MOLAR
    assert fate.oxygen_used[0] < held + 5e-3
    assert fate.char[0, -1] > 1e-3
    assert np.isnan(fate.clean_at[0])


def test_flasks_that_have_air_take_each_their_own_oxygen() -> None:
    """Exact: three masses take three times what one takes, where none lacks any."""
    own, heat = matter(dry=3e-3, wax=10e-3), day(*DAY)

    one = fates(block(), own, burning(litres=200.0, changes=60.0), heat)
    three = fates(block(), own, burning(litres=200.0, changes=60.0, flasks=3), heat)

    assert one.char[0, -1] == three.char[0, -1] == 0.0
    assert three.oxygen_used[0] == pytest.approx(3.0 * one.oxygen_used[0], rel=1e-9)


def test_kiln_that_cools_draws_air_in() -> None:
    """Exact: a shut room that holds n1 and then n2 moles fills up with air.

    After all char is gone, from 730 to 300 °C.  Tolerance: rounding.
    """
    kiln = as_powder(burning(litres=200.0, changes=0.0))
    heat = day((0.0, 20.0), (4.0, 730.0), (8.0, 730.0), (9.0, 300.0), every=600.0)
    # Without steam, which would drive all air out of a shut room.
    dry_block = replace(block(wall="bare"), free_water=values(1, 0.0), gypsum=0.0)

    fate = fates(dry_block, matter(dry=4e-3), kiln, heat)

    hot = int(np.flatnonzero(heat.time == 8.0 * HOUR)[0])
    before, after = fate.kiln_oxygen[0, hot], fate.kiln_oxygen[0, -1]
    assert fate.char[0, hot] == pytest.approx(0.0, abs=1e-12)
    assert before < 0.9 * AIR_OXYGEN
    share = 573.15 / 1003.15  # of the cool gas that was there before
    assert after == pytest.approx(share * before + (1.0 - share) * AIR_OXYGEN, rel=1e-9)


def test_pores_full_of_water_let_no_oxygen_through() -> None:
    """Limit: while water stands round the matter only the gate is open.

    By hand, a block that is wet at 700 °C for an hour: it burns by thousandths.
    """
    heat = day((0.0, 700.0), (2.0, 700.0))
    wet = replace(heat, dry_radius=np.full_like(heat.kiln, 0.0375))
    own = matter(dry=15e-3)

    shut, dry = (fates(block(), own, burning(), each) for each in (wet, heat))

    whole = 15e-3 * 0.245
    assert shut.char[0, -1] > 0.98 * whole
    assert dry.char[0, -1] < 0.5 * whole


def test_threads_do_not_change_the_result() -> None:
    """House rule: the same for any number of workers; bit by bit."""
    own = matter(9, wax=10e-3, half=(1e-3, 4e-3))
    own = replace(own, dry_mass=own.dry_mass * np.linspace(0.5, 1.5, 9)[:, None])
    alone = fates(block(9), own, burning(9), day(*DAY, draws=9))

    shared = fates(block(9), own, burning(9), day(*DAY, draws=9), threads=2)

    assert np.array_equal(alone.char, shared.char)
    assert np.array_equal(alone.clean_at, shared.clean_at)
    assert len(set(alone.clean_at.tolist())) == 9


@given(
    dry=st.floats(1e-4, 0.04),
    half=st.floats(1e-4, 1e-2),
    changes=st.floats(0.3, 15.0),
    wall=st.sampled_from(("solid", "perforated", "bare")),
    order=st.floats(0.4, 1.0),
)
@settings(max_examples=25, deadline=None)
def test_more_air_and_less_matter_are_never_later_clean(
    dry: float, half: float, changes: float, wall: str, order: float
) -> None:
    """Property: a third more air, a fifth less matter, fewer flasks: clean no later.

    Two minutes are let pass: the hour is found to a step.
    """
    own, flask = matter(dry=dry, half=(half, 0.3 * half)), block(wall=wall)  # type: ignore[arg-type]
    kiln = replace(burning(changes=changes, flasks=2), char_order=values(1, order))

    def hour(own: Matter, kiln: Burning) -> float:
        return clean_hour(fates(flask, own, kiln, day(*DAY)))

    here = hour(own, kiln) + 2.0 / 60.0
    assert hour(own, replace(kiln, air_changes=1.33 * kiln.air_changes)) <= here
    assert hour(slimmer(own, 0.8), kiln) <= here
    assert hour(own, replace(kiln, flasks=1)) <= here


@given(dry=st.floats(1e-4, 0.04), half=st.floats(1e-4, 1e-2), top=st.floats(300.0, 760.0))
@settings(max_examples=25, deadline=None)
def test_matter_only_ever_goes(dry: float, half: float, top: float) -> None:
    """Property: dry matter falls; char and dry matter together never make char anew."""
    own = matter(dry=dry, half=(half,))
    heat = day((0.0, 20.0), (5.0, top), (6.0, top), (8.0, 200.0), every=600.0)

    fate = fates(block(), own, burning(), heat)

    share = float(own.char_yield[0, 0] - own.ash_fraction[0, 0])
    assert (np.diff(fate.dry_mass[0]) <= 0.0).all()
    assert (fate.char[0] >= 0.0).all()
    assert (fate.char_left >= 0.0).all()
    assert (np.diff(fate.char[0] + share * fate.dry_mass[0]) <= 1e-15).all()
    assert ((fate.supply >= 0.0) & (fate.supply <= 1.0)).all()


@given(fate=fates_())
@settings(max_examples=40, deadline=None)
def test_whole_range_of_the_records_gives_numbers(fate: Fate) -> None:
    """Property: nothing breaks at the ends of the records; what is not reached says so."""
    for name in ("wax", "dry_mass", "char", "kiln_oxygen", "supply", "char_left", "ash"):
        number = getattr(fate, name)
        assert np.isfinite(number).all()
        assert (number >= 0.0).all()
    late = np.isnan(fate.clean_at)
    assert (fate.char[late, -1] + fate.dry_mass[late, -1] + fate.wax[late, -1] > 0.0).all()
    assert (fate.char[~late, -1] < fate.clean_below).all()
    assert (np.isnan(fate.wax_gone_at) == (fate.wax[:, -1] > 0.0)).all()


@given(tables=packed())
@settings(max_examples=20, deadline=None)
def test_classes_hold_all_char_and_are_as_thick_as_their_thickest(tables: Packed) -> None:
    """Definition: shares of a class add up to 1 where it has char; the first is a powder."""
    assert tables.half[0] == 0.0
    assert (tables.potential[:, 0] == 0.0).all()
    for each in range(1, tables.half.size):
        own = tables.member_class == each
        share = tables.member_share[:, own].sum(axis=1)
        with_char = tables.potential[:, each] > 0.0
        assert share[with_char] == pytest.approx(1.0, rel=1e-12)
        assert (share[~with_char] == 0.0).all()


@pytest.mark.parametrize(
    ("fault", "message"),
    [
        (lambda k: replace(k, kiln_volume=0.0), "volume of the kiln is 0 m³"),
        (lambda k: replace(k, kiln_volume=math.nan), "volume of the kiln is nan m³"),
        (lambda k: replace(k, air_changes=values(1, -1.0)), "air_changes is -1 1/s"),
        (lambda k: replace(k, flasks=0), "flasks is 0; it must be 1 or more"),
        (lambda k: replace(k, tortuosity=values(1, 0.5)), "tortuosity is 0.5"),
        (lambda k: replace(k, char_order=values(1, 3.0)), "char_order is 3"),
        (lambda k: replace(k, dry_oxygen=values(1, 0.1)), "dry_oxygen is 0.1 kg/kg"),
        (lambda k: replace(k, pyrolysis_end=values(1, 400.0)), "pyrolysis_end is 400 K"),
        (lambda k: replace(k, char_openness=values(1, 1.5)), "char_openness is 1.5"),
        (lambda k: replace(k, air_changes=values(2, 1.0)), "shape of air_changes"),
    ],
)
def test_kilns_that_cannot_be_are_refused(fault: object, message: str) -> None:
    """Refusals: each limit that the records state."""
    assert callable(fault)
    with pytest.raises(InputError, match=message):
        fates(block(), matter(), fault(burning()), day(*DAY))


@pytest.mark.parametrize(
    ("fault", "message"),
    [
        (lambda m: replace(m, char_yield=0.1 * m.ash_fraction), "char_yield less ash_fraction"),
        (lambda m: replace(m, dry_mass=-m.dry_mass), "dry_mass is -0.015 kg"),
        (lambda m: replace(m, wax=values(1, -1.0)), "wax is -1 kg"),
        (lambda m: replace(m, wax_boil_end=m.wax_boil_start), "wax_boil_end less wax_boil_start"),
        (lambda m: replace(m, wax_soak=values(1, 1.2)), "wax_soak is 1.2"),
        (lambda m: replace(m, half_thickness=np.array([1e-3, 2e-3])), "shape of dry_mass"),
        (lambda m: replace(m, wax_char=values(1, 2.0)), "wax_char is 2"),
        (lambda m: replace(m, wax_viscosity=values(1, 0.0)), "wax_viscosity is 0 Pa·s"),
    ],
)
def test_matter_that_cannot_be_is_refused(fault: object, message: str) -> None:
    """Refusals: each limit that the records state."""
    assert callable(fault)
    with pytest.raises(InputError, match=message):
        fates(block(), fault(matter()), burning(), day(*DAY))


def test_days_that_cannot_be_are_refused() -> None:
    heat = day(*DAY)
    for broken, message in (
        (replace(heat, time=heat.time[::-1].copy()), "step between moments"),
        (replace(heat, piece=heat.piece - 1000.0), "temperature of the piece"),
        (replace(heat, piece=heat.piece[:, :5]), "shape of temperature at the matter"),
    ):
        with pytest.raises(InputError, match=message):
            fates(block(), matter(), burning(), broken)
    with pytest.raises(InputError, match="clean_below is 0 kg"):
        fates(block(), matter(), burning(), heat, clean_below=0.0)
