"""Vents of a plan: what the forecast does with a thread that ends in the plaster."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.forecast.solve import forecast
from pourcast.gating.shape import tips_of
from pourcast.piece.model import Vent
from pourcast.piece.network import build
from pourcast.sheet.model import Plan
from tests.forecast.hand import example

PART = "open scale"


def vented(length: float) -> Plan:
    """Return the larch with threads from its open scales up to the air."""
    plan = example("larch_twig")
    vent = Vent(part=PART, diameter=1e-3, length=length, leads_to="air")
    return replace(plan, piece=replace(plan.piece, vents=(vent,)))


def test_a_blind_vent_fills_as_none_and_one_that_reaches_the_air_as_a_vent() -> None:
    """Common practice, no source: blind ends that hold gas fill once they are vented.

    A thread of 20 mm ends in the plaster, 53 to 117 mm under the open face, and lets nothing
    out.  Once it was counted as if it reached the air.
    """
    plan = example("larch_twig")
    tips = tips_of(build(plan.piece), PART)
    needed = float((plan.piece.button.height - tips[:, 2]).max())

    bare, blind, led = (forecast(each, draws=30) for each in (plan, vented(0.02), vented(needed)))

    assert np.array_equal(bare.segment_chance, blind.segment_chance)
    assert led.chance_all > bare.chance_all + 0.2
    assert [each.part for each in blind.findings if "ends in the plaster" in each.text] == [PART]
    assert not [each for each in led.findings if "ends in the plaster" in each.text]
    assert blind.finish is not None
    assert led.finish is not None
    ratio = blind.finish.balance.vents / led.finish.balance.vents
    assert ratio == pytest.approx(0.02 / needed)  # a blind thread fills with metal all the same
