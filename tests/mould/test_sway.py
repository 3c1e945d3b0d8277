"""How members move: cantilever tables, a frame by hand, finite elements, chains."""

import math

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.mould.model import Limbs, Patterns
from pourcast.mould.patterns import BOTH, LIFT_CORE, VISCOUS, YIELD
from pourcast.mould.places import section_moments
from pourcast.mould.sway import compliance, sway
from tests.finish.beams import tip_of_tapered_beam
from tests.mould.slurries import case, unit_loads
from tests.outside.record import record
from tests.piece.make import part

FLAT = 90.0
"""Degrees from straight down: a part that lies level."""


def tip_shift(twist: np.ndarray, tip: np.ndarray) -> np.ndarray:
    """Return how a point moves under a twist about the gate."""
    return np.asarray(twist[:3] + np.cross(twist[3:], tip))


def moved(
    found: Limbs, unit: Patterns, pattern: int, factor: float = 1.0, youngs: float = 1.0
) -> tuple[np.ndarray, np.ndarray]:
    """Return own and whole shift of each tip under one pattern, shape (members, 3)."""
    members = found.first.size
    numbers = [((pattern,), np.full((members, 1, 1), factor))]
    own, whole, _ = sway(found, unit, np.full((members, 1), 1.0 / youngs), numbers)
    return tuple(  # type: ignore[return-value]
        np.array([tip_shift(t[m, 0, :, 0], found.tip[m]) for m in range(members)])
        for t in (own, whole)
    )


