"""Vents: a thread that ends in the plaster is blind, one that reaches the pump draws."""

import math
from dataclasses import replace
from typing import Literal

import numpy as np
import pytest

from pourcast.findings import Finding
from pourcast.mould.model import Flask
from pourcast.mould.vent_checks import vent_findings
from pourcast.mould.vents import (
    SHORT_BY,
    blind_ends,
    parts_with_open_vents,
    ways_out,
    with_open_vents,
)
from pourcast.piece.model import Network, Piece, Vent
from pourcast.piece.network import build
from tests.piece.make import part, piece

RIM = 0.02
HOLED = Flask(
    inside_diameter=0.076, height=0.1, wall="perforated", wall_thickness=2e-3, temperature=None
)
SOLID = replace(HOLED, wall="solid")
MOST = 8e-13
"""Permeability of the most open burnt block of the records [m²]."""


def blind_share(permeability: float, length: float, diameter: float) -> float:
    """Return what a blind thread passes of an open one [-], equation (2) of the stage."""
    return 16.0 * permeability * length / (0.5 * diameter) ** 3


def vented(
    length: float, leads_to: Literal["air", "vacuum"], *, count: int = 1
) -> tuple[Piece, Network]:
    """Return a stem of 40 mm down from the gate, or several, with threads from the tips."""
    twig = piece(part(length=0.04, width=0.004, count=count))
    vent = Vent(part="stem", diameter=1e-3, length=length, leads_to=leads_to)
    made = replace(twig, button=replace(twig.button, height=RIM), vents=(vent,))
    return made, build(made)


def told(flask: Flask, length: float, leads_to: Literal["air", "vacuum"]) -> tuple[Finding, ...]:
    made, network = vented(length, leads_to)
    return vent_findings(made, network, flask)


def test_ways_are_those_of_a_sketch() -> None:
    """Worked by hand: a tip 10 mm off the axis and 40 mm under the gate, in a flask of 76 by 100.

    Up to the rim 40 + 20; to the steel 38 - 10; to the far end 100 - 20 - 40.
    """
    tip = np.array([[0.006, 0.008, -0.04]])

    assert ways_out(tip, HOLED, RIM, to_pump=False) == pytest.approx([0.06])
    assert ways_out(tip, HOLED, RIM, to_pump=True) == pytest.approx([0.028])
    assert ways_out(tip, SOLID, RIM, to_pump=True) == pytest.approx([0.04])
    assert ways_out(tip - [0, 0, 0.03], HOLED, RIM, to_pump=True) == pytest.approx([0.01])


def test_the_pores_at_a_blind_end_pass_next_to_nothing() -> None:
    """Poiseuille's law for the thread, Darcy's law over half a sphere for its blind end.

    Worked out here from both laws at 20 µPa·s, which falls out.  In the most open block of
    the records a thread of 1.5 mm and 60 mm still passes under one part in 500.
    """
    viscosity, length, radius = 2e-5, 0.02, 0.5e-3
    open_end = math.pi * radius**4 / (8.0 * viscosity * length)
    blind_end = 2.0 * math.pi * 1e-13 * radius / viscosity

    assert blind_share(1e-13, length, 2.0 * radius) == pytest.approx(blind_end / open_end)
    assert blind_share(MOST, 0.06, 1.5e-3) < 1.0 / 500.0


@pytest.mark.parametrize(
    ("flask", "leads_to", "needed"),
    [(HOLED, "vacuum", 0.038), (SOLID, "vacuum", 0.04), (HOLED, "air", 0.06)],
)
def test_a_thread_that_ends_in_the_plaster_is_told(
    flask: Flask, leads_to: Literal["air", "vacuum"], needed: float
) -> None:
    """Worked by hand: tip on the axis, 40 mm under the gate and 60 mm under the rim."""
    assert told(flask, needed, leads_to) == ()
    assert told(flask, needed + 0.1, leads_to) == ()
    assert told(flask, needed - 0.9 * SHORT_BY, leads_to) == ()

    (found,) = told(flask, needed - 0.005, leads_to)

    assert found.level == "WATCH"
    assert found.part == "stem"
    assert found.value == pytest.approx(1e3 * (needed - 0.005))
    assert found.limit == pytest.approx(1e3 * needed)
    assert "ends in the plaster" in found.text
    assert "blind" in found.text


def test_a_blind_thread_is_taken_out_and_an_open_one_left() -> None:
    _, short = vented(0.03, "vacuum")
    _, long = vented(0.04, "vacuum")

    assert blind_ends(short, HOLED, RIM).sum() == 1
    assert with_open_vents(short, HOLED, RIM).vent_diameter.max() == 0.0
    assert with_open_vents(long, HOLED, RIM) is long
    assert parts_with_open_vents(short, HOLED, RIM) == frozenset()
    assert parts_with_open_vents(long, HOLED, RIM) == {"stem"}
    assert short.vent_diameter.max() == 1e-3  # the thread is still wax, metal and a stub


def test_only_the_blind_ones_of_a_part_are_told_and_taken_out() -> None:
    """Hand count: two arms at 0.2 and 0.9 of a stem of 30 mm, 26 and 47 mm under the rim."""
    leaning = piece(
        part("stem", length=0.03, width=0.004),
        part("arm", "stem", length=0.02, width=0.002, count=2, position=(0.2, 0.9), angle=90),
    )
    made = replace(
        leaning,
        button=replace(leaning.button, height=RIM),
        vents=(Vent(part="arm", diameter=1e-3, length=0.04, leads_to="air"),),
    )
    network = build(made)
    last = np.r_[network.member[1:] != network.member[:-1], True]
    tips = network.end_position[last & (network.member > 0)]
    short = int((RIM - tips[:, 2] > 0.04 + SHORT_BY).sum())
    assert short == 1

    (found,) = vent_findings(made, network, SOLID)

    assert found.text.startswith("1 of 2 vents of arm ends in the plaster: each is 40 mm")
    assert (with_open_vents(network, SOLID, RIM).vent_diameter > 0.0).sum() == 1
