"""A push on a part: what it bends, against tables, closed forms and other methods."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.finish.chain import bearers
from pourcast.piece.model import Network, Part
from tests.finish.beams import (
    YIELD,
    YOUNGS,
    along,
    limits,
    loads,
    network,
    round_moment,
    rows,
    tip_of_tapered_beam,
)
from tests.outside.record import record
from tests.piece.make import few, part
from tests.strategies import networks

ROD = part(length=0.06, width=0.003)
BLADE = part(shape="blade", length=0.03, width=0.006, thickness=0.0005)


def test_force_to_yield_an_even_rod_is_that_of_the_table() -> None:
    """Roark or Gere, cantilever with an end load, M = F L, and Z = π d³/32, from memory.

    Tolerance 1e-9: the same formula, with sums of a few doubles.
    """
    got = limits(ROD).tip_force[0, 0]
    want = YIELD * math.pi * 0.003**3 / 32 / 0.06

    record("finish", "force to yield a 3 mm rod, 60 mm long", "Roark, from memory", got, want, "N",
           1e-9 * want, kind="table")  # fmt: skip
    assert got == pytest.approx(want, rel=1e-9, abs=0.0)
    assert limits(ROD).middle_force[0, 0] == pytest.approx(2 * want, rel=1e-9, abs=0.0)


@pytest.mark.parametrize(
    ("shape", "moment"),
    [(ROD, round_moment(0.003)), (BLADE, 0.006 * 0.0005**3 / 12)],
    ids=["rod", "blade"],
)
def test_deflection_of_an_even_beam_is_that_of_the_table(shape: Part, moment: float) -> None:
    """Roark or Gere, F L³/(3 E I), from memory.  Tolerance 1e-9: Simpson's rule is exact here."""
    push = 1e-3

    got = limits(shape, push=loads(hand_brush=push)).deflection[0, 0]

    want = push * shape.length**3 / (3 * YOUNGS * moment)
    record("finish", f"deflection of a {shape.shape} with an end load", "Roark, from memory",
           got / want, 1.0, "", 1e-9, kind="table")  # fmt: skip
    assert got == pytest.approx(want, rel=1e-9, abs=0.0)


def test_steel_ruler_bends_under_its_own_weight_as_was_measured() -> None:
    """Measured: the tip of a level steel strip sinks 89 mm under its own weight.

    Source: Beléndez, Neipp and Beléndez (2003), Int. J. Eng. Educ. 19, 885, table of measured
    deflections, first row, from memory: 400 mm free, 25 mm by 0.4 mm, 0.3032 N in all; the
    other six rows fit the same strip to 2 % by the exact law of large bends.  Young's modulus
    of steel 200 GPa, handbooks.  Tolerance 5 %: the modulus is known to 3 %, and our law does
    not let the arm shorten, which at this bend is worth 4 %.  Found: 2.2 % high.
    """
    length, width, weight = 0.4, 0.025, 0.3032
    strip = part(shape="blade", length=length, width=width, thickness=0.0004)

    found = limits(strip, push=loads(light_blast=weight / (length * width)))

    got = found.blast_deflection[0, 0] * YOUNGS / 200e9
    record("finish", "tip of a steel ruler under its own weight",
           "Beléndez, Neipp and Beléndez (2003), Int. J. Eng. Educ. 19, 885, from memory",
           1e3 * got, 89.0, "mm", 4.5, kind="measured")  # fmt: skip
    assert got == pytest.approx(0.089, rel=0.05)


def test_even_pressure_on_a_blade_is_that_of_the_table() -> None:
    """Roark or Gere, even line load w: M = w L²/2 and δ = w L⁴/(8 E I), from memory.

    Tolerance 1e-9: Simpson's rule is exact up to the third degree, which M x is.
    """
    width, thickness, length = 0.006, 0.0005, 0.03
    modulus, moment = width * thickness**2 / 6, width * thickness**3 / 12
    found = limits(BLADE, push=loads(light_blast=10.0))

    want = YIELD * modulus / (width * length**2 / 2)
    assert found.pressure[0, 0] == pytest.approx(want, rel=1e-9, abs=0.0)
    sway = 10.0 * width * length**4 / (8 * YOUNGS * moment)
    got = found.blast_deflection[0, 0]
    record("finish", "deflection of a blade under an even load", "Roark, from memory",
           got / sway, 1.0, "", 1e-9, kind="table")  # fmt: skip
    assert got == pytest.approx(sway, rel=1e-9, abs=0.0)


