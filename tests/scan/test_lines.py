"""Middle lines, and what is read off them: knees and feet.

What is thin at the side of a head belongs here too: it made a length wrong.
"""

import math
from typing import Any

import numpy as np
import pytest
import trimesh

from pourcast import units as si
from pourcast.scan.lines import Line, centred, line_through
from pourcast.scan.solve import solve
from tests.plants import meshes
from tests.plants.kinds import insect
from tests.scan.make import joined, record, stem
from tests.scan.score import Score

LENGTH, RADIUS = 12e-3, 0.6e-3


def surface(line: si.Metres, ahead: si.Metres, *, gap: float = 0.0) -> si.Metres:
    """Return places about a line in the x-z plane, on a cone to 0.7; ``gap`` of each turn fails."""
    rng = np.random.default_rng(3)
    at = rng.uniform(0.0, 1.0, 4000)
    turn = 2 * np.pi * (gap + (1 - gap) * rng.uniform(0.0, 1.0, 4000))
    radius = RADIUS * (1.0 - 0.3 * at)
    k = np.rint(at * (len(line) - 1)).astype(int)
    side = np.stack([ahead[k, 2], np.zeros(4000), -ahead[k, 0]], axis=1)
    round_ = np.cos(turn)[:, None] * side + np.sin(turn)[:, None] * np.array([0.0, 1.0, 0.0])
    return np.asarray(line[k] + radius[:, None] * round_)


def through(middles: si.Metres) -> Line:
    return line_through(
        middles, np.ones(len(middles)), beyond=3e-3, toward=np.array([0.0, 0.0, 1.0])
    )


@pytest.mark.parametrize("gap", [0.0, 0.4])
@pytest.mark.parametrize("bend", [0.0, 40.0])
def test_a_line_that_leans_comes_back_to_the_axis(bend: float, gap: float) -> None:
    """Closed form: a cone about a straight line, and about an arc; 0.25 mm off at both ends.

    Also where two fifths of the girth are hidden.  Tolerance 0.01 mm.  Found: 0.006 mm.
    """
    share = np.linspace(0.0, 1.0, 2001)
    if bend:
        radius = LENGTH / math.radians(bend)
        angle = share * math.radians(bend)
        axis = radius * np.stack([1 - np.cos(angle), 0 * angle, np.sin(angle)], axis=1)
        ahead = np.stack([np.sin(angle), 0 * angle, np.cos(angle)], axis=1)
    else:
        axis = np.stack([0 * share, 0 * share, LENGTH * share], axis=1)
        ahead = np.tile([0.0, 0.0, 1.0], (2001, 1))
    leaning = axis[::80] + np.linspace(-2.5e-4, 2.5e-4, 26)[:, None] * np.array([0.6, 0.8, 0.0])

    line = centred(through(leaning), surface(axis, ahead, gap=gap), edge=RADIUS)

    inner = (line.along > 0.0) & (line.along < line.end)
    off = np.linalg.norm(line.place[inner][:, None] - axis[None, ::10], axis=2).min(axis=1)
    assert np.percentile(off, 95) < 0.05e-3
    _, across = line.feet(axis[100:-100])
    assert np.linalg.norm(across, axis=1).max() < 0.01e-3


@pytest.mark.parametrize("seed", [1, 9, 29, 32, 34])
def test_a_rough_short_foot_is_not_bowed(seed: int) -> None:
    """Closed form: 2.8 mm of a straight rod of 0.7 mm, four pieces, noise of 0.05 mm.

    At its knee the line goes on 0.7 mm beyond them, and over that 4° are 0.05 mm, the noise.
    Found: within 2° for 40 seeds; with a bow up to 11°, for these five 7° and more.
    """
    rng = np.random.default_rng(seed)
    turn, along = rng.uniform(0.0, 2 * np.pi, 280), rng.uniform(-7e-4, 2.8e-3, 280)
    place = np.stack([3.5e-4 * np.cos(turn), 3.5e-4 * np.sin(turn), along], axis=1)
    place += rng.normal(0.0, 5e-5, place.shape)
    middles = np.array([[0.1, 0, 0], [0, 0.05, 0.9], [0, 0, 1.8], [0.1, 0.1, 2.6]]) * 1e-3

    line = centred(through(middles), place, edge=3.5e-4)

    assert line.toward(0.0)[2] > math.cos(math.radians(4.0))


