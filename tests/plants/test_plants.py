"""Are the test plants what they say: whole, closed, and as large as a textbook has it?"""

import io
import math

import numpy as np
import pytest
import trimesh

from pourcast.piece.model import Button, Part, Piece
from pourcast.sheet import read_plan
from tests.plants import kinds, meshes, paper, pictures, shells, truth


@pytest.mark.parametrize("kind", kinds.KINDS)
def test_every_member_is_one_closed_shell(kind: str) -> None:
    """No source: by construction."""
    piece = kinds.KINDS[kind](1)

    made = shells.member_shells(piece)

    assert len(made) == len(truth.members(piece))
    assert all(shell.is_watertight and shell.volume > 0 for shell in made)


@pytest.mark.parametrize("kind", kinds.KINDS)
def test_a_seed_gives_the_same_plant_again_and_another_seed_another(kind: str) -> None:
    """No source: by construction."""
    assert kinds.KINDS[kind](3).parts == kinds.KINDS[kind](3).parts
    assert kinds.KINDS[kind](3).parts != kinds.KINDS[kind](4).parts


def test_volume_of_a_taper_is_that_of_the_textbook() -> None:
    """Published: a frustum holds π L (R² + R r + r²) / 3.

    Source: CRC Standard Mathematical Tables, mensuration (from memory).  The
    sum over 4 000 slices is true to 1e-7 of it; found 1e-8.
    """
    piece = _one(kinds._part("stem", "button", "rod", 40.0, (5.0, 2.0)))
    want = math.pi * 40.0 * (2.5**2 + 2.5 * 1.0 + 1.0) / 3.0

    got = truth.members(piece)[0].volume

    assert got == pytest.approx(want, rel=1e-6)


@pytest.mark.parametrize("shape", ["rod", "blade"])
def test_a_shell_holds_the_volume_of_its_member(shape: str) -> None:
    """No source: the polygon of a ring has the area of its circle by construction.

    Tolerance 1e-4: straight sides between stations of a taper, none here.
    """
    sizes = ((4.0, 4.0), None) if shape == "rod" else ((6.0, 3.0), 0.5)
    piece = _one(kinds._part("it", "button", shape, 30.0, *sizes))  # type: ignore[arg-type]

    shell = shells.member_shells(piece)[0]

    assert shell.volume == pytest.approx(truth.members(piece)[0].volume, rel=1e-4)


def test_a_torn_mesh_has_lost_what_was_asked_and_a_flipped_one_nothing() -> None:
    """No source: by construction."""
    mesh = meshes.clean(kinds.leaf(2))

    torn, flipped = meshes.torn(mesh, share=0.03), meshes.flipped(mesh, share=0.2)

    assert len(torn.faces) == len(mesh.faces) - int(0.03 * len(mesh.faces))
    assert flipped.area == pytest.approx(mesh.area)
    assert flipped.volume < 0.8 * mesh.volume


def test_doubled_inside_out_has_no_volume_and_twice_the_area() -> None:
    """No source: the two skins cancel."""
    mesh = meshes.clean(kinds.leaf(2))

    both = meshes.doubled(mesh, inside_out=True)

    # Not `both.volume`: on its way trimesh divides by it.
    a, b, c = np.moveaxis(both.triangles, 1, 0)
    signed = float((np.cross(a, b) * c).sum()) / 6.0
    assert abs(signed) < 1e-9 * mesh.volume
    assert both.area == pytest.approx(2.0 * mesh.area)


def test_volume_of_two_balls_that_overlap_is_that_of_the_textbook() -> None:
    """Published: balls of radius R, d apart, share π (4R + d)(2R - d)² / 12.

    Source: Weisstein, MathWorld, "Sphere-Sphere Intersection" (from memory).
    Tolerance 0.5 %: facets 0.2 %, chance of 80 000 points in the common box
    0.1 % of the whole.
    """
    ball = trimesh.creation.icosphere(4, 5.0)
    other = ball.copy()
    other.apply_translation([6.0, 0.0, 0.0])
    shared = math.pi * (4 * 5.0 + 6.0) * (2 * 5.0 - 6.0) ** 2 / 12
    want = 2 * 4 / 3 * math.pi * 5.0**3 - shared

    got = truth.whole_volume_mm3([ball, other])

    assert got == pytest.approx(want, rel=5e-3)


def test_the_piece_file_of_a_plant_says_the_plant() -> None:
    """No source: what is written is read back; an angle has 6 figures."""
    piece = kinds.insect(2)

    plan = read_plan(paper.piece_file(piece), file="it")

    assert plan.invented
    for written, meant in zip(plan.piece.parts, piece.parts, strict=True):
        assert written.name == meant.name
        assert written.parent == meant.parent
        assert written.count == meant.count
        assert written.length == pytest.approx(meant.length)
        assert written.width == pytest.approx(meant.width)
        assert written.angle == pytest.approx(meant.angle, abs=1e-5)


def test_a_picture_shows_the_bar_at_its_length_and_opens_again() -> None:
    """No source: the bar is drawn to the nearest third of a pixel."""
    from PIL import Image

    seen = pictures.photograph(meshes.clean(kinds.fan(1)), turn_deg=90.0, noise=0.0)
    (left, row), (right, _) = seen.bar

    dark = np.flatnonzero(seen.pixels[round(row)] < 110)

    assert (right - left) * seen.mm_per_pixel == pytest.approx(50.0, abs=1e-9)
    assert len(dark) == pytest.approx(right - left, abs=1.0)
    assert Image.open(io.BytesIO(seen.png())).size == seen.pixels.shape[::-1]


def _one(part: Part) -> Piece:
    button = Button(diameter=0.034, height=0.02, gate_diameter=part.width[0], material="casting")
    return Piece(name="one", parts=(part,), button=button)
