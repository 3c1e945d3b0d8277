"""Char: powder against measured burn-off, lumps against the shrinking core."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import i0e, i1e

from pourcast import units as si
from pourcast.burnout.char import (
    OXYGEN_PER_CARBON,
    burnt_layer,
    core_size,
    lump_rate,
    powder_rate,
)
from pourcast.materials import library
from pourcast.units import CARBON_MOLAR
from tests.outside.record import record

PINE = "MaCFP open wood data, state of August 2026: pine powder, one laboratory, one run"
KILN = library().kiln
# The record gives A per bar^0.5; the pair holds at the 0.20 bar of the measurement.
AT_FIFTH = KILN["char_log10_A"].si + 0.5 * math.log10(0.20)
LAW = (KILN["char_E"].si, AT_FIFTH, 0.20, KILN["char_order_O2"].si)
SHAPES = (1, 2, 3)


def burnt_off(ramp: float) -> tuple[si.Floats, si.Floats]:
    """Return °C and the char left of 0.235 from 340 °C on, in 20 % of oxygen."""
    celsius = np.arange(340.0, 560.0, 0.05)
    rate = np.array([powder_rate(degrees + 273.15, 0.20, *LAW) for degrees in celsius])
    steps = 0.5 * (rate[1:] + rate[:-1]) * 0.05 / ramp
    return celsius, 0.235 * np.exp(-np.concatenate([[0.0], np.cumsum(steps)]))


@pytest.mark.parametrize(
    ("per_minute", "left", "want"),
    [
        (10.0, 0.15, 450.1),
        (10.0, 0.10, 469.5),
        (10.0, 0.05, 486.0),
        (10.0, 0.02, 491.1),
        (5.0, 0.15, 435.5),
        (5.0, 0.10, 454.7),
        (5.0, 0.05, 471.6),
        (5.0, 0.02, 480.7),
    ],
)
def test_powder_burns_off_at_the_temperatures_of_pine_char(
    per_minute: float, left: float, want: float
) -> None:
    """Measured: MaCFP open wood data, pine in 20 % of oxygen, 10 and 5 K/min, ash off.

    The law was fitted to these two runs, so this says that it was carried over
    rightly, not that it holds elsewhere.  Tolerance 15 K: two runs of one laboratory;
    between laboratories the char of one wood spreads by a fifth of itself.  Found:
    5 K early to 4 K late.  With A as the rate at 0.20 bar itself, which the record
    once said, it is 14 to 24 K early.
    """
    celsius, share = burnt_off(per_minute / 60.0)

    got = float(np.interp(-left, -share, celsius))

    record(
        "burnout",
        f"pine char, {100 * left:.0f} % of the wood left at {per_minute:.0f} K/min",
        PINE,
        got,
        want,
        "°C",
        15.0,
        kind="measured",
    )
    assert got == pytest.approx(want, abs=15.0)


def test_oxygen_at_least_doubles_the_loss_of_a_thick_piece() -> None:
    """Measured: white pine under 25 kW/m², Kashiwagi, Ohlemiller and Werner (1987).

    Combust. Flame 69, 331, digitised in public fire-test data: 0.22 mg/(cm²·s) without
    oxygen, 0.53 with 21 %, front face 509 °C.  A verdict, without tolerance: what
    our law adds at that face is at least the loss without oxygen.  Found: 0.29
    added, measured 0.31.  The film of air before the face is left out (it would hold
    our figure down) and so is the heat of burning (which drove the measured one up).
    """
    kelvin, without, measured = 509.0 + 273.15, 0.22, 0.53 - 0.22
    at_face = 0.21 * si.STANDARD_ATMOSPHERE / (si.GAS_CONSTANT * kelvin)
    diffusivity = KILN["char_openness"].si * 2e-5 * (kelvin / 293.15) ** 1.75
    density, half = KILN["char_density"].si, 19e-3

    rate = lump_rate(
        1.0,
        0.0,
        powder_rate(kelvin, 0.21, *LAW),
        half,
        at_face,
        density / CARBON_MOLAR,
        diffusivity,
        diffusivity,
        LAW[3],
        1,
    )

    added = 100.0 * rate * density * half  # mg/(cm²·s): 1 kg/m² is 100 mg/cm²
    record(
        "burnout",
        "loss that 21 % of oxygen adds at a pine face of 509 °C",
        "Kashiwagi, Ohlemiller and Werner (1987), Combust. Flame 69, 331",
        added,
        measured,
        "mg/(cm²·s)",
        0.5,
        kind="measured",
    )
    assert without + added >= 2.0 * without


def time_to(left: float, shape: int, half: float, char: float, layer: float, rate: float) -> float:
    """Return the time [s] in which a lump comes to a share, by our law, in c = 2 mol/m³."""
    share = 1.0 - (1.0 - left) * np.linspace(0.0, 1.0, 4001) ** 2
    taken = []
    for now in share:
        core = core_size(float(now), shape)
        way = burnt_layer(core, shape)
        relative = lump_rate(core, way, rate, half, 2.0, 15e3, char, layer, 1.0, shape)
        taken.append(1.0 / (relative * now))
    pace = np.array(taken)
    return float((0.5 * (pace[1:] + pace[:-1]) * -np.diff(share)).sum())


REACTION = {1: lambda x: x, 2: lambda x: 1 - (1 - x) ** 0.5, 3: lambda x: 1 - (1 - x) ** (1 / 3)}
DIFFUSION = {
    1: lambda x: x**2,
    2: lambda x: x + (1 - x) * math.log(1 - x),
    3: lambda x: 1 - 3 * (1 - x) ** (2 / 3) + 2 * (1 - x),
}


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("burnt", [0.3, 0.6, 0.9])
def test_lump_ruled_by_its_skin_burns_in_the_times_of_the_shrinking_core(
    shape: int, burnt: float
) -> None:
    """Published: Levenspiel, Chemical Reaction Engineering, table 25.1, reaction controls.

    t = τ f(X), τ = b L/(k'' c) with k'' the rate of a face; here that of a thick
    porous skin, √(κ D).  Tolerance 1.5 %: the skin has a depth of a hundredth of L.
    """
    half, stock, diffusivity, rate = 1e-2, 15e3, 1e-6, 0.0133
    per_face = math.sqrt(rate * stock / 2.0 * diffusivity)
    assert half > 80.0 * diffusivity / per_face

    got = time_to(1.0 - burnt, shape, half, diffusivity, 1e6, rate)

    want = stock * half / (per_face * 2.0) * REACTION[shape](burnt)
    assert got == pytest.approx(want, rel=0.015)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("burnt", [0.3, 0.6, 0.9])
def test_lump_ruled_by_its_burnt_layer_burns_in_the_times_of_the_shrinking_core(
    shape: int, burnt: float
) -> None:
    """Published: Levenspiel, Chemical Reaction Engineering, table 25.1, layer controls.

    τ = b L²/(2 D c), /(4 D c) and /(6 D c).  Tolerance 1 %: the sum over 4000 steps
    and a skin that holds back a thousandth.
    """
    half, stock, layer = 1e-2, 15e3, 5e-5

    got = time_to(1.0 - burnt, shape, half, 1e3, layer, 1e4)

    want = stock * half**2 / (2.0 * shape * layer * 2.0) * DIFFUSION[shape](burnt)
    assert got == pytest.approx(want, rel=0.01)


@pytest.mark.parametrize("shape", SHAPES)
def test_use_of_a_lump_agrees_with_thiele(shape: int) -> None:
    """Published: Thiele (1939), Ind. Eng. Chem. 31, 916: tanh, Bessel and coth forms.

    First order, whole lump.  Tolerance 8.5 %: the law joins the two limits by a root
    instead.  Found: 8.1 % in a plate, 4.0 % in a rod, 7.3 % in a ball.
    """
    half, stock, diffusivity, concentration = 5e-3, 15e3, 4e-5, 2.0
    modulus = np.logspace(-2.0, 2.0, 200) * shape  # √(κ L²/D)
    exact = {
        1: np.tanh(modulus) / modulus,
        2: 2.0 * i1e(modulus) / i0e(modulus) / modulus,
        3: 3.0 * (1.0 / np.tanh(modulus) - 1.0 / modulus) / modulus,
    }[shape]
    uptake = modulus**2 * diffusivity / half**2
    rates = (uptake * concentration / stock).tolist()

    used = np.array(
        [
            lump_rate(
                1.0, 0.0, rate, half, concentration, stock, diffusivity, diffusivity, 1.0, shape
            )
            / rate
            for rate in rates
        ]
    )

    assert np.abs(used / exact - 1.0).max() < 0.085


@pytest.mark.parametrize("order", [0.4, 0.5, 1.0])
def test_skin_of_another_order_takes_what_bischoff_says(order: float) -> None:
    """Published: flux into a thick body √(2 D k cⁿ⁺¹/(n + 1)), Bischoff (1965), AIChE J. 11, 351.

    From memory; exact for any order.  Tolerance 0.1 %: the body is 60 skins thick.
    """
    half, stock, diffusivity, concentration, rate = 1e-2, 15e3, 1e-6, 2.0, 5e-3

    got = lump_rate(
        1.0, 0.0, rate, half, concentration, stock, diffusivity, diffusivity, order, 1
    ) * (half * stock)

    per_volume = rate * stock  # k cⁿ, mol/(m³·s)
    want = math.sqrt(2.0 / (order + 1.0) * diffusivity * per_volume * concentration)
    assert got == pytest.approx(want, rel=1e-3)


def test_fine_parts_burn_as_powder() -> None:
    """Limit of the law: half a thickness of 0.1 µm holds nothing back.  Tolerance: rounding."""
    rate = powder_rate(700.0, 0.15, *LAW)

    for shape, left in itertools.product(SHAPES, (1.0, 0.5, 0.01)):
        core = core_size(left, shape)
        way = burnt_layer(core, shape)
        got = lump_rate(core, way, rate, 1e-7, 2.0, 15e3, 4e-5, 4e-5, 0.5, shape)
        assert got == pytest.approx(rate, rel=1e-6)
        assert lump_rate(core, way, rate, 0.0, 2.0, 15e3, 4e-5, 4e-5, 0.5, shape) == rate


@given(
    kelvin=st.floats(600.0, 1050.0),
    oxygen=st.floats(1e-4, 0.20),
    half=st.floats(1e-5, 2e-2),
    left=st.floats(1e-6, 1.0),
    shape=st.sampled_from(SHAPES),
)
def test_hotter_thinner_and_more_air_never_burn_slower(
    kelvin: float, oxygen: float, half: float, left: float, shape: int
) -> None:
    """Property: the rate grows with temperature and oxygen and falls with thickness."""
    core = core_size(left, shape)
    layer = burnt_layer(core, shape)

    def rate(kelvin: float, oxygen: float, half: float) -> float:
        powder = powder_rate(kelvin, oxygen, *LAW)
        return lump_rate(core, layer, powder, half, 12.0 * oxygen, 15e3, 4e-5, 4e-5, 0.5, shape)

    here = rate(kelvin, oxygen, half)
    rounding = 1.0 - 1e-9
    assert 0.0 < here <= powder_rate(kelvin, oxygen, *LAW) * (1.0 + 1e-9)
    assert rate(kelvin + 10.0, oxygen, half) >= here * rounding
    assert rate(kelvin, 1.1 * oxygen, half) >= here * rounding
    assert rate(kelvin, oxygen, 1.1 * half) <= here / rounding


def test_oxygen_of_carbon_agrees_with_the_record() -> None:
    """Computed from formula weights: kiln.oxygen_need_carbon, 2.664 within 0.001 (rounding)."""
    assert pytest.approx(KILN["oxygen_need_carbon"].si, abs=1e-3) == OXYGEN_PER_CARBON
