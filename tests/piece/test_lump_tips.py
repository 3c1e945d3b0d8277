"""Tips of lumps: a lump ends as wide as what stands there, and its volume goes with it."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.findings import Finding
from pourcast.piece import lumps
from pourcast.piece.checks import findings
from pourcast.piece.measure import measure
from pourcast.piece.model import Part, Piece
from pourcast.piece.network import build
from pourcast.piece.place import place
from tests.piece.make import few, near, of_part, part, piece, segment_volumes
from tests.piece.test_checks import LEAST

BASES = st.floats(0.01, 0.7)
TIPS = st.floats(0.0, 1.0)
WIDER = 0.02
"""By which the waists of the slices may be wider than drawn, so that they hold the volume."""


def segment_of_a_sphere(height: float, first: float, last: float) -> float:
    """Volume between two planes across a sphere, with the radii of both rounds.

    Source: CRC Standard Mathematical Tables, spherical segment of two bases, from memory.
    """
    return math.pi * height / 6 * (3 * first**2 + 3 * last**2 + height**2)


def tip_of(whole: Piece, name: str = "body") -> tuple[float, float]:
    """Return width and thickness where the metal leaves a lump at its tip [m]."""
    network = build(whole)
    (last,) = np.flatnonzero(of_part(network, name))[-1:]
    return float(network.width[last, 1]), float(network.thickness[last, 1])


def body(*on_it: Part, length: float = 0.02, thickness: float = 0.01) -> Piece:
    """Return a body 10 mm wide on a stem of 3 mm, with parts that grow on it."""
    lump = part("body", "stem", shape="lump", length=length, width=0.01, thickness=thickness)
    return piece(part(), lump, *on_it)


@pytest.mark.parametrize("tip", [0.0, 0.05, 0.34, 0.8, 1.0])
def test_ball_between_two_feet_is_the_segment_of_a_sphere(tip: float) -> None:
    """Published: spherical segment of two bases; side π D h (Archimedes).  Exact."""
    base, across = 0.4, 0.01
    length = across / 2 * (math.sqrt(1 - base**2) + math.sqrt(1 - tip**2))

    volume = lumps.lump_volume(length, across, across, base, tip)
    side = lumps.lump_side(length, across, across, base, tip)

    assert volume == near(segment_of_a_sphere(length, base * across / 2, tip * across / 2))
    assert side == near(math.pi * across * length)


@few
@given(base=BASES, tip=TIPS)
def test_volume_is_the_integral_of_the_waist(base: float, tip: float) -> None:
    """Computed: 20 000 strips of the section; tolerance 1e-6, of the strips."""
    below, above = math.sqrt(1 - base * base), math.sqrt(1 - tip * tip)
    x = (np.arange(20_000) + 0.5) / 20_000 * (below + above) - below

    want = math.pi / 4 * 0.02 * 0.01 * 0.006 * float((1 - x * x).mean())
    assert lumps.lump_volume(0.02, 0.01, 0.006, base, tip) == near(want, rel=1e-6)


@few
@given(base=BASES, tip=TIPS)
def test_slices_hold_the_volume_and_are_hardly_wider_than_the_lump(base: float, tip: float) -> None:
    """Property: to rounding; found up to 1.9 % wider, and 0.1 % narrower at tips of 0.1 to 0.15."""
    angles, step = lumps.even_slices(np.array([0.0, 1.0]), base, tip)
    share = lumps.share_at(np.linspace(angles[0], angles[-1], 9), base, tip)
    cut = lumps.waist(share, base, tip) * lumps.slice_scale(share, base, tip)

    volume = np.pi / 12 * np.diff(share) @ (cut[1:] ** 2 + cut[1:] * cut[:-1] + cut[:-1] ** 2)
    assert step == near(float(angles[-1] - angles[0]) / 8)
    assert volume == near(lumps.lump_volume(1.0, 1.0, 1.0, base, tip), rel=1e-12)
    assert 0.995 <= lumps.slice_scale(share, base, tip) <= 1.0 + WIDER


def test_body_hangs_on_its_chest_by_all_of_its_foot() -> None:
    """Exact, by hand: 3.4 mm on 8 by 7 mm, so 3.4/7 of both ways; slices up to 2 % wider."""
    chest = part("body", shape="lump", length=0.011, width=0.008, thickness=0.007)
    tail = part("tail", "body", length=0.038, width=0.0034)

    wide, thick = tip_of(piece(chest, tail))

    assert 0.0034 <= thick <= 0.0034 * (1 + WIDER)
    assert wide == near(thick * 8 / 7)


@pytest.mark.parametrize(
    ("on_it", "want"),
    [
        (part("leaf", "body", shape="blade", width=0.006, thickness=0.0005, angle=30),
         math.sqrt(4 / math.pi * 6 * 0.5)),
        (part("ray", "body", count=9, width=0.001, angle=60), 3.0),
        (part("ray", "body", count=4, width=0.001, coat=0.0005, angle=60), 4.0),
        (part("ray", "body", count=5, width=0.002, angle=60, position=(0.2, 1.0)), 2.0),
        (part("ray", "body", count=3, width=0.002, angle=60, position=0.985), math.sqrt(12)),
        (part("stump", "body", width=0.02), 10.0),
    ],
)  # fmt: skip
def test_tip_has_the_area_of_all_that_stands_there(on_it: Part, want: float) -> None:
    """By hand: diameter in mm of a round foot of the same area; of a row what stands at the tip.

    At most the waist, 10 mm.  Slices up to 2 % wider.
    """
    wide, thick = tip_of(body(on_it))

    assert wide == thick
    assert want <= 1e3 * wide * (1 + 1e-12)
    assert 1e3 * wide <= want * (1 + WIDER)


@pytest.mark.parametrize(
    "on_it",
    [
        (),
        (part("ray", "body", count=5, width=0.002, angle=60, position=(0.2, 0.9)),),
        (part("head", "body", shape="lump", length=0.01, width=0.008),),
    ],
)
def test_lump_without_a_foot_on_its_tip_keeps_its_pole(on_it: tuple[Part, ...]) -> None:
    """By the rule: a flat of 0.15 of 10 mm, and the sphere less one cap (CRC Tables)."""
    base = 0.3
    length = 0.005 * (1 + math.sqrt(1 - base**2))
    whole = body(*on_it, length=length)
    network = build(whole)

    assert place(whole)[1].tip == 0.0
    assert tip_of(whole)[0] == near(0.0015, rel=0.04)
    assert measure(whole, network).parts[1].volume == near(
        segment_of_a_sphere(length, base * 0.005, 0.0)
    )


def test_what_stands_on_a_tip_begins_where_the_lump_ends() -> None:
    """Exact: lengths add up, nothing is counted twice, and the network holds the same volume."""
    base, tip = 0.3, 0.4
    length = 0.005 * (math.sqrt(1 - base**2) + math.sqrt(1 - tip**2))
    whole = body(part("tail", "body", length=0.03, width=0.004), length=length)

    network = build(whole)
    got = measure(whole, network)

    ball = segment_of_a_sphere(length, base * 0.005, tip * 0.005)
    assert got.lowest == near(-(0.06 + length + 0.03))
    assert got.joint_overlap == 0.0
    assert got.volume == near(math.pi * (0.0015**2 * 0.06 + 0.002**2 * 0.03) + ball)
    assert float(segment_volumes(network).sum()) == near(got.volume)


def test_rod_between_two_lumps_is_their_neck() -> None:
    """By the rule: two balls on each other are told of their neck; a rod of 5 mm is one."""
    head = part("head", "body", shape="lump", length=0.01, width=0.008)
    neck = part("neck", "body", length=0.001, width=0.005)
    through = part("head", "neck", shape="lump", length=0.01, width=0.008)

    assert [found.part for found in _told(body(head))] == ["head"]
    assert _told(body(neck, through)) == ()
    assert tip_of(body(neck, through))[0] == near(0.005, rel=WIDER)


def _told(whole: Piece) -> tuple[Finding, ...]:
    network = build(whole)
    measures = measure(whole, network)
    return findings(whole, network, measures, least_section=LEAST, assist="gravity")
