"""One step of a body that cools: what is told beforehand agrees with Newton's law."""

import math
from typing import Any

import numpy as np
import pytest

from pourcast.freeze.columns import BASE_HEAT, BASE_TEMPERATURE, CURVE_ROWS, PIECES, SLOPE
from pourcast.freeze.predict import lines
from pourcast.freeze.settle import set_curve
from tests.freeze.voxel_cases import bronze_knots


def as_python(kernel: Any) -> Any:
    """Return a kernel as it is written: one body is not worth compiling for."""
    return getattr(kernel, "py_func", kernel)


@pytest.mark.parametrize(("start", "specific_heat"), [(1500.0, 495.0), (1000.0, 430.0)])
def test_liquid_and_solid_metal_cool_by_the_law_of_newton(
    start: float, specific_heat: float
) -> None:
    """Closed form, Newton (1701): over the mould it falls with exp(-x), x = U t / (m c).

    Metal of one specific heat, all liquid or all solid.  A step meets the face at π²/16 of its
    way, so that it is off by (π²/16 - 1/2) x²: tolerance 5e-5 at x = 0.02.  Found: 4.5e-5.
    """
    curve, level = np.zeros((CURVE_ROWS, PIECES)), np.zeros(PIECES - 1)
    knots = bronze_knots()
    as_python(set_curve)(knots, curve, level)
    step, mould, mass, lost = 0.02, 800.0, 0.01, 0.01 * specific_heat
    liquid = start > knots.liquidus
    piece = 0 if liquid else PIECES - 1
    heat = curve[BASE_HEAT, piece] + (start - curve[BASE_TEMPERATURE, piece]) * specific_heat
    one, none = np.ones(1), np.zeros(1)
    lead, stiff, given = np.zeros(1), np.zeros(1), np.zeros(1)

    as_python(lines)(
        step,
        mould,
        -1e9,
        curve[BASE_HEAT],
        curve[BASE_TEMPERATURE],
        curve[SLOPE],
        mass * one,
        heat * one,
        start * one,
        one / specific_heat,
        lost * one,
        none,
        none,
        none,
        none,
        lead,
        stiff,
        given,
    )

    fall = (given[0] / stiff[0] - mould) / (start - mould)
    assert fall == pytest.approx(math.exp(-lost * step / (mass * specific_heat)), abs=5e-5)
