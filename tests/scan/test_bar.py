"""The bar: 200 plants of three generators that the reader was not tuned on.

Seeds from 1 000 on; those under 100 were open while tuning.  The generators are
in tests/plants and were written by someone who did not write the reader; they
share with it what length, place and angle mean in a piece file.

The bars are those of the house.
"""

import os
import pickle
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from pourcast.scan.solve import solve
from tests.outside.record import record as write_down
from tests.plants import meshes as faults
from tests.plants.kinds import KINDS
from tests.plants.shells import member_shells
from tests.plants.truth import whole_volume_mm3
from tests.scan.make import record
from tests.scan.score import Score, ninety

FIRST = 1000
PLANTS = {"umbel": 67, "twig": 67, "insect": 66}
BAD = 8
"""Plants of each kind that are taken with a fault as well."""

APART = 8
"""Of the clean plants each eighth has its volume held: the truth costs ten times the reading."""

Scores = Callable[..., Score]

pytestmark = pytest.mark.long


@pytest.fixture(scope="session")
def scored(tmp_path_factory: pytest.TempPathFactory) -> Scores:
    """Return what gives the score of a kind of plant; workers of one run share what is done."""
    kept = tmp_path_factory.getbasetemp()
    if os.environ.get("PYTEST_XDIST_WORKER"):
        kept = kept.parent

    def of(kind: str, fault: str = "clean") -> Score:
        file = kept / f"score-{kind}-{fault}.pickle"
        if file.exists():
            done: Score = pickle.loads(file.read_bytes())
            return done
        score = _score(kind, fault)
        # In one go: another worker never meets half of it.
        half = file.with_suffix(f".{os.getpid()}")
        half.write_bytes(pickle.dumps(score))
        half.replace(file)
        return score

    return of


def _score(kind: str, fault: str) -> Score:
    score = Score()
    for seed in range(FIRST, FIRST + (PLANTS[kind] if fault == "clean" else BAD)):
        piece = KINDS[kind](seed)
        mesh = faults.clean(piece)
        if fault != "clean":
            mesh = faults.FAULTS[fault](mesh, seed=seed)
        scanned = solve(record(mesh), rng=np.random.default_rng(0))
        held = fault != "clean" or (seed - FIRST) % APART == 0
        score.add(f"{kind} {seed} {fault}", piece, scanned, _volume(kind, seed) if held else None)
    return score


@cache
def _volume(kind: str, seed: int) -> float:
    # Four times the points: the spread of the truth is then a tenth of the bar.
    return whole_volume_mm3(member_shells(KINDS[kind](seed)), points=16_000)


KINDS_OF_PLANT = ("umbel", "twig", "insect")


def test_parts_of_clean_plants_are_found(scored: Scores) -> None:
    """House bar: 98 % of the parts found, false ones under 2 %, parent right for 98 %."""
    scores = [scored(kind) for kind in KINDS_OF_PLANT]
    parts, matched = sum(s.parts for s in scores), sum(s.matched for s in scores)
    found = 1.0 - sum(s.missing for s in scores) / parts
    false = sum(s.extra for s in scores) / parts
    parents = sum(s.parents_right for s in scores) / matched

    write_down(
        "scan",
        f"parts found of {parts}",
        "test plants",
        100 * found,
        100.0,
        "%",
        2.0,
        kind="by construction",
    )
    write_down(
        "scan", "false parts", "test plants", 100 * false, 0.0, "%", 2.0, kind="by construction"
    )
    write_down(
        "scan",
        "parents right",
        "test plants",
        100 * parents,
        100.0,
        "%",
        2.0,
        kind="by construction",
    )
    assert found >= 0.98
    assert false < 0.02
    assert parents >= 0.98


@pytest.mark.parametrize("kind", KINDS_OF_PLANT)
@pytest.mark.parametrize(("fault", "bar"), [("clean", 0.005), ("noisy", 0.03), ("torn", 0.03)])
def test_volume_of_plants(scored: Scores, kind: str, fault: str, bar: float) -> None:
    """House bar: 0.5 % clean, 3 % noisy or torn, of the worst plant."""
    worst = max(map(abs, scored(kind, fault).volume))

    write_down(
        "scan",
        f"volume, worst {kind}, {fault}",
        "test plants",
        100 * worst,
        0.0,
        "%",
        100 * bar,
        kind="by construction",
    )
    assert worst < bar


@pytest.mark.parametrize("kind", KINDS_OF_PLANT)
@pytest.mark.parametrize("fault", ["clean", "noisy", "torn"])
def test_thickness_of_rods_and_sheets(scored: Scores, kind: str, fault: str) -> None:
    """House bar: 3 % at the 90th percentile."""
    error = ninety(scored(kind, fault).thickness)

    write_down(
        "scan",
        f"thickness, 90 %, {kind}, {fault}",
        "test plants",
        100 * error,
        0.0,
        "%",
        3.0,
        kind="by construction",
    )
    assert error < 0.03


@pytest.mark.parametrize("kind", KINDS_OF_PLANT)
@pytest.mark.parametrize("fault", ["clean", "noisy", "torn"])
def test_length_of_long_stalks(scored: Scores, kind: str, fault: str) -> None:
    """House bar: 8 %, of stalks longer than 3 parent diameters, at the 90th percentile."""
    error = ninety(scored(kind, fault).long_stalks)

    write_down(
        "scan",
        f"long stalks, 90 %, {kind}, {fault}",
        "test plants",
        100 * error,
        0.0,
        "%",
        8.0,
        kind="by construction",
    )
    assert error < 0.08


@pytest.mark.parametrize("kind", KINDS_OF_PLANT)
@pytest.mark.parametrize("fault", ["clean", "noisy", "torn"])
def test_parts_of_each_generator_by_itself(scored: Scores, kind: str, fault: str) -> None:
    """House bar read hard: found, false and parent right for each kind of plant alone."""
    score = scored(kind, fault)

    assert score.missing / score.parts <= 0.02, score.lines()
    assert score.extra / score.parts < 0.02, score.lines()
    assert score.parents_right / score.matched >= 0.98, score.lines()


@pytest.mark.parametrize("kind", KINDS_OF_PLANT)
@pytest.mark.parametrize("fault", ["clean", "noisy", "torn"])
def test_length_of_every_long_stalk(scored: Scores, kind: str, fault: str) -> None:
    """House bar read hard: every single one within 8 %.

    Before lines were centred 9.9 to 13 %, clean; noisy insects 50 % before their feet were
    told to be round.
    """
    worst = max(map(abs, scored(kind, fault).long_stalks))

    write_down(
        "scan",
        f"long stalks, worst, {kind}, {fault}",
        "test plants",
        100 * worst,
        0.0,
        "%",
        8.0,
        kind="by construction",
    )
    assert worst < 0.08
