"""Oxygen: what the air of a kiln holds, what burning takes, and the balance of both."""

from dataclasses import replace

import numpy as np
import pytest
from chemicals.combustion import combustion_stoichiometry
from chemicals.elements import molecular_weight
from hypothesis import given
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.burnout import fate_columns as at
from pourcast.burnout.char import OXYGEN_MOLAR
from pourcast.burnout.fate import followed
from pourcast.burnout.oxygen import AIR_OXYGEN, burn_step, moles_held
from pourcast.materials import library
from pourcast.units import CARBON_MOLAR
from tests.burnout.fate_cases import HOUR, alike, block, burning, day, matter
from tests.outside.record import record

RAMP = ((0.0, 20.0), (6.0, 730.0), (8.0, 730.0))


def test_sixty_litres_of_hot_kiln_hold_five_grams_of_oxygen() -> None:
    """Ideal gas: 60 litres of air at 700 °C and one atmosphere; 5 g, two figures."""
    got = 1e3 * OXYGEN_MOLAR * AIR_OXYGEN * moles_held(si.STANDARD_ATMOSPHERE, 0.06, 973.15)

    record(
        "burnout",
        "oxygen in 60 litres of air at 700 °C",
        "ideal gas",
        got,
        5.0,
        "g",
        0.1,
        kind="closed form",
    )
    assert got == pytest.approx(5.0, abs=0.1)


def test_share_of_the_air_agrees_with_the_record() -> None:
    """From memory: kiln.oxygen_in_air, 0.2314 by mass; air 28.96 g/mol.  Tolerance 0.0005."""
    by_mass = AIR_OXYGEN * OXYGEN_MOLAR / 28.96e-3

    assert by_mass == pytest.approx(library().kiln["oxygen_in_air"].si, abs=5e-4)


@pytest.mark.parametrize(
    ("name", "formula", "want"),
    [
        ("cellulose", {"C": 6, "H": 10, "O": 5}, 1.184),
        ("paraffin C25H52", {"C": 25, "H": 52}, 3.45),
    ],
)
def test_oxygen_that_matter_takes_agrees_with_its_formula(
    name: str, formula: dict[str, int], want: float
) -> None:
    """Computed outside: combustion_stoichiometry of the open package chemicals.

    Against the middle of our records.  Tolerance 0.005: three figures.
    """
    moles = -combustion_stoichiometry(formula)["O2"]
    taken = moles * OXYGEN_MOLAR * 1e3
    outside = taken / molecular_weight(formula)

    record(
        "burnout",
        f"oxygen for {name}",
        "package chemicals",
        want,
        outside,
        "kg/kg",
        0.005,
        kind="reference library",
    )
    assert want == pytest.approx(outside, abs=0.005)
    plants, wax = library().plants["general"]["oxygen_need_dry"], library().waxes["casting"]
    assert plants.si_low <= 1.184 <= plants.si_high
    assert wax["oxygen_need"].si == pytest.approx(3.45)


def test_matter_as_carbon_and_water_is_cellulose_exactly() -> None:
    """Formula weights: C₆H₁₀O₅ is 6 C and 5 H₂O; what burns is the carbon.  Rounding."""
    weight = float(molecular_weight({"C": 6, "H": 10, "O": 5}))

    carbon = 1.184 * CARBON_MOLAR / OXYGEN_MOLAR

    assert carbon == pytest.approx(6 * CARBON_MOLAR * 1e3 / weight, abs=3e-4)


