"""Cuts: where a strand is cut into parts, and where it is not, on slices made by hand.

Where a foot is shredded by its neighbours belongs here too.
"""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.scan.cuts import _bodies, cut
from pourcast.scan.model import Pieces
from pourcast.scan.slices import Slices
from pourcast.scan.strands import Strand


def foot(
    widths: list[float],
    walls: list[float] | None = None,
    held: list[float] | None = None,
    bodies: list[int] | None = None,
) -> tuple[Strand, Pieces, Slices]:
    """Return a strand of pieces so wide [mm], each 1 mm long, that grows on another one.

    The cells are half as large.  ``walls`` [mm] is the way of the rays, and ``held`` [mm] the
    diameter by what the pieces hold, where they are another; ``bodies`` the surface of each.
    """
    many = len(widths)
    wide = 1e-3 * np.array(widths)
    full = wide if held is None else 1e-3 * np.array(held)
    up = np.tile([0.0, 0.0, 1.0], (many, 1))
    pieces = Pieces(
        of_cell=np.zeros(0, dtype=np.int64),
        parent=np.arange(-1, many - 1),
        band=np.arange(many),
        step=1e-3,
        shell=np.array(bodies or [0] * many),
        volume=math.pi / 4 * full**2 * 1e-3,
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


@pytest.mark.parametrize(("border", "rods"), [(1.0, 1), (1.15, 1), (1.5, 2)])
def test_two_bodies_of_one_section_in_a_row_are_one_rod(border: float, rods: int) -> None:
    """House: a scan in two bodies of 10 mm of one rod of 1 mm; a collar between parts them."""
    widths = [1.0] * 20
    widths[7:13] = [border] * 6
    _, pieces, slices = foot(widths, [1.0] * 20)
    pieces = replace(pieces, shell=np.repeat([0, 1], 10))

    assert len(_bodies(np.arange(20), pieces, slices)) == rods


def runs(
    widths: list[float],
    walls: list[float] | None = None,
    held: list[float] | None = None,
    bodies: list[int] | None = None,
) -> list[int]:
    """Return how many pieces each part of such a strand has."""
    strand, pieces, slices = foot(widths, walls, held, bodies)
    return [len(part) for part in cut(strand, pieces, slices, np.zeros(len(widths), dtype=bool))]


def ball(diameter: float, first: float, many: int) -> list[float]:
    """Return the sections of a ball, 1 mm apart, from a place under its middle."""
    at = first + np.arange(many)
    return [math.sqrt(max(diameter**2 - 4 * x**2, 1.0)) for x in at.tolist()]


def test_a_neck_is_cut_though_rays_run_along_it() -> None:
    """Closed form: two balls of 8 and 5 mm on one axis, with a neck of one piece of 2 mm.

    Rays at the neck run along it.  Before: cut within the larger ball, or not at all.
    """
    sections = [*ball(8.0, -3.5, 8), 2.0, *ball(5.0, -2.0, 5)]
    walls = [*[7.0] * 7, 8.0, 9.0, *[4.6] * 5]

    assert runs(sections, walls) == [8, 6]


def test_a_flattened_head_has_a_neck() -> None:
    """House: a chest and a head a quarter flatter than wide; the neck holds 2.9 mm, its wall less.

    Insect 40 in one surface.  Before the flattening was counted the head stayed on the chest.
    """
    held = [3.7, 4.8, 5.7, 6.2, 6.4, 5.6, 3.6, 2.9, 3.7, 3.9, 3.3, 1.1]
    walls = [6.3, 6.0, 5.7, 5.7, 5.6, 5.6, 6.1, 3.7, 3.5, 3.4, 3.7, 0.7]

    assert runs([3.8, 4.9, 6.7, 7.7, 7.1, 8.5, 5.8, 3.2, 4.3, 4.6, 4.1, 4.0], walls, held) == [7, 5]


def test_a_taper_under_a_lump_is_no_neck() -> None:
    """House: a rod of wax from 3.8 to 2.7 mm under an abdomen of 7 mm is not cut itself."""
    rod = np.linspace(3.8, 2.7, 14).tolist()

    assert runs([*rod, *ball(7.0, -2.9, 6)], [*rod, *[6.5] * 6]) == [14, 6]


def test_a_thin_ray_has_no_neck_in_its_slices() -> None:
    """House: a ray of 1.3 mm under a bud; bands of two and three cells hold more and less."""
    held = [1.3 * math.sqrt(k) for k in (1.2, 0.8, 1.2, 0.8, 1.3, 0.7, 1.2, 0.8, 1.2, 0.8)]
    bud = ball(6.0, -2.5, 6)

    assert runs([*[1.3] * 10, *bud], None, [*held, *bud]) == [10, 6]


def test_the_round_base_of_a_lump_is_no_part() -> None:
    """House: an abdomen in one surface with its rod (insect 14); by two steps, before a part."""
    rod = [4.22, 4.14, 4.07, 4.01, 3.95, 3.88, 3.83, 3.76, 3.69, 3.64, 3.56, 3.51, 3.41]
    lump = [3.98, 4.85, 5.74, 6.29, 6.62, 6.94, 7.01, 6.90, 6.66, 6.30, 5.15, 3.75]
    walls = [5.60, 5.94, 6.02, 6.18, 6.29, 6.36, 6.35, 6.36, 6.19, 6.15, 5.89, 6.31]

    assert runs([*rod, *lump], [*rod, *walls]) == [13, 12]


def test_shreds_at_the_foot_of_a_bud_are_no_part() -> None:
    """House: a bud of its own surface whose first piece is one cell (noisy fan 4)."""
    widths = [*[1.0] * 12, 0.5, 0.97, 2.13, 2.39, 2.35, 1.93, 2.29]

    assert runs(widths, None, None, [*[0] * 12, *[1] * 7]) == [12, 7]


def test_a_thigh_is_no_foot_hidden_among_others() -> None:
    """House: insect 6 in one surface; four pieces of a thigh and a shin behind a knee of 45°.

    The rays tell both to be alike, 1.2 and 1.0 mm; the spread of their cells does not.
    """
    widths = [1.19, 1.28, 1.19, 1.25, 1.10, 1.04, 0.89, 0.90, 0.95, 0.82, 0.94, 0.90]
    walls = [1.21, 1.20, 1.18, 1.17, 1.12, 1.05, 1.02, 0.99, 0.96, 0.93, 0.90, 0.89]
    strand, pieces, slices = foot(widths, walls)
    bent = replace(pieces, middle=knee(4, 8, 45.0))

    made = cut(strand, bent, slices, np.zeros(12, dtype=bool), hidden=3.5e-3)

    assert [len(part) for part in made] == [4, 8]


def knee(before: int, behind: int, angle: float) -> si.Metres:
    """Return the middles of pieces 1 mm apart along a leg with a knee [deg], which is rounded off.

    The piece at the knee lies inside of it, as cells make it.
    """
    turn = math.radians(angle)
    ahead, off = np.array([0.0, 0.0, 1.0]), np.array([0.0, math.sin(turn), math.cos(turn)])
    thigh = (np.arange(before) - before + 0.5)[:, None] * ahead
    shin = (np.arange(behind) + 0.5)[:, None] * off
    shin[0] += 0.15 * (off - ahead)
    thigh[-1] += 0.15 * (off - ahead)
    return np.asarray(1e-3 * np.concatenate([thigh, shin]))


@pytest.mark.parametrize(("angle", "parts"), [(28.0, 2), (10.0, 1)])
def test_a_knee_that_cells_round_off_is_a_kink(angle: float, parts: int) -> None:
    """House: a foot of four pieces at 28°, as insects in one surface have it; 10° is none."""
    strand, pieces, slices = foot([0.8] * 12)
    bent = replace(pieces, middle=knee(8, 4, angle))

    assert len(cut(strand, bent, slices, np.zeros(12, dtype=bool))) == parts
