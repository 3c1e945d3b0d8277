"""Middle lines, and what is read off them: knees, hidden ends and feet.

What is thin at the side of a head belongs here too: it made a length wrong.
"""

import math
from typing import Any

import numpy as np
import pytest
import trimesh

from pourcast import units as si
from pourcast.scan.ends import hidden_tip
from pourcast.scan.lines import Line, centred, line_through
from pourcast.scan.solve import solve
from tests.scan.make import joined, record, stem

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


def straight(base: list[float], ahead: list[float], length: float) -> Line:
    """Return the line from a place along a direction, in millimetres."""
    way = np.array(ahead) / np.linalg.norm(ahead)
    steps = np.linspace(0.0, length, 12)[:, None]
    return line_through(1e-3 * (base + steps * way), np.ones(12), beyond=5e-3, toward=way)


@pytest.mark.parametrize("angle", [28.0, 50.0])
def test_a_stem_ends_where_the_rays_of_its_whorl_begin(angle: float) -> None:
    """Closed form: rays on the end face of a stem of 3 mm at 20 mm, its surface seen to 18.

    Tolerance 0.1 mm, a step of the line.
    """
    lean, radius = math.radians(angle), 1.5
    rays = []
    for turn in np.linspace(0.0, 2 * math.pi, 6)[:-1]:
        out = [math.cos(turn) * math.sin(lean), math.sin(turn) * math.sin(lean), math.cos(lean)]
        base = [radius * out[0], radius * out[1], 20.0]
        rays.append(straight(base, out, 15.0))
    stem_ = straight([0, 0, 0], [0, 0, 1], 18.0)

    assert hidden_tip(stem_, 1e-3 * radius, 18e-3, rays) == pytest.approx(20e-3, abs=1.5e-4)
    # One alone may lean in from anywhere; and what is seen is not taken away.
    assert hidden_tip(stem_, 1e-3 * radius, 18e-3, rays[:1]) == 18e-3
    assert hidden_tip(stem_, 1e-3 * radius, 20.2e-3, rays) == 20.2e-3


def test_what_leaves_at_the_side_moves_no_tip() -> None:
    stem_ = straight([0, 0, 0], [0, 0, 1], 20.0)
    side = [straight([1.5 * x, 0, 12.0], [x, 0, 1], 10.0) for x in (-1.0, 1.0)]

    assert hidden_tip(stem_, 1.5e-3, 20e-3, side) == 20e-3


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
