"""A coat of wax is no matter of the original."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast.forecast.burnout_case import bare_volume
from pourcast.forecast.prepare import prepare
from pourcast.piece.model import Shape
from tests.forecast.hand import example


@pytest.mark.parametrize("shape", ["rod", "blade"])
@pytest.mark.parametrize("coat", [0.05e-3, 0.2e-3])
def test_of_two_parts_alike_the_coated_one_holds_no_more_matter(shape: Shape, coat: float) -> None:
    """By construction: the sheet measures the original; a coat goes round it and burns as wax.

    Two parts alike, one coated, both in the air.  Exact but for the little of either that lies
    within the stem, in which nothing is coated: 2 %.
    """
    plan = example("larch_twig")
    stem = plan.piece.parts[0]
    bare = replace(
        stem,
        name="bare",
        parent=stem.name,
        shape=shape,
        count=1,
        position=(0.3, 0.3),
        angle=math.radians(60.0),
        length=25e-3,
        width=(2e-3, 2e-3) if shape == "rod" else (6e-3, 6e-3),
        thickness=(2e-3, 2e-3) if shape == "rod" else (1e-3, 1e-3),
        coat=0.0,
    )
    coated = replace(bare, name="coated", position=(0.6, 0.6), coat=coat)
    piece = replace(plan.piece, parts=(stem, bare, coated), vents=())
    plan = replace(plan, piece=piece)
    ready = prepare(plan, None, 2, 0)

    volume = bare_volume(plan, ready)

    names = np.array(ready.network.part_names)[ready.network.member_part]
    one, other = (float(volume[names == name].sum()) for name in ("bare", "coated"))
    assert one > 0.0
    assert other == pytest.approx(one, rel=0.02)
