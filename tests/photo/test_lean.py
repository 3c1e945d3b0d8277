"""What leans towards the camera looks longer than it is; drawn by points on its skin."""

import math

import numpy as np
import pytest

from pourcast import units as si
from pourcast.photo.lean import middle_of_lump, true_span
from pourcast.photo.model import Section, Stick
from tests.outside.record import record

HALF, WIDE, BEARS = 60.0, 30.0, 10.0  # pixels: half axis and half width of a lump, half its stalk
RISE = math.sqrt(1.0 - (BEARS / WIDE) ** 2)


def seen_from_afar(places: si.Ratios, lean: float) -> tuple[si.Ratios, si.Ratios]:
    """Return how far along the axis, as the picture shows it, and how far beside it."""
    along, beside, deep = places.T
    return along * math.cos(lean) + deep * math.sin(lean), beside


def ball() -> si.Ratios:
    """Return points on an ellipsoid about its middle, its axis along the first."""
    a, b = np.meshgrid(np.linspace(0, math.pi, 721), np.linspace(0, 2 * math.pi, 721))
    return np.stack(
        [HALF * np.cos(a), WIDE * np.sin(a) * np.cos(b), WIDE * np.sin(a) * np.sin(b)], axis=-1
    ).reshape(-1, 3)


def stick(base: float, tip: float) -> Stick:
    """Return a stalk of 100 pixels with a lump, whose base and tip are where they look to be."""
    along = np.linspace(0.0, tip, 50)
    return Stick(
        parent=0,
        line=np.column_stack([along, np.zeros(50)]),
        along=along,
        width=np.full(50, 2.0 * BEARS),
        sections=(
            Section(shape="rod", start=0.0, end=base, width=(2.0 * BEARS, 2.0 * BEARS), error=0.2),
            Section(shape="lump", start=base, end=tip, width=(2.0 * WIDE, 2.0 * WIDE), error=0.2),
        ),
    )


@pytest.mark.parametrize("lean_deg", [0.0, 20.0, 45.0, 60.0])
def test_a_lump_that_leans_ends_and_begins_where_its_axis_does(lean_deg: float) -> None:
    """By construction: the skin as seen, its farthest point and where it is as wide as the stalk.

    Tolerance 0.3 pixels: the points lie half a degree apart.
    """
    lean = math.radians(lean_deg)
    shown, beside = seen_from_afar(ball(), lean)
    middle = 300.0
    # The outline, half a pixel wide: where it is as wide as the stalk, before the middle.
    row = np.round(shown * 2.0) / 2.0
    rows = np.unique(row[shown < 0])
    wide = np.array([beside[row == each].max() for each in rows])
    looks = float(np.interp(BEARS, wide, rows))

    there = stick(middle + looks, middle + float(shown.max()))
    rod = true_span(there, 0, lean)
    lump = true_span(there, 1, lean)

    record("photo", f"length of a lump that leans by {lean_deg:.0f} degrees",
           "points on its skin, by construction", lump[1] - lump[0],
           HALF * (1.0 + RISE) * math.cos(lean), "pixels", 0.6, kind="by construction")  # fmt: skip
    assert middle_of_lump(there) == pytest.approx(middle, abs=0.3)
    assert lump == pytest.approx(
        (middle - RISE * HALF * math.cos(lean), middle + HALF * math.cos(lean)), abs=0.3
    )
    assert rod == pytest.approx((0.0, lump[0]))


@pytest.mark.parametrize("lean_deg", [0.0, 30.0, 60.0])
def test_a_square_cut_that_leans_is_seen_beyond_its_middle(lean_deg: float) -> None:
    """By construction: the farthest point of a disc that stands square to a leaning axis."""
    lean = math.radians(lean_deg)
    turn = np.linspace(0.0, 2.0 * math.pi, 721)
    disc = np.stack([np.zeros(721), BEARS * np.cos(turn), BEARS * np.sin(turn)], axis=-1)
    shown, _ = seen_from_afar(disc, lean)
    end = 100.0 + float(shown.max())
    alone = stick(end, end + 1.0)
    alone = Stick(
        parent=0,
        line=alone.line,
        along=alone.along,
        width=alone.width,
        sections=alone.sections[:1],
    )

    assert true_span(alone, 0, lean) == pytest.approx((0.0, 100.0), abs=0.01)
    assert middle_of_lump(alone) is None
