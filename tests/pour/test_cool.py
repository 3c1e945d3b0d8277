"""Cool: a parcel between a cold wall and a warm mouth."""

import math

import pytest
from scipy.integrate import solve_ivp

from pourcast.pour.cool import NO_FEED, warmed_from_mouth
from pourcast.pour.heat import Curve

BRONZE = Curve(1244.15, 1208.15, 1094.15, 517.0, 108e3)
CONDUCTION = 55.0 / 7550.0  # W·m²/(kg·K), conductivity over density


@pytest.mark.parametrize("front", [0.2e-3, 1e-3, 5e-3])
@pytest.mark.parametrize("step", [1e-4, 1e-2, 1.0])
def test_a_parcel_cools_and_is_warmed_as_a_general_solver_says(front: float, step: float) -> None:
    """By a general solver: liquid metal that the wall and a narrow mouth pull at together.

    Source: scipy, solve_ivp.  Without latent heat dH/dt = -c + 2 k (H_mouth - H) / (ρ c_p x²),
    which one step meets to rounding; the solver is asked for 1e-9.  While the wall took its
    share first, the parcel was up to half a step's loss too warm.
    """
    begun, mouth, loss = 20e3, 22e3, 8e3 / step
    rate = 2.0 * CONDUCTION / (front * front * BRONZE.specific_heat)

    ended = warmed_from_mouth(begun, begun - loss * step, mouth, front, step, CONDUCTION, BRONZE)

    exact = solve_ivp(
        lambda _, heat: -loss + rate * (mouth - heat),
        (0.0, step),
        [begun],
        method="LSODA",
        rtol=1e-9,
        atol=1e-6,
    ).y[0, -1]
    assert ended == pytest.approx(exact, abs=0.01)


def test_a_mouth_that_is_colder_takes_nothing() -> None:
    assert warmed_from_mouth(20e3, 15e3, NO_FEED, 1e-3, 0.01, CONDUCTION, BRONZE) == 15e3
    assert math.isclose(warmed_from_mouth(20e3, 15e3, 14e3, 1e-3, 0.01, CONDUCTION, BRONZE), 15e3)
