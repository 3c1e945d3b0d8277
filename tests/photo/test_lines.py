"""How deep a stick runs, by its line in another picture; drawn by hand, truth by construction."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from pourcast import units as si
from pourcast.photo.bench import TURNS, in_picture, on_bench, shown
from pourcast.photo.cross import Cross
from pourcast.photo.cuts import with_fewer_cuts
from pourcast.photo.grown import Made, grown
from pourcast.photo.host import host_of
from pourcast.photo.lines import by_line, fork_depth
from pourcast.photo.model import Depth, Scale, Section, Silhouette, Stick, View
from pourcast.photo.space import Course
from tests.outside.record import record
from tests.photo.held import asked

CAMERA = 1.0
SHARE = np.linspace(0.0, 1.0, 61)
HOST = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, 0.03], [0.0, 0.0, 0.06]])
BOWED = (
    np.array([0.0, 0.0, 0.03])
    + SHARE[:, None] * np.array([0.015, 0.012, 0.010])
    + (SHARE * (1.0 - SHARE))[:, None] * np.array([0.001, 0.005, -0.002])
)
"""A shoot on the bench [m]: 22 mm long, it bows away from the first camera by 1.25 mm."""


def view() -> View:
    light = np.ones((900, 1000))
    seen = Silhouette(light=light, inside=light < 0.5, contrast=0.7, loose=0)
    return View(
        scale=Scale(size=1e-4, error=0.0),
        foot=(500.0, 800.0),
        sticks=(),
        crossings=(),
        silhouette=seen,
    )


def stick(line: si.Metres, turn: int, clear: tuple[float, float] = (0.15, 1.0)) -> Stick:
    """Return a line on the bench as a picture shows it, and clear between two shares of it."""
    flat = in_picture(view(), line, TURNS[turn], CAMERA)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(flat, axis=0).T))])
    share = along / along[-1]
    width = np.where((share >= clear[0]) & (share <= clear[1]), 8.0, np.nan)
    section = Section(shape="rod", start=8.0, end=float(along[-1]), width=(8.0, 8.0), error=0.2)
    return Stick(parent=0, line=flat, along=along, width=width, hidden=8.0, sections=(section,))


def depth(other: Stick, turn: int = 1) -> Depth:
    others = [(view(), other, TURNS[turn])]
    return by_line(view(), stick(BOWED, 0), TURNS[0], others, HOST, CAMERA, 3)


def true_depth(share: si.Ratios) -> si.Metres:
    """Depth at shares of the way in the picture, which is not quite that on the bench."""
    own = stick(BOWED, 0)
    return np.asarray(np.interp(share, own.along / own.along[-1], BOWED[:, 1]))


@pytest.mark.parametrize("turn", [1, 2])
def test_a_bowed_stick_has_its_depth_from_its_line_in_another_picture(turn: int) -> None:
    """By construction.

    Tolerance 0.15 mm: a square cut is taken off its end, and the bow is a parabola of the way in
    the picture.
    """
    found = depth(stick(BOWED, turn), turn)

    miss = float(np.abs(found.along(SHARE) - true_depth(SHARE)).max())
    record("photo", f"depth of a bowed stick by picture {turn + 1}", "by construction",
           1e3 * miss, 0.0, "mm", 0.15, kind="by construction")  # fmt: skip
    assert miss < 0.15e-3
    assert found.bow == pytest.approx(1.25e-3, abs=0.3e-3)
    assert found.same == 3


def test_what_is_hidden_in_the_other_picture_is_not_asked_for() -> None:
    """By construction: the middle third of it is seen there, and its tip runs into something."""
    flat = stick(BOWED, 1, clear=(0.3, 0.7))
    line = flat.line.copy()
    line[-12:] += np.linspace(0.0, 60.0, 12)[:, None] * np.array([0.0, 1.0])
    hidden = replace(flat, line=line)

    found = depth(hidden)

    assert np.abs(found.along(SHARE) - true_depth(SHARE)).max() < 0.6e-3
    assert found.apart > 3e-3
    assert found.off < 0.1e-3


def test_two_sticks_whose_tips_are_not_as_high_are_told_to_end_apart() -> None:
    """By construction: 8 mm in height, which no depth makes up for."""
    other = np.array([0.0, 0.0, 0.03]) + SHARE[:, None] * np.array([0.015, -0.012, 0.018])

    assert depth(stick(other, 1)).apart == pytest.approx(8e-3, abs=2e-3)


def test_places_go_to_the_bench_and_back() -> None:
    """By construction, for each of the three turns."""
    for turn in TURNS:
        deep = np.linspace(-0.02, 0.03, len(BOWED))
        flat = shown(view(), BOWED, turn, CAMERA)
        bench = on_bench(view(), flat, deep, turn, CAMERA)
        assert shown(view(), bench, turn, CAMERA) == pytest.approx(flat, abs=1e-12)


def test_the_fork_lies_on_the_line_of_its_parent() -> None:
    leaning = np.array([[0.0, 0.0, 0.0], [0.0, 0.02, 0.06]])

    found = fork_depth(leaning, view(), stick(BOWED, 0), TURNS[0], None)

    assert found == pytest.approx(0.01, abs=0.2e-3)


def made(line: si.Metres, width: float) -> Made:
    way = line[-1] - line[0]
    long = float(np.linalg.norm(way))
    return grown(
        Course(
            fork=line[0], start=line[0], end=line[-1], leaves=way / long, arrives=way / long,
            length=long, bend=0.0, line=line,
        ),
        None,
        Cross(shape="rod", width=(width, width), thickness=(width, width), error=0.03),
        name="stem", parent=-1, place=(0, 0, 0), view=view(), twice=True, known=True,
        unsure=0.0, asked=asked("x", 1),
    )  # fmt: skip


def test_a_stick_grows_on_what_its_line_meets_and_not_on_what_it_passes() -> None:
    """By construction: a second stalk stands 8 mm before the first and covers it in the picture."""
    before = HOST + np.array([0.0005, -0.008, 0.0])
    parts = [made(before, 0.003), made(HOST, 0.003)]
    own = stick(BOWED, 0)

    found = host_of(parts, view(), own, TURNS[0], depth(stick(BOWED, 1)), CAMERA, [0])

    assert found == 1


def test_of_two_pictures_the_one_with_fewer_cuts_is_right() -> None:
    """By construction: something stands before the middle of it in the first picture."""
    own, other = stick(BOWED, 0), stick(BOWED, 1)
    end = float(own.along[-1])
    cut = [8.0, 0.4 * end, 0.6 * end, end]
    pieces = tuple(
        Section(shape="rod", start=a, end=b, width=(8.0, 9.0), error=0.2) for a, b in pairwise(cut)
    )
    there = view(), other, TURNS[1]

    mended = with_fewer_cuts(view(), replace(own, sections=pieces), TURNS[0], there, CAMERA)

    assert [(s.start, s.end) for s in mended.sections] == [(8.0, end)]
    assert with_fewer_cuts(view(), own, TURNS[0], there, CAMERA) is own
