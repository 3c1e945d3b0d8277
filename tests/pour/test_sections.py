"""Sections: area, girth and laminar drag against closed forms and printed constants."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe

from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND
from pourcast.pour.sections import area, girth, laminar_drag, mean_area
from tests.outside.record import record

SIZES = st.floats(1e-4, 2e-2)

WATERLIKE = 1e-3  # Pa·s; any value does, the drag is proportional to it


def _friction_times_reynolds(width: float, thickness: float) -> float:
    """Return f·Re of Fanning's factor from the drag: f Re = dp/dx · D² · area / (2 μ Q)."""
    across = area(RECTANGLE, width, thickness)
    bore = 4.0 * across / girth(RECTANGLE, width, thickness)
    drag = laminar_drag(RECTANGLE, width, thickness, WATERLIKE)
    return drag * bore * bore * across / (2.0 * WATERLIKE)


@pytest.mark.parametrize(
    ("ratio", "printed"),
    [(1.0, 14.227), (2.0, 15.548), (4.0, 18.233), (8.0, 20.585)],
)
def test_drag_of_rectangles_agrees_with_the_table_of_exact_solutions(
    ratio: float, printed: float
) -> None:
    """Published: f·Re 14.227 in a square, 15.548, 18.233 and 20.585 at 2, 4 and 8 to 1.

    Source: Shah and London (1978), Laminar Flow Forced Convection in Ducts,
    table for rectangles, from memory.  Tolerance 0.1 %: the series is a fit of
    five terms, its own error is given as 0.05 %.  Found: at most 0.06 % (2 to 1).
    """
    got = _friction_times_reynolds(ratio * 1e-3, 1e-3)

    record(
        "pour",
        "friction times Reynolds number in a rectangle",
        "Shah and London (1978), from memory",
        got,
        printed,
        "",
        1e-3 * printed,
        kind="table",
    )
    assert got == pytest.approx(printed, rel=1e-3)


def test_a_wide_slot_drags_as_two_plates() -> None:
    """Published: between parallel plates the drag is 12 μ / (w t³).

    Source: plane Poiseuille flow, any hydraulics text.  A slot 10 000 times as
    wide as thick loses 0.6 of a thickness to its two ends: 0.006 %.  Found: 0.006 %.
    Tolerance 0.1 %: the last figure of the series' coefficients.
    """
    width, thickness = 10.0, 1e-3

    got = laminar_drag(RECTANGLE, width, thickness, WATERLIKE)

    assert got == pytest.approx(12.0 * WATERLIKE / (width * thickness**3), rel=1e-3)


def test_drag_of_a_round_passage_is_that_of_hagen_and_poiseuille() -> None:
    """Published: pressure drop 32 μ v / d² per metre; exact, so to rounding."""
    diameter, speed = 2e-3, 0.3

    flow = speed * area(ROUND, diameter, diameter)
    drop = laminar_drag(ROUND, diameter, diameter, 5e-3) * flow

    assert drop == pytest.approx(32.0 * 5e-3 * speed / diameter**2, rel=1e-12)


@given(diameter=SIZES)
def test_an_oval_of_equal_axes_is_round(diameter: float) -> None:
    """A circle is an ellipse: area, girth and drag agree to rounding."""
    for of in (area, girth):
        assert of(ELLIPSE, diameter, diameter) == pytest.approx(
            of(ROUND, diameter, diameter), rel=1e-12
        )
    assert laminar_drag(ELLIPSE, diameter, diameter, 5e-3) == pytest.approx(
        laminar_drag(ROUND, diameter, diameter, 5e-3), rel=1e-12
    )


@pytest.mark.parametrize("ratio", [1.0, 2.0, 5.0])
def test_girth_of_an_oval_agrees_with_the_elliptic_integral(ratio: float) -> None:
    """Published: the girth of an ellipse is 4 a E(1 - b²/a²), exact.

    Source: complete elliptic integral of scipy.  Tolerance
    0.1 %: Ramanujan's form is short.  Found: 0.02 % short at 5 to 1, less below.
    """
    half = 0.5e-3 * ratio

    exact = 4.0 * half * float(ellipe(1.0 - 1.0 / ratio**2))
    got = girth(ELLIPSE, 2.0 * half, 1e-3)

    assert got == pytest.approx(exact, rel=1e-3)


@given(width=SIZES, thickness=SIZES)
def test_turning_a_section_by_a_quarter_changes_nothing(width: float, thickness: float) -> None:
    """The wall does not know which side is called its width."""
    for section in (RECTANGLE, ELLIPSE):
        for of in (area, girth):
            assert of(section, width, thickness) == pytest.approx(
                of(section, thickness, width), rel=1e-12
            )
        assert laminar_drag(section, width, thickness, 5e-3) == pytest.approx(
            laminar_drag(section, thickness, width, 5e-3), rel=1e-9
        )


def test_a_tapering_rod_holds_the_volume_of_a_cone_frustum() -> None:
    """Published: π h (R² + R r + r²)/3, exact; for a cone to a point a third of the cylinder."""
    frustum = math.pi / 3.0 * (1.0 + 0.5 + 0.25) * 1e-6

    assert mean_area(ROUND, 2e-3, 2e-3, 1e-3, 1e-3) == pytest.approx(frustum, rel=1e-12)
    assert mean_area(ROUND, 2e-3, 2e-3, 0.0, 0.0) == pytest.approx(
        area(ROUND, 2e-3, 2e-3) / 3.0, rel=1e-12
    )


@given(start=st.tuples(SIZES, SIZES), end=st.tuples(SIZES, SIZES))
def test_mean_area_is_the_integral_of_the_area_along_the_passage(
    start: tuple[float, float], end: tuple[float, float]
) -> None:
    """Simpson's rule is exact for the square law that a straight taper gives."""
    for section in (RECTANGLE, ELLIPSE):
        middle = [0.5 * (one + other) for one, other in zip(start, end, strict=True)]
        areas = [area(section, *sizes) for sizes in (start, middle, end)]

        got = mean_area(section, *start, *end)

        assert got == pytest.approx(float(np.dot([1, 4, 1], areas)) / 6.0, rel=1e-12)
