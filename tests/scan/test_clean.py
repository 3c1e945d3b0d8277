"""Cleaning: a mesh with faults holds what the whole one holds."""

from typing import Any

import numpy as np
import pytest
import trimesh

from pourcast.errors import InputError
from pourcast.scan.clean import clean
from pourcast.scan.model import Mesh
from pourcast.scan.share import share_of
from tests.plants import meshes as faults
from tests.scan.make import joined, record, stem


def inside(mesh: Any) -> float:
    """Signed volume of a cleaned mesh by the divergence theorem [mm³]."""
    cleaned = clean(record(mesh)).mesh
    a, b, c = (cleaned.vertices[cleaned.faces[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6 * 1e9


@pytest.mark.parametrize(
    "fault",
    [
        lambda mesh: faults.flipped(mesh, share=0.2, seed=3),
        lambda mesh: faults.flipped(mesh, share=1.0, seed=3),
        faults.doubled,
        lambda mesh: faults.doubled(mesh, inside_out=True),
        lambda mesh: faults.shuffled(mesh, seed=3),
    ],
)
def test_a_fault_of_order_changes_no_volume(fault: Any) -> None:
    """Published: the divergence theorem; what is mended wholly holds the same to rounding."""
    mesh = stem()

    assert inside(fault(mesh)) == pytest.approx(float(mesh.volume), rel=1e-9)


def test_doubled_and_inside_out_is_seen_to_cancel_without_cleaning() -> None:
    """Made to fail: the fault is real, scan lines find nothing in it before cleaning."""
    mesh = record(faults.doubled(stem(), inside_out=True))

    volume = float(share_of(mesh, cell=5e-4).share.sum()) * 0.125

    assert volume == pytest.approx(0.0, abs=1e-6 * float(stem().volume))


@pytest.mark.parametrize("seed", [0, 1, 2])
def test_lost_faces_are_closed(seed: int) -> None:
    """House bar: 3 % of the faces lost, volume within 3 %.  Found: 0.2 % at most."""
    mesh = stem()
    torn = faults.torn(mesh, share=0.03, seed=seed)

    cleaned = clean(record(torn))

    assert cleaned.holes > 0
    assert inside(torn) == pytest.approx(float(mesh.volume), rel=0.03)


def test_two_bodies_are_two_surfaces() -> None:
    other = stem()
    other.apply_translation((10, 0, 0))

    assert int(clean(record(joined(stem(), other))).shell.max()) == 1


def test_points_alone_are_refused() -> None:
    flat = Mesh(vertices=np.zeros((3, 3)), faces=np.array([[0, 1, 2]] * 5))

    with pytest.raises(InputError, match="4 or more"):
        clean(flat)


def test_what_was_done_is_told() -> None:
    mesh = faults.flipped(faults.doubled(trimesh.creation.icosphere(3, 10.0)), share=0.1, seed=1)

    cleaned = clean(record(mesh))

    assert cleaned.dropped == len(mesh.faces) // 2
    assert 0 < cleaned.turned < 0.2 * len(mesh.faces)
    assert cleaned.holes == 0
