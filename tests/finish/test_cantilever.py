"""Sections: their moduli and second moments."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.finish.cantilever import second_moment, section_area, section_modulus
from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND
from tests.outside.record import record

NAMES = {ROUND: "round", RECTANGLE: "flat", ELLIPSE: "oval"}
KINDS = np.array(list(NAMES))


@pytest.mark.parametrize(
    ("kind", "width", "thickness", "modulus", "moment"),
    [
        (ROUND, 3e-3, 3e-3, math.pi * 27e-9 / 32, math.pi * 81e-12 / 64),
        (RECTANGLE, 6e-3, 0.5e-3, 6e-3 * 0.25e-6 / 6, 6e-3 * 0.125e-9 / 12),
        (ELLIPSE, 4e-3, 2e-3, math.pi * 4e-3 * 4e-6 / 32, math.pi * 4e-3 * 8e-9 / 64),
    ],
)
def test_sections_agree_with_the_tables(
    kind: int, width: float, thickness: float, modulus: float, moment: float
) -> None:
    """Roark, Formulas for Stress and Strain, table of sections, from memory; exact formulas."""
    sizes = np.array([width]), np.array([thickness])

    got = section_modulus(np.array([kind]), *sizes)[0], second_moment(np.array([kind]), *sizes)[0]

    assert got == pytest.approx((modulus, moment), rel=1e-14, abs=0.0)


@pytest.mark.parametrize("kind", [ROUND, RECTANGLE, ELLIPSE])
def test_sections_agree_with_a_count_of_small_squares(kind: int) -> None:
    """By definition: I is the sum of y² over the section, Z is I over the farthest y.

    Tolerance 1 %: squares of 1/400 of the section, and the rounding of an edge.
    Found: under 0.2 %.
    """
    width, thickness = (2e-3, 2e-3) if kind == ROUND else (5e-3, 1e-3)
    x, y = np.meshgrid(*[(np.arange(400) + 0.5) / 400 - 0.5] * 2)
    inside = np.ones_like(x, dtype=bool) if kind == RECTANGLE else x**2 + y**2 < 0.25
    cell = width * thickness / 400**2
    counted = (inside * (y * thickness) ** 2).sum() * cell

    got = second_moment(np.array(kind), np.array(width), np.array(thickness))
    area = section_area(np.array(kind), np.array(width), np.array(thickness))

    assert got == pytest.approx(counted, rel=0.01, abs=0.0)
    assert section_modulus(np.array(kind), np.array(width), np.array(thickness)) == pytest.approx(
        counted / (thickness / 2), rel=0.01, abs=0.0
    )
    assert area == pytest.approx(inside.sum() * cell, rel=0.01, abs=0.0)
    record(
        "finish",
        f"second moment of a {NAMES[kind]} section",
        "count of small squares",
        float(got / counted),
        1.0,
        "",
        0.01,
        kind="closed form",
    )


@given(st.floats(1e-5, 0.1), st.floats(1e-5, 0.1), st.floats(1.01, 3.0))
def test_a_section_bends_the_weak_way(width: float, thickness: float, more: float) -> None:
    """By definition: turning the section changes nothing, and more metal never weakens it."""
    one, other = np.full(3, width), np.full(3, thickness)

    as_is = section_modulus(KINDS, one, other)

    assert (as_is == section_modulus(KINDS, other, one)).all()
    assert (section_modulus(KINDS, one * more, other) >= as_is).all()
    assert (second_moment(KINDS, one, other * more) > 0.0).all()
    assert section_modulus(KINDS, one * more, other * more) == pytest.approx(
        as_is * more**3, rel=1e-9, abs=0.0
    )


@pytest.mark.parametrize("size", [0.0, -1e-3, math.nan, math.inf])
@pytest.mark.parametrize("call", [section_modulus, second_moment, section_area])
def test_a_size_that_is_none_is_refused(call: object, size: float) -> None:
    """House rule: a stated limit is a kept limit."""
    good, bad = np.array([1e-3]), np.array([size])

    for sizes in ((good, bad), (bad, good)):
        with pytest.raises(InputError, match="must be greater than 0"):
            call(np.array([ROUND]), *sizes)  # type: ignore[operator]
