"""Ground, scale, outline and skeleton on drawn shapes whose sizes are known."""

import math

import numpy as np
import pytest
from scipy import ndimage

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.photo.ground import cut_out, dark_pieces, flattened
from pourcast.photo.grown import angles_of
from pourcast.photo.model import Mark, PerPixel, TwoPoints
from pourcast.photo.outline import chords
from pourcast.photo.scale import find_scale
from pourcast.photo.skeleton import skeleton
from pourcast.photo.space import longest_of_twenty
from pourcast.photo.strokes import strokes
from tests.outside.record import record


def drawn(dark: si.Booleans, *, uneven: float = 0.0, blur: float = 1.2) -> si.Ratios:
    """Return a grey picture of what is dark, drawn three times as fine, blurred."""
    rows, columns = (side // 3 for side in dark.shape)
    shade = np.where(dark, 60.0, 215.0).reshape(rows, 3, columns, 3).mean(axis=(1, 3))
    shade = ndimage.gaussian_filter(shade, blur) * np.linspace(1 - uneven, 1, columns)
    return np.asarray(shade + np.random.default_rng(1).normal(0.0, 2.0, shade.shape))


def pixels(shade: si.Ratios) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    return np.clip(shade, 0, 255).astype(np.uint8)[:, :, None]


def grid(rows: int, columns: int) -> tuple[si.Ratios, si.Ratios]:
    """Columns and rows, in pixels, of a grid three times as fine."""
    fine = (np.arange(3 * columns) + 0.5) / 3 - 0.5, (np.arange(3 * rows) + 0.5) / 3 - 0.5
    x, y = np.meshgrid(*fine)
    return x, y


def test_uneven_light_is_evened() -> None:
    """No source: a plane of light is within the polynomial; noise 2 of 215 is 1 %."""
    x, y = grid(300, 400)
    light = flattened(pixels(drawn(np.hypot(x - 200, y - 150) < 40, uneven=0.3)))

    ground = np.delete(light, slice(80, 320), axis=1)

    assert ground == pytest.approx(1.0, abs=0.05)
    assert light[140:160, 190:210] == pytest.approx(60 / 215, abs=0.08)


def test_too_little_contrast_is_refused_in_the_casters_words() -> None:
    shade = np.full((300, 300), 215.0)
    shade[100:200, 100:200] = 180.0

    with pytest.raises(InputError, match="plain white ground") as told:
        dark_pieces(flattened(pixels(shade)))

    assert told.value.what == "contrast"


@pytest.mark.parametrize("tilt", [0.0, 7.0, 33.0])
def test_a_bar_is_found_and_read_below_one_pixel(tilt: float) -> None:
    """No source: a bar of 240 by 12 pixels; its ends are read at half the light.

    Tolerance 0.4 pixels at both ends together, 0.17 %.  Found: 0.13 %.
    """
    x, y = grid(400, 400)
    c, s = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    u, v = c * (x - 200) + s * (y - 250), -s * (x - 200) + c * (y - 250)
    bar = (abs(u) < 120) & (abs(v) < 6)
    plant = np.hypot(x - 200, y - 60) < 45
    light = flattened(pixels(drawn(bar | plant)))
    pieces, _ = dark_pieces(light)

    scale, number = find_scale(Mark(length=0.05), light, pieces, 1)

    assert pieces[250, 200] == number
    assert 0.05 / scale.size == pytest.approx(240.0, abs=0.4)


def test_without_a_bar_the_caster_is_told_what_to_do() -> None:
    x, y = grid(300, 300)
    light = flattened(pixels(drawn(np.hypot(x - 150, y - 150) < 40)))
    pieces, _ = dark_pieces(light)

    with pytest.raises(InputError, match="give two points and a length, or mm per pixel"):
        find_scale(Mark(length=0.05), light, pieces, 1)


def test_two_points_and_a_pixel_give_the_scale_of_the_smaller_picture() -> None:
    """By hand: 300 pixels of the file are 100 of a picture three times smaller; 50 mm."""
    none = np.zeros((1, 1), dtype=np.int64)
    points = TwoPoints(first=(10.0, 20.0), second=(310.0, 20.0), length=0.05)

    by_points, _ = find_scale(points, np.ones((1, 1)), none, 3)
    by_pixel, _ = find_scale(PerPixel(size=1e-4), np.ones((1, 1)), none, 3)

    assert by_points.size == pytest.approx(0.05 / 100)
    assert by_pixel.size == pytest.approx(3e-4)


@pytest.mark.parametrize("width", [6.0, 12.0, 40.0])
def test_the_width_of_a_slanted_band_is_read_below_one_pixel(width: float) -> None:
    """No source: drawn.  Tolerance 0.25 pixels: grid of a third of a pixel, noise.

    Found: 0.12 pixels at most.
    """
    x, y = grid(300, 300)
    c, s = math.cos(0.4), math.sin(0.4)
    band = abs(-s * (x - 150) + c * (y - 150)) < width / 2
    light = flattened(pixels(drawn(band)))
    t = np.linspace(-80, 80, 60)
    line = np.column_stack([150 + c * t, 150 + s * t])

    left, right = chords(light, line, np.tile([c, s], (60, 1)), np.full(60, width / 2))

    record("photo", f"width of a band of {width:.0f} pixels", "drawn, by construction",
           float(np.mean(left + right)), width, "pixels", 0.25, kind="by construction")  # fmt: skip
    assert np.mean(left + right) == pytest.approx(width, abs=0.25)


def test_the_medial_axis_of_a_rectangle_is_its_middle_line() -> None:
    """Published: the axis of an a by b rectangle runs in its middle, with r = b/2.

    Source: Blum (1967), the rectangle of his first figures (from memory).  Its
    four corner branches are bumps here.  Tolerance 1 pixel of the grid.
    """
    inside = np.zeros((120, 320), dtype=bool)
    inside[40:81, 20:300] = True

    bones = skeleton(inside)

    assert len(bones.branches) == 1
    branch = bones.branches[0]
    assert np.abs(branch.line[:, 1] - 60).max() <= 1.0
    assert np.median(branch.radius) == pytest.approx(20.5, abs=1.0)
    assert np.ptp(branch.line[:, 0]) == pytest.approx(280 - 41, abs=3.0)


def test_two_bars_that_cross_are_two_strokes_and_a_crossing() -> None:
    """No source: an X of two bars on a stem, one of them held by the stem only."""
    x, y = grid(420, 420)

    def bar(x0: float, y0: float, x1: float, y1: float, wide: float) -> si.Booleans:
        along = np.array([x1 - x0, y1 - y0])
        length = float(np.hypot(*along))
        u = ((x - x0) * along[0] + (y - y0) * along[1]) / length
        v = (-(x - x0) * along[1] + (y - y0) * along[0]) / length
        return np.asarray((u > 0) & (u < length) & (abs(v) < wide / 2))

    dark = bar(100, 410, 100, 20, 24) | bar(100, 330, 330, 130, 10) | bar(100, 120, 330, 330, 10)
    light = flattened(pixels(drawn(dark)))
    pieces, contrast = dark_pieces(light)
    seen = cut_out(light, pieces, 0, contrast, 1)

    found, crossed = strokes(skeleton(seen.inside), (100.0, 410.0))

    assert [stroke.parent for stroke in found] == [-1, 0, 0]
    assert len(crossed) == 1


def test_a_part_that_shows_no_angle_may_be_any_length_and_a_steep_one_little() -> None:
    """By the model: it never looks longer than it is, and one that looks steep may be flat on."""
    assert longest_of_twenty(math.radians(45)) > 1.2
    for angle in range(5, 180, 5):
        assert longest_of_twenty(math.radians(angle)) >= 1.0


def test_19_of_20_parts_at_a_turn_of_chance_are_shorter_than_the_band_says() -> None:
    """By the model, drawn afresh: any turn, any angle from 10 to 100 degrees.

    Tolerance 0.02: the grid of half a degree; 20 000 draws are known to 0.002.
    """
    rng = np.random.default_rng(0)
    angle = np.radians(rng.uniform(10, 100, 20_000))
    turn = rng.uniform(0, 2 * math.pi, 20_000)
    shown = np.hypot(np.cos(angle), np.sin(angle) * np.cos(turn))
    seen = np.arctan2(np.abs(np.sin(angle) * np.cos(turn)), np.cos(angle))
    chosen = slice(0, 1500)

    inside = [
        1.0 / s <= longest_of_twenty(float(a))
        for s, a in zip(shown[chosen], seen[chosen], strict=True)
    ]

    assert np.mean(inside) == pytest.approx(0.95, abs=0.03)


def test_a_part_that_turns_right_back_has_an_angle_of_half_a_turn() -> None:
    """By geometry: against its parent it stands at 180 degrees, and its side is still a direction.

    Seen in a picture of a stem that hung from its foot: no side could be told, and it was nan.
    """
    up, right = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    angle, turn, own, bend = angles_of(up, right, -up, -up, 0.0)

    assert (angle, turn, bend) == pytest.approx((math.pi, 0.0, 0.0))
    assert np.linalg.norm(own) == pytest.approx(1.0)
    assert own @ up == pytest.approx(0.0)
