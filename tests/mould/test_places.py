"""Ways along and across a segment: what every frame of three directions must be."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.mould.places import frames
from pourcast.piece.network import build
from tests.mould.slurries import made
from tests.piece.make import few, part

ANGLES = st.floats(0.0, 120.0)
"""Degrees from straight down."""


def held_as_a_frame(frame: np.ndarray) -> None:
    """Hold that the rows are three unit ways square to each other, turning the right way round.

    By definition of a turn of space: its matrix times its own transpose is 1, and its volume is 1.
    """
    square = np.einsum("sij,skj->sik", frame, frame)
    assert square == pytest.approx(np.broadcast_to(np.eye(3), square.shape), abs=1e-12)
    assert np.linalg.det(frame) == pytest.approx(np.ones(len(frame)), abs=1e-12)


@few
@given(ANGLES, ANGLES, st.floats(-90.0, 90.0))
def test_the_ways_of_a_segment_are_three_units_square_to_each_other(
    angle: float, turn: float, bend: float
) -> None:
    """By definition: see `held_as_a_frame`; with the widths of a blade, and with none told."""
    blade = part(shape="blade", angle=angle, turn=turn, bend=bend, width=4e-3, thickness=1e-3)
    network = build(made(blade))

    for one in (network, replace(network, across=None)):
        frame = frames(one)

        held_as_a_frame(frame)
        way = network.end_position - network.start_position
        along = np.einsum("si,si->s", frame[:, 0], way)
        assert along == pytest.approx(np.linalg.norm(way, axis=1), rel=1e-12)


def test_a_width_that_is_told_at_a_slant_is_set_square() -> None:
    """By hand: of (2, 0, 3) on a level segment along z what is across it points along (1, 0, 0)."""
    network = build(made(part(length=0.02)))
    straight = replace(
        network,
        end_position=network.start_position + np.array([0.0, 0.0, 1e-3]),
        across=np.tile([2.0, 0.0, 3.0], (len(network.section), 1)),
    )

    frame = frames(straight)

    held_as_a_frame(frame)
    assert frame[:, 1] == pytest.approx(np.tile([1.0, 0.0, 0.0], (len(frame), 1)), abs=1e-12)
