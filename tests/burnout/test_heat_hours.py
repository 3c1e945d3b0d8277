"""Hours and heat of three flasks against those of a first trial of the same equations.

The trial was another program, so these are numbers of our own; its kiln went to a
hold at 118 K/h, as in its day of six hours to 730 °C.
"""

import numpy as np
import pytest

from pourcast.burnout.days import heat_days, heat_days_with_account
from tests.burnout.heat_cases import RAMP, curve, flask

TRIAL_HOURS = {
    ("127x178", 150.0): 24.0,
    ("127x178", 250.0): 9.9,
    ("127x178", 370.0): 6.7,
    ("100x150", 150.0): 17.0,
    ("100x150", 250.0): 7.2,
    ("100x150", 370.0): 5.2,
    ("75x100", 150.0): 11.0,
    ("75x100", 250.0): 5.0,
    ("75x100", 370.0): 3.9,
}


@pytest.mark.parametrize(("size", "celsius"), list(TRIAL_HOURS))
def test_regression_hours_until_dry(size: str, celsius: float) -> None:
    """First trial; tolerance 15 %, as the plan asks.  Found: 8 % short to 3 % long."""
    ramp = (celsius - 20.0) * 6.0 / 710.0
    days = heat_days(flask(size), curve((0, 20), (ramp, celsius), (30, celsius)))

    assert float(days.dry_at[0]) / 3600.0 == pytest.approx(TRIAL_HOURS[size, celsius], rel=0.15)


def test_regression_where_the_heat_of_the_day_goes() -> None:
    """First trial: 5.3 MJ to 730 °C, 41 % boils free water, 12.5 % dries gypsum.

    Tolerance 15 % of each.  Found: 5.75 MJ, 38 and 11 %: the steam takes up heat on its way out
    through the hot shell, which the trial did not count, and makes all shares smaller.
    """
    days, account = heat_days_with_account(flask("127x178"), RAMP)
    total = float(days.heat_taken[0])

    assert total == pytest.approx(5.3e6, rel=0.15)
    assert float(account.boiling[0]) / total == pytest.approx(0.41, rel=0.15)
    assert float(account.gypsum[0]) / total == pytest.approx(0.125, rel=0.15)


def test_regression_core_is_still_boiling_when_the_kiln_is_almost_at_the_top() -> None:
    """First trial: core at 100 °C after 5.5 h of the six-hour ramp.  Found: dry after 5.47 h."""
    days = heat_days(flask("127x178"), RAMP)

    before = days.time < 5.4 * 3600.0
    assert days.core[0][before].max() < 273.15 + 110.0
    assert float(days.dry_at[0]) == pytest.approx(5.5 * 3600.0, rel=0.05)


def test_regression_pressure_of_steam() -> None:
    """First trial: 60 to 210 kPa in a closed flask, 8 to 17 kPa in an open one.

    Orders of magnitude, so a factor of two at both ends.  Gap of 15 µm, 1e-13 m².  Found: closed
    58 to 132 kPa, bare 17 to 32 kPa; over the span of the permeability 26 to 245 and 3 to 115 kPa.
    """
    for size in ("127x178", "100x150", "75x100"):
        gap = np.array([1.5e-5])
        closed = heat_days(
            flask(size, wall="solid", contact_conductance=500.0, flask_gap=gap), RAMP
        )
        bare = heat_days(flask(size), RAMP)

        assert 30e3 < closed.overpressure.max() < 420e3
        assert 4e3 < bare.overpressure.max() < 34e3
        assert closed.overpressure.max() > 2.0 * bare.overpressure.max()
