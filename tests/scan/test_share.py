"""Volumes by scan lines, against closed forms."""

import math
from typing import Any

import numpy as np
import pytest
import trimesh

from pourcast.errors import InputError
from pourcast.scan.clean import clean
from pourcast.scan.crossings import crossed_lines
from pourcast.scan.share import share_of
from tests.outside.record import record as write_down
from tests.scan.make import joined, record, tube_of, turned

EDGE = 20.0  # mm
PHI = (1 + math.sqrt(5)) / 2


def solids() -> dict[str, tuple[Any, float]]:
    """Meshes of the five regular solids and their volumes (textbook closed forms)."""
    hull = trimesh.convex.convex_hull
    tetrahedron = hull(np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]]) * 1.0)
    octahedron = hull(np.concatenate([np.eye(3), -np.eye(3)]))
    icosahedron = trimesh.creation.icosahedron()
    corners: list[list[float]] = [[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]
    for s in (-1, 1):
        for t in (-1, 1):
            corners += [[0, s / PHI, t * PHI], [s / PHI, t * PHI, 0], [s * PHI, 0, t / PHI]]
    dodecahedron = hull(np.array(corners, dtype=float))
    made = {
        "tetrahedron": (tetrahedron, 1 / (6 * math.sqrt(2))),
        "cube": (trimesh.creation.box((1, 1, 1)), 1.0),
        "octahedron": (octahedron, math.sqrt(2) / 3),
        "dodecahedron": (dodecahedron, (15 + 7 * math.sqrt(5)) / 4),
        "icosahedron": (icosahedron, 5 * (3 + math.sqrt(5)) / 12),
    }
    out = {}
    for name, (mesh, volume) in made.items():
        lengths = mesh.edges_unique_length
        mesh.apply_scale(EDGE / float(lengths.min()))
        out[name] = (mesh, volume * EDGE**3)
    return out


def volume_mm3(mesh: Any, cell: float = 5e-4) -> float:
    field = share_of(clean(record(mesh)).mesh, cell=cell)
    return float(field.share.sum(dtype=np.float64)) * (1e3 * cell) ** 3


@pytest.mark.parametrize(
    "name", ["tetrahedron", "cube", "octahedron", "dodecahedron", "icosahedron"]
)
@pytest.mark.parametrize("askew", [False, True])
def test_regular_solids_have_their_closed_volumes(name: str, askew: bool) -> None:
    """Published: volumes of the five regular solids, textbook closed forms.

    Tolerance 0.1 %: 40 cells along an edge, three lines in each; the lines that
    graze a face are the error.  Found: 0.04 % at most.
    """
    mesh, want = solids()[name]

    got = volume_mm3(turned(mesh) if askew else mesh)

    how = "askew" if askew else "along the grid"
    write_down(
        "scan",
        f"{name} of 20 mm, {how}",
        "closed form",
        got,
        want,
        "mm³",
        1e-3 * want,
        kind="closed form",
    )
    assert got == pytest.approx(want, rel=1e-3)


def test_torus_has_the_volume_of_pappus() -> None:
    """Published: 2 π² R r², Pappus.  Tolerance 0.2 %: the facets alone take 0.06 %."""
    mesh = turned(trimesh.creation.torus(20, 4, major_sections=256, minor_sections=128))
    want = 2 * math.pi**2 * 20 * 16

    got = volume_mm3(mesh)

    write_down(
        "scan", "torus of R 20, r 4", "Pappus", got, want, "mm³", 2e-3 * want, kind="closed form"
    )
    assert got == pytest.approx(want, rel=2e-3)


def test_frustum_has_its_closed_volume() -> None:
    """Published: π h (R² + R r + r²) / 3.  Tolerance 0.1 % as for the solids."""
    want = math.pi * 30 * (25 + 10 + 4) / 3

    got = volume_mm3(turned(tube_of(np.linspace(0, 30, 31), np.linspace(5, 2, 31))))

    write_down(
        "scan",
        "frustum 5 to 2 by 30",
        "closed form",
        got,
        want,
        "mm³",
        1e-3 * want,
        kind="closed form",
    )
    assert got == pytest.approx(want, rel=1e-3)


def test_spherical_cap_has_its_closed_volume() -> None:
    """Published: π h² (3 R - h) / 3.  Tolerance 0.2 %: 60 rings stand for the round."""
    radius, high = 10.0, 6.0
    angle = np.linspace(math.acos((radius - high) / radius), 0.0, 61)
    mesh = tube_of(radius * np.cos(angle), np.maximum(radius * np.sin(angle), 1e-3), sides=96)
    want = math.pi * high**2 * (3 * radius - high) / 3

    got = volume_mm3(mesh)

    write_down(
        "scan",
        "cap of 6 on a sphere of 10",
        "closed form",
        got,
        want,
        "mm³",
        2e-3 * want,
        kind="closed form",
    )
    assert got == pytest.approx(want, rel=2e-3)


@pytest.mark.parametrize("thickness", [0.3, 0.5, 1.0])
def test_a_sheet_thinner_than_a_cell_keeps_its_volume(thickness: float) -> None:
    """Published: a box is its three sides.

    Tolerance 2 %: along the grid two of three axes see the sheet edge on, and the
    number of the lines that fall into it is left to chance.  Found: +1.2 % at
    0.3 mm along the grid, 0.3 % askew.
    """
    sheet = trimesh.creation.box((40, 20, thickness))
    want = 800 * thickness

    for mesh in (sheet, turned(sheet)):
        got = volume_mm3(mesh)
        write_down(
            "scan",
            f"sheet of {thickness} mm",
            "box",
            got,
            want,
            "mm³",
            0.02 * want,
            kind="closed form",
        )
        assert got == pytest.approx(want, rel=0.02)


def test_shells_that_overlap_count_once() -> None:
    """Published: two boxes that share a quarter of each; inclusion and exclusion."""
    one = trimesh.creation.box((20, 20, 20))
    two = one.copy()
    two.apply_translation((15, 0, 0))

    assert volume_mm3(joined(one, two)) == pytest.approx(35 * 400, rel=1e-3)


def test_a_grid_that_would_be_too_large_is_refused() -> None:
    mesh = clean(record(trimesh.creation.box((400, 400, 400)))).mesh

    with pytest.raises(InputError, match="voxel"):
        share_of(mesh, cell=5e-4)


def test_lines_that_met_a_face_are_counted() -> None:
    assert crossed_lines(np.array([0, 2, 0, 4])) == 2
