"""How deep a stick runs, by the dark of the other picture; drawn by hand, truth by construction."""

import numpy as np
import pytest

from pourcast import units as si
from pourcast.photo.hull import depth_of, from_the_dark
from pourcast.photo.model import Depth, Pixels, Scale, Silhouette, Stick, View

SIZE = 1e-4  # m a pixel
FOOT = (150.0, 290.0)


def stick(end: tuple[float, float], *, start: tuple[float, float]) -> Stick:
    """Return a straight stick between two places right of and over the foot [mm]."""
    ends = np.array([start, end]) * 10.0
    t = np.linspace(0.0, 1.0, 50)[:, None]
    line = np.array(FOOT) + (ends[0] + t * (ends[1] - ends[0])) * np.array([1.0, -1.0])
    along = t[:, 0] * float(np.hypot(*(ends[1] - ends[0])))
    return Stick(parent=0, line=line, along=along, width=np.full(50, 8.0))


def view(*bars: tuple[tuple[float, float], tuple[float, float]]) -> View:
    """Return a picture of bars of 0.8 mm between places right of and over the foot [mm]."""
    y, x = np.mgrid[:300, :300]
    dark: si.Booleans = np.zeros((300, 300), dtype=bool)
    for bar in bars:
        (x0, z0), (x1, z1) = bar
        a = np.array([FOOT[0] + 10 * x0, FOOT[1] - 10 * z0])
        b = np.array([FOOT[0] + 10 * x1, FOOT[1] - 10 * z1])
        t = np.clip(((x - a[0]) * (b - a)[0] + (y - a[1]) * (b - a)[1]) / ((b - a) @ (b - a)), 0, 1)
        dark |= np.hypot(x - a[0] - t * (b - a)[0], y - a[1] - t * (b - a)[1]) < 4.0
    light = np.where(dark, 0.3, 1.0)
    seen = Silhouette(light=light, inside=dark, contrast=0.7, loose=0)
    return View(
        scale=Scale(size=SIZE, error=0.0), foot=FOOT, sticks=(), crossings=(), silhouette=seen
    )


def seen_from(
    other: View,
    shown: Stick,
    tips: dict[int, Pixels],
    *,
    camera: si.Metre | None = None,
    swapped: bool = False,
    third: View | None = None,
) -> Depth | None:
    """Return the depth of a stick that grows on the stem, by the dark of another view."""
    away = from_the_dark(other)
    between = None if third is None else (third, from_the_dark(third))
    return depth_of(
        view(STEM),
        shown,
        other,
        away,
        0.0,
        tips,
        camera=camera,
        swapped=swapped,
        between=between,
    )


STEM = ((0.0, 0.0), (0.0, 25.0))
SHOOT = ((0.0, 10.0), (8.0, 16.0))  # as the second picture shows it: away from the first camera


@pytest.mark.parametrize("swapped", [False, True])
def test_the_dark_of_the_other_picture_tells_how_deep_a_tip_lies(swapped: bool) -> None:
    """By construction: 8 mm; the other way round where the second picture shows the stick.

    Tolerance 0.6 mm: half a millimetre between the depths that are tried, and the end of a bar
    is round.
    """
    shown = stick((3.0, 16.0), start=(0.0, 10.0))
    other = view(STEM, SHOOT)

    found = seen_from(other, shown, {7: tip(SHOOT)}, swapped=swapped)

    assert found is not None
    assert found.same == 7
    assert found.tip == pytest.approx(-8e-3 if swapped else 8e-3, abs=0.6e-3)


def test_without_a_tip_of_its_own_the_range_holds_all_that_the_dark_leaves() -> None:
    """By construction: the stem alone is dark there, 0.8 mm wide, so the tip lies within it."""
    shown = stick((3.0, 16.0), start=(0.0, 10.0))

    found = seen_from(view(STEM), shown, {})

    assert found is not None
    assert found.same == -1
    assert -1.0e-3 < found.low <= found.tip <= found.high < 1.0e-3


@pytest.mark.parametrize("swapped", [False, True])
def test_a_third_picture_half_way_between_tells_which_of_two_depths_is_true(swapped: bool) -> None:
    """By construction: dark on both sides of the second picture, on one of the third.

    A tip 3 mm to the right and 8 mm away from the first camera is seen (3 + 8) / √2 mm to the right
    once it is turned by an eighth.  The second picture shows it where it is 3 mm away from the
    first camera, and 8 mm nearer to its own is 8 mm to the right of the first: the same place.
    """
    shown = stick((3.0, 16.0), start=(0.0, 10.0))
    mirrored = ((0.0, 10.0), (-8.0, 16.0))
    true = -8.0 if swapped else 8.0
    right = (3.0 + 8.0) / np.sqrt(2.0)
    third = view(STEM, ((0.0, 10.0), (float(right), 16.0)))

    two = seen_from(view(STEM, SHOOT, mirrored), shown, {}, swapped=swapped)
    three = seen_from(view(STEM, SHOOT, mirrored), shown, {}, swapped=swapped, third=third)

    assert two is not None
    assert three is not None
    assert (two.low, two.high) == pytest.approx((-8e-3, 8e-3), abs=1e-3)
    assert three.tip == pytest.approx(1e-3 * true, abs=0.6e-3)
    assert three.low == pytest.approx(1e-3 * true, abs=1.2e-3)


def test_a_stick_that_is_nowhere_dark_in_the_other_picture_has_no_depth() -> None:
    shown = stick((3.0, 28.0), start=(0.0, 26.5))

    assert seen_from(view(STEM), shown, {}) is None


def test_what_is_nearer_to_the_camera_is_looked_for_lower_in_the_other_picture() -> None:
    """Pinhole: at 100 mm, what stands 8 mm farther than the mark is 8 % larger than it looks.

    The middle of the picture is 14 mm over the foot, so a tip that shows 2 mm over it is
    2.16 mm over it on the bench; and one 2.2 mm to the right looks smaller to the other camera.
    """
    shown = stick((2.0, 16.0), start=(0.0, 10.0))
    up, right = 14.05 + (16.0 - 14.05) * 1.08, 2.0 * 1.08
    far = 1.0 - right / 100.0
    seen = (8.0 / far, 14.05 + (up - 14.05) / far)
    bar = ((0.0, 10.0), seen)

    found = seen_from(view(STEM, bar), shown, {3: tip(bar)}, camera=0.1)

    assert found is not None
    assert found.same == 3
    assert found.tip == pytest.approx(8e-3, abs=0.6e-3)


def tip(bar: tuple[tuple[float, float], tuple[float, float]]) -> Pixels:
    x, z = bar[1]
    return np.array([FOOT[0] + 10 * x, FOOT[1] - 10 * z])
