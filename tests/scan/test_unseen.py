"""Unseen: what the scan did not show widens what the forecast draws."""

import math
from functools import cache
from typing import Any

import numpy as np
import pytest
import trimesh

from pourcast.materials import library
from pourcast.materials.draws import quantile
from pourcast.piece.model import NINE_OF_TEN
from pourcast.piece.network import build
from pourcast.scan.checks import findings
from pourcast.scan.corrections import corrected, read_corrections
from pourcast.scan.model import Scanned
from pourcast.scan.paper import written
from pourcast.scan.solve import solve
from pourcast.scan.unseen import CALIPER, TOLD, section_error
from pourcast.sheet import new_sheet, read_plan
from tests.scan.make import record, stem

CELL = 0.5e-3


def own(shape: Any, unseen: float, across: float = 2e-3, *, by_winding: bool = False) -> float:
    """Return how far off nine of ten are at most, what a caliper would be off taken out."""
    error = section_error(shape, unseen, across, CELL, by_winding=by_winding)
    assert error is not None
    return NINE_OF_TEN * math.sqrt(error**2 - CALIPER**2)


def test_the_caliper_is_that_of_the_forecast() -> None:
    """House: where something is unseen no part is drawn narrower than where all is seen."""
    drawn = quantile(library().pour["measure_error"], (np.arange(1000) + 0.5) / 1000)

    assert math.sqrt(float((drawn**2).mean())) == pytest.approx(CALIPER, rel=0.05)
    assert float(drawn.max()) == pytest.approx(TOLD, rel=0.02)


@pytest.mark.parametrize("unseen", [0.1, 0.25])
def test_one_end_of_a_taper_is_hidden(unseen: float) -> None:
    """Closed form: the mean of a taper to a half, by adding up, without its thin end."""
    size = np.linspace(1.0, 0.5, 100_001)
    seen = size[: int((1 - unseen) * len(size))]

    assert own("blade", unseen) == pytest.approx(float(seen.mean() / size.mean()) - 1.0, rel=1e-3)
    assert own("rod", unseen) == pytest.approx(own("blade", unseen))


def test_a_fan_cuts_a_rod_flat() -> None:
    """Closed form: area of a polygon that stands for a circle with 0.6 of its girth cut off."""
    angle = np.linspace(-0.4 * np.pi, 0.4 * np.pi, 100_001)
    x, y = np.cos(angle), np.sin(angle)
    area = 0.5 * abs(float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()))

    assert own("rod", 0.6) == pytest.approx(0.5 * (1.0 - area / np.pi), rel=1e-3)


def test_a_cap_of_a_lump_is_gone() -> None:
    """Reference library: a ball of trimesh, a cap of it by the area of its faces."""
    ball = trimesh.creation.icosphere(subdivisions=6, radius=1.0)
    unseen = float(ball.area_faces[ball.triangles_center[:, 2] > 0.6].sum() / ball.area)

    assert own("lump", unseen) == pytest.approx((1.0 - 0.6) / 2.0, rel=0.01)


def test_what_was_seen_is_drawn_as_of_a_caliper() -> None:
    assert section_error("rod", 0.0, 2e-3, CELL, by_winding=False) is None
    assert section_error("rod", 0.02, CELL, CELL, by_winding=True) is None
    assert own("rod", 0.0, 0.8 * CELL) > 0.0
    assert own("blade", 0.0, 0.8 * CELL, by_winding=True) > 0.0


@cache
def holed() -> Scanned:
    """Return what a rod comes to with windows of 45° and two rings, four rings between them."""
    mesh = stem()
    x, y, z = mesh.triangles_center.T
    ring = np.floor(z / 0.8).astype(int)
    mesh.update_faces(~((np.abs(np.arctan2(y, x)) < np.pi / 8) & (ring % 6 < 2) & (z < 40.0)))
    return solve(record(mesh), rng=np.random.default_rng(0))


def test_a_hole_goes_into_the_draws() -> None:
    """By hand: windows in 18 of 50 rings and the walls across from them, 9 % of the walls.

    Tolerance 2 %: windows at an end lose their rim.
    """
    scanned = holed()
    whole = solve(record(stem()), rng=np.random.default_rng(0))
    (part,), (sound,) = scanned.parts, whole.parts

    plan = read_plan(written(scanned, new_sheet("Holed"), source="holed.stl"))
    drawn = build(plan.piece).measure_error

    assert part.unseen == pytest.approx(0.09, abs=0.02)
    assert part.section_error is not None
    assert drawn is not None
    assert drawn == pytest.approx([part.section_error], abs=6e-4)
    assert sound.section_error is None
    assert (
        read_plan(written(whole, new_sheet("Whole"), source="whole.stl"))
        .piece.parts[0]
        .measure_error
        is None
    )


def test_a_caliper_goes_before_a_hole() -> None:
    at = (1e3 * holed().parts[0].line[16]).round(1).tolist()

    sized, _, _ = corrected(holed(), read_corrections(f"[[part]]\nat_mm = {at}\ndiameter_mm = 3\n"))
    named, _, _ = corrected(holed(), read_corrections(f"[[part]]\nat_mm = {at}\nname = 'x'\n"))

    assert sized.parts[0].section_error is None
    assert named.parts[0].section_error == holed().parts[0].section_error


def test_a_part_in_holes_is_told() -> None:
    """House: the caster hears what the forecast draws wider than a caliper."""
    import dataclasses

    told = [f.text for f in findings(holed()) if "nine times of ten" in f.text]
    (part,) = holed().parts
    bad = dataclasses.replace(part, unseen=0.4, section_error=0.12)
    worse = findings(dataclasses.replace(holed(), parts=(bad,)))

    assert told == []
    (text,) = [f.text for f in worse if "nine times of ten" in f.text]
    assert "within 20 %" in text
    assert "40 % of its walls" in text
