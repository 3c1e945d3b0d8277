"""Limits: true thickness of each member, draw by draw."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.finish.chain import bearers
from pourcast.finish.limits import first_to_bend, part_limits
from pourcast.finish.model import Limits, Strength
from pourcast.piece.model import Network
from tests.finish.beams import YIELD, YOUNGS, limits, loads, network, rows, strength
from tests.piece.make import few, part
from tests.strategies import networks
from tests.strategies_finish import limits as drawn_limits
from tests.strategies_finish import scales, strengths

STEM = part("stem", length=0.05, width=0.003)
LEAVES = part("leaf", "stem", shape="blade", count=3, length=0.02, width=0.005,
              thickness=0.0006, position=0.6, angle=60.0)  # fmt: skip


@pytest.mark.parametrize("scale", [0.7, 0.9, 1.3])
def test_a_thicker_casting_bears_as_its_sizes_say(scale: float) -> None:
    """By geometry: the same piece measured anew, all sections larger and lengths as they were.

    The leaves start farther out on a thicker stem, which moves levers by 1 %.
    """
    push = loads(hand_brush=1e-3, light_blast=1.0)
    stem = part("stem", length=0.05, width=0.003 * scale)
    leaves = part("leaf", "stem", shape="blade", count=3, length=0.02, width=0.005 * scale,
                  thickness=0.0006 * scale, position=0.6, angle=60.0)  # fmt: skip

    scaled, measured = limits(STEM, LEAVES, scale=scale, push=push), limits(stem, leaves, push=push)

    for name in ("tip_force", "middle_force", "end_force", "pressure", "deflection",
                 "blast_deflection"):  # fmt: skip
        got, want = getattr(scaled, name), getattr(measured, name)
        assert got == pytest.approx(want, rel=0.03, abs=0.0), name


def test_one_thin_member_decides_for_its_part() -> None:
    """By equation (1) of the limits: 0.8³ of the force, 1/0.8⁴ of the deflection."""
    made = network(STEM, LEAVES)
    factors = np.ones((2, 4))
    factors[1, 2] = 0.8

    found = part_limits(made, bearers(made), strength(2), factors, loads(draws=2))

    assert found.tip_force[1, 1] == pytest.approx(0.8**3 * found.tip_force[0, 1], rel=1e-12)
    assert found.pressure[1, 1] == pytest.approx(0.8**2 * found.pressure[0, 1], rel=1e-12)
    assert found.end_force[1, 1] == pytest.approx(0.8**4 * found.end_force[0, 1], rel=1e-12)
    assert found.tip_force[1, 0] == found.tip_force[0, 0]


def test_the_brush_bends_no_farther_than_to_the_yield() -> None:
    """Roark, from memory: at the yield an even rod has moved by σ L²/(1.5 E d)."""
    rod = part(length=0.06, width=0.001)

    got = limits(rod, push=loads(hand_brush=1e3)).deflection[0, 0]

    assert got == pytest.approx(YIELD * 0.06**2 / (1.5 * YOUNGS * 0.001), rel=1e-9, abs=0.0)


def test_a_blast_meets_what_a_part_grows_on() -> None:
    """House choice: the spot of a blast is far wider than a hair on a wing."""
    wing = part("wing", shape="blade", length=0.03, width=0.01, thickness=0.0004)
    hair = part("hair", "wing", length=0.003, width=0.001, position=0.5, angle=90.0)

    found = limits(wing, hair)

    assert found.pressure[0, 1] == found.pressure[0, 0]


def test_what_bends_first_is_the_thin_stem_under_a_stout_head() -> None:
    """By statics: a head of 10 mm on a stem of 2 mm."""
    made = network(
        part("stem", length=0.05, width=0.002),
        part("head", "stem", shape="lump", length=0.012, width=0.01),
        part("hair", "head", length=0.004, width=0.0004, position=0.5, angle=80.0),
    )

    assert first_to_bend(made, bearers(made)) == ("stem", "stem", "hair")


@few
@given(networks().flatmap(lambda made: st.tuples(st.just(made), scales(made), strengths())))
def test_every_limit_is_that_of_the_worst_member(
    drawn: tuple[Network, np.ndarray, Strength],
) -> None:
    """By definition, worked out member by member with plain loops."""
    made, factors, metal = drawn
    found = bearers(made)
    got = part_limits(made, found, metal, factors, loads(draws=3))
    for part_ in range(len(made.part_names)):
        for draw in range(3):
            least = min(
                found.tip[row] * factors[draw, found.bearer[row]] ** 3
                for row in range(found.loaded.size)
                if made.member_part[found.loaded[row]] == part_
            )
            want = least * metal.yield_strength[draw]

            assert got.tip_force[draw, part_] == pytest.approx(want, rel=1e-9, abs=0.0)


@few
@given(drawn_limits())
def test_limits_of_any_piece_are_above_nothing(found: Limits) -> None:
    """By physics: metal bears something."""
    for name in found.__slots__:
        values = getattr(found, name)
        assert np.isfinite(values).all()
        assert (values > 0.0).all(), name


@pytest.mark.parametrize(
    ("metal", "factors", "push", "must"),
    [
        (strength(2), np.ones((1, 4)), loads(draws=2), r"of shape \(2, 4\)"),
        (strength(1), np.ones((1, 3)), loads(), r"of shape \(1, 4\)"),
        (strength(1), np.zeros((1, 4)), loads(), "greater than 0"),
        (strength(1), np.ones((1, 4)), loads(draws=2), "1, as of the yield strength"),
        (strength(1), np.ones((1, 4)), loads(hand_brush=-1.0), "0 or more"),
        (
            Strength(yield_strength=np.array([-1.0]), youngs_modulus=np.array([1e11])),
            np.ones((1, 4)),
            loads(),
            "greater than 0",
        ),
    ],
)
def test_what_does_not_go_together_is_refused(
    metal: Strength, factors: np.ndarray, push: object, must: str
) -> None:
    """House rule: a stated limit is a kept limit."""
    made = network(STEM, LEAVES)

    with pytest.raises(InputError, match=must):
        part_limits(made, rows(STEM, LEAVES), metal, factors, push)  # type: ignore[arg-type]