def test_steam_thins_the_air_as_a_stirred_room_says() -> None:
    """Exact: in a stirred room x = x_air a/(a + s) after many changes of its air.

    Eight blocks that dry evenly over 10 h in a kiln at 300 °C.  Tolerance 0.1 %: the
    room has been changed six times over, e⁻⁶ is 0.2 % of the small difference.
    """
    own, kiln = block(), burning(litres=60.0, changes=6.0, flasks=8)
    time = np.linspace(0.0, 10.0 * HOUR, 601)
    warm = np.full((1, 601), 573.15)
    heat = replace(
        alike(time, warm, warm, warm, own.radius),
        free_water=np.linspace(1.0, 0.0, 601)[None, :],
        bound_water=np.linspace(1.0, 0.0, 601)[None, :],
    )

    fate, _ = followed(own, matter(dry=0.0), kiln, heat)

    air = 6.0 / HOUR * 0.06 * si.STANDARD_ATMOSPHERE / (si.GAS_CONSTANT * 293.15)
    bound = own.gypsum * library().investment["chemistry"]["water_in_gypsum"].si
    water = (float(own.free_water[0]) + bound) * np.pi * own.radius**2 * own.height / 18.015e-3
    want = AIR_OXYGEN * air / (air + 8.0 * water / (10.0 * HOUR))
    assert want < 0.15
    assert fate.kiln_oxygen[0, -1] == pytest.approx(want, rel=1e-3)


def test_balance_of_one_step_holds() -> None:
    """Exact: what burns is what comes, to the thousandth that the search stops at."""
    half, char = np.array([0.0, 1e-3, 5e-3]), np.array([1e-5, 1e-3, 2e-3])
    core, layer, burnt = np.ones(3), np.zeros(3), np.zeros(3)

    for pace in (1e-9, 1e-6, 1e-3, 1.0, 1e3):
        for full in (1e-6, 1e-4, 1e-2):
            oxygen = burn_step(
                3, 30.0, 1e-5, 0.15, full, 12.0, pace, 0.2, 0.5, 15e3, 5e-5, 2,
                half, char, core, layer, burnt,
            )  # fmt: skip
            comes = full * (1.0 - oxygen / 0.15)
            assert 0.0 < oxygen <= 0.15
            assert (burnt >= 0.0).all()
            assert (burnt <= char).all()
            assert burnt.sum() / CARBON_MOLAR == pytest.approx(comes, rel=2e-3, abs=1e-11)


def test_thin_parts_burn_before_thick_ones() -> None:
    """Trend, common practice, no source: the thickest organ is black last."""
    own, heat = block(size="75x100", wall="perforated"), day(*RAMP)

    fate, _ = followed(own, matter(half=(5e-4, 8e-3)), burning(), heat)

    burns = np.flatnonzero(fate.char[0] > 1e-4)
    last = int(burns[-1])
    early = replace(
        heat,
        **{
            name: getattr(heat, name)[:, : last + 1]
            for name in ("kiln", "wall", "piece", "core", "free_water", "bound_water",
                         "dry_radius", "overpressure", "stress")
        },
        time=heat.time[: last + 1],
    )  # fmt: skip
    thin, thick = followed(own, matter(half=(5e-4, 8e-3)), burning(), early)[0].char_left[0]
    assert thin < 0.01 * thick


@given(
    dry=st.floats(0.0, 0.06),
    wax=st.floats(0.0, 0.15),
    changes=st.floats(0.0, 20.0),
    litres=st.floats(8.0, 200.0),
    flasks=st.integers(1, 8),
)
def test_oxygen_is_never_below_nothing_and_none_is_lost(
    dry: float, wax: float, changes: float, litres: float, flasks: int
) -> None:
    """Conservation: held + came = went + burnt + held.  Tolerance: rounding."""
    kiln = burning(litres=litres, changes=changes, flasks=flasks)
    heat = day((0.0, 20.0), (5.0, 730.0), (6.0, 730.0), (7.0, 300.0), every=600.0)

    fate, account = followed(block(), matter(dry=dry, wax=wax, half=(1e-3, 4e-3)), kiln, heat)

    gone = account[0, at.WENT] + account[0, [at.TO_CHAR, at.TO_VAPOUR, at.TO_WAX]].sum()
    held = account[0, at.HELD_LAST]
    brought = account[0, at.HELD_FIRST] + account[0, at.CAME]
    assert gone + held == pytest.approx(brought, rel=1e-10)
    assert (fate.kiln_oxygen >= 0.0).all()
    assert (fate.kiln_oxygen <= AIR_OXYGEN * (1.0 + 1e-9)).all()
    assert fate.oxygen_used[0] == pytest.approx(
        OXYGEN_MOLAR * account[0, [at.TO_CHAR, at.TO_VAPOUR, at.TO_WAX]].sum()
    )
