"""What every test of the pages needs: the test client is loaded without its own warning."""

import pytest

from tests.app import client
from tests.once import anew, few_draws, worked_out_once

__all__ = ["anew", "client", "few_draws", "worked_out_once"]


@pytest.fixture(scope="module")
def forked() -> bytes:
    """Return an STL of a stem of 40 mm with a side shoot, which are two parts."""
    import trimesh

    from tests.scan.make import joined, stem

    side = stem(14.0, 1.6)
    turn = trimesh.transformations.rotation_matrix(1.2, [1, 0, 0])  # type: ignore[no-untyped-call]
    side.apply_transform(turn)
    side.apply_translation([0, 0, 18])
    made: bytes = joined(stem(), side).export(file_type="stl")
    return made
