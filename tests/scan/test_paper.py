"""The piece file that is written: it reads without fault and says what was found."""

import math
from functools import cache

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.piece.measure import measure
from pourcast.piece.network import build
from pourcast.piece.place import along, place
from pourcast.scan.model import Scanned
from pourcast.scan.paper import written
from pourcast.scan.poses import posed, stands
from pourcast.scan.solve import solve
from pourcast.sheet import new_sheet, read_plan
from tests.plants import meshes as faults
from tests.plants.kinds import KINDS
from tests.scan.make import record, stem


@cache
def taken(kind: str, seed: int) -> Scanned:
    return solve(record(faults.clean(KINDS[kind](seed))), rng=np.random.default_rng(7))


@pytest.mark.parametrize(("kind", "seed"), [("umbel", 1), ("insect", 0), ("leaf", 3)])
def test_the_piece_file_places_the_parts_where_they_were_found(kind: str, seed: int) -> None:
    """The reader of piece files is the outside: base, middle and tip of each part.

    Tolerance 1 mm, two cells: the file cannot say a bend out of the plane of
    parent and part.  Found: 0.8 mm at most.
    """
    scanned = taken(kind, seed)
    plan = read_plan(written(scanned, new_sheet("Taken"), source="taken.stl"))

    gate = scanned.parts[0].line[0]
    for part, placed in zip(scanned.parts, place(plan.piece), strict=True):
        line, _, _ = along(placed, np.array([0.0, 0.5, 1.0]))
        standing = line[0] * np.array([1.0, -1.0, -1.0]) + gate
        apart = np.linalg.norm(standing - part.line[[0, 16, 32]], axis=1)
        assert apart.max() < 1e-3, part.name
        assert placed.length == pytest.approx(part.length, abs=1e-6)
        assert placed.width == pytest.approx(part.width, abs=1e-6)


@pytest.mark.parametrize(("kind", "seed"), [("umbel", 1), ("insect", 0)])
def test_the_piece_holds_the_volume_of_the_mesh(kind: str, seed: int) -> None:
    """House: network against mesh.  Tolerance 4 %: feet on round parents are counted twice."""
    scanned = taken(kind, seed)
    plan = read_plan(written(scanned, new_sheet("Taken"), source="taken.stl"))

    measures = measure(plan.piece, build(plan.piece))

    assert measures.volume == pytest.approx(scanned.mesh_volume, rel=0.04)


def test_the_flask_is_large_enough_and_the_sheet_is_no_longer_invented() -> None:
    scanned = taken("insect", 0)
    plan = read_plan(written(scanned, new_sheet("Taken"), source="taken.stl"))

    measures = measure(plan.piece, build(plan.piece))

    assert not plan.invented
    assert plan.flask.inside_diameter > 2 * measures.reach + 0.02
    assert plan.flask.height > plan.piece.button.height - measures.lowest + 0.015


def test_the_name_of_the_scan_cannot_break_out_of_its_comment() -> None:
    """Made to fail: a file name with a line end in it."""
    scanned = solve(record(stem()), rng=np.random.default_rng(7))

    text = written(scanned, new_sheet("Taken"), source='x.stl\nname = "other"')

    assert read_plan(text).piece.name == "Taken"


def test_an_original_that_hangs_is_not_turned_over() -> None:
    low = solve(record(stem()), rng=np.random.default_rng(7))
    high = solve(record(stem()), gate="highest", rng=np.random.default_rng(7))

    assert stands(low.parts)
    assert not stands(high.parts)
    for scanned in (low, high):
        (pose,) = posed(scanned.parts)
        assert pose.places(np.array([1.0]))[0, 2] == pytest.approx(-0.040, abs=5e-4)


def test_a_bent_rod_keeps_its_bend() -> None:
    """Outside: an arc of 60° over 40 mm; tolerance 4°, half a cell at each end."""
    mesh = stem(40.0, 2.0)
    along_ = mesh.vertices[:, 2] / 40 * math.radians(60)
    radius = 40 / math.radians(60)
    x, y = mesh.vertices[:, 0], mesh.vertices[:, 1]
    mesh.vertices = np.stack(
        [radius - (radius - x) * np.cos(along_), y, (radius - x) * np.sin(along_)], axis=1
    )
    scanned = solve(record(mesh), rng=np.random.default_rng(7))

    (part,) = read_plan(written(scanned, new_sheet("Bent"), source="bent.stl")).piece.parts
    assert abs(math.degrees(part.bend)) == pytest.approx(60.0, abs=4.0)
    assert part.length == pytest.approx(0.040, rel=0.01)


def test_nothing_cannot_be_written() -> None:
    import dataclasses

    scanned = dataclasses.replace(solve(record(stem()), rng=np.random.default_rng(7)), parts=())

    with pytest.raises(InputError, match="parts of the scan"):
        written(scanned, new_sheet("None"), source="none.stl")
