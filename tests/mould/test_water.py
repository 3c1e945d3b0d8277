"""Water that an original drinks or has lost."""

import math
from typing import Any

import pytest

from pourcast.errors import InputError
from pourcast.findings import Finding
from pourcast.materials import library
from pourcast.mould.model import PartWater, State
from pourcast.mould.water import lost_share, original_water, wilting_time
from pourcast.mould.water_checks import water_findings
from pourcast.piece.model import Part, Piece
from tests.mould.slurries import made
from tests.outside.record import record
from tests.piece.make import part


def piece_of(*materials: str) -> Piece:
    """Return a piece with one rod of 3 mm of each matter."""
    parts = []
    for i, matter in enumerate(materials):
        kept: dict[str, Any] = {
            name: getattr(part(f"part {i}"), name) for name in Part.__dataclass_fields__
        }
        parts.append(Part(**(kept | {"material": matter})))
    return made(*parts)


def water(state: State | None, *materials: str, age: float | None = None) -> tuple[PartWater, ...]:
    """Return the water of a piece."""
    return original_water(piece_of(*materials), library().plants, state, age)


def told(state: State | None, *materials: str, age: float | None = None) -> tuple[Finding, ...]:
    """Return the findings on the water of a piece."""
    return water_findings(
        water(state, *materials, age=age),
        state,
        plants=library().plants,
        seal=library().coatings["water_seal_hours"],
    )


def test_dry_wood_swells_as_the_handbook_has_it() -> None:
    """From memory: 2 to 8 % radial, 4 to 12 % tangential from green to oven dry.

    Source: Wood Handbook, table of shrinkage, from memory.  From room dry about half of
    the mean of both, 3.25 %, is left.  Tolerance: half of the span of the woods, 1.75 points.
    """
    (twig,) = water("dry", "woody_stem")

    assert twig.swelling is not None
    record("mould", "swelling of room-dry wood across", "Wood Handbook, from memory",
           100 * twig.swelling, 3.25, "%", 1.75, kind="table")  # fmt: skip
    assert 100 * twig.swelling == pytest.approx(3.25, abs=1.75)
    assert twig.grows == pytest.approx(0.03 * 3e-3)


def test_a_cut_leaf_wilts_within_hours() -> None:
    """Common practice, no source: invest a fresh leaf at once, it shrinks.

    A tenth of the mass at 3 % an hour: 3.5 h.
    """
    (leaf,) = water("fresh", "leaf", age=3600.0)

    assert leaf.wilts_in == pytest.approx(3600.0 * math.log(1 / 0.9) / 0.03)
    assert leaf.lost == pytest.approx(1 - math.exp(-0.03))
    assert leaf.swelling is None


def test_what_never_grew_is_left_out() -> None:
    """House rule: wax drinks nothing."""
    assert [one.name for one in water(None, "casting", "seed_head")] == ["part 1"]


def test_dry_wood_and_seed_heads_are_told_to_be_sealed() -> None:
    """Common practice: unsealed wood drinks, swells and cracks the fresh mould."""
    (found,) = told(None, "woody_stem", "seed_head", "leaf")

    assert found.level == "WATCH"
    assert "Seal it" in found.text
    assert "part 2" not in found.text
    assert "closes its scales" in told("dry", "cone")[0].text
    assert told("dry", "insect") == ()


def test_fresh_and_soaked_are_told_apart() -> None:
    """Common practice: stem in water until used; soaked wood is invested wet."""
    (fresh,) = told("fresh", "petal", age=7200.0)
    (soaked,) = told("soaked", "woody_stem")

    assert "in water until it is used" in fresh.text
    assert "6 % of its mass" in fresh.text
    assert "dried" not in fresh.text
    assert "soft" in soaked.text
    assert told("soaked") == ()


def test_every_organ_has_its_water() -> None:
    """House rule: a piece file may name any of them."""
    for organ in library().organs:
        assert water("dry", organ)[0].swelling is not None
        assert water("fresh", organ)[0].wilts_in is not None


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_what_is_no_water_is_refused(bad: float) -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError, match="age"):
        lost_share(1e-5, bad)
    with pytest.raises(InputError, match="rate"):
        wilting_time(bad, 0.1)
    with pytest.raises(InputError, match="wilts_at"):
        wilting_time(1e-5, bad)
