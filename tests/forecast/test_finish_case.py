"""Finish case: which parts are cut off, and that the draws are those of the piece."""

from dataclasses import replace

import pytest

from pourcast.finish.model import FinishResult
from pourcast.forecast.finish_case import feeds
from pourcast.forecast.solve import forecast
from pourcast.materials import library
from tests.forecast.hand import EXAMPLES, example


def finish_of(name: str) -> FinishResult:
    told = forecast(example(name), draws=20).finish
    assert told is not None
    return told


def test_wax_between_button_and_original_is_a_feed() -> None:
    """The dragonfly hangs on a wax rod; its wax veins are on a wing and are kept."""
    assert feeds(example("dragonfly"), library()) == ("feed",)


def test_an_original_of_wax_alone_has_no_feeds() -> None:
    plan = example("dragonfly")
    parts = tuple(replace(part, material="casting") for part in plan.piece.parts)

    assert feeds(replace(plan, piece=replace(plan.piece, parts=parts)), library()) == ()


@pytest.mark.parametrize("name", EXAMPLES)
def test_metal_of_the_charge_is_found_again(name: str) -> None:
    """Mass is kept: what was weighed out is lost, in the work, or goes back."""
    balance = finish_of(name).balance

    assert balance.lost + balance.work + balance.back == pytest.approx(balance.charged, rel=1e-9)
    assert balance.back == pytest.approx(balance.button + balance.feeds + balance.vents, rel=1e-9)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_is_told(name: str) -> None:
    assert [part.name for part in finish_of(name).parts] == [
        part.name for part in example(name).piece.parts
    ]
