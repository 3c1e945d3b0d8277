"""Acts: which tool may touch a part."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.finish.acts import BENDS, BENDS_AT_MOST, allowed, bent_shares
from pourcast.finish.model import Act, Limits
from tests.finish.beams import loads

FREE: dict[Act, float] = dict.fromkeys(BENDS, 0.0)


def limits(**changes: float) -> Limits:
    """Return limits of one part in ten draws, far over all pushes unless said."""
    sizes = {"tip_force": 1e3, "middle_force": 1e3, "end_force": 1e3, "pressure": 1e9,
             "deflection": 1e-6, "blast_deflection": 1e-6, **changes}  # fmt: skip
    return Limits(**{name: np.full((10, 1), size) for name, size in sizes.items()})


def test_the_acts_stand_from_the_roughest_to_nothing() -> None:
    """Common practice, no source: the order in which a caster would like to use them."""
    assert (*BENDS, "leave") == (
        "wheel", "hand brush", "pressure blast", "light blast only", "leave",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("changes", "bent"),
    [
        ({}, ()),
        ({"tip_force": 10.0}, ("wheel",)),
        ({"tip_force": 2.0}, ("wheel", "hand brush")),
        ({"end_force": 2.0}, ("hand brush",)),
        ({"pressure": 5e3}, ("pressure blast",)),
        ({"pressure": 5e2}, ("pressure blast", "light blast only")),
    ],
)
def test_each_tool_bends_what_bears_less_than_it_pushes(
    changes: dict[str, float], bent: tuple[str, ...]
) -> None:
    """By definition: wheel 15 N, brush 3 N, blast 10 kPa, light blast 1 kPa."""
    push = loads(hand_brush=3.0, wheel=15.0, blast=1e4, light_blast=1e3, draws=10)

    shares = bent_shares(limits(**changes), push)

    assert {act for act, share in shares.items() if share[0] == 1.0} == set(bent)
    assert {act for act, share in shares.items() if share[0] == 0.0} == set(BENDS) - set(bent)


def test_a_share_counts_draws() -> None:
    """By definition: three draws of ten."""
    push = loads(hand_brush=3.0, draws=10)
    found = limits()
    found.tip_force[:3] = 2.0

    assert bent_shares(found, push)["hand brush"] == pytest.approx([0.3])


@pytest.mark.parametrize(
    ("act", "at", "kept"),
    [("wheel", BENDS_AT_MOST, True), ("wheel", BENDS_AT_MOST + 1e-9, False),
     ("light blast only", BENDS_AT_MOST, True), ("light blast only", 0.06, False)],
)  # fmt: skip
def test_an_act_is_allowed_up_to_one_draw_in_twenty(act: Act, at: float, kept: bool) -> None:
    """House choice: 5 % of the draws."""
    assert (act in allowed({**FREE, act: at})) is kept


@given(st.lists(st.floats(0.0, 1.0), min_size=4, max_size=4))
def test_to_leave_it_is_always_allowed_and_the_last(shares: list[float]) -> None:
    """By definition."""
    found = allowed(dict(zip(BENDS, shares, strict=True)))

    assert found[-1] == "leave"
    assert list(found) == sorted(found, key=[*BENDS, "leave"].index)


def test_draws_that_differ_in_number_are_refused() -> None:
    """House rule."""
    with pytest.raises(InputError, match="of 10 draws"):
        bent_shares(limits(), loads(draws=9))
