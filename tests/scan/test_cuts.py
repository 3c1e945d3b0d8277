"""Cuts: where a strand is cut into parts, and where it is not, on slices made by hand.

Where a foot is shredded by its neighbours belongs here too.
"""

import numpy as np
import pytest

from pourcast.scan.cuts import cut
from pourcast.scan.model import Pieces
from pourcast.scan.slices import Slices
from pourcast.scan.strands import Strand


def foot(widths: list[float], walls: list[float] | None = None) -> tuple[Strand, Pieces, Slices]:
    """Return a strand of pieces so wide [mm], each 1 mm long, that grows on another one.

    The cells are half as large.  ``walls`` [mm] is the way of the rays, where it is another.
    """
    many = len(widths)
    wide = 1e-3 * np.array(widths)
    up = np.tile([0.0, 0.0, 1.0], (many, 1))
    pieces = Pieces(
        of_cell=np.zeros(0, dtype=np.int64),
        parent=np.arange(-1, many - 1),
        band=np.arange(many),
        step=1e-3,
        shell=np.zeros(many, dtype=np.int64),
        volume=wide**2 * 1e-3,
        middle=1e-3 * np.arange(many)[:, None] * up,
        loops=0,
    )
    slices = Slices(
        direction=up,
        wide=wide,
        deep=wide,
        through=wide if walls is None else 1e-3 * np.array(walls),
        across=np.roll(up, 1, axis=1),
    )
    return Strand(pieces=tuple(range(many)), parent=0, leaves=0), pieces, slices


def test_what_neighbours_leave_of_a_foot_is_no_part() -> None:
    """House: a ray whose first pieces lie in its neighbours, and hold less than a cell each."""
    strand, pieces, slices = foot([0.5, 0.5, 1.2, 1.7, *[1.9] * 16])
    forks = np.zeros(20, dtype=bool)

    assert cut(strand, pieces, slices, forks, hidden=1.2e-3) == [list(range(20))]


def test_a_thin_stalk_of_its_own_stays_a_part() -> None:
    """House: 4 mm of 0.5 mm under a bud of 2 mm, longer than a foot that is hidden."""
    strand, pieces, slices = foot([*[0.5] * 4, *[2.0] * 5])
    forks = np.zeros(9, dtype=bool)

    made = cut(strand, pieces, slices, forks, hidden=1.2e-3)

    assert made == [list(range(4)), list(range(4, 9))]


def whole(widths: list[float], walls: list[float]) -> bool:
    """Say whether such a strand is left as one part."""
    strand, pieces, slices = foot(widths, walls)
    return len(cut(strand, pieces, slices, np.zeros(len(widths), dtype=bool))) == 1


@pytest.mark.parametrize(
    ("widths", "walls"),
    [
        ([0.72, 0.71, 0.71, 0.82, 0.82, 0.71], [0.52, 0.53, 0.47, 0.47, 0.27, 0.16]),
        ([0.70, 0.71, 0.83, 0.86, 0.82], [0.18, 0.50, 0.45, 0.37, 0.02]),
    ],
)
def test_a_rough_tip_of_a_thin_rod_is_no_part(widths: list[float], walls: list[float]) -> None:
    """House: feet of 0.5 mm with noise of 0.05 mm (insects 14 and 3), whose last rays end in folds.

    The spread of the cells tells 0.7 to 0.9 mm of any of them.  Before: cut before the last two.
    """
    assert whole(widths, walls)


def test_a_slice_that_lies_askew_at_a_knee_is_no_part() -> None:
    """House: a shin of 0.7 mm with noise (insect 28), whose first cells spread to 1.2 mm."""
    widths = [1.24, 1.07, 0.82, 0.91, 0.82, 0.82, 0.82, 0.85, 0.81, 0.83, 0.71]
    walls = [0.76, 0.75, 0.75, 0.68, 0.70, 0.70, 0.70, 0.69, 0.69, 0.69, 0.51]

    assert whole(widths, walls)


def test_a_thin_stalk_is_cut_from_its_blade() -> None:
    """House: the wall of a leaf of 0.3 mm is no width of a rod, however thin the stalk."""
    widths = [*[0.8] * 6, 1.6, 2.4, 3.2, 3.6, 3.6, 3.6, 3.2]
    walls = [*[0.7] * 6, *[0.3] * 7]

    assert not whole(widths, walls)
