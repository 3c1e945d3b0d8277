"""Small sums beside a ranking: what a longer vent asks for, and when a difference counts."""

import math

import pytest

from pourcast.change.model import NOISE, Lever
from pourcast.change.shape_levers import shape_levers
from pourcast.piece.model import Vent
from tests.change.test_lever_steps import ask_of, with_
from tests.forecast.hand import example
from tests.outside.record import record


def test_a_difference_that_counts_comes_by_luck_once_in_twenty() -> None:
    """Closed form: a normal law lies outside ± z standard errors in erfc(z / √2) of all cases.

    Wanted is the 1 in 20 of Fisher (1925), Statistical Methods for Research Workers, from
    memory, who takes 2 for 1.96 himself.  Tolerance 1 in 100, for that rounding.  Found: 0.5.
    """
    by_luck = 100.0 * math.erfc(NOISE / math.sqrt(2.0))

    record("change", "differences that count though luck alone made them, of 100",
           "Fisher (1925), Statistical Methods for Research Workers, from memory",
           by_luck, 5.0, "in 100", 1.0, kind="closed form")  # fmt: skip
    assert by_luck == pytest.approx(5.0, abs=1.0)


def test_a_vent_led_on_asks_for_the_thread_between_old_and_new_length() -> None:
    """By hand: each thread grows by new less old length, and its metal is that round rod's."""
    plan = example("larch_twig")
    blind = Vent(part="open scale", diameter=2e-3, length=10e-3, leads_to="air")
    ask = ask_of(with_(plan, "piece", vents=(blind,)))

    (lever,) = (
        each
        for each in shape_levers(ask)
        if isinstance(each, Lever) and each.act.startswith("Lead")
    )

    threads = 3 * 12  # scales on each of the three cones
    (led,) = lever.plan.piece.vents
    longer = led.length - blind.length
    assert longer > 0.0
    density = ask.ready.alloy["density_20"].si
    assert lever.cost.words == f"{round(1e3 * longer)} mm more wax on each thread"
    assert lever.cost.metal == pytest.approx(threads * longer * math.pi * 1e-3**2 * density)