def test_a_load_that_bends_a_blade_moves_it_as_far_as_to_its_yield() -> None:
    """Roark or Gere, from memory, with Z / I = 2 / t: it yields once the tip has moved so far.

    2 σ L²/(3 E t) under an end load, σ L²/(2 E t) under an even one.  Tolerance 1e-9 as above.
    """
    found = limits(BLADE, push=loads(hand_brush=1e6, light_blast=1e12))

    reach = YIELD * 0.03**2 / (YOUNGS * 0.0005)
    assert found.deflection[0, 0] == pytest.approx(reach * 2 / 3, rel=1e-9, abs=0.0)
    assert found.blast_deflection[0, 0] == pytest.approx(reach / 2, rel=1e-9, abs=0.0)


def test_a_cone_yields_where_it_is_half_as_thick_again_as_its_tip() -> None:
    """Closed form: x/d³ is largest at d = 3/2 of the tip, so F = σ π (3/2 d)³ / (32 x).

    Deflection: 64 F L³ / (3 π E d₀ d₁³), Gere, tapered circular cantilever, from
    memory, and by integration.  Tolerance 1e-6: here the worst place is one that
    is looked at, and Simpson's rule is off in the fourth derivative.  Found: 0 and
    8e-8.
    """
    base, tip, length = 0.003, 0.001, 0.06
    taper = part(length=length, width=(base, tip))

    found = limits(taper)

    place = 0.5 * tip * length / (base - tip)
    force = YIELD * math.pi * (1.5 * tip) ** 3 / 32 / place
    record("finish", "force to yield a cone", "closed form", found.tip_force[0, 0], force, "N",
           1e-6 * force, kind="closed form")  # fmt: skip
    assert found.tip_force[0, 0] == pytest.approx(force, rel=1e-6, abs=0.0)
    moved = 64 * 1e-3 * length**3 / (3 * math.pi * YOUNGS * tip * base**3)
    assert found.deflection[0, 0] == pytest.approx(moved, rel=1e-6, abs=0.0)


def test_a_leaf_that_narrows_is_that_of_the_spring_tables() -> None:
    """Tables of leaf springs, trapezium of even thickness, from memory, and by integration.

    δ = K F L³/(3 E I) with I of the base, q the tip over the base, and
    K = 3/(1 - q)³ (1/2 - 2 q + q² (3/2 - ln q)).  The force is that of the base,
    σ b t²/(6 L).  Tolerance 1e-6 for the force, whose worst place is looked at;
    1e-6 for Simpson's rule.  Found: 6e-9.
    """
    width, thickness, length, q = 0.008, 0.0008, 0.03, 0.2
    leaf = part(shape="blade", length=length, width=(width, q * width), thickness=thickness)

    found = limits(leaf)

    force = YIELD * width * thickness**2 / 6 / length
    factor = 3 / (1 - q) ** 3 * (0.5 - 2 * q + q * q * (1.5 - math.log(q)))
    moved = factor * 1e-3 * length**3 / (3 * YOUNGS * width * thickness**3 / 12)
    record("finish", "deflection of a narrowing leaf", "tables of leaf springs, from memory",
           found.deflection[0, 0] / moved, 1.0, "", 1e-6, kind="table")  # fmt: skip
    assert found.tip_force[0, 0] == pytest.approx(force, rel=1e-6, abs=0.0)
    assert found.deflection[0, 0] == pytest.approx(moved, rel=1e-6, abs=0.0)


def test_a_point_bends_at_its_very_end() -> None:
    """Closed form: a tenth of the tip lets the force down a hundred times, as 1/d²."""
    blunt = limits(part(length=0.02, width=(0.002, 1e-4))).tip_force[0, 0]
    sharp = limits(part(length=0.02, width=(0.002, 1e-5))).tip_force[0, 0]

    assert 30 < blunt / sharp < 120


