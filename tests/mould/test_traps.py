"""Air under the original, seen from pieces whose undersides are plain."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pourcast.errors import InputError
from pourcast.mould.model import AirTraps
from pourcast.mould.traps import air_traps
from pourcast.piece.model import Network, Part
from pourcast.piece.network import build
from tests.mould.slurries import made
from tests.piece.make import part

LEAF = part("leaf", "stem", shape="blade", length=0.02, width=10e-3, thickness=0.3e-3, angle=90.0)


def network(*parts: Part, tilt: float = 0.0) -> Network:
    """Return the network of parts."""
    return build(made(*parts, tilt=tilt))


def traps(*parts: Part, tilt: float = 0.0) -> AirTraps:
    """Return the traps of parts on a gate."""
    return air_traps(network(*parts, tilt=tilt), 6e-3)


def test_a_level_leaf_traps_air_under_the_whole_of_it() -> None:
    """By hand: 20 by 10 mm, level as the flask stands, one of its two faces down.

    The share is 200 mm² of 2 (10 + 0.3) 20 mm² of sides.
    """
    found = traps(part("stem", length=0.03, width=2e-3), LEAF)

    assert found.area == pytest.approx(200e-6, rel=1e-6)
    assert found.parts[1].share == pytest.approx(200.0 / 412.0, rel=1e-6)
    assert found.parts[0].area == 0.0


def test_a_lean_of_twenty_degrees_frees_a_level_leaf() -> None:
    """Common practice, no source: 10 to 30° of lean, so that no underside is level.

    By geometry a level face is 15° from level at a lean of 15°; in steps of 5° that is the first.
    """
    found = traps(part("stem", length=0.03, width=2e-3), LEAF)

    assert found.tilt is not None
    assert 10.0 <= math.degrees(found.tilt) <= 30.0
    assert math.degrees(found.tilt) == pytest.approx(15.0, abs=5.1)
    assert found.tilt_area < 0.1 * found.area


def test_a_piece_that_leans_already_traps_nothing() -> None:
    """By geometry: a leaf square to a stem that leans by 25° is 25° from level."""
    found = traps(part("stem", length=0.03, width=2e-3), LEAF, tilt=math.radians(25.0))

    assert found.area == 0.0
    assert found.tilt == 0.0


def test_no_lean_frees_leaves_that_face_every_way() -> None:
    """By geometry: of leaves at all slopes some are near level at any lean of the flask."""
    fan = [
        part(f"leaf {angle} {turn}", "stem", shape="blade", length=0.02, width=10e-3,
             thickness=0.3e-3, angle=90.0 - angle, turn=float(turn))
        for angle in range(0, 50, 5) for turn in range(0, 360, 30)
    ]  # fmt: skip

    found = traps(part("stem", length=0.03, width=2e-3), *fan)

    assert found.tilt is None
    assert 0.0 < found.tilt_area <= found.area


@pytest.mark.parametrize(("angle", "bell"), [(150.0, True), (30.0, False), (90.0, False)])
def test_petals_that_hang_while_the_flask_is_filled_make_a_bell(angle: float, bell: bool) -> None:
    """By geometry: a whorl that points back along its stem opens towards the button.

    The button is down while the flask is filled, so such a flower hangs open downwards.
    """
    petals = part("petal", "stem", shape="blade", count=5, length=0.01, width=5e-3,
                  thickness=0.3e-3, angle=angle)  # fmt: skip

    found = traps(part("stem", length=0.03, width=2e-3), petals)

    assert found.parts[1].bell is bell
    assert found.parts[0].bell is False


def test_a_rod_is_no_trap() -> None:
    """House rule: a bubble finds its way round a rod, so only blades count."""
    found = traps(part("stem", length=0.03, width=2e-3, angle=90.0))

    assert found.area == 0.0


def test_directions_may_be_missing() -> None:
    """House rule: a network without directions of its widths is worked with, as round."""
    bare = replace(network(part("stem", length=0.03, width=2e-3)), across=None)

    assert air_traps(bare, 6e-3).area == 0.0


@pytest.mark.parametrize("bubble", [0.0, -1.0, math.nan])
def test_a_bubble_without_size_is_refused(bubble: float) -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError, match="bubble"):
        air_traps(network(part()), bubble)


def test_shares_lie_between_nothing_and_half() -> None:
    """By definition: of two faces at most one looks down."""
    found = traps(part("stem", length=0.03, width=2e-3), LEAF)

    assert all(0.0 <= one.share <= 0.5 for one in found.parts)
    assert np.isclose(sum(one.area for one in found.parts), found.area)
