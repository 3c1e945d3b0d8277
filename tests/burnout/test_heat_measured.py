"""Heat of the block against what others measured: gypsum, cylinders, faces."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from pourcast import units as si
from pourcast.burnout import gypsum, steam
from pourcast.burnout.days import Fineness, heat_days
from pourcast.burnout.radial import give
from tests.burnout.heat_cases import block, curve
from tests.outside.record import record

BOARD = "gypsum board core, 4 mg, 10 K/min in nitrogen; fire-safety materials data base"


def powder() -> tuple[si.Kelvins, si.Ratios, si.Ratios]:
    """Return temperature [K] and shares of both steps of powder heated without its steam."""
    step = 0.1 / (10.0 / 60.0)
    kelvin = np.arange(323.15, 493.15, 0.1)
    first, second = np.zeros(kelvin.size), np.zeros(kelvin.size)
    one = two = 0.0
    for k, hot in enumerate(kelvin.tolist()):
        rate = gypsum.step_rate(hot, gypsum.FIRST_RATE, gypsum.FIRST_AT)
        one += gypsum.taken_in(1.0 - one, rate, step)
        rate = gypsum.step_rate(hot, gypsum.SECOND_RATE, gypsum.SECOND_AT)
        two += gypsum.taken_in(max(one - two, 0.0), rate, step)
        first[k], second[k] = one, two
    return kelvin, first, second


@pytest.mark.parametrize(("share", "celsius"), [(0.1, 106.4), (0.5, 123.1), (0.9, 136.0)])
def test_water_of_gypsum_is_lost_at_the_measured_temperatures(share: float, celsius: float) -> None:
    """Measured, but not independent: the two rates were fitted to these three numbers.

    Source: gypsum board core, first run.  Tolerance 12 K, the spread of such runs between
    laboratories.  Found: within 0.5 K, as fitted (two numbers to three).
    """
    kelvin, first, second = powder()
    lost = 0.75 * first + 0.25 * second

    got = float(np.interp(share, lost, kelvin)) - 273.15

    record(
        "burnout", f"gypsum has lost {100 * share:.0f} % of its water (fitted)", BOARD,
        got, celsius, "°C", 12.0,
     kind="measured",)  # fmt: skip
    assert got == pytest.approx(celsius, abs=12.0)


def test_heat_peaks_of_gypsum_stand_where_they_were_measured() -> None:
    """Measured: peaks at 124.0 and 135.2 °C, the same run; not used for the fit.

    Tolerance 12 K as above.  Found: 127.3 and 137.6 °C, 3 and 2 K late.
    """
    kelvin, first, second = powder()
    heat = 483.0 * np.diff(first) + 211.0 * gypsum.HEMIHYDRATE * np.diff(second)
    inner = heat[1:-1]
    peaks = kelvin[1:-2][(inner > heat[:-2]) & (inner >= heat[2:]) & (inner > 0.2 * heat.max())]

    got = peaks - 273.15

    assert got.size == 2
    for place, value, want in zip(("first", "second"), got.tolist(), (124.0, 135.2), strict=True):
        record(
            "burnout",
            f"{place} heat peak of gypsum",
            BOARD,
            value,
            want,
            "°C",
            12.0,
            kind="measured",
        )
    assert got == pytest.approx([124.0, 135.2], abs=12.0)


def test_gypsum_gives_off_nothing_more_from_145_to_200_degrees() -> None:
    """Measured: no loss from 145 to 200 °C, the same run.  Tolerance 1 % of the water.

    Found: 0.14 % of the water is left at 145 °C.
    """
    kelvin, first, second = powder()
    at = np.searchsorted(kelvin, 418.15)

    left = 1.0 - (0.75 * first[at] + 0.25 * second[at])

    assert left < 0.01
    # More than half of the water goes in the first step.
    assert gypsum.FIRST_WATER > gypsum.SECOND_WATER


def test_heat_of_drying_bound_water_agrees_with_calorimetry() -> None:
    """Measured: 545 kJ over kg of sample from 80 to 166 °C, 3.24 MJ over kg of water lost.

    Source: the same run.  Tolerance 0.4 MJ/kg: base line and scatter of the run.  Found:
    3.09 MJ/kg, 5 % low.
    """
    case = block()
    first = float(case.first_heat[0]) / gypsum.FIRST_WATER
    second = float(case.second_heat[0]) * gypsum.HEMIHYDRATE / gypsum.SECOND_WATER
    at = 130.0 + 273.15 - steam.BASE
    bound = (1137.0 - gypsum.ANHYDRITE * 739.0) / gypsum.WATER
    warmer = (steam.STEAM_HEAT - bound) * at

    got = (0.75 * first + 0.25 * second + warmer) / 1e6

    record("burnout", "heat of drying bound water", BOARD, got, 3.24, "MJ/kg", 0.4, kind="measured")
    assert got == pytest.approx(3.24, abs=0.4)


def test_activation_energy_lies_in_the_published_span() -> None:
    """Measured: 61 to 118 kJ/mol, phosphogypsum; it was chosen from this span.

    Source: Lopez et al. (2015), Mater. Construcc. 65, e061.
    """
    assert 61e3 <= gypsum.ACTIVATION <= 118e3


def test_bulk_gypsum_in_its_own_steam_waits_for_a_higher_temperature() -> None:
    """Measured trend: in bulk, steam cannot escape and the first step splits and moves up.

    Source: Dent Mater J 14 (1995), 84, set stone, adiabatic calorimetry.  Half of the first
    step's water gone at the core, for blocks ever tighter, 60 K/h.  Found: 87, 87, 89 and 96 °C
    from 1e-12 to 1e-16 m²; under 1e-14 m² air that diffuses in rules, not permeability.
    """
    day = curve((0, 20), (4, 260))
    hot = []
    for permeability in (1e-12, 1e-14, 1e-15, 1e-16):
        case = block(radius=0.03, height=1.0, free_water=0.0, permeability=permeability)
        days = heat_days(case, day, moments=481)
        half = int(np.argmax(days.bound_water[0] < 0.5))
        hot.append(float(days.core[0, half]) - 273.15)

    assert (np.diff(hot) > 0.0).all()
    assert hot[-1] > hot[0] + 5.0


def test_first_water_leaves_a_heated_wall_from_about_80_degrees() -> None:
    """Measured trend: release starts at about 80 °C, gypsum heated from one side to 400 °C.

    Source: van der Heijden et al. (2011), Chem. Eng. Sci. 66, 4241, by magnetic resonance.
    Dry block at 60 K/h, when it has lost 1 % of its water, about what a profile can show.
    Tolerance 20 K for "about" and for their pace, which is not known.  Found: 68 °C; at 0.1 %
    it is 55 °C, since the rate law has no threshold.
    """
    case = block(radius=0.02, height=1.0, free_water=0.0, permeability=1e-12)
    days = heat_days(case, curve((0, 20), (3, 200)), moments=721)

    begun = int(np.argmax(days.bound_water[0] < 0.99))

    got = float(days.wall[0, begun]) - 273.15
    record(
        "burnout", "heated gypsum begins to give off water",
        "van der Heijden et al. (2011), Chem. Eng. Sci. 66, 4241", got, 80.0, "°C", 20.0,
     kind="measured",)  # fmt: skip
    assert got == pytest.approx(80.0, abs=20.0)


def test_two_fronts_move_through_the_block() -> None:
    """Measured trend: free water goes first, then gypsum, in two fronts one behind the other.

    Source: van der Heijden et al. (2011).  Not met: their peak of moisture ahead of the front, as
    no steam moves inwards here.
    """
    days = heat_days(block(), curve((0, 20), (6, 420)), moments=361)
    dry, bound = days.free_water[0], days.bound_water[0]

    going = (dry > 0.05) & (dry < 0.8)
    assert (bound[going] > dry[going]).all()
    assert (bound[going] < 1.0).all()


def test_small_wet_cylinder_in_a_furnace_of_700_degrees_is_hot_in_half_an_hour() -> None:
    """Measured verdict: anhydrite III turns to II within 30 min, so the core is over 300 °C.

    Source: Dent Mater J, gypsum-bonded investment II and IV; cylinders of 25 x 50 mm put wet
    into 700 °C.  Found: core over 300 °C after 8 min.
    """
    case = block(radius=0.0125, height=0.050, piece_radius=0.0)
    days = heat_days(case, curve((0, 700), (0.5, 700)), moments=181)

    over = days.core[0] > 573.15
    assert over[-1]
    assert days.free_water[0, -1] == 0.0
    minutes = float(days.time[np.argmax(over)]) / 60.0
    record(
        "burnout", "core of 25 x 50 mm over 300 °C, put wet into 700 °C (within)",
        "Dent Mater J, gypsum-bonded investment II and IV", minutes, 15.0, "min", 15.0,
     kind="measured",)  # fmt: skip


def test_plate_under_a_cone_heater_comes_to_the_measured_temperature() -> None:
    """Measured: a thin plate on insulation under 25 kW/m² stands at 480 °C.

    Source: public fire-test data; the flux by the name of the file.  Our law of the face with
    0.85 and 12 W/(m²·K), the middles of 0.8 to 0.9 and 10 to 14.  Tolerance 20 K: what these
    spans are worth.  Found: 487 °C, 7 K over.
    """
    room = 297.15

    def left(kelvin: float) -> float:
        return 0.85 * 25e3 - give(kelvin, room, 12.0, 0.85) * (kelvin - room)

    got = float(brentq(left, 300.0, 1200.0)) - 273.15

    record(
        "burnout", "thin plate under 25 kW/m²", "public fire-test data, cone heater",
        got, 480.0, "°C", 20.0,
     kind="measured",)  # fmt: skip
    assert got == pytest.approx(480.0, abs=20.0)


def test_skin_to_core_difference_of_50_kelvin_allows_the_ramps_of_the_closed_form() -> None:
    """Published: ΔT = b R²/4α (Carslaw and Jaeger 1959, 7.9), dry block near 500 °C.

    At 119 K/h a dry block of 50 mm radius shows b R²/4α with k 0.41 and c 1130 of the
    tables.  Tolerance 5 %: k and c change along the ramp.  Found: 3.4 % over.
    """
    case = block(radius=0.05, height=5.0, free_water=0.0, gypsum=1.0)
    days = heat_days(case, curve((0, 20), (6, 734)), moments=601, fineness=Fineness(rings=30))
    at = int(np.argmax(days.core[0] > 773.15))

    got = float(days.wall[0, at] - days.core[0, at])

    density = case.set_density - 0.2
    want = 119.0 / 3600.0 * 0.05**2 / (4.0 * 0.412 / (density * 1131.0))
    assert got == pytest.approx(want, rel=0.05)
    assert math.isfinite(got)
