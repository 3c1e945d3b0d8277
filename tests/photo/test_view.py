"""One photograph by itself: the foot that the caster points at, and how a line bends."""

import math
from io import BytesIO
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
from PIL import Image, ImageDraw

from pourcast.photo.model import PerPixel, Scale, Section, Silhouette, Stick, View
from pourcast.photo.space import course
from pourcast.photo.view import read_view

SIDE, MANY = 3200, 2  # pixels of the file, and how many of them become one


def fork() -> bytes:
    """Return a dark fork that stands on two legs, the right one longer, in a large picture."""
    picture = Image.new("L", (SIDE, SIDE), 235)
    draw = ImageDraw.Draw(picture)
    for foot in ((1300, 2500), (1750, 2700)):
        draw.line([(1500, 600), (1500, 1500), foot], fill=40, width=60, joint="curve")
    out = BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


@pytest.mark.parametrize("foot", [(1300.0, 2490.0), None])
def test_the_original_stands_on_the_leg_that_is_pointed_at(
    foot: tuple[float, float] | None,
) -> None:
    """By construction; places are told in the pixels of the file, which was made smaller by two.

    Without a word it is the lowest.  Tolerance 20 pixels of the small picture, two thirds of the
    width of a leg.
    """
    want = (1750.0, 2690.0) if foot is None else foot

    view = read_view(fork(), PerPixel(size=20e-6), foot)

    assert view.scale.size == pytest.approx(MANY * 20e-6)
    assert MANY * np.array(view.foot) == pytest.approx(np.array(want), abs=MANY * 20.0)


@pytest.mark.parametrize("bend_deg", [0.0, 20.0, 60.0, 100.0])
def test_the_bend_of_a_line_is_the_angle_between_its_ends(bend_deg: float) -> None:
    """By construction: a parabola whose ends lean by half of the bend; its length by quadrature.

    A parabola is fitted too, but to places that lie evenly along its length and not along its
    chord, so that it reaches over the ends.  Tolerances: 3 % of the bend, 2 % of the length to
    60 degrees and 4 % to 100.  Found: bend 0.1, 1.0 and 2.6 % small at 20, 60 and 100 degrees,
    length 0.2, 1.5 and 3.7 % long.
    """
    steep = math.tan(math.radians(bend_deg) / 2.0)
    at = np.linspace(-1.0, 1.0, 4001)
    line = 100.0 * np.column_stack([2.0 + 0.5 * steep * (1.0 - at**2), 3.0 - at])
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    section = Section(shape="rod", start=0.0, end=float(along[-1]), width=(8.0, 8.0), error=0.2)
    stick = Stick(
        parent=-1, line=line, along=along, width=np.full(at.size, 8.0), sections=(section,)
    )
    view = View(
        scale=Scale(size=1e-4, error=0.005),
        foot=(float(line[0, 0]), float(line[0, 1])),
        sticks=(stick,),
        crossings=(),
        silhouette=cast(Silhouette, SimpleNamespace(light=np.ones((600, 600)))),
    )

    found = course(view, stick, section)

    assert math.degrees(found.bend) == pytest.approx(bend_deg, rel=0.03, abs=0.5)
    wide = 0.02 if bend_deg <= 60.0 else 0.04
    assert found.length == pytest.approx(1e-4 * along[-1], rel=wide)
