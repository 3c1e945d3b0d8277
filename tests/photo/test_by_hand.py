"""Reading of widths, ends and shapes on made-up numbers whose answer is known exactly."""

import math

import numpy as np
import pytest

from pourcast.photo.fit import BASES, lump_fit, taper_fit, weight_of
from pourcast.photo.lean import true_span
from pourcast.photo.model import Section, Stick, TwoPoints
from pourcast.photo.outline import end_of
from pourcast.photo.scale import find_scale
from pourcast.photo.split import split
from pourcast.photo.tidy import sections


def ellipse(away: np.ndarray, half: float, widest: float) -> np.ndarray:
    """Return the widths of an ellipse so far from its tip."""
    return widest * np.sqrt(np.maximum(0.0, 1.0 - (1.0 - away / half) ** 2))


@pytest.mark.parametrize("base", BASES)
def test_an_ellipse_on_a_stalk_is_a_lump_and_costs_nothing(base: float) -> None:
    """Closed form: w = W √(1 - x²) from where it sits, 1/2 of the axis and r of it below.

    Its tip is left out: there the fit takes a flat of 15 % of the width, for blur.
    """
    rise = math.sqrt(1.0 - base**2)
    s = (np.arange(120) + 0.5) / 120
    wide = ellipse((1.0 - s) * 60.0 * (1.0 + rise), 60.0, 40.0)
    clear = wide > 0.2 * 40.0 * (s > 0.5)

    found = lump_fit(s[clear], wide[clear], 60.0 * (1.0 + rise))

    assert found.lump
    assert found.cost == pytest.approx(0.0, abs=1e-12)
    assert found.first == pytest.approx(40.0, rel=1e-9)


@pytest.mark.parametrize("last", [4.0, 10.0, 16.0])
def test_a_taper_is_the_straight_line_through_its_widths(last: float) -> None:
    """Closed form, at places that do not lie evenly: with so few, sums of s are not those of w."""
    s = np.linspace(0.0, 1.0, 80) ** 2
    wide = 10.0 + (last - 10.0) * s

    found = taper_fit(s, wide, weight_of(wide))

    assert (found.first, found.last) == pytest.approx((10.0, last), rel=1e-9)
    assert found.cost == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("cut", [98.0, 100.0, 103.0])
def test_a_lump_sits_where_its_ellipse_is_as_wide_as_its_stalk(cut: float) -> None:
    """Closed form: a (1 + r) below the tip, whatever the cut that was tried, and blur at the tip.

    A tip that is blurred looks wider: 1 pixel on the last tenth.  A stalk of 12 pixels bears a
    lump of 40 whose half axis is 50; tolerance a tenth of a pixel.
    """
    half, widest, stalk = 50.0, 40.0, 12.0
    length = half * (1.0 + math.sqrt(1.0 - (stalk / widest) ** 2))
    along = np.arange(0.0, 100.0 + length, 0.5)
    away = 100.0 + length - along
    wide = np.where(along < 100.0, stalk, ellipse(away, half, widest))
    wide += np.where(away < 0.08 * length, 1.0, 0.0)

    rod, lump = sections(along, wide, [0.0, cut, 100.0 + length], child=True)

    assert (rod.shape, lump.shape) == ("rod", "lump")
    assert lump.start == pytest.approx(100.0, abs=0.1)
    assert rod.end == lump.start


@pytest.mark.parametrize("edge", [12.5, 20.5, 30.5])
def test_a_part_ends_half_way_up_to_the_ground(edge: float) -> None:
    """Closed form: dark up to a pixel, light from the next; half way lies midway between them."""
    light = np.ones((9, 60))
    light[:, : math.ceil(edge)] = 0.0
    place, way = np.array([5.0, 4.0]), np.array([1.0, 0.0])

    assert end_of(light, place, way, 50.0) == pytest.approx(edge - 5.0, abs=1e-9)
    assert end_of(light, place, way, 4.0) == pytest.approx(4.0)


@pytest.mark.parametrize("reduced", [1, 2, 4])
def test_marks_of_a_picture_that_was_made_smaller_are_the_middles_of_its_pixels(
    reduced: int,
) -> None:
    """Definition: pixel 0 of the small picture covers pixels 0 to n - 1 of the file."""
    middle = (reduced - 1) / 2
    given = TwoPoints(
        first=(middle, middle), second=(middle, 100.0 * reduced + middle), length=0.010
    )

    scale, _ = find_scale(given, np.ones((9, 9)), np.zeros((9, 9), dtype=np.int64), reduced)

    assert scale.mark is not None
    assert np.array(scale.mark) == pytest.approx(np.array([[0.0, 0.0], [0.0, 100.0]]))
    assert scale.size == pytest.approx(0.1e-3)


@pytest.mark.parametrize("lean_deg", [0.0, 30.0, 50.0])
def test_a_lump_on_the_foot_itself_sits_on_a_tenth_of_its_width(lean_deg: float) -> None:
    """By construction, (1) of `pourcast.photo.lean`: half axis 60, half width 30, q = 0.1.

    A lump that nothing bears is taken to sit on the least base that is tried.  It looks A' long
    and its base r A' under its middle, and ends A cos f from it.
    """
    lean, rise = math.radians(lean_deg), math.sqrt(1.0 - BASES[0] ** 2)
    looks = math.hypot(60.0 * math.cos(lean), 30.0 * math.sin(lean))
    tip = looks * (1.0 + rise)
    lump = Section(shape="lump", start=0.0, end=tip, width=(60.0, 60.0), error=0.2)
    along = np.linspace(0.0, tip, 50)
    stick = Stick(
        parent=-1,
        line=np.column_stack([along, np.zeros(50)]),
        along=along,
        width=np.full(50, 60.0),
        sections=(lump,),
    )

    start, end = true_span(stick, 0, lean)

    middle, true = rise * looks, 60.0 * math.cos(lean)
    assert start == pytest.approx(middle - rise * true)
    assert end == pytest.approx(middle + true)


@pytest.mark.parametrize(("beyond", "rods"), [(10.0, 1), (11.4, 1), (20.0, 2)])
def test_what_stands_before_a_rod_does_not_cut_it(beyond: float, rods: int) -> None:
    """House rule: a rod of 10 pixels with a leaf before it; a tenth thicker beyond is one rod.

    Real stems taper and swell by a tenth; twice as thick beyond is another part.  A cut has its
    price, and a rod that is crossed would have two.
    """
    along = np.arange(0.0, 140.0)
    wide = np.where(along < 72.0, 10.0, beyond)
    wide[60:84] = 16.0 if beyond < 16.0 else 30.0
    stick = Stick(parent=-1, line=np.column_stack([along, np.zeros(140)]), along=along, width=wide)

    found = split(stick)

    shapes = [section.shape for section in found]
    assert (shapes == ["rod"]) is (rods == 1)
    assert found[0].width[0] == pytest.approx(10.0, abs=0.4)
    assert found[-1].end == pytest.approx(139.0)
