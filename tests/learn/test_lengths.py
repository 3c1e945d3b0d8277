"""Lengths of what is learnt from: strips stand evenly, and a part counts its members by length."""

import math

import numpy as np
import pytest

from pourcast.forecast.chances import Members
from pourcast.learn.bank import _by_part
from pourcast.learn.fan import fan_parts
from pourcast.piece.network import build
from tests.piece.make import part, piece


@pytest.mark.parametrize("count", [2, 3, 8])
def test_strips_of_a_fan_stand_evenly_about_the_runner(count: int) -> None:
    """Geometry: a whole turn, shared out."""
    strips = fan_parts([(f"strip {number}", 1e-3, False, 0.03) for number in range(count)])[1:]

    turns = [strip.turn for strip in strips]
    assert turns == pytest.approx([2.0 * math.pi * number / count for number in range(count)])


def test_two_like_members_of_which_one_ran_half_way_are_three_quarters_of_their_part() -> None:
    """Arithmetic: half of the part is whole, and the other half ran half of its way."""
    network = build(piece(part(), part("ray", "stem", count=2, angle=90, position=0.5)))
    share = np.ones((1, network.member_part.size))
    share[0, -1] = 0.5
    ends = Members(
        share=share,
        full=share >= 1.0,
        cause=np.zeros(share.shape, dtype=int),
        full_at=np.zeros(share.shape),
    )

    full, whole, ran = _by_part(network, ends)

    assert full.tolist() == [[True, False]]
    assert whole == pytest.approx(np.array([[1.0, 0.5]]))
    assert ran == pytest.approx(np.array([[1.0, 0.75]]))
