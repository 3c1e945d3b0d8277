"""Wedges at joints against quadrature."""

import math

import pytest
from scipy.integrate import quad

from pourcast.piece import wedges
from tests.outside.record import record
from tests.piece.make import near

PARENT = 0.004  # m


def gap(x: float) -> float:
    """How far a flat end stands off a round parent, at x from the middle."""
    return PARENT / 2 - math.sqrt(max(0.0, PARENT**2 / 4 - x * x))


def over(half: float, chord: float, disc: bool) -> float:
    """Integral of the gap over a disc, or over a strip as thick as ``chord``."""

    def strip(x: float) -> float:
        return gap(x) * (2 * math.sqrt(max(0.0, half * half - x * x)) if disc else chord)

    return float(quad(strip, -half, half, epsabs=0.0, epsrel=1e-9)[0])


@pytest.mark.parametrize(
    ("share", "tolerance"), [(0.2, 1e-5), (0.5, 5e-4), (0.8, 0.01), (1.0, 0.05)]
)
def test_gap_of_a_round_end_agrees_with_quadrature(share: float, tolerance: float) -> None:
    """Computed: QUADPACK, to 1e-9.

    The tolerance grows as the fourth term of the series, which is left out.
    Found: 1e-6, 3e-4, 0.6 % and 3.7 % short.
    """
    want = over(share * PARENT / 2, 0.0, True)
    got = wedges.round_end_gap(share * PARENT, PARENT)
    record(
        "piece",
        f"gap at a joint, {share:g} of the parent's diameter",
        "QUADPACK",
        got * 1e9,
        want * 1e9,
        "mm³",
        tolerance * want * 1e9,
        kind="reference library",
    )

    assert got == near(want, rel=tolerance)


def test_thin_round_end_has_the_first_term() -> None:
    """Exact: π d⁴ / (64 D), the second moment of the disc over D; next term 1e-4 / 8."""
    got = wedges.round_end_gap(0.01 * PARENT, PARENT)

    assert got == near(math.pi * (0.01 * PARENT) ** 4 / (64 * PARENT), rel=2e-5)


def test_end_wider_than_its_parent_is_taken_as_wide() -> None:
    """Property of the rule: beyond the parent there is nothing to stand off from."""
    assert wedges.round_end_gap(2 * PARENT, PARENT) == wedges.round_end_gap(PARENT, PARENT)
    assert wedges.flat_end_gap(2 * PARENT, 1e-3, PARENT) == near(
        wedges.flat_end_gap(PARENT, 1e-3, PARENT)
    )


@pytest.mark.parametrize(("share", "tolerance"), [(0.2, 0.007), (0.5, 0.04), (1.0, 0.23)])
def test_gap_of_a_flat_end_agrees_with_quadrature(share: float, tolerance: float) -> None:
    """Computed: QUADPACK; only the first term is kept.  Found: 0.6, 4.0 and 22.3 % short."""
    want = over(share * PARENT / 2, 0.0005, False)

    got = wedges.flat_end_gap(share * PARENT, 0.0005, PARENT)
    assert got == near(want, rel=tolerance)
    assert got < want


def test_leaning_end_agrees_with_quadrature() -> None:
    """Computed: QUADPACK over the disc of |x| tan β, for 30°."""
    half, lean = 0.001, math.radians(30)
    want = quad(
        lambda x: 2 * x * math.tan(lean) * 2 * math.sqrt(half * half - x * x),
        0.0,
        half,
        epsabs=0.0,
        epsrel=1e-9,
    )[0]

    assert wedges.leaning_end(2 * half, lean) == near(want, rel=1e-8)


def test_end_that_leans_far_is_taken_as_45_degrees() -> None:
    """Property of the rule (estimate)."""
    assert wedges.leaning_end(0.002, 1.5) == near(0.002**3 / 6)
