"""Pressed: a sprig whose leaves lie flat to the camera, as in a press.

Stem, stalks and blades lie in one plane; each blade is turned a quarter about its stalk, so that
its broad side is seen.  Sizes are estimates, of the same range as those of `tests.plants.kinds`.

Uses tests.plants: kinds for what a part is and for the gap between parts, shells for the skin.
"""

from typing import cast

import numpy as np
from trimesh import Trimesh
from trimesh.util import concatenate

from pourcast.piece.model import Part, Piece
from tests.plants.kinds import _part, _spaced
from tests.plants.shells import _shell
from tests.plants.truth import members


def pressed(seed: int, *, gap_mm: float = 1.5) -> Piece:
    """Return a pressed sprig: leaves on stalks to both sides, and one at the tip."""
    return _spaced(_pressed, seed, gap_mm)


def _pressed(rng: np.random.Generator) -> list[Part]:
    u = rng.uniform
    stem = u(2.0, 3.5)
    parts = [_part("stem", "button", "rod", u(35, 60), (stem, stem * u(0.6, 0.9)))]
    leaves = int(rng.integers(2, 6))
    thick = u(0.35, 0.8)  # of one plant, so that one reading with a caliper tells it
    for k in range(leaves):
        last = k == leaves - 1
        at = 1.0 if last else 0.2 + 0.65 * (k + u(0.2, 0.8)) / leaves
        stalk = u(0.9, 1.5)
        width = (u(3, 6), u(6, 12)) if rng.random() < 0.5 else (u(7, 13), u(2, 5))
        parts += [
            _part(
                f"stalk {k + 1}", "stem", "rod", u(6, 12), (stalk, stalk * u(0.8, 1.0)),
                at=at, angle=0.0 if last else u(45, 75), turn=90.0 + 180.0 * (k % 2),
            ),
            _part(
                f"leaf {k + 1}", f"stalk {k + 1}", "blade", u(14, 28), width, thick,
                turn=90.0, material="leaf",
            ),
        ]  # fmt: skip
    return parts


def mesh_of(piece: Piece) -> Trimesh:
    """Return the skin of a pressed sprig; a blade has no root, which would show as a wedge."""
    found = members(piece, spacing=0.8)
    shells = [
        _shell(m, found[m.parent] if m.parent >= 0 and m.shape != "blade" else None, 0.8, None)
        for m in found
    ]
    return cast(Trimesh, concatenate(shells))
