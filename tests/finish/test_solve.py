"""The whole of the finishing on whole pieces."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.finish.acts import BENDS, BENDS_AT_MOST
from pourcast.finish.model import FinishCase
from pourcast.finish.solve import solve
from pourcast.piece.measure import measure
from pourcast.piece.model import Piece
from pourcast.piece.network import build
from tests.finish.beams import loads, strength
from tests.melt.test_solve import account
from tests.piece.make import few, part, piece
from tests.strategies import pieces
from tests.strategies_finish import cases

PLANT = piece(
    part("stem", length=0.04, width=0.005),
    part("leaf", "stem", shape="blade", length=0.03, width=0.008, thickness=0.0004, count=3,
         position=(0.3, 0.9), angle=60.0),
    part("hair", "leaf", length=0.003, width=0.0005, position=0.5, angle=80.0, count=2),
)  # fmt: skip


def case(members: int, draws: int = 4, scale: float = 1.0) -> FinishCase:
    """Return a plain case: brush 3 N, wheel 15 N, jet 2 N, blast 11 kPa and 2 kPa."""
    return FinishCase(
        strength=strength(draws),
        loads=loads(hand_brush=3.0, wheel=15.0, water_jet=2.0, blast=1.1e4, light_blast=2e3,
                    draws=draws),
        section_scale=np.full((draws, members), scale),
        saw_rate=8e-7,
        solid_density=8360.0,
        contraction=0.015,
    )  # fmt: skip


def test_stem_leaf_and_hair_are_told_what_a_caster_would_say() -> None:
    """Common practice, no source: a wheel for a stem, never for a leaf of 0.4 mm.

    Roark, from memory: the leaf yields at σ b t²/(6 L) = 1.07 N, the stem of 5 mm at
    46 N, the hair of 3 mm and 0.5 mm at 0.6 N.
    """
    made = build(PLANT)

    found = solve(made, measure(PLANT, made), account(), case(10))

    stem, leaf, hair = found.parts
    assert (stem.act, stem.members, stem.bends_at) == ("wheel", 1, "stem")
    assert (leaf.act, leaf.members, leaf.bends_at) == ("light blast only", 3, "leaf")
    assert (hair.act, hair.members, hair.bends_at) == ("light blast only", 6, "hair")
    assert stem.tip_force == pytest.approx(46.0, rel=0.01)
    assert leaf.tip_force == pytest.approx(1.07, rel=0.01)
    assert hair.tip_force == pytest.approx(0.61, rel=0.01)
    assert leaf.bent == {
        "wheel": 1.0, "hand brush": 1.0, "pressure blast": 1.0, "light blast only": 0.0,
    }  # fmt: skip
    assert (stem.bent_by_water, leaf.bent_by_water) == (0.0, 1.0)
    assert [cut.place for cut in found.cuts] == ["gate"]


def test_feeds_of_the_case_are_cut_off() -> None:
    """By definition."""
    made = build(PLANT)

    found = solve(made, measure(PLANT, made), account(), replace(case(10), feeds=("stem",)))

    assert [cut.place for cut in found.cuts] == ["feed into leaf"]
    assert found.balance.feeds > 0.0


@few
@given(pieces().flatmap(lambda drawn: st.tuples(st.just(drawn), cases(build(drawn)))))
def test_acts_of_any_piece_follow_from_its_shares(drawn: tuple[Piece, FinishCase]) -> None:
    """By definition of the acts."""
    whole, of = drawn
    made = build(whole)

    found = solve(made, measure(whole, made), account(), of)

    assert [one.name for one in found.parts] == [one.name for one in whole.parts]
    for one in found.parts:
        kept = tuple(act for act in BENDS if one.bent[act] <= BENDS_AT_MOST)
        assert one.allowed == (*kept, "leave")
        assert one.act == one.allowed[0]
        assert 0.0 <= one.bent_by_water <= 1.0
        assert one.tip_force_low <= one.tip_force
        assert one.bends_at in made.part_names


@few
@given(st.floats(1.05, 1.6))
def test_a_thicker_casting_bends_in_fewer_draws(more: float) -> None:
    """By physics: more metal never makes a part weaker."""
    made = build(PLANT)
    sizes = measure(PLANT, made)

    thin, thick = (solve(made, sizes, account(), case(10, scale=scale)) for scale in (1.0, more))

    for one, other in zip(thin.parts, thick.parts, strict=True):
        assert other.tip_force > one.tip_force
        assert all(other.bent[act] <= one.bent[act] for act in BENDS)


def test_factors_of_another_piece_are_refused() -> None:
    """House rule: a stated limit is a kept limit."""
    made = build(PLANT)

    with pytest.raises(InputError, match=r"of shape \(4, 10\)"):
        solve(made, measure(PLANT, made), account(), case(9))