def test_a_line_moves_as_far_as_its_surface_tells() -> None:
    """House: a foot whose first piece hugs the knee, 0.4 mm off (noisy insect 3024).

    Its ends lie beyond what is seen of its surface, and may move by more than the radius.
    """
    rng = np.random.default_rng(0)
    turn, along = rng.uniform(0.0, 2 * np.pi, 285), rng.uniform(0.0, 1.6e-3, 285)
    place = np.stack([3.2e-4 * np.cos(turn), 3.2e-4 * np.sin(turn), along], axis=1)
    middles = np.array([[0.40, 0, 0.0], [0.05, 0, 0.7], [-0.15, 0, 1.6]]) * 1e-3

    line = centred(through(middles), place, edge=3.2e-4)

    assert line.toward(0.0)[2] > math.cos(math.radians(4.0))


def test_few_places_move_no_line() -> None:
    line = through(np.linspace([0, 0, 0], [0, 0, LENGTH], 26))

    assert centred(line, np.array([[RADIUS, 0.0, 0.005]] * 30), edge=RADIUS) is line


def test_a_line_does_not_leave_its_part() -> None:
    """Made to fail: all that is seen is the surface of a wide neighbour."""
    line = through(np.linspace([0, 0, 0], [0, 0, LENGTH], 26))
    far = surface(np.array([[5e-3, 0, LENGTH * k] for k in (0.0, 0.5, 1.0)]), np.eye(3)[[2, 2, 2]])

    assert centred(line, far, edge=RADIUS) is line


def rod(length: float, diameter: float, base: list[float], lean: float) -> Any:
    """Return a rod that leans by an angle [deg] in the x-z plane."""
    mesh = stem(length, diameter)
    angle = math.radians(lean)
    turn = np.eye(4)
    turn[0, 0] = turn[2, 2] = math.cos(angle)
    turn[0, 2], turn[2, 0] = math.sin(angle), -math.sin(angle)
    mesh.apply_transform(turn)
    mesh.apply_translation(base)
    return mesh


def test_a_foot_begins_where_its_shin_ends() -> None:
    """Closed form: a leg of 9 and 3.5 mm with a knee of 40° on a block of wax.

    The axes cross r cos 40° under the end of the shin.  Bar 8 %; before the lines were
    centred feet of drawn insects were up to 13 % short.  Found: within 2 %.
    """
    radius, knee = 0.35, math.radians(40)
    start = np.array([0.0, 0.0, 16.0])
    shin = rod(10.0, 2 * radius, [0, 0, 15.0], 0.0)
    out = np.array([math.sin(knee), 0.0, math.cos(knee)])
    base = start + np.array([radius * math.sin(knee), 0.0, 9.0])
    foot = rod(4.0, 2 * radius, (base - 0.5 * out).tolist(), 40.0)

    found = solve(record(joined(stem(16.0, 4.0), shin, foot)), rng=np.random.default_rng(0))

    _, second, third = found.parts
    assert [second.parent, third.parent] == [0, 1]
    assert 1e3 * second.length == pytest.approx(9.0, rel=0.08)
    assert 1e3 * third.length == pytest.approx(3.5, rel=0.08)


def test_a_thin_body_on_the_side_of_a_head_is_not_its_end() -> None:
    """House: the head keeps its length, and the one feeler grows on it."""
    head = trimesh.creation.icosphere(subdivisions=4, radius=2.5)
    head.apply_translation([0, 0, 14.0])
    feeler = rod(12.0, 0.8, [1.2, 0, 14.8], 60.0)

    found = solve(record(joined(stem(12.0, 3.0), head, feeler)), rng=np.random.default_rng(0))

    assert [part.shape for part in found.parts] == ["rod", "lump", "rod"]
    assert [part.parent for part in found.parts] == [-1, 0, 1]
    # The base of the head lies in the stem, up to where the ball is as wide as that.
    assert 1e3 * found.parts[1].length == pytest.approx(2.5 + 2.0, abs=0.4)


@pytest.mark.parametrize(
    "seed",
    [
        3,
        11,
        pytest.param(
            3047,
            marks=[
                pytest.mark.long,
                pytest.mark.xfail(strict=True, reason="a foot behind a knee of 25° is 12 % long"),
            ],
        ),
    ],
)
def test_legs_of_a_rough_insect_have_their_lengths(seed: int) -> None:
    """House bar: 8 %, each stalk longer than 3 parent diameters; noise of 0.05 mm.

    Before: a foot of 0.5 mm was taken for flat, or its line was bowed; 86 and 65 % off.
    """
    plant = insect(seed)
    rough = meshes.noisy(meshes.clean(plant), seed=seed)
    score = Score()

    score.add("insect", plant, solve(record(rough), rng=np.random.default_rng(0)), None)

    assert (score.missing, score.extra) == (0, 0)
    assert max(map(abs, score.long_stalks)) < 0.08
