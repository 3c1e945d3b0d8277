"""How finely the piece is cut, or the pour is followed, must not move a chance.

Source: none; a property.  The bar is 0.02: a chance is told in whole per cent, and
2 in 100 is what one draw in fifty is worth.  All runs share their draws, so that a
difference is the cut's and not luck's.  Measured with 400 draws, largest change of
a chance of any part or of its weakest member:

    piece                cut coarser   finer    each segment in 4
                         (3 mm)        (0.75)
    sea holly, vacuum    0.000         0.000    0.003
    fern, vacuum         0.003         0.003    0.000
    dragonfly, vacuum    0.000         0.000    0.000
    dragonfly, gravity   0.005         0.000    0.005
    larch, gravity       0.005         0.015    0.010

The rule of the cut hardly refines: a part goes into eight or so however fine it is asked
for, hence the cut in four.  By gravity it was 0.085 and 0.075 while each segment was one body
of heat that passed nothing on to its neighbours but metal, and while a taper had the
speed and the inertia of its mean area.
"""

from collections.abc import Callable

import numpy as np
import pytest

from pourcast import units as si
from pourcast.forecast.solve import forecast
from pourcast.piece.network import build
from pourcast.pour.model import Steps
from pourcast.sheet.model import Plan
from tests.forecast.hand import example
from tests.whole.cut import chances, forecast_cut, split
from tests.whole.paired import by_gravity

MOST = 0.02 + 1e-9
DRAWS = 200


def as_it_is(plan: Plan) -> Plan:
    """Return the plan itself."""
    return plan


def change(
    name: str,
    of: Callable[[Plan], Plan] = as_it_is,
    *,
    draws: int = DRAWS,
    **how: float | int | Steps,
) -> si.Ratio:
    """Return the largest change of a chance from the usual cut to another."""
    plan = of(example(name))
    usual = chances(forecast_cut(plan, draws))
    other = chances(forecast_cut(plan, draws, **how))  # type: ignore[arg-type]
    return float(np.abs(other - usual).max())


@pytest.mark.parametrize("finest", [3e-3, 0.75e-3])
def test_cut_of_the_fern_does_not_move_a_chance(finest: float) -> None:
    assert change("fern_crozier", finest=finest) <= MOST


def test_finer_cut_of_the_sea_holly_does_not_move_a_chance() -> None:
    assert change("sea_holly", finest=0.75e-3) <= MOST


def test_coarser_cut_of_the_sea_holly_does_not_move_a_chance() -> None:
    assert change("sea_holly", draws=400, finest=3e-3) <= MOST


def test_each_segment_of_the_fern_cut_in_four_does_not_move_a_chance() -> None:
    assert change("fern_crozier", pieces=4) <= MOST


def test_each_segment_of_the_sea_holly_cut_in_four_does_not_move_a_chance() -> None:
    assert change("sea_holly", pieces=4) <= MOST


@pytest.mark.long
@pytest.mark.parametrize("pieces", [2, 4])
def test_each_segment_of_the_dragonfly_cut_does_not_move_a_chance_by_gravity(pieces: int) -> None:
    """Found: 0.003 and 0.005 of 400; it was 0.075 while a closing lump had its mean area."""
    assert change("dragonfly", by_gravity, draws=400, pieces=pieces) <= MOST


@pytest.mark.long
@pytest.mark.parametrize("pieces", [2, 4])
def test_each_segment_of_the_larch_cut_does_not_move_a_chance(pieces: int) -> None:
    """Found: 0.015 and 0.010 of 400; it was 0.085 while no heat ran along the metal."""
    assert change("larch_twig", draws=400, pieces=pieces) <= MOST


@pytest.mark.long
def test_finer_cut_of_the_larch_does_not_move_a_chance() -> None:
    assert change("larch_twig", draws=400, finest=0.75e-3) <= MOST


def test_steps_of_time_do_not_move_a_chance() -> None:
    """Shares of a segment, longest step and growth are all much finer than usual."""
    fine = Steps(share=0.2, longest=5e-4, growth=1.1)

    assert change("sea_holly", steps=fine) <= MOST


def test_steps_of_time_do_not_move_a_chance_by_gravity() -> None:
    """Found: 0.010; it was 0.075.

    A flow out of the abdomen was kept to the end of a long step, in which it filled the
    claspers beyond.
    """
    fine = Steps(share=0.2, longest=5e-4, growth=1.1, lengthening=5e-4)

    assert change("dragonfly", by_gravity, steps=fine) <= MOST


def test_the_cut_is_really_another() -> None:
    """The test can fail: three refinements give three numbers of segments."""
    counts = [
        build(example("sea_holly").piece, finest=f).length.size for f in (3e-3, 1.5e-3, 75e-5)
    ]

    assert counts == sorted(set(counts))


def test_a_split_network_holds_the_same_passages() -> None:
    """Geometry: length, ends and members stay; only the number of segments grows."""
    network = build(example("dragonfly").piece)

    cut = split(network, 3)

    assert cut.length.size == 3 * network.length.size
    assert cut.length.sum() == pytest.approx(network.length.sum())
    assert np.bincount(cut.member, weights=cut.length) == pytest.approx(
        np.bincount(network.member, weights=network.length)
    )
    assert cut.end.max() + 1 == cut.vent_diameter.size == cut.length.size + 1
    assert (np.bincount(cut.end) <= 1).all()
    assert cut.width[::3, 0] == pytest.approx(network.width[:, 0])
    assert cut.width[2::3, 1] == pytest.approx(network.width[:, 1])
    assert cut.end_position[2::3] == pytest.approx(network.end_position)


def test_a_network_that_is_not_cut_anew_gives_the_forecast_as_it_is() -> None:
    usual = chances(forecast(example("dragonfly"), draws=20))

    assert chances(forecast_cut(example("dragonfly"), 20)).tolist() == usual.tolist()
