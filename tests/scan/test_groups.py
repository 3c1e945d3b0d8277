"""Groups: parts that are alike are named at once, by size, fork and colour.

House rules, so no outside number; the colours go through files as a general-purpose
library writes them.
"""

import re
from dataclasses import replace

import numpy as np
import pytest
import trimesh

from pourcast.errors import SheetError
from pourcast.scan.colours import coloured
from pourcast.scan.corrections import corrected, read_corrections
from pourcast.scan.groups import Group, meant, orders
from pourcast.scan.paper import written
from pourcast.scan.read import in_metres, read_mesh
from pourcast.scan.solve import solve
from pourcast.sheet import new_sheet, read_plan
from tests.plants import meshes
from tests.plants.kinds import KINDS
from tests.plants.shells import member_shells
from tests.plants.truth import members
from tests.scan.make import record
from tests.scan.score import matched
from tests.scan.test_paper import taken

RED, GREEN = (200, 60, 40), (60, 140, 50)


def test_a_size_class_is_named_and_told_what_it_is_made_of() -> None:
    scanned = taken("umbel", 1)
    made, materials, lost = corrected(
        scanned,
        read_corrections(
            "[[group]]\nshape = 'rod'\norder = 1\nname = 'ray'\nmaterial = 'woody_stem'\n"
        ),
    )

    rays = [k for k, part in enumerate(made.parts) if part.name.startswith("ray ")]
    first_forks = [
        k
        for k, (part, order) in enumerate(zip(scanned.parts, orders(scanned.parts), strict=True))
        if part.shape == "rod" and order == 1
    ]
    assert rays == first_forks
    assert len(rays) > 2
    assert {materials[k] for k in rays} == {"woody_stem"}
    assert not lost
    plan = read_plan(written(made, new_sheet("C"), source="c.stl", materials=materials))
    assert sum(part.material == "woody_stem" for part in plan.piece.parts) == len(rays)


def test_a_size_class_holds_its_lower_end_and_not_its_upper() -> None:
    part = taken("umbel", 1).parts[0]
    parts = tuple(replace(part, length=1e-3 * mm, width=(1e-3, 2e-3)) for mm in (9, 10, 19, 20))

    assert meant(Group(length=(1e-3 * 10, 1e-3 * 20)), parts) == (1, 2)
    assert meant(Group(width=(1.4e-3, 1.6e-3)), parts) == (0, 1, 2, 3)
    assert meant(Group(width=(1.6e-3, 9e-3)), parts) == ()


def test_what_is_said_of_one_part_goes_before_its_group() -> None:
    scanned = taken("umbel", 1)
    lump = next(part for part in scanned.parts if part.name == "lump 2")
    place = (1e3 * lump.line[16]).round(1).tolist()
    made, materials, _ = corrected(
        scanned,
        read_corrections(
            f"[[part]]\nat_mm = {place}\nname = 'kept'\n"
            "[[group]]\nshape = 'lump'\nname = 'bud'\nmaterial = 'cone'\ndrop = true\n"
        ),
    )

    assert [part.name for part in made.parts if part.shape == "lump"] == ["kept"]
    assert materials[[part.name for part in made.parts].index("kept")] == "cone"


def test_a_group_that_means_no_part_is_told() -> None:
    _, _, lost = corrected(
        taken("umbel", 1), read_corrections("[[group]]\ncolour = '#ffffff'\nname = 'x'\n")
    )

    assert len(lost) == 1


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("name = 'x'", "given one or more of shape"),
        ("shape = 'ball'", "one of rod, blade, lump"),
        ("order = -1", "whole number"),
        ("order = true", "whole number"),
        ("length_mm = [3, 2]", "from and up to"),
        ("width_mm = [0, nan]", "from and up to"),
        ("length_mm = 3", "from and up to"),
        ("colour = 'red'", "#rrggbb"),
        ("order = 1\nat_mm = [0, 0, 0]", "is not known"),
        ("order = 1\ndrop = 1", "true or false"),
    ],
)
def test_a_group_that_cannot_be_meant_is_refused_with_its_line(text: str, told: str) -> None:
    with pytest.raises(SheetError) as raised:
        read_corrections(f"\n[[group]]\n{text}\n")

    assert told in str(raised.value)
    assert re.search(r"\b2\b", str(raised.value))


@pytest.mark.parametrize("kind", ["ply", "glb", "obj"])
def test_a_painted_scan_gives_each_part_its_colour(kind: str) -> None:
    """Each member of a drawn plant is painted by its shape, and read back from a file."""
    piece = KINDS["umbel"](1)
    truth = members(piece)
    mesh = meshes.clean(piece)
    counts = [len(shell.vertices) for shell in member_shells(piece)]
    paint = np.repeat([RED if member.shape == "rod" else GREEN for member in truth], counts, axis=0)
    mesh.visual = trimesh.visual.ColorVisuals(mesh, vertex_colors=paint.astype(np.uint8))

    reading = read_mesh(_file(mesh, kind))
    read = in_metres(reading, "mm")
    if kind == "glb":  # the library writes z as it is, and the reader turns y up to z up
        x, y, z = read.vertices.T
        read = type(read)(vertices=np.stack([x, z, -y], axis=1), faces=read.faces)
    scanned = coloured(solve(read, rng=np.random.default_rng(0)), read, reading.colours)

    pairs = matched(truth, scanned)
    right = [
        np.abs(
            np.array(scanned.parts[found].colour) - (RED if truth[true].shape == "rod" else GREEN)
        ).max()
        <= 1
        for true, found in pairs
    ]
    assert len(pairs) > 10
    assert np.mean(right) == 1.0


def _file(mesh: trimesh.Trimesh, kind: str) -> bytes:
    content = mesh.export(file_type=kind)
    assert isinstance(content, bytes | str)
    return content.encode() if isinstance(content, str) else content


def test_a_scan_without_colours_has_none() -> None:
    mesh = meshes.clean(KINDS["twig"](1))

    reading = read_mesh(_file(mesh, "stl"))

    assert reading.colours is None
    scanned = taken("umbel", 1)
    assert coloured(scanned, record(mesh), None) is scanned
