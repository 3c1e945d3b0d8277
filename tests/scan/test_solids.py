"""Solids of a scan: what its parts come to is what the piece file holds, lumps with a tip too."""

import math
from functools import cache

import numpy as np
import pytest
import trimesh

from pourcast.piece.measure import measure
from pourcast.piece.network import build
from pourcast.scan.corrections import corrected, read_corrections
from pourcast.scan.model import Scanned
from pourcast.scan.paper import written
from pourcast.scan.poses import posed
from pourcast.scan.solids import with_volumes
from pourcast.scan.solve import solve
from pourcast.sheet import new_sheet, read_plan
from tests.scan.make import joined, record, stem, tube_of

BODY, TAIL = 10.0, 4.0
"""Diameters of a ball and of the rod on its top [mm]."""

STANDS = 12.0 + math.sqrt(24.0)
"""Height of the middle of the ball, whose stem of 2 mm goes in at 12 mm [mm]."""


@cache
def tailed() -> Scanned:
    """Return a ball on a stem of 2 mm, with a rod of 4 mm straight up on it."""
    ball = trimesh.creation.icosphere(subdivisions=5, radius=BODY / 2)
    ball.apply_translation([0, 0, STANDS])
    tail = tube_of(np.linspace(STANDS, 40.0, 40), np.full(40, TAIL / 2))
    return solve(record(joined(stem(13.0, 2.0), ball, tail)), rng=np.random.default_rng(0))


def test_a_lump_ends_as_wide_as_what_stands_on_its_tip() -> None:
    """Exact, by the spherical segment of two bases: radii 1 and 2 mm across a ball of 10 mm.

    Source: CRC Standard Mathematical Tables, from memory.  Tolerance 3 %: half a cell at
    each end of its length.  Before, the ball ended in a pole, however thick its tail.
    """
    scanned = tailed()
    _, ball, tail = scanned.parts
    long = math.sqrt(25 - 1) + math.sqrt(25 - 4)
    want = math.pi * long / 6 * (3 * 1 + 3 * 4 + long**2)

    poses = posed(scanned.parts)

    assert (ball.shape, tail.shape) == ("lump", "rod")
    assert poses[1].section(1.0) == pytest.approx((4e-3, 4e-3), rel=0.02)
    assert 1e3 * ball.length == pytest.approx(long, abs=0.25)
    assert 1e9 * ball.volume == pytest.approx(want, rel=0.03)


def test_parts_come_to_what_the_piece_file_holds() -> None:
    """The reader of piece files is the outside; to the micrometre that is written."""
    scanned = tailed()
    plan = read_plan(written(scanned, new_sheet("Ball"), source="ball.stl"))

    parts = measure(plan.piece, build(plan.piece)).parts

    assert [part.volume for part in scanned.parts] == pytest.approx(
        [part.volume for part in parts], rel=2e-3
    )


def test_a_correction_of_the_tail_changes_the_end_of_the_lump() -> None:
    """House: what stands on the tip is measured by hand, and the lump goes with it."""
    scanned = tailed()
    middle = (1e3 * scanned.parts[2].line[16]).round(2).tolist()
    text = f"[[part]]\nat_mm = {middle}\ndiameter_mm = 8\n"

    made, _, _ = corrected(scanned, read_corrections(text))

    assert made.parts[1].volume > 1.02 * scanned.parts[1].volume


def test_no_parts_have_no_volumes() -> None:
    assert with_volumes(()) == ()
