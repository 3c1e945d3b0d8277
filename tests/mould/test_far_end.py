"""The far end as a plate and as a filter, against tables and an integration."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from pourcast.errors import InputError
from pourcast.mould.end_checks import far_end_findings
from pourcast.mould.far_end import empty_time, far_end, plate_stress
from pourcast.mould.model import EndCase, FarEnd, Mould
from pourcast.mould.solve import solve
from tests.mould.cases import POWDER, button, flask, measures, mix
from tests.outside.record import record


def end_case(**changes: float) -> EndCase:
    """Return 80 kPa on a block of 0.24 MPa; arrays of one value."""
    values = {
        "pressure": 88e3,
        "tensile_strength": 0.24e6,
        "permeability": 1e-13,
        "gas_viscosity": 3e-5,
        "air_pressure": 101_325.0,
        "vacuum": 80e3,
    } | changes
    return EndCase(**{name: np.array([value]) for name, value in values.items()})


def planned(height: float = 0.1, diameter: float = 0.076) -> Mould:
    """Return a block over a piece of 60 mm with a button of 15 mm."""
    return solve(measures(), button(), flask(height=height, diameter=diameter), mix(), POWDER)


def found(height: float = 0.1, diameter: float = 0.076, **changes: float) -> FarEnd:
    """Return the far end of that block."""
    return far_end(
        planned(height, diameter),
        flask(height=height, diameter=diameter),
        measures(),
        end_case(**changes),
    )


def test_a_clamped_plate_bears_what_the_tables_say() -> None:
    """Published: rim moment p R²/8 of a clamped round plate, so σ = 6 M/h² = 0.75 p (R/h)².

    Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells; Roark, table
    of flat plates, from memory; exact.  63.5 mm and 20 mm at 80 kPa: 605 kPa.
    """
    got = plate_stress(np.array([80e3]), 63.5e-3, 20e-3)[0]

    want = 6 * (80e3 * 63.5e-3**2 / 8) / 20e-3**2
    record("mould", "tension at the rim of a clamped plate", "Timoshenko; Roark, from memory",
           1e-3 * got, 1e-3 * want, "kPa", 1e-6, kind="closed form")  # fmt: skip
    assert got == pytest.approx(want, rel=1e-12)
    assert got == pytest.approx(605e3, rel=1e-3)


def test_the_quarter_rule_is_the_same_stress_in_every_flask_and_the_fixed_rule_is_not() -> None:
    """Practice disagrees: 0.25 of the diameter, or 20 mm.  By (1) the first is 3 p everywhere.

    20 mm is 0.26 of 76 mm but 0.16 of 127 mm: there it bears 2.5 times as much.
    """
    small, large = (plate_stress(np.array([80e3]), d / 2, 0.25 * d)[0] for d in (0.076, 0.127))
    fixed = plate_stress(np.array([80e3]), 0.0635, 20e-3)[0]

    assert small == pytest.approx(3 * 80e3)
    assert large == pytest.approx(3 * 80e3)
    assert fixed == pytest.approx(2.5 * 3 * 80e3, rel=0.02)


def test_both_rules_and_the_plan_are_shown() -> None:
    """House rule: disagreement is shown with what each side comes to."""
    end = found()

    assert [one.rule for one in end.checks] == ["as planned", "quarter of the diameter", "20 mm"]
    assert [round(1e3 * one.cover, 1) for one in end.checks] == [25.0, 19.0, 20.0]
    thick, quarter, fixed = end.checks
    assert thick.stress < fixed.stress < quarter.stress
    assert end.needed == pytest.approx(0.038 * np.sqrt(0.75 * 88e3 / 0.24e6))


def test_the_time_to_empty_agrees_with_an_integration() -> None:
    """Computed: Darcy's law for an ideal gas, by a general solver of equations.

    V dp/dt = -K A (p² - p_v²)/(2 μ h), to nine tenths of the vacuum.  Tolerance 1e-6.
    """
    case, volume, area, cover = end_case(), 8e-6, np.pi * 0.025**2, 25e-3
    time = empty_time(volume, area, cover, case)[0]
    pump, end = 101_325.0 - 80e3, 101_325.0 - 72e3

    run = solve_ivp(
        lambda _, p: -1e-13 * area * (p**2 - pump**2) / (2 * 3e-5 * cover * volume),
        (0.0, time),
        [101_325.0],
        rtol=1e-10,
        atol=1e-6,
    )

    assert run.y[0, -1] == pytest.approx(end, rel=1e-6)
    assert found().checks[0].empty_time == pytest.approx(time)


def test_thicker_ends_hold_more_and_breathe_less() -> None:
    """By definition."""
    thin, thick = found(0.1).checks[0], found(0.12).checks[0]

    assert thick.stress < thin.stress
    assert thick.empty_time is not None
    assert thin.empty_time is not None
    assert thick.empty_time > thin.empty_time


def test_by_gravity_nothing_is_sucked_empty() -> None:
    """By definition: no pump, no time."""
    assert found(vacuum=0.0, pressure=8e3).checks[0].empty_time is None


def test_a_thin_end_in_a_wide_flask_is_a_stop_and_a_thick_one_good() -> None:
    """Common practice: a thin end is sucked out."""
    thin = far_end_findings(found(0.085, 0.127, vacuum=80e3), flask(height=0.085, diameter=0.127))
    middle = far_end_findings(found(0.1, tensile_strength=0.1e6), flask(height=0.1))
    thick = far_end_findings(found(0.14, permeability=1e-12), flask(height=0.14))

    assert thin[0].level == "STOP"
    assert middle[0].level == "WATCH"
    assert [one.level for one in thick] == ["GOOD", "GOOD"]
    assert "do not pour" in thin[0].text
    assert far_end_findings(found(0.3, permeability=1e-14), flask(height=0.3))[1].level == "WATCH"


def test_a_piece_that_does_not_fit_is_told_elsewhere() -> None:
    """House rule: `mould.checks` says that the flask is too low."""
    end = found(0.06)

    assert [one.rule for one in end.checks] == ["quarter of the diameter", "20 mm"]
    assert far_end_findings(end, flask(height=0.06)) == ()


def test_what_is_no_end_is_refused() -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError, match="cover"):
        plate_stress(np.array([1.0]), 0.03, 0.0)
    with pytest.raises(InputError, match="radius"):
        plate_stress(np.array([1.0]), 0.0, 0.01)
    with pytest.raises(InputError, match="pump"):
        empty_time(1e-6, 1e-3, 0.02, end_case(vacuum=2e5))
    with pytest.raises(InputError, match="volume"):
        empty_time(0.0, 1e-3, 0.02, end_case())
    with pytest.raises(InputError, match="tensile_strength"):
        far_end(planned(), flask(), measures(), end_case(tensile_strength=0.0))
    with pytest.raises(InputError, match="vacuum"):
        far_end(planned(), flask(), measures(), replace(end_case(), vacuum=np.ones(3)))