def test_an_even_load_bends_a_rod_as_the_tables_have_it() -> None:
    """Published: δ = w L⁴/(8 E I) for a cantilever under an even load.

    Source: beam tables (Roark; Gere), from memory; exact.  The load is the lift of a
    level rod of 1 mm and 40 mm in slurry that is 865 kg/m³ denser.  Tolerance: rounding.
    """
    _, found, unit = unit_loads(part(length=0.04, width=1e-3, angle=FLAT))

    own, _ = moved(found, unit, LIFT_CORE, 865.0, 3e8)

    load = 865.0 * 9.80665 * math.pi / 4 * 1e-6
    want = load * 0.04**4 / (8 * 3e8 * math.pi * 1e-12 / 64)
    record(
        "mould",
        "lift of a level stalk",
        "w L⁴/8EI, beam tables",
        1e3 * float(np.linalg.norm(own[0])),
        1e3 * want,
        "mm",
        1e-6,
        kind="closed form",
    )
    assert own[0] == pytest.approx([0.0, 0.0, -want], rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("length", [0.02, 0.04, 0.08])
def test_a_load_on_the_tip_bends_a_rod_with_the_cube_of_its_length(length: float) -> None:
    """Published: F L³/(3 E I), F L²/(2 E I), and M L²/(2 E I) for a moment.

    Source: beam tables, exact.  Measured: bending of dandelion stems goes with L³
    (Greene and Greene 2015, Aust J Bot 63, 512).  Tolerance: rounding.
    """
    _, found, unit = unit_loads(
        part("stem", length=length, width=1e-3, angle=FLAT),
        part("bud", "stem", length=1e-4, width=1e-3),
    )
    tip = found.tip[0]
    force = np.array([0.0, 0.0, 1.0])
    push = unit.stretch[0] @ np.concatenate([force, np.cross(tip, force)])
    turn = unit.stretch[0] @ np.concatenate([np.zeros(3), [0.0, 1.0, 0.0]])

    bends = math.pi * 1e-12 / 64
    power = math.log(3 * bends * float(np.linalg.norm(tip_shift(push, tip)))) / math.log(length)
    claim, source = "power of the length in the bending of a stem", "Greene and Greene (2015)"
    record(
        "mould", claim, f"{source}, Aust. J. Bot. 63, 512", power, 3.0, "", 1e-6, kind="measured"
    )
    assert np.linalg.norm(tip_shift(push, tip)) == pytest.approx(length**3 / 3 / bends, rel=1e-9)
    assert np.linalg.norm(push[3:]) == pytest.approx(length**2 / 2 / bends, rel=1e-9)
    assert np.linalg.norm(tip_shift(turn, tip)) == pytest.approx(length**2 / 2 / bends, rel=1e-9)


def test_a_bent_arm_bends_and_twists_its_stem() -> None:
    """By hand: a level stem of length a with a level arm of length b square to it at its tip.

    A force F up on the tip of the arm moves it by F b³/3EI + F a³/3EI + F b² a/GJ, the
    last by the twist of the stem.  Source: statics; Castigliano.  G J = 2 E I/2.6 for
    a round stem.  The arm stands on the surface of the stem, half a thickness aside,
    which lengthens the lever of the twist; it is taken into the sum by hand.
    """
    a, b, d = 0.03, 0.02, 1e-3
    _, found, unit = unit_loads(
        part("stem", length=a, width=d, angle=FLAT),
        part("arm", "stem", length=b, width=d, angle=FLAT, turn=90.0),
        part("bud", "arm", length=1e-4, width=d),
    )
    arm = found.tip[1]
    assert arm[2] == pytest.approx(0.0, abs=1e-9)
    force = np.array([0.0, 0.0, -1.0])
    wrench = np.concatenate([force, np.cross(arm, force)])

    stem_by, arm_by = (tip_shift(unit.stretch[i] @ wrench, arm) for i in range(2))
    through = stem_by + arm_by

    bends = math.pi * d**4 / 64
    twists = 2 * bends / 2.6
    lever = abs(arm[1])
    over = abs(arm[0])  # the arm grows from the end face: over the stem's own tip
    stem = a**3 / 3 + (over - a) * a**2 + (over - a) ** 2 * a
    want = b**3 / (3 * bends) + stem / bends + lever**2 * a / twists
    assert -through[2] == pytest.approx(want, rel=1e-6)


def test_a_needle_agrees_with_finite_elements() -> None:
    """Computed: straight beam elements of the textbook, 150 of them, each of its middle size.

    A level needle from 2 mm to 0.4 mm under the yield part of a flow up, w = N τ d.
    Tolerance 0.1 %: the elements err with the square of their length.  Found: 0.01 %.
    """
    length, thick, thin = 0.04, 2e-3, 0.4e-3
    _, found, unit = unit_loads(part(length=length, width=(thick, thin), angle=FLAT))

    own, _ = moved(found, unit, YIELD[0])

    def across(x: float) -> float:
        return thick + (thin - thick) * x / length

    want = (
        tip_of_tapered_beam(
            length,
            lambda x: math.pi * across(x) ** 4 / 64,
            line_load=lambda x: (2 * math.pi + 4 * math.sqrt(2)) * across(x),
        )
        * 103e9
    )
    assert np.linalg.norm(own[0]) == pytest.approx(want, rel=1e-3)


@pytest.mark.parametrize("stiffer", [0.1, 3.0, 30.0, 300.0])
def test_a_coated_needle_has_the_shape_of_equal_moduli_within_a_few_per_cent(
    stiffer: float,
) -> None:
    """Computed: finite elements with the true stiffness of needle and coat in each place.

    A needle from 1 mm to 0.2 mm with 0.05 mm of coat, under its own drag.  Tolerance
    3 %: one number for each draw stands for the shape, and the drag is not even.
    Found: 1.8 % high at 0.1 times the modulus of the needle, 2.2 % low at 300 times.
    """
    length, thick, thin, coat, youngs = 0.03, 1e-3, 0.2e-3, 0.05e-3, 1e8
    network, found, unit = unit_loads(
        part(length=length, width=(thick, thin), angle=FLAT, coat=coat)
    )
    slurry = case(network, youngs=youngs, coat_youngs=stiffer * youngs)
    give = compliance(network, found, slurry, coats=np.array([coat]), lump=np.array([False]))
    whole = float(found.length[0])

    own, _ = moved(found, unit, YIELD[0], 1.0, 1.0 / float(give[0, 0]))

    def across(x: float) -> float:
        return thick + 2 * coat + (thin - thick) * x / whole

    def bends(x: float) -> float:
        outer = math.pi * across(x) ** 4 / 64
        inner = math.pi * (across(x) - 2 * coat) ** 4 / 64
        return (youngs * inner + stiffer * youngs * (outer - inner)) / 103e9

    want = tip_of_tapered_beam(
        whole, bends, line_load=lambda x: (2 * math.pi + 4 * math.sqrt(2)) * across(x)
    )
    assert np.linalg.norm(own[0]) == pytest.approx(want, rel=0.03)


def test_a_load_on_a_leaf_bends_what_it_grows_on() -> None:
    """By hand: a rigid head at the tip of a thin stalk bends the stalk as a force and a moment.

    F L³/3EI + F e L²/2EI for the tip of the stalk, with e the way from there to the
    middle of the ball.  Source: beam tables.  The stalk's own lift is added: w L⁴/8EI.
    Tolerance 0.5 %: the ball is cut off where it sits and is a row of tapers.  Found: 1e-5.
    """
    length, d, ball = 0.04, 0.6e-3, 8e-3
    network, found, unit = unit_loads(
        part("stalk", length=length, width=d, angle=FLAT),
        part("head", "stalk", shape="lump", length=ball, width=ball),
    )

    own, _ = moved(found, unit, LIFT_CORE)

    force = -unit.wrench[1, 2, LIFT_CORE]
    middle = ball / 2
    bends = math.pi * d**4 / 64
    even = 9.80665 * math.pi / 4 * d**2
    want = (force * length**3 / 3 + force * middle * length**2 / 2 + even * length**4 / 8) / bends
    assert force == pytest.approx(9.80665 * math.pi / 6 * ball**3, rel=0.01)
    assert -own[0, 2] == pytest.approx(want, rel=5e-3)
    assert network.part_names == ("stalk", "head")


def test_the_tip_of_a_chain_moves_by_the_sum_of_its_members() -> None:
    """By definition: a straight rod cut into two parts moves as one rod.

    Tolerance 2 %: the second part is held by the end face of the first; the lengths are
    the same.  Found: under 1e-6.
    """
    _, one, whole = unit_loads(part(length=0.06, width=1e-3, angle=FLAT))
    _, two, halves = unit_loads(
        part("stem", length=0.03, width=1e-3, angle=FLAT),
        part("tip", "stem", length=0.03, width=1e-3),
    )

    for pattern in (LIFT_CORE, YIELD[0], VISCOUS[2], BOTH[0]):
        first = moved(one, whole, pattern)[1][0]
        second = moved(two, halves, pattern)[1][1]
        assert second == pytest.approx(first, rel=1e-6, abs=1e-6 * float(np.linalg.norm(first)))


def test_two_stations_on_one_stem_bear_both_their_loads() -> None:
    """By hand: buds at half and at the whole of a level stem, F (2a³/3 ...) from beam tables.

    Tip under F at a: F a²(3L - a)/6EI; under F at L: F L³/3EI.  The buds are short
    rods along the stem's own direction, so their levers hardly differ from a and L.
    Tolerance 1 %: half of the length of a bud.
    """
    length, d = 0.04, 0.6e-3
    _, found, unit = unit_loads(
        part("stem", length=length, width=d, angle=FLAT),
        part("inner", "stem", length=1e-3, width=5e-3, position=0.5, angle=FLAT),
        part("outer", "stem", length=1e-3, width=5e-3, position=1.0, angle=FLAT),
    )

    own, _ = moved(found, unit, LIFT_CORE)

    force = 9.80665 * math.pi / 4 * 25e-6 * 1e-3
    even = 9.80665 * math.pi / 4 * d**2
    half = length / 2
    want = (
        force * half**2 * (3 * length - half) / 6 + force * length**3 / 3 + even * length**4 / 8
    ) / (math.pi * d**4 / 64)
    assert -own[0, 2] == pytest.approx(want, rel=0.01)


def test_what_grows_on_a_ball_does_not_hang_on_its_pole() -> None:
    """House rule: a lump bends nowhere more easily than at its base.

    Without it a stalk on the round end of a ball, where the slices run out to 0.15 of
    its thickness, would hang on a point.
    """
    network, found, _ = unit_loads(
        part("stub", length=0.01, width=4e-3),
        part("ball", "stub", shape="lump", length=0.01, width=0.01),
        part("stalk", "ball", length=0.02, width=3e-3),
    )
    ball = network.member == 1

    for coat in (0.0, 0.2e-3):
        coats = np.full(3, coat)
        core, skin = section_moments(network, found, coats, np.array([False, True, False]))
        for moment in (core, core + skin):
            assert moment[ball].min() == pytest.approx(moment[ball][0, 0].min(), rel=1e-12)
        assert (skin > 0.0).all() == (coat > 0.0)


def test_numbers_of_another_shape_are_refused() -> None:
    """House rule: shapes that do not go together are refused."""
    _, found, unit = unit_loads(part())

    with pytest.raises(InputError, match="numbers"):
        sway(found, unit, np.ones((1, 2)), [((0,), np.ones((1, 1, 1)))])
