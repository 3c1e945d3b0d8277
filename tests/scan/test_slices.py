"""Widths of slices and contacts of parts, on cells of bodies whose measures are known."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.scan.model import Cells, Field, Pieces, ScannedPart, Walls
from pourcast.scan.neighbours import touching_parts
from pourcast.scan.slices import measured

CELL = 0.1e-3
CORNER = np.array([7e-3, -4e-3, 2e-3])  # of the grid, away from where places are counted from


def field(full: si.Booleans) -> tuple[Field, Cells]:
    """Return a grid and its full cells."""
    share = full.astype(float)
    place = np.argwhere(full)
    many = len(place)
    return Field(share=share, origin=CORNER, cell=CELL, bad_lines=0.0, by_winding=False), Cells(
        place=place,
        share=np.ones(many),
        shell=np.zeros(many, dtype=np.int64),
        distance=CELL * place[:, 2].astype(np.float64),
    )


NO_WALLS = Walls(
    place=np.zeros((0, 3)),
    inward=np.zeros((0, 3)),
    way=np.zeros(0),
    closed=np.zeros(0, dtype=bool),
    area=1e-9,
)


@pytest.mark.parametrize(
    ("across", "through", "round_"), [(3.0, 3.0, True), (4.0, 4.0, True), (5.0, 1.0, False)]
)
def test_a_round_rod_is_four_and_a_strip_root_twelve_deviations_wide(
    across: float, through: float, round_: bool
) -> None:
    """Closed form: the deviation of a circle is a quarter of its width, of a strip 1/√12 of it.

    A rod or a strip of 10 slices of 1 mm; tolerance 2 %, cells of 0.1 mm.
    """
    side = np.arange(64)
    x, y = 0.1 * (side[:, None] - 31.5), 0.1 * (side[None, :] - 31.5)
    flat = (np.abs(x) < across / 2) & (np.abs(y) < through / 2)
    section = x**2 + y**2 < (across / 2) ** 2 if round_ else flat
    grid, cells = field(np.repeat(section[:, :, None], 100, axis=2))
    owner = cells.place[:, 2] // 10
    middle = CORNER + CELL * np.array([32.0, 32.0, 0.0])
    pieces = Pieces(
        of_cell=owner,
        parent=np.arange(-1, 9),
        band=np.arange(10),
        step=1e-3,
        shell=np.zeros(10, dtype=np.int64),
        volume=np.ones(10),
        middle=middle + np.outer(1e-3 * (np.arange(10) + 0.5), [0.0, 0.0, 1.0]),
        loops=0,
    )

    slices = measured(cells, grid, pieces, NO_WALLS)

    assert slices.wide == pytest.approx(1e-3 * across, rel=0.02)
    assert np.abs(slices.direction @ [0.0, 0.0, 1.0]) == pytest.approx(1.0)
    if round_:
        assert slices.deep == pytest.approx(1e-3 * through, rel=0.02)
    else:
        assert np.abs(slices.across @ [1.0, 0.0, 0.0]) == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize(("touches", "pairs"), [("tips", ((0, 1),)), ("feet", ())])
def test_parts_that_touch_away_from_their_joint_are_told(
    touches: str, pairs: tuple[tuple[int, int], ...]
) -> None:
    """By hand: two rods 0.4 mm thick side by side from one stem, that touch at one end.

    At their feet they always touch: that is their joint.
    """
    full = np.zeros((30, 8, 100), dtype=bool)
    full[10:14, 2:6], full[16:20, 2:6] = True, True
    full[14:16, 2:6, slice(0, 4) if touches == "feet" else slice(90, 100)] = True
    grid, cells = field(full)
    owner = (cells.place[:, 0] >= 15).astype(np.int64)
    line = CORNER + CELL * np.array([[12.0, 4.0, 0.5], [12.0, 4.0, 99.5]])
    one = ScannedPart(
        name="one",
        parent=-1,
        shape="rod",
        line=line,
        length=1e-2,
        width=(4e-4, 4e-4),
        thickness=(4e-4, 4e-4),
        across=np.array([1.0, 0.0, 0.0]),
        widest=4e-4,
        volume=1e-9,
        seen_volume=1e-9,
        length_error=1e-5,
        thickness_error=1e-5,
        walls_read=1.0,
        hollow=False,
    )
    other = replace(one, name="other", line=line + CELL * np.array([6.0, 0.0, 0.0]))

    assert touching_parts(cells, grid, owner, (one, other)) == pairs
