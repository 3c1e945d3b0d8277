"""Network: how the passages hang together."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given

from pourcast.errors import InputError
from pourcast.piece.measure import measure
from pourcast.piece.model import ELLIPSE, RECTANGLE, ROUND, Network, Piece, Vent
from pourcast.piece.network import build
from tests.piece.make import few, near, of_part, part, piece, segment_volumes
from tests.strategies import networks, pieces

HEAD = piece(
    part(width=(0.004, 0.003)),
    part("head", "stem", shape="lump", length=0.02, width=0.015),
    part("bract", "head", shape="blade", count=6, angle=70, bend=20, position=0.3, thickness=5e-4),
    part("spine", "bract", count=2, angle=60, turn=90, position=0.7, length=0.006, width=0.0005),
)


@few
@given(network=networks())
def test_network_without_joints_is_a_tree_with_parents_first(network: Network) -> None:
    """Property: each node but the gate ends one segment, written before those it leads to."""
    ends = network.end.tolist()

    assert sorted(ends) == list(range(1, len(ends) + 1))
    order = {0: -1} | {node: i for i, node in enumerate(ends)}
    assert all(order[start] < i for i, start in enumerate(network.start.tolist()))


@few
@given(drawn=pieces())
def test_network_holds_the_volume_of_the_solids(drawn: Piece) -> None:
    """Property: part by part, to rounding; the segments are exact tapers of the solids."""
    network = build(drawn)
    volumes = segment_volumes(network)

    for measures in measure(drawn, network).parts:
        got = float(volumes[of_part(network, measures.name)].sum())
        assert got == near(measures.volume, rel=1e-12)


@few
@given(network=networks())
def test_arrays_have_their_shapes_and_are_finite(network: Network) -> None:
    """Property: as the record says."""
    segments, nodes = len(network.start), int(network.end.max()) + 1

    for array in (network.end, network.section, network.length, network.member, network.is_joint):
        assert array.shape == (segments,)
    for array in (network.start_position, network.end_position):
        assert array.shape == (segments, 3)
    for array in (network.width, network.thickness):
        assert array.shape == (segments, 2)
        assert (array > 0).all()
    for array in (network.vent_diameter, network.vent_length, network.vent_to_vacuum):
        assert array.shape == (nodes,)
    assert network.member_part.shape == (int(network.member.max()) + 1,)
    assert (network.length > 0).all()
    assert np.isfinite(network.start_position).all()
    assert np.isfinite(network.end_position).all()


@few
@given(network=networks())
def test_segments_of_a_member_follow_each_other(network: Network) -> None:
    """Property: each begins where the one before ends, in node and in place."""
    same = network.member[1:] == network.member[:-1]

    assert (network.start[1:][same] == network.end[:-1][same]).all()
    assert np.abs(network.start_position[1:] - network.end_position[:-1])[same].max() < 1e-15


@few
@given(network=networks())
def test_no_segment_is_shorter_than_its_chord(network: Network) -> None:
    """Property: an arc is at least as long as the straight way between its ends."""
    chord = np.linalg.norm(network.end_position - network.start_position, axis=1)

    assert (chord <= network.length * (1 + 1e-9)).all()


def test_children_share_the_node_of_their_parent() -> None:
    """Exact: spines leave from the node at 0.7 of their bract."""
    network = build(HEAD)
    bract, spine = of_part(network, "bract"), of_part(network, "spine")
    first = np.r_[True, network.member[1:] != network.member[:-1]]

    starts = network.start[spine & first]
    along = np.cumsum(network.length[bract].reshape(6, -1), axis=1)
    ends = network.end[bract].reshape(6, -1)
    at = np.abs(along / along[:, -1:] - 0.7).argmin(axis=1)
    assert along[0, at[0]] / along[0, -1] == near(0.7)
    assert starts.tolist() == np.repeat(ends[np.arange(6), at], 2).tolist()


def test_sections_go_with_the_shapes() -> None:
    """Exact: rod and round lump ROUND, blade RECTANGLE, flat lump ELLIPSE."""
    flat = part("bud", "stem", shape="lump", length=0.01, width=0.008, thickness=0.005)
    network = build(replace(HEAD, parts=(*HEAD.parts, flat)))

    for name, section in (
        ("stem", ROUND),
        ("head", ROUND),
        ("bract", RECTANGLE),
        ("spine", ROUND),
        ("bud", ELLIPSE),
    ):
        assert set(network.section[of_part(network, name)].tolist()) == {section}


def test_round_sections_have_width_and_thickness_alike() -> None:
    """Exact: as the record says."""
    network = build(HEAD)
    round_ = network.section == ROUND

    assert (network.width[round_] == network.thickness[round_]).all()


def test_taper_runs_from_base_to_tip() -> None:
    """Exact: 4 mm at the gate, 3 mm at the tip."""
    network = build(HEAD)
    stem = np.flatnonzero(of_part(network, "stem"))

    assert network.width[stem[0], 0] == near(0.004)
    assert network.width[stem[-1], 1] == near(0.003)


def test_lump_starts_at_its_base_and_has_six_to_ten_slices() -> None:
    """Property of the rule; the first slice is as wide as the stem, times the scale of slices."""
    network = build(HEAD)
    head = np.flatnonzero(of_part(network, "head"))

    assert 6 <= len(head) <= 10
    assert network.width[head[0], 0] == near(0.003, rel=0.03)
    assert network.width[head].max() == near(0.015, rel=0.03)


def test_lump_that_bears_nothing_has_eight_slices() -> None:
    """Property of the rule."""
    network = build(piece(part("bud", shape="lump", width=0.01, length=0.015)))

    assert len(network.start) == 8


def test_row_on_several_parents_takes_its_nodes_on_each() -> None:
    """Exact: hairs at 0.2, 0.5 and 0.8 of two rays of 30 mm leave 6, 15 and 24 mm along."""
    ray = part("ray", "stem", count=2, angle=90, position=0.5, length=0.03)
    hair = part("hair", "ray", count=3, angle=90, position=(0.2, 0.8), length=0.01)
    network = build(piece(part(), ray, hair))
    first = np.r_[True, network.member[1:] != network.member[:-1]]
    along = np.cumsum(network.length[of_part(network, "ray")].reshape(2, -1), axis=1)
    ends = network.end[of_part(network, "ray")].reshape(2, -1)

    starts = network.start[of_part(network, "hair") & first].reshape(2, 3)
    for row, nodes, hairs in zip(along, ends.tolist(), starts.tolist(), strict=True):
        found = [float(row[nodes.index(node)]) for node in hairs]
        assert found == near([0.006, 0.015, 0.024])


def test_member_counts_multiply() -> None:
    """Exact: 1 stem, 1 head, 6 bracts, 12 spines."""
    network = build(HEAD)

    assert np.bincount(network.member_part).tolist() == [1, 1, 6, 12]
    assert network.part_names == ("stem", "head", "bract", "spine")


def test_vents_leave_from_every_tip_of_their_part() -> None:
    """Exact: six bracts, six vents at their last nodes."""
    vent = Vent(part="bract", diameter=0.001, length=0.04, leads_to="vacuum")
    network = build(replace(HEAD, vents=(vent,)))
    bract = of_part(network, "bract")
    last = np.r_[network.member[1:] != network.member[:-1], True]

    assert (
        np.flatnonzero(network.vent_diameter).tolist()
        == np.sort(network.end[bract & last]).tolist()
    )
    assert set(network.vent_length[network.vent_diameter > 0].tolist()) == {0.04}
    assert network.vent_to_vacuum.sum() == 6


LEAVES = (
    part(),
    part("leaf", "stem", shape="blade", count=3, angle=60, position=0.2, length=0.03),
    part("hair", "stem", count=3, angle=80, position=0.6, length=0.025, tip_on="leaf"),
)


def test_joined_tip_ends_in_the_node_of_the_nearest_member() -> None:
    """Exact: hairs and leaves stand at the same turns, so each meets its own leaf."""
    network = build(piece(*LEAVES))
    last = np.r_[network.member[1:] != network.member[:-1], True]
    leaf, hair = (of_part(network, name) & last for name in ("leaf", "hair"))

    assert network.end[hair].tolist() == network.end[leaf].tolist()
    assert network.end_position[hair] == near(network.end_position[leaf])
    assert network.is_joint.sum() == 3
    assert (network.is_joint == hair).all()


def test_joint_closes_a_ring_and_keeps_the_measured_length() -> None:
    """Exact: as many nodes less as there are joints; no number is left out."""
    network = build(piece(*LEAVES))
    nodes = set(network.start.tolist()) | set(network.end.tolist())

    assert len(network.start) - (len(nodes) - 1) == 3
    assert nodes == set(range(len(nodes)))
    assert len(network.vent_diameter) == len(nodes)
    hair = of_part(network, "hair")
    assert network.length[hair].sum() == near(3 * 0.025)


def test_joint_in_the_middle_cuts_the_part_there() -> None:
    """Exact: at 0.37 of the leaf."""
    joined = replace(LEAVES[2], tip_position=0.37)
    network = build(piece(LEAVES[0], LEAVES[1], joined))
    leaf = of_part(network, "leaf")
    met = network.end[network.is_joint]

    along = np.cumsum(network.length[leaf].reshape(3, -1), axis=1) / 0.03
    ends = network.end[leaf].reshape(3, -1)
    assert all(
        along[i, list(row).index(node)] == near(0.37)
        for i, (row, node) in enumerate(zip(ends.tolist(), met.tolist(), strict=True))
    )


def test_joint_prefers_the_member_on_the_same_parent() -> None:
    """Property of the rule: a hair joins the leaf of its own twig, though another is nearer."""
    twigs = part("twig", "stem", count=2, angle=90, position=0.2, length=0.01)
    leaf = part("leaf", "twig", shape="blade", angle=0, length=0.005)
    hair = part("hair", "twig", angle=170, length=0.04, tip_on="leaf")
    network = build(piece(part(), twigs, leaf, hair))
    last = np.r_[network.member[1:] != network.member[:-1], True]

    assert (
        network.end[of_part(network, "hair") & last].tolist()
        == network.end[of_part(network, "leaf") & last].tolist()
    )


def test_joint_to_the_own_parent_is_a_handle() -> None:
    """Property of the rule: each handle joins the twig that it grows on."""
    twig = part("twig", "stem", count=3, angle=80, position=0.3)
    handle = part(
        "handle", "twig", angle=60, position=0.2, bend=120, tip_on="twig", tip_position=0.8
    )
    network = build(piece(part(), twig, handle))
    ends = network.end[of_part(network, "twig")].reshape(3, -1)

    met = network.end[network.is_joint]
    assert all(node in row for node, row in zip(met.tolist(), ends.tolist(), strict=True))


def test_tip_joined_to_a_joined_tip_ends_in_the_node_that_stays() -> None:
    """Property: hair to leaf, leaf to thread: one node."""
    leaf = replace(LEAVES[1], count=1, tip_on="thread")
    hair = replace(LEAVES[2], count=1)
    thread = part("thread", "stem", angle=45, position=0.4, length=0.03)
    network = build(piece(LEAVES[0], leaf, hair, thread))
    last = np.r_[network.member[1:] != network.member[:-1], True]

    met = [network.end[of_part(network, n) & last].tolist() for n in ("leaf", "hair", "thread")]
    assert met[0] == met[1] == met[2]


def test_tips_joined_each_to_each_are_refused() -> None:
    """Refusal: neither end would stay."""
    leaf = replace(LEAVES[1], tip_on="hair")

    with pytest.raises(InputError, match="ring of tips"):
        build(piece(LEAVES[0], leaf, LEAVES[2]))


def test_finer_cut_makes_more_segments_of_the_same_volume() -> None:
    """Property: the cut is a choice of cost, not of shape."""
    short = piece(part(length=0.006, width=(0.003, 0.001)))
    coarse, fine = build(short, finest=0.003), build(short, finest=0.0005)

    assert len(coarse.start) < len(fine.start)
    assert segment_volumes(coarse).sum() == near(segment_volumes(fine).sum(), rel=1e-12)


def test_finest_of_nothing_is_refused() -> None:
    """Refusal: a length of 0 has no segments."""
    with pytest.raises(InputError, match="finest is 0"):
        build(HEAD, finest=0.0)


def test_heights_are_those_of_the_hanging_piece() -> None:
    """Exact: stem 60 mm, then a head of 20 mm, straight down."""
    network = build(HEAD)
    head = np.flatnonzero(of_part(network, "head"))

    assert network.start_position[0].tolist() == [0.0, 0.0, 0.0]
    assert network.end_position[head[-1], 2] == near(-0.08)
    assert math.isclose(network.length[head].sum(), 0.02)
