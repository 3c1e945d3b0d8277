"""Findings of the finishing: each limit seen from both sides."""

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given

from pourcast.findings import Finding
from pourcast.finish.acts import BENDS, allowed
from pourcast.finish.checks import FACTS, findings
from pourcast.finish.model import Act, Balance, Cut, FinishResult, PartFinish
from pourcast.finish.patina import patina_of
from pourcast.materials import library
from tests.piece.make import few
from tests.strategies_finish import finish_results

STRONG = PartFinish(
    name="stem",
    members=1,
    act="wheel",
    allowed=allowed(dict.fromkeys(BENDS, 0.0)),
    bent=dict.fromkeys(BENDS, 0.0),
    bent_by_water=0.0,
    bends_at="stem",
    tip_force=46.0,
    middle_force=92.0,
    end_force=2000.0,
    tip_force_low=30.0,
    pressure=1e6,
    deflection=1e-5,
    blast_deflection=1e-6,
)
BALANCE = Balance(
    charged=0.1, lost=0.005, work=0.06, feeds=0.0, vents=0.0, button=0.035, back=0.035
)


def bends(name: str, *acts: Act, **changes: Any) -> PartFinish:
    """Return a part that some acts bend in half of the draws."""
    shares = {act: 0.5 if act in acts else 0.0 for act in BENDS}
    kept = allowed(shares)
    own: dict[str, Any] = {"name": name, "bends_at": name, "tip_force": 2.0, "tip_force_low": 1.0}
    return replace(STRONG, **{**own, "act": kept[0], "allowed": kept, "bent": shares, **changes})


def found(
    *parts: PartFinish, metal: Balance = BALANCE, alloy: str = "si_bronze_c87300"
) -> tuple[Finding, ...]:
    """Return the findings of parts on one gate."""
    result = FinishResult(
        parts=parts,
        cuts=(Cut(place="gate", count=1, area=2e-5, time=25.0),
              Cut(place="vent of leaf", count=3, area=5e-7, time=2.0)),
        balance=metal,
    )  # fmt: skip
    return findings(
        result,
        alloy=library().alloys[alloy],
        cut_off=library().finish["cut_off"],
        cleaning_air=library().limits["compressed_air_cleaning_osha"],
        facts=library().facts,
    )


def only(told: tuple[Finding, ...], words: str) -> Finding:
    """Return the one finding that holds some words."""
    (one,) = [finding for finding in told if words in finding.text]
    return one


def test_a_strong_piece_bears_all_tools() -> None:
    """By definition."""
    one = only(found(STRONG), "Stem bears")

    assert one.level == "GOOD"
    assert one.text == (
        "Stem bears a turning wheel, a hand brush, a pressure blast and a light blast from afar."
    )
    assert (one.part, one.value, one.unit) == ("stem", 46.0, "N")


@pytest.mark.parametrize(
    ("acts", "level", "says"),
    [
        (("wheel",), "GOOD", "but no turning wheel. Of 100 draws a turning wheel in 50 bends leaf"),
        (("wheel", "hand brush"), "WATCH", "Leaf bears a pressure blast and a light blast from"),
        (("wheel", "hand brush", "pressure blast"), "WATCH", "Leaf bears a light blast from afar"),
        (tuple(BENDS), "WATCH", "no tool at all: leave as it comes out of the water"),
        (("pressure blast",), "GOOD", "a hand brush and a light blast from afar, but no pressure"),
    ],
)
def test_each_part_is_told_what_it_bears(acts: tuple[Act, ...], level: str, says: str) -> None:
    """By definition of the acts."""
    one = only(found(bends("leaf", *acts)), "Leaf bears")

    assert one.level == level
    assert says in one.text


def test_parts_that_bear_the_same_are_told_together() -> None:
    """House choice: one sentence for all leaves, led by the weakest."""
    leaf, hair = bends("leaf", "wheel"), bends("hair", "wheel", tip_force=0.5)

    one = only(found(STRONG, leaf, hair), "bear a hand brush")

    assert one.text.startswith("Leaf and hair bear")
    assert "hair, which yields at 0.5 N on its tip (51 g hung there)" in one.text
    assert one.part is None


@pytest.mark.parametrize(("share", "told"), [(0.05, 0), (0.051, 1)])
def test_a_jet_is_watched_from_one_draw_in_twenty(share: float, told: int) -> None:
    """House choice: 5 % of the draws; sign F21 of practice, bent in the break-out."""
    leaf = bends("leaf", bent_by_water=share)

    assert sum("still water" in one.text for one in found(leaf)) == told


