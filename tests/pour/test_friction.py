"""Friction: the law of rough pipes against the full law and points of a chart."""

import math

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.piece.model import ROUND
from pourcast.pour.friction import (
    LAMINAR_TO,
    TURBULENT_FROM,
    crystal_factor,
    rough_term,
    turbulent_factor,
    turbulent_share,
)
from pourcast.pour.sections import area, laminar_drag
from tests.outside.record import record


@pytest.mark.parametrize("reynolds", [4e3, 1e4, 5e4, 1e6])
@pytest.mark.parametrize("roughness", [1e-6, 1e-4, 1e-3, 1e-2, 5e-2])
def test_factor_agrees_with_the_full_law(reynolds: float, roughness: float) -> None:
    """Published: the implicit law of Colebrook (1939), solved by the package fluids.

    Haaland (1983) gives his own law to 1.5 % (from memory); 2 % leaves room for
    the rough end.  Found: at most 1.3 %.
    """
    want = float(fluids.friction_factor(Re=reynolds, eD=roughness, Method="Colebrook"))
    got = turbulent_factor(reynolds, rough_term(roughness * 1e-3, 1e-3))

    record(
        "pour",
        "friction factor of a pipe against the implicit law",
        "Colebrook (1939), through the package fluids",
        got,
        want,
        "",
        0.02 * want,
        kind="reference library",
    )
    assert got == pytest.approx(want, rel=0.02)


@pytest.mark.parametrize(
    ("reynolds", "roughness", "chart"),
    [
        (4289.0, 0.0, 0.0391),
        (4289.0, 0.00562, 0.0446),
        (15923.0, 0.0, 0.0274),
        (15923.0, 0.00562, 0.0362),
    ],
)
def test_factor_agrees_with_points_of_a_friction_chart(
    reynolds: float, roughness: float, chart: float
) -> None:
    """Published: Darcy's factor read off a chart, 0.0391 to 0.0274.

    Source: friction chart of Moody in public fire-test data.  Tolerance 10 %:
    what reading such a chart and the uncertain law near Re 4000 leave.  Found:
    within 1.2 %.
    """
    got = turbulent_factor(reynolds, rough_term(roughness * 1e-3, 1e-3))

    record(
        "pour",
        f"friction factor at Re {reynolds:.0f}, roughness {roughness:g} of the bore",
        "friction chart of Moody, public fire-test data",
        got,
        chart,
        "",
        0.10 * chart,
        kind="measured",
    )
    assert got == pytest.approx(chart, rel=0.10)


@given(reynolds=st.floats(1.0, 2000.0))
def test_slow_flow_in_a_round_passage_has_the_factor_64_over_reynolds(reynolds: float) -> None:
    """Published: f = 64/Re for laminar flow in a pipe, exact."""
    diameter, density, viscosity = 2e-3, 7550.0, 5e-3
    speed = reynolds * viscosity / (density * diameter)

    flow = speed * area(ROUND, diameter, diameter)
    drop = laminar_drag(ROUND, diameter, diameter, viscosity) * flow
    factor = drop * diameter / (0.5 * density * speed * speed)

    assert factor * reynolds == pytest.approx(64.0, rel=1e-9)


def test_a_wall_without_roughness_is_smooth() -> None:
    assert rough_term(0.0, 1e-3) == 0.0


@pytest.mark.parametrize(
    ("reynolds", "share"),
    [(0.0, 0.0), (LAMINAR_TO, 0.0), (3000.0, 0.5), (TURBULENT_FROM, 1.0), (1e5, 1.0)],
)
def test_flow_goes_over_to_turbulent_between_two_reynolds_numbers(
    reynolds: float, share: float
) -> None:
    """From memory: laminar below 2000, turbulent above 4000, handbook values."""
    assert turbulent_share(reynolds) == pytest.approx(share)


@given(low=st.floats(0.0, 0.6), step=st.floats(0.0, 0.4), choke=st.floats(0.3, 0.8))
def test_more_crystals_never_drag_less(low: float, step: float, choke: float) -> None:
    """Metal without crystals is not slowed; the factor grows up to 156 and stays there."""
    less, more = crystal_factor(low, choke), crystal_factor(low + step, choke)

    assert crystal_factor(0.0, choke) == 1.0
    assert 1.0 <= less <= more <= 1.0 / 0.08**2 * (1.0 + 1e-9)


def test_crystals_at_half_the_choking_share_drag_fourfold() -> None:
    """By hand: (1 - 1/2)^-2; an estimate of the shape of Krieger and Dougherty (1959).

    That law at half of the greatest packing gives (1 - 1/2)^-1.6 to -2 (from
    memory, exponent 1.6 to 2): 3.0 to 4.0.
    """
    got = crystal_factor(0.3, 0.6)

    assert got == pytest.approx(4.0)
    assert math.pow(0.5, -1.6) <= got <= math.pow(0.5, -2.0) * (1.0 + 1e-12)
