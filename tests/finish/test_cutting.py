"""Cuts, and the metal that comes back."""

import math
from dataclasses import replace

import pytest
from hypothesis import given

from pourcast.errors import InputError
from pourcast.finish.cutting import balance, cuts
from pourcast.melt.charge import wax_factor
from pourcast.melt.model import MetalAccount
from pourcast.piece.measure import measure
from pourcast.piece.model import Measures, Network, Part, Piece, Vent
from pourcast.piece.network import build
from tests.finish.beams import network
from tests.melt.test_solve import account, charge
from tests.outside.record import record
from tests.piece.make import button, few, part
from tests.strategies import pieces

RATE = 8e-7


def made(*parts: Part, vents: tuple[Vent, ...] = ()) -> tuple[Network, Measures]:
    """Return network and measures of parts."""
    whole = Piece(name="test", parts=parts, button=button(), vents=vents)
    return build(whole), measure(whole, build(whole))


def after(
    whole: tuple[Network, Measures], metal: MetalAccount, feeds: tuple[str, ...] = ()
) -> tuple[float, ...]:
    """Return charged, lost, work, feeds, vents, button and back of a casting."""
    found = balance(*whole, metal, feeds, solid_density=8360.0, contraction=0.015)
    return (found.charged, found.lost, found.work, found.feeds, found.vents, found.button,
            found.back)  # fmt: skip


def test_the_casting_is_cut_at_the_gate() -> None:
    """By geometry: a rod of 4 mm is 12.57 mm²; at 0.8 mm² a second that takes 15.7 s."""
    (only,) = cuts(network(part(width=(0.004, 0.002))), (), RATE)

    assert (only.place, only.count) == ("gate", 1)
    assert only.area == pytest.approx(math.pi * 4e-6, rel=1e-12)
    assert only.time == pytest.approx(math.pi * 4e-6 / RATE, rel=1e-12)


def test_a_feed_moves_the_cut_to_its_far_end() -> None:
    """By definition: the work begins where the feed ends."""
    feed = part("feed", width=0.005, length=0.012)
    stem = part("stem", "feed", width=0.003)
    leaf = part("leaf", "stem", width=0.001, count=3)

    (only,) = cuts(network(feed, stem, leaf), ("feed",), RATE)

    assert (only.place, only.count) == ("feed into stem", 1)
    assert only.area == pytest.approx(math.pi / 4 * 9e-6, rel=1e-12)


def test_each_vent_is_cut() -> None:
    """By definition: one vent from the tip of every member."""
    whole, _ = made(
        part("stem"),
        part("leaf", "stem", count=4),
        vents=(Vent(part="leaf", diameter=0.001, length=0.02, leads_to="air"),),
    )

    gate, vent = cuts(whole, (), RATE)

    assert (vent.place, vent.count) == ("vent of leaf", 4)
    assert vent.area == pytest.approx(math.pi / 4 * 1e-6, rel=1e-12)
    assert vent.time == pytest.approx(4 * vent.area / RATE, rel=1e-12)
    assert gate.place == "gate"


def test_a_feed_that_is_joined_by_its_tip_is_cut_there_too() -> None:
    """By definition: a thread of wax from the stem to a leaf is no part of the work."""
    stem = part("stem", width=0.004)
    leaf = part("leaf", "stem", width=0.002, length=0.03, position=0.5, angle=50.0)
    thread = part("thread", "button", width=0.0015, length=0.05, angle=40.0, tip_on="leaf")

    found = {cut.place: cut for cut in cuts(network(stem, leaf, thread), ("thread",), RATE)}

    assert set(found) == {"gate", "tip of thread"}
    assert found["tip of thread"].area == pytest.approx(math.pi / 4 * 0.0015**2, rel=1e-9)


def test_a_thread_from_stem_to_leaf_is_cut_at_both_ends() -> None:
    """By definition; what stands on the work in the same places stays on it."""
    stem = part("stem", width=0.004)
    leaf = part("leaf", "stem", width=0.002, length=0.03, position=0.8, angle=50.0)
    thread = part("thread", "stem", width=(0.0015, 0.001), length=0.03, position=0.4, angle=20.0,
                  tip_on="leaf", tip_position=0.5)  # fmt: skip
    hair = part("hair", "leaf", width=0.0005, length=0.003, position=0.5, angle=80.0)
    bud = part("bud", "stem", width=0.001, length=0.004, position=0.4, angle=70.0)

    found = {
        cut.place: cut for cut in cuts(network(stem, leaf, thread, hair, bud), ("thread",), RATE)
    }

    assert set(found) == {"gate", "foot of thread", "tip of thread"}
    assert found["foot of thread"].area == pytest.approx(math.pi / 4 * 0.0015**2, rel=1e-9)
    assert found["tip of thread"].area == pytest.approx(math.pi / 4 * 0.001**2, rel=1e-9)


def test_a_blind_riser_on_the_work_is_cut_at_its_foot() -> None:
    """By definition: it stands on the stem, feeds it from the side and ends free."""
    stem = part("stem", width=0.004)
    riser = part("riser", "stem", width=(0.005, 0.006), length=0.015, position=0.5, angle=90.0)

    found = {cut.place: cut for cut in cuts(network(stem, riser), ("riser",), RATE)}

    assert set(found) == {"gate", "foot of riser"}
    assert found["foot of riser"].area == pytest.approx(math.pi / 4 * 0.005**2, rel=1e-9)