def test_what_gives_way_is_named_where_it_is_another_part() -> None:
    """By definition."""
    head = bends("head", "wheel", bends_at="stem")

    one = only(found(STRONG, head), "bends the stem first")

    assert one.part == "stem"
    assert "hold the stem there while it is cleaned" in one.text
    assert not any("bends the" in other.text for other in found(STRONG, bends("head", "wheel")))


@pytest.mark.parametrize(("end", "told"), [(1.9, 1), (2.1, 0)])
def test_a_part_that_bows_out_is_brushed_along(end: float, told: int) -> None:
    """House choice: where the end bears less than twice the weak tip, 1 N here."""
    spine = bends("spine", end_force=end)

    assert sum("from the root to the tip" in one.text for one in found(spine)) == told


def test_the_cut_is_told_with_place_section_and_time() -> None:
    """Common practice, no source: 1 to 2 mm off the work; time is 27 s, told as under 1 min."""
    one = only(found(STRONG), "Saw 1 to 2 mm off the work")

    assert "gate (20 mm²), 3 x vent of leaf (0.5 mm²); under 1 min" in one.text
    assert one.text.startswith("Photograph the whole casting")


def test_the_metal_that_comes_back_is_told() -> None:
    """By mass balance of the case."""
    one = only(found(STRONG), "come back as returns")

    assert "Of 100 g weighed out about 60 g stay in the work, 5 g are lost" in one.text
    assert one.level == "GOOD"
    assert one.value == pytest.approx(35.0)


def test_a_charge_that_leaves_nothing_is_a_stop() -> None:
    """By mass balance."""
    one = only(found(STRONG, metal=replace(BALANCE, button=0.0, back=0.0)), "nothing would be")

    assert one.level == "STOP"


@pytest.mark.parametrize(
    ("alloy", "told"), [("red_brass_c83600", 1), ("yellow_brass_c85700", 1), ("copper", 0)]
)
def test_dust_of_lead_and_zinc_is_told(alloy: str, told: int) -> None:
    """29 CFR 1910.1025 for lead, from memory; the alloys hold them, copper does not."""
    dust = library().facts["alloy_dust"].text

    assert sum(one.text == dust for one in found(STRONG, alloy=alloy)) == told


def test_cautions_stand_where_the_act_is() -> None:
    """House rule: wet break-out, air, blast, wheel, patina and coat, each with its source."""
    told = found(STRONG)
    texts = [one.text for one in told]
    facts = library().facts

    for key in set(FACTS) - {"alloy_dust"}:
        assert facts[key].text in texts, key
    assert texts.index(facts["divest_wet"].text) == 0
    assert texts.index(facts["sulphide_patina"].text) > texts.index(facts["turning_tool"].text)
    air = only(told, "under 30 psi")
    assert (air.limit, air.unit) == (30.0, "psi")
    assert all(one.source and one.stage == "finish" for one in told)


@pytest.mark.parametrize(
    ("alloy", "word"),
    [
        ("si_bronze_c87300", "film of silica"),
        ("sn_bronze_cusn12", "sulphide brown evenly"),
        ("al_bronze_c95400", "keeps its gold"),
        ("sterling_925", "in about a minute"),
        ("al_a356", "does not colour aluminium"),
    ],
)
def test_patina_of_the_alloy_is_told_and_that_of_no_other(alloy: str, word: str) -> None:
    """Silicon and aluminium bronze hold the sulphide off; from memory, no source."""
    facts = {fact.text for key, fact in library().facts.items() if key.startswith("patina_")}
    told = [one.text for one in found(STRONG, alloy=alloy) if one.text in facts]

    assert len(told) == 2  # the bath, and this alloy in it
    assert word in told[1]


def test_every_alloy_of_the_book_has_its_patina() -> None:
    kept = library()

    for alloy in kept.alloys.values():
        assert len(patina_of(alloy, kept.facts)) == 1, alloy.key


def test_a_tool_that_nothing_bears_has_no_caution() -> None:
    """House choice: what is not done is not warned of."""
    texts = [one.text for one in found(bends("leaf", *BENDS))]

    assert library().facts["turning_tool"].text not in texts
    assert library().facts["blast_cabinet"].text not in texts


@few
@given(finish_results())
def test_findings_of_any_result_are_whole_sentences(result: FinishResult) -> None:
    """House rule: a capital, a full stop, a source, and nothing is called safe."""
    told = findings(
        result,
        alloy=library().alloys["copper"],
        cut_off=library().finish["cut_off"],
        cleaning_air=library().limits["compressed_air_cleaning_osha"],
        facts=library().facts,
    )

    for one in told:
        assert one.text[0].isupper()
        assert one.text.endswith(".")
        assert not re.search(r"\bsafe\b|\bnan\b|\binf\b", one.text)
        assert one.source
        assert (one.value is None and one.limit is None) or one.unit
