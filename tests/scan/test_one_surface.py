"""Insects in one closed surface, as a scanner gives them: no body of its own for each part.

Truth of the generator in tests/plants.  Seeds under 100 were open while tuning.  The
surface is made by cells of 0.2 mm, so its rods are a few per cent off: no bar on sizes here.
"""

from functools import cache

import numpy as np
import pytest

from pourcast.scan.solve import solve
from tests.outside.record import record as write_down
from tests.plants import meshes
from tests.plants.kinds import insect
from tests.scan.make import one_surface, record
from tests.scan.score import Score

FIRST = 1000
PLANTS = 20


def _add(score: Score, seed: int) -> None:
    piece = insect(seed)
    mesh = record(one_surface(meshes.clean(piece)))
    score.add(f"insect {seed}", piece, solve(mesh, rng=np.random.default_rng(0)), None)


@cache
def scored() -> Score:
    score = Score()
    for seed in range(FIRST, FIRST + PLANTS):
        _add(score, seed)
    return score


def test_trunk_of_an_insect_in_one_surface_is_cut_at_its_waists() -> None:
    """Truth of the generator: abdomen, chest and head, which were one rod without the section."""
    score = Score()
    _add(score, 4)

    assert (score.missing, score.extra) == (0, 0)
    assert score.parents_right == score.parts


@pytest.mark.long
def test_most_parts_of_insects_in_one_surface_are_found() -> None:
    """No bar: what the docs say of them, so that it stays true."""
    score = scored()
    found = 1.0 - score.missing / score.parts

    write_down(
        "scan",
        f"parts found of {score.parts}, insects in one surface",
        "test plants",
        100 * found,
        100.0,
        "%",
        10.0,
        kind="by construction",
    )
    # Of the parents 92 % were right: legs that leave the chest beside each other are mixed up.
    assert found >= 0.9


@pytest.mark.long
@pytest.mark.xfail(strict=True, reason="15 of 497 are false: 3.02 %; 11 in an earlier reading")
def test_few_parts_of_insects_in_one_surface_are_false() -> None:
    """No bar: 3 %, from the time when 2.2 % were."""
    score = scored()

    assert score.extra / score.parts < 0.03


@pytest.mark.long
@pytest.mark.xfail(strict=True, reason="24 of 497 missing, 15 false, 92 % of parents")
def test_parts_of_insects_in_one_surface_are_within_the_bars() -> None:
    """House bar: 98 % of the parts found, false ones under 2 %, parent right for 98 %."""
    score = scored()

    assert score.missing / score.parts <= 0.02
    assert score.extra / score.parts < 0.02
    assert score.parents_right / score.matched >= 0.98
