"""The picture of the piece in its flask, and the hundred spines."""

import itertools
import math
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.forecast.model import Outcomes
from pourcast.page import svg_labels
from pourcast.page.figures import counts, hundred
from pourcast.page.render import render
from pourcast.page.svg_plate import legend, plate
from pourcast.page.svg_shapes import CLASSES, View, broadside, depth, hull, runs, shade
from pourcast.page.svg_tally import tally
from tests.page import sample
from tests.page.reader import pictures
from tests.strategies import outcomes

VIEW = View(scale=1000.0, top=0.0)
places = st.floats(-0.2, 0.2)


def _classed(picture: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [node for node in picture.iter() if name in node.get("class", "").split()]


@given(places, places, places, st.floats(1e-4, 0.2))
def test_lower_point_stands_lower(x: float, y: float, z: float, fall: float) -> None:
    """Geometry: seen from 20° above, a point straight below another stands lower on the sheet."""
    above, below = VIEW.flat(np.array([[x, y, z], [x, y, z - fall]]))

    assert below[1] > above[1]
    assert below[0] == above[0]


@given(places, places, places, st.floats(1e-4, 0.2))
def test_nearer_point_stands_lower_and_is_laid_down_later(
    x: float, y: float, z: float, nearer: float
) -> None:
    """Geometry: on a level floor seen from above the near edge is the lower one."""
    far, near = np.array([x, y, z]), np.array([x, y - nearer, z])

    assert VIEW.flat(near)[1] > VIEW.flat(far)[1]
    assert depth(near) < depth(far)


def test_level_circle_is_an_ellipse_as_flat_as_the_sine_of_the_elevation() -> None:
    """Geometry: orthographic view of a circle, Euclid; exact to rounding."""
    turns = np.linspace(0.0, 2 * math.pi, 721)
    ring = np.stack([np.cos(turns), np.sin(turns), np.zeros_like(turns)], axis=1) * 0.038

    flat = VIEW.flat(ring)

    assert np.ptp(flat[:, 0]) == pytest.approx(76.0, abs=1e-9)
    assert np.ptp(flat[:, 1]) == pytest.approx(76.0 * math.sin(math.radians(20.0)), abs=1e-9)


@given(st.tuples(places, places, places).filter(lambda way: np.linalg.norm(way) > 1e-4))
def test_blade_is_laid_square_to_its_middle_line_with_its_width_level(
    way: tuple[float, float, float],
) -> None:
    """Geometry: three directions at right angles, the width in the level plane.

    Tolerance 2e-3: a blade within a thousandth of straight down is taken as straight down.
    """
    along = np.array(way)

    across, through = broadside(along)

    unit = along / np.linalg.norm(along)
    assert across[2] == 0.0
    for one, other in ((across, unit), (through, unit), (across, through)):
        assert abs(float(one @ other)) < 2e-3
    assert np.linalg.norm(across) == pytest.approx(1.0)
    assert np.linalg.norm(through) == pytest.approx(1.0)


@given(st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=3, max_size=40))
def test_outline_holds_every_point(points: list[tuple[float, float]]) -> None:
    """Geometry: a convex outline has every point on one side of each of its edges.

    Tolerance 1.5: corners are rounded to 0.01 and edges are up to 142 long.
    """
    outline = hull(np.array(points))
    if len(outline) < 3:
        return
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        for x, y in points:
            assert (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= -1.5


@pytest.mark.parametrize(
    ("chance", "name"),
    [
        (1.0, "c1"),
        (0.98, "c1"),
        (0.97, "c2"),
        (0.95, "c2"),
        (0.94, "c3"),
        (0.85, "c3"),
        (0.84, "c4"),
        (0.60, "c4"),
        (0.59, "c5"),
        (0.0, "c5"),
    ],
)
def test_shade_is_that_of_the_legend(chance: float, name: str) -> None:
    """House rule: the ends of the classes as they are written in the legend."""
    assert shade(chance) == name


def test_each_segment_has_a_shape_of_its_shade() -> None:
    """Count: as many shapes as segments, and of each shade as many as its chances."""
    forecast = sample.forecast()

    [picture] = pictures(plate(forecast))

    shapes = _classed(picture, "seg")
    assert len(shapes) == len(forecast.network.start)
    for k, (least, name, _) in enumerate(CLASSES):
        below = CLASSES[k - 1][0] if k else math.inf
        wanted = [c for c in forecast.segment_chance if least <= c < below]
        assert len(_classed(picture, name)) == len(wanted)


def test_every_shade_of_the_plate_is_in_the_legend() -> None:
    """House rule: never colour alone; each shade stands in the legend with its numbers."""
    drawn = {name for _, name, _ in CLASSES}

    shown = {node.get("class") for kept in pictures(legend()) for node in kept.iter("rect")}

    assert shown == drawn
    for _, _, words in CLASSES:
        assert words in legend()


def test_every_part_has_its_number() -> None:
    """Count: a leader for each part, none twice."""
    [picture] = pictures(plate(sample.forecast()))

    numbers = [node.text for node in _classed(picture, "num")]

    assert sorted(filter(None, numbers)) == ["1", "2", "3", "4", "5"]


@given(
    st.dictionaries(
        st.integers(1, 60),
        st.lists(st.tuples(st.floats(-40, 40), st.floats(0, 100)), min_size=2, max_size=2),
        min_size=1,
        max_size=40,
    )
)
def test_numbers_do_not_cover_each_other(spots: dict[int, list[tuple[float, float]]]) -> None:
    """Geometry: on each side, numbers stand a line apart, and on the sheet if they fit.

    1e-9 is left for rounding.
    """
    made = svg_labels.leaders(spots, 50.0, 0.0, 100.0)

    assert [leader.number for leader in made] == sorted(spots)
    for sign in (-1, 1):
        heights = sorted(kept.place[1] for kept in made if kept.place[0] * sign > 0)
        assert all(b - a >= svg_labels.LINE - 1e-9 for a, b in itertools.pairwise(heights))
        if len(heights) * svg_labels.LINE <= 100.0:
            assert all(-1e-9 <= height <= 100.0 + 1e-9 for height in heights)


def test_glass_stands_where_nothing_is() -> None:
    """Geometry: no point within its radius; a crowded flask has no such place."""
    rng = np.random.default_rng(3)
    crowd = np.stack([rng.uniform(-38, 38, 4000), rng.uniform(0, 60, 4000)], axis=1)

    found = svg_labels.empty_place(crowd, 13.0, 38.0, 0.0, 100.0)

    assert found is not None
    assert np.linalg.norm(crowd - np.array(found), axis=1).min() > 13.0
    assert svg_labels.empty_place(crowd, 13.0, 38.0, 0.0, 60.0) is None


def test_large_piece_is_drawn_with_fewer_shapes() -> None:
    """Count: over the limit, neighbours of one member and shade are one shape; none is lost."""
    network, chance = sample.network(bracts=40, spines=6, bristles=100)
    count = len(network.start)

    alone = runs(network, chance, count)
    fewer = runs(network, chance, count // 4)

    assert len(alone) == count
    assert len(fewer) < count
    assert [k for run in fewer for k in range(run.first, run.last + 1)] == list(range(count))
    assert all(
        len({int(network.member[k]) for k in range(run.first, run.last + 1)}) == 1 for run in fewer
    )


def test_page_of_500_segments_stays_small() -> None:
    """House rule: under 300 kB for a piece of about 500 segments; found 137 kB."""
    network, chance = sample.network(bracts=24, spines=6, bristles=110)
    forecast = replace(sample.forecast(), network=network, segment_chance=chance)

    assert len(network.start) == 482
    assert len(render(forecast).encode()) < 300_000


def test_wall_of_a_perforated_flask_has_holes() -> None:
    """House rule: a solid wall is drawn solid."""
    base = sample.forecast()
    flask = replace(base.plan.flask, wall="solid")
    solid = replace(base, plan=replace(base.plan, flask=flask))

    [holed], [whole] = pictures(plate(base)), pictures(plate(solid))

    assert _classed(holed, "hole")
    assert not _classed(whole, "hole")


@given(outcomes())
def test_hundred_spines_tell_the_counts(drawn: Outcomes) -> None:
    """Count: a spine for each pour, of each shape as many as the counts say."""
    pours = hundred(drawn)

    [picture] = pictures(tally(pours))

    assert len(_classed(picture, "spine")) == 100
    drawn_counts = tuple(
        len(_classed(picture, name)) for name in ("whole", "tips", "parts", "lost")
    )
    assert drawn_counts == counts(pours)