@pytest.mark.parametrize("tip", [0.0003, 0.0006, 0.0015, 0.003])
@pytest.mark.parametrize("length", [0.004, 0.012, 0.05])
def test_places_of_a_segment_are_near_enough_for_the_sharpest_taper(
    tip: float, length: float
) -> None:
    """Same force by a search over 20 000 places of the rod, another method.

    Tolerance 1 %, as the module says: the worst place lies between two.  Found:
    0.5 % for a needle from 3 to 0.3 mm in three segments, else under 0.01 %.
    """
    taper = part(length=length, width=(0.003, tip))
    x = np.linspace(0.0, length, 20_001)[1:]
    fine = (YIELD * math.pi / 32 * (tip + (0.003 - tip) * x / length) ** 3 / x).min()

    got = limits(taper).tip_force[0, 0]

    assert got == pytest.approx(fine, rel=0.01, abs=0.0)
    assert got >= fine * (1 - 1e-9)
    inner = x[x > length / 2]
    half = (
        YIELD * math.pi / 32 * (tip + (0.003 - tip) * inner / length) ** 3 / (inner - length / 2)
    ).min()
    assert limits(taper).middle_force[0, 0] == pytest.approx(half, rel=0.01, abs=0.0)


@pytest.mark.parametrize(
    "shape",
    [
        part(length=0.04, width=(0.004, 0.001)),
        part(shape="blade", length=0.03, width=(0.006, 0.002), thickness=(0.0009, 0.0004)),
        part(shape="blade", length=0.02, width=(0.002, 0.009), thickness=0.0005),
    ],
    ids=["cone", "leaf", "wing"],
)
def test_tapered_beams_agree_with_finite_elements(shape: Part) -> None:
    """General method: 150 beam elements with the second moment of their middles.

    Tolerance 2e-4: elements of even section, an error that goes with the square of
    their number.  Found: 9e-5 at most; 1.3e-5 with 400 elements.
    """
    broad = along(*shape.width, shape.length)
    thin = along(*shape.thickness, shape.length)

    def moment(place: float) -> float:
        if shape.shape == "rod":
            return round_moment(thin(place))
        return broad(place) * thin(place) ** 3 / 12

    found = limits(shape, push=loads(hand_brush=1e-3, light_blast=10.0))

    moved = tip_of_tapered_beam(shape.length, moment, force=1e-3)
    swayed = tip_of_tapered_beam(shape.length, moment, line_load=lambda place: 10.0 * broad(place))
    record(
        "finish",
        f"tip of a tapered {shape.shape}, {1e3 * shape.length:.0f} mm",
        "finite elements",
        found.deflection[0, 0] / moved,
        1.0,
        "",
        2e-4,
        kind="reference library",
    )
    assert found.deflection[0, 0] == pytest.approx(moved, rel=2e-4, abs=0.0)
    assert found.blast_deflection[0, 0] == pytest.approx(swayed, rel=2e-4, abs=0.0)


def test_a_push_on_a_leaf_bends_the_stem_by_the_worst_direction() -> None:
    """By statics: every direction of the push is tried on every section of stem and leaf.

    A leaf stands out square from the tip of a stem.  The bending moment on a
    section is the part of r × F that is square to the beam.  Tolerance 1 %:
    directions 1° apart.  Found: 0.01 %.
    """
    stem = part("stem", length=0.05, width=0.002)
    leaf = part("leaf", "stem", length=0.04, width=0.0016, angle=90.0)
    made = network(stem, leaf)
    tip = made.end_position[-1]
    angles = np.radians(np.arange(0.0, 180.0, 1.0))
    # The piece lies in the plane of x and z; a push out of it twists the stem.
    pushes = [np.array([math.cos(a), 0.0, math.sin(a)]) for a in angles]
    pushes += [np.array([math.cos(a), math.sin(a), 0.0]) for a in angles]
    least = math.inf
    for start, end, thick in zip(
        made.start_position, made.end_position, made.thickness[:, 0], strict=True
    ):
        beam = (end - start) / np.linalg.norm(end - start)
        for push in pushes:
            turning = np.cross(tip - start, push)
            bending = float(np.linalg.norm(turning - beam * (turning @ beam)))
            if bending > 1e-9:
                least = min(least, YIELD * math.pi * float(thick) ** 3 / 32 / bending)

    got = limits(stem, leaf).tip_force[0, 1]

    record("finish", "force to yield a stem by its leaf", "statics, all directions", got, least,
           "N", 0.01 * least, kind="closed form")  # fmt: skip
    assert got == pytest.approx(least, rel=0.01, abs=0.0)