def test_balance_worked_out_by_hand() -> None:
    """Exact: 8 cm³ of work shrink by 1.5 % each way and weigh 63.92 g.

    108.97 g were weighed out, 3 % are lost, the rest is button.
    """
    rod = part(length=0.06, width=math.sqrt(8e-6 / 0.06 / (math.pi / 4)))
    metal = account(volume=8e-6, button_volume=6e-6)

    charged, lost, work, feeds, vents, in_button, back = after(made(rod), metal)

    assert charged == pytest.approx(0.1057 / 0.97, rel=1e-9)
    assert lost == pytest.approx(0.03 * charged, rel=1e-9)
    assert work == pytest.approx(8e-6 * 8360 * 0.985**3, rel=1e-9)
    assert (feeds, vents) == (0.0, 0.0)
    assert in_button == back == pytest.approx(charged - lost - work, rel=1e-9)


def test_feeds_and_vents_come_back() -> None:
    """By mass balance: what is cut off is no work."""
    feed, stem = part("feed", width=0.005, length=0.012), part("stem", "feed", width=0.004)
    vent = (Vent(part="stem", diameter=0.0015, length=0.03, leads_to="air"),)
    whole = made(feed, stem, vents=vent)
    metal = account(volume=whole[1].volume, button_volume=6e-6)

    _, _, work, in_feed, in_vent, _, back = after(whole, metal, ("feed",))
    plain = after(whole, metal)

    dense = 8360 * 0.985**3
    assert in_feed == pytest.approx(whole[1].parts[0].volume * dense, rel=1e-9)
    assert in_vent == pytest.approx(math.pi / 4 * 0.0015**2 * 0.03 * dense, rel=1e-9)
    assert work == pytest.approx(plain[2] - in_feed, rel=1e-9)
    assert back == pytest.approx(plain[6] + in_feed, rel=1e-9)


def test_a_charge_that_does_not_fill_the_work_leaves_nothing() -> None:
    """By mass balance: 40 g for a work of 64 g."""
    rod = part(length=0.06, width=math.sqrt(8e-6 / 0.06 / (math.pi / 4)))

    charged, lost, work, _, _, in_button, back = after(made(rod), account(charge(poured=0.04)))

    assert (in_button, back) == (0.0, 0.0)
    assert work == pytest.approx(charged - lost, rel=1e-12)


@pytest.mark.parametrize(
    ("metal", "density", "factor"), [("silicon bronze", 8360.0, 8.8), ("sterling", 10_360.0, 10.9)]
)
def test_wax_factors_are_those_of_the_trade(metal: str, density: float, factor: float) -> None:
    """Common practice, no source: 8.8 for silicon bronze, 10.9 for sterling, wax 950 kg/m³.

    Tolerance 0.05, half of the last figure.
    """
    got = wax_factor(density, 950.0)

    record(
        "finish",
        f"wax factor of {metal}",
        "common practice, no source",
        got,
        factor,
        "",
        0.05,
        kind="common practice",
    )
    assert got == pytest.approx(factor, abs=0.05)


@few
@given(pieces())
def test_metal_is_kept(drawn: Piece) -> None:
    """By mass balance: what was weighed out is lost, in the work or comes back."""
    whole = build(drawn), measure(drawn, build(drawn))
    metal = account(volume=whole[1].volume, button_volume=whole[1].button_volume)

    charged, lost, work, feeds, vents, in_button, back = after(whole, metal)

    assert lost + work + back == pytest.approx(charged, rel=1e-12)
    assert feeds + vents + in_button == pytest.approx(back, rel=1e-12)
    assert min(lost, work, feeds, vents, in_button, back) >= 0.0


@few
@given(pieces())
def test_any_piece_is_cut_at_its_gate(drawn: Piece) -> None:
    """By definition: without feeds the first cut is the gate, and each takes some time."""
    found = cuts(build(drawn), (), RATE)

    assert found[0].place == "gate"
    assert all(cut.time > 0.0 and cut.area > 0.0 and cut.count >= 1 for cut in found)


@pytest.mark.parametrize(
    ("feeds", "rate", "must"),
    [(("leaf",), RATE, "name of a part"), (("stem",), RATE, "fewer than all parts"),
     ((), 0.0, "greater than 0")],
)  # fmt: skip
def test_cuts_that_make_no_sense_are_refused(
    feeds: tuple[str, ...], rate: float, must: str
) -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError, match=must):
        cuts(network(part("stem")), feeds, rate)


@pytest.mark.parametrize(("density", "contraction"), [(0.0, 0.01), (8360.0, -0.01), (8360.0, 0.2)])
def test_a_balance_that_makes_no_sense_is_refused(density: float, contraction: float) -> None:
    """House rule: a stated limit is a kept limit."""
    with pytest.raises(InputError):
        balance(*made(part("stem")), account(), (), solid_density=density, contraction=contraction)


def test_more_metal_on_top_comes_back_as_button() -> None:
    """By mass balance: 10 g more in the charge are 9.7 g more in the button."""
    rod = part(length=0.06, width=0.01)
    metal = account()
    more = replace(metal, new_metal=metal.new_metal + 0.01)

    less, plus = after(made(rod), metal), after(made(rod), more)

    assert plus[5] - less[5] == pytest.approx(0.0097, rel=1e-9)
