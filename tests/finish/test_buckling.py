"""A push on the end of a part: Euler's force and that of tapers."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from pourcast.errors import InputError
from pourcast.finish.buckling import end_stiffness, of_parts
from tests.finish.beams import (
    YIELD,
    YOUNGS,
    along,
    end_force_of_tapered_beam,
    limits,
    network,
    round_moment,
)
from tests.outside.record import record
from tests.piece.make import few, part


def taper(power: int, ratio: float) -> float:
    """Return P L²/(E I of the root) of a column whose I goes from 1 to ``ratio`` at its tip."""
    x = np.linspace(ratio ** (1 / power), 1.0, 401)
    return float(end_stiffness((x**power)[None], np.array([1.0]))[0])


def test_an_even_rod_bows_out_at_the_force_of_euler() -> None:
    """Euler: π² E I/(4 L²).  Tolerance 1e-5: steps of the integral.  Found: 3e-6."""
    slim = part(length=0.08, width=0.0008)

    got = limits(slim).end_force[0, 0]

    want = math.pi**2 * YOUNGS * round_moment(0.0008) / (4 * 0.08**2)
    record(
        "finish",
        "end push on a slim rod",
        "Euler, π²EI/4L²",
        got,
        want,
        "N",
        1e-5 * want,
        kind="closed form",
    )
    assert got == pytest.approx(want, rel=1e-5, abs=0.0)


def test_push_that_bows_a_rod_falls_with_the_square_of_its_length() -> None:
    """Measured: struts of wood gave way at loads that fell with the square of their lengths.

    Source: van Musschenbroek (1729), Introductio ad cohaerentiam corporum firmorum, as told in
    Timoshenko (1953), History of Strength of Materials, ch. 3, from memory; he found it by
    breaking struts, Euler derived it in 1744.  Tolerance 0.05 of the power: his lengths and
    scatter are not told there.  Found: -2.000.
    """
    lengths = np.array([0.04, 0.06, 0.08, 0.12])

    force = [limits(part(length=float(each), width=0.0008)).end_force[0, 0] for each in lengths]

    got = float(np.polyfit(np.log(lengths), np.log(force), 1)[0])
    record("finish", "power of the length in the end push on a slim rod",
           "van Musschenbroek (1729), in Timoshenko (1953), from memory",
           got, -2.0, "", 0.05, kind="measured")  # fmt: skip
    assert got == pytest.approx(-2.0, abs=0.05)


@pytest.mark.parametrize(
    ("power", "ratio", "factor"),
    [
        (2, 0.1, 1.350), (2, 0.2, 1.593), (2, 0.4, 1.904), (2, 0.6, 2.128), (2, 0.8, 2.311),
        (4, 0.1, 1.202), (4, 0.2, 1.505), (4, 0.4, 1.870), (4, 0.6, 2.116), (4, 0.8, 2.308),
    ],
)  # fmt: skip
def test_tapers_agree_with_the_table_of_timoshenko(power: int, ratio: float, factor: float) -> None:
    """Timoshenko and Gere (1961), Theory of Elastic Stability, columns with I as x^n, from memory.

    Tolerance 0.002.  Found: 0.0018 for x² and 0.2, where the closed form of the next
    test has 1.5912 as we do, 0.0010 for x⁴ and 0.1, else under 0.0006: the misses
    are of the table, or of the memory of it.
    """
    got = taper(power, ratio)

    record(
        "finish",
        f"end push on a taper, I as x^{power}, tip {ratio:g}",
        "Timoshenko and Gere (1961), from memory",
        got,
        factor,
        "E I/L²",
        0.002,
        kind="closed form",
    )
    assert got == pytest.approx(factor, abs=0.002)


@given(st.floats(0.2, 0.95))
@few
def test_a_cone_agrees_with_the_closed_form(thin: float) -> None:
    """Exact: u = x sin(k/a - k/x) solves E I u'' + P u = 0 where I goes as x⁴.

    The root asks tan θ = -k/b with θ = k/a - k/b; a, b from the point of the cone
    to its tip and root.  Tolerance 1e-4: steps of the integral.  Found: 3e-5.
    """
    b = 1.0 / (1.0 - thin)
    a = b - 1.0
    theta = brentq(
        lambda t: math.sin(t) + t / (b / a - 1.0) * math.cos(t), math.pi / 2, math.pi - 1e-12
    )
    exact = (theta / (1.0 / a - 1.0 / b)) ** 2 / b**4

    assert taper(4, thin**4) == pytest.approx(exact, rel=1e-4, abs=0.0)


@given(st.floats(0.2, 0.95))
@few
def test_a_taper_of_the_square_agrees_with_the_closed_form(thin: float) -> None:
    """Exact: u = √x sin(β ln(x/a)) solves it where I goes as x², and tan(β ln(b/a)) = -2 β.

    Tolerance 1e-4: steps of the integral.  Found: 1e-5.
    """
    b = 1.0 / (1.0 - thin)
    a = b - 1.0
    log = math.log(b / a)
    beta = brentq(
        lambda t: math.sin(t * log) + 2.0 * t * math.cos(t * log),
        math.pi / 2 / log,
        (math.pi - 1e-12) / log,
    )
    exact = (beta**2 + 0.25) / b**2

    assert taper(2, thin**2) == pytest.approx(exact, rel=1e-4, abs=0.0)


def test_a_leaf_agrees_with_finite_elements() -> None:
    """General method: 100 beam elements, least force of the eigenvalue problem.

    Tolerance 0.05 %: elements of even section.  Found: 0.007 %.
    """
    leaf = part(shape="blade", length=0.04, width=(0.006, 0.002), thickness=(0.0006, 0.0003))
    broad, thin = along(0.006, 0.002, 0.04), along(0.0006, 0.0003, 0.04)

    got = limits(leaf).end_force[0, 0]

    want = end_force_of_tapered_beam(0.04, lambda x: broad(x) * thin(x) ** 3 / 12)
    record(
        "finish",
        "end push on a leaf",
        "finite elements",
        got,
        want,
        "N",
        5e-4 * want,
        kind="reference library",
    )
    assert got == pytest.approx(want, rel=5e-4, abs=0.0)


def test_a_stub_is_crushed_before_it_bows_out() -> None:
    """By definition: yield strength times the thinnest section."""
    stub = part(length=0.004, width=(0.003, 0.002))

    assert limits(stub).end_force[0, 0] == pytest.approx(
        YIELD * math.pi / 4 * 0.002**2, rel=1e-6, abs=0.0
    )


def test_order_of_the_integral_is_two() -> None:
    """By definition of the trapezium rule: half the step, a quarter of the error."""
    exact = math.pi**2 / 4
    errors = [
        abs(float(end_stiffness(np.ones((1, steps + 1)), np.array([1.0]))[0]) - exact)
        for steps in (10, 20, 40, 80)
    ]

    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))

    assert orders == pytest.approx(2.0, abs=0.1)
    assert errors[-1] < 1e-3


@few
@given(st.floats(0.01, 0.08), st.floats(3e-4, 3e-3), st.floats(0.2, 1.0))
def test_the_force_lies_between_those_of_thinnest_and_thickest(
    length: float, width: float, thin: float
) -> None:
    """By physics: more metal anywhere never lowers it."""
    got = of_parts(network(part(length=length, width=(width, thin * width))))[0][0]

    low, high = (
        math.pi**2 * round_moment(size) / (4 * length**2) for size in (thin * width, width)
    )
    assert low * (1 - 1e-4) <= got <= high * (1 + 1e-4)


@pytest.mark.parametrize(("moment", "length"), [(0.0, 1.0), (1.0, 0.0), (math.nan, 1.0)])
def test_a_column_of_nothing_is_refused(moment: float, length: float) -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError, match="greater than 0"):
        end_stiffness(np.full((1, 5), moment), np.array([length]))