def test_deflection_of_a_chain_is_never_under_that_of_the_frame() -> None:
    """By energy: the plane frame of the same stem and leaf, worst direction in its plane.

    Flexibility of the tip by Castigliano, integrated by hand.  Ours adds up the
    worst directions of leaf and stem, so it may be larger.  Found: 12 % larger.
    """
    stem_length, leaf_length = 0.05, 0.04
    stem = part("stem", length=stem_length, width=0.002)
    leaf = part("leaf", "stem", length=leaf_length, width=0.0016, angle=90.0)
    i_stem, i_leaf = round_moment(0.002), round_moment(0.0016)
    reach = network(stem, leaf).end_position[-1]
    out, down = abs(float(reach[0])), stem_length
    # x along the leaf, z along the stem; moments at s from the tip of the stem.
    xx = down**3 / 3 / i_stem
    xz = out * down**2 / 2 / i_stem
    zz = leaf_length**3 / 3 / i_leaf + out**2 * down / i_stem
    exact = float(np.linalg.eigvalsh(np.array([[xx, xz], [xz, zz]]))[-1]) * 1e-3 / YOUNGS

    got = limits(stem, leaf, push=loads(hand_brush=1e-3)).deflection[0, 1]

    assert exact <= got <= 1.2 * exact


def test_a_blade_of_many_leaves_bears_what_the_worst_one_bears() -> None:
    """By definition: like members give the same limit as one of them, on a stout stem."""
    stem = part("stem", length=0.05, width=0.02)
    alone = part("leaf", "stem", shape="blade", length=0.02, width=0.004, thickness=0.0005,
                 position=0.5, angle=70.0)  # fmt: skip
    many = part("leaf", "stem", shape="blade", length=0.02, width=0.004, thickness=0.0005,
                position=(0.2, 0.9), angle=70.0, count=7)  # fmt: skip

    one, seven = limits(stem, alone), limits(stem, many)

    assert seven.tip_force[0, 1] == pytest.approx(one.tip_force[0, 1], rel=1e-9, abs=0.0)
    assert seven.pressure[0, 1] == pytest.approx(one.pressure[0, 1], rel=1e-9, abs=0.0)


def test_a_thing_on_the_round_end_of_a_lump_does_not_hang_on_its_pole() -> None:
    """By geometry: a rod of 3 mm that stands on a lump sinks in to where that is 3 mm thick.

    Before this was seen the body of a dragonfly bore 0.5 N instead of 13 N.
    """
    body = part("body", shape="lump", length=0.011, width=0.008, thickness=0.007)
    tail = part("tail", "body", length=0.038, width=0.003)
    alone = limits(part("tail", length=0.038, width=0.003)).tip_force[0, 0]

    got = limits(body, tail).tip_force[0, 1]

    assert 0.9 * alone < got <= alone * (1 + 1e-9)


def test_a_thick_arm_on_a_slim_stem_bends_it_where_the_arm_ends() -> None:
    """By statics: M = F √(z² + L²) and Z = π d³/32, at z half an arm of 8 mm from its middle.

    The stem narrows to 1 mm under the arm, whose own stuff holds it for 4 mm.  Sections are
    looked at every 0.47 mm, so the first one that is free may lie that much further.
    Found: 4.22 mm.
    """
    stem = part("stem", length=0.06, width=(0.012, 0.001))
    arm = part("arm", "stem", length=0.03, width=0.008, angle=90.0)
    away = 4e-3 + np.array([0.0, 0.06 / 8 / 16])
    thick = 0.001 + 0.011 * away / 0.06
    near, far = YIELD * math.pi * thick**3 / 32 / np.hypot(away, 0.03)

    got = limits(stem, arm).tip_force[0, 1]

    record("finish", "force to yield a slim stem under a thick arm", "statics, by hand",
           got, (near + far) / 2, "N", (far - near) / 2, kind="closed form")  # fmt: skip
    assert near <= got <= far


def test_each_member_bears_itself_and_what_it_grows_on() -> None:
    """By definition; two leaves with two hairs each on one stem."""
    found = rows(
        part("stem"),
        part("leaf", "stem", count=2, length=0.02),
        part("hair", "leaf", count=2, length=0.01),
    )

    pairs = set(zip(found.loaded.tolist(), found.bearer.tolist(), strict=True))
    assert pairs == {
        (0, 0), (1, 1), (1, 0), (2, 2), (2, 0),
        (3, 3), (3, 1), (3, 0), (4, 4), (4, 1), (4, 0),
        (5, 5), (5, 2), (5, 0), (6, 6), (6, 2), (6, 0),
    }  # fmt: skip
    assert (found.bearer[found.first] == np.arange(7)).all()


def test_a_joined_tip_counts_as_free() -> None:
    """House choice, to the careful side: a thread of wax from leaf to leaf bears nothing."""
    stem = part("stem", length=0.05)
    leaf = part("leaf", "stem", length=0.03, width=0.001, position=0.5, angle=40.0)
    tied = part("leaf", "stem", length=0.03, width=0.001, position=0.5, angle=40.0, tip_on="stem")

    found = rows(stem, tied)

    assert found.loaded.tolist() == rows(stem, leaf).loaded.tolist()
    assert np.isfinite(found.tip).all()


def test_what_grows_where_a_tip_is_joined_stands_on_the_part_and_not_on_the_tip() -> None:
    """By definition: a bud on the stem, in the place where a leaf comes back to the stem."""
    leaf = part("leaf", "stem", length=0.03, position=0.4, angle=40.0, tip_on="stem",
                tip_position=0.8)  # fmt: skip
    bud = part("bud", "stem", length=0.004, width=0.001, position=0.8, angle=70.0)

    found = rows(part("stem", length=0.05), leaf, bud)

    assert found.bearer[found.loaded == 2].tolist() == [2, 0]


@few
@given(networks())
def test_rows_of_any_piece_are_finite_and_end_at_the_gate(drawn: Network) -> None:
    """By definition: a push half-way is borne at least as well as one on a straight part's tip."""
    found = bearers(drawn)

    for values in (found.tip, found.middle, found.face, found.give, found.face_give):
        assert np.isfinite(values).all()
        assert (values > 0.0).all()
    assert (np.diff(found.loaded) >= 0).all()
    assert (found.bearer <= found.loaded).all()
    assert (found.bearer[found.first] == np.arange(found.first.size)).all()


@few
@given(st.floats(0.005, 0.08), st.floats(5e-4, 6e-3), st.floats(0.3, 1.0), st.floats(1.05, 2.0))
def test_longer_is_weaker_and_thicker_is_stronger(
    length: float, width: float, taper: float, more: float
) -> None:
    """By equations: force as d³/L of like tapers, deflection as L³/d⁴."""
    base = limits(part(length=length, width=(width, taper * width)))
    longer = limits(part(length=more * length, width=(width, taper * width)))
    thicker = limits(part(length=length, width=(more * width, more * taper * width)))

    # Where the piece is cut follows its length, so the worst place is met a little differently.
    assert longer.tip_force[0, 0] == pytest.approx(base.tip_force[0, 0] / more, rel=0.01, abs=0.0)
    assert thicker.tip_force[0, 0] == pytest.approx(
        base.tip_force[0, 0] * more**3, rel=1e-6, abs=0.0
    )
    assert thicker.deflection[0, 0] < base.deflection[0, 0] < longer.deflection[0, 0]


def test_segments_out_of_order_are_refused() -> None:
    """House rule: a stated limit is a kept limit."""
    made = network(part("stem"), part("leaf", "stem"))
    turned = replace(made, member=made.member[::-1])

    with pytest.raises(InputError, match="in the order of their members"):
        bearers(turned)
