"""Evidence: the record of a pour answers the tells that it can, and no more.

That short parts far off speak of cold, and short thin ones of the push, is common
practice, no source; here only the record is read.
"""

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from pourcast.book.evidence import record_of, seen_of
from pourcast.book.metal_used import MetalUsed, metal_used
from pourcast.book.model import KeptPlan, Outcome, PartOutcome, Reading
from pourcast.book.outcomes import begin_pour
from pourcast.book.settings import change_settings
from pourcast.book.stock import buy, move
from pourcast.book.store import Book
from pourcast.sheet.edit import Edit, edited
from tests.book.conftest import DAY, kept

TEXT = Path("examples/larch_twig.toml").read_text(encoding="utf-8")
AT = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)


def plan(text: str = TEXT, **document: Any) -> KeptPlan:
    return KeptPlan(
        id="a" * 12,
        piece_id="b" * 12,
        piece_name="Larch twig with three cones",
        created=AT,
        file_name="larch_twig.toml",
        chance_whole=0.5,
        draws=400,
        seed=0,
        version="0.1.0",
        inputs_sha256="c" * 64,
        kernels_sha256="d" * 64,
        calibration=None,
        alloy="sn_bronze_cusn10",
        powder="gypsum_silica",
        metal_mg=1,
        powder_mg=1,
        parts=(),
        sheet=text,
        document=json.dumps(document),
    )


def outcome(*parts: PartOutcome, button: str | None = None) -> Outcome:
    return Outcome(
        id="e" * 12,
        pour_id="f" * 12,
        revision=1,
        seen=date(2026, 3, 3),
        created=AT,
        first_created=AT,
        sure="sure",
        button=button,
        parts=parts,
        note="",
    )


TWIG = PartOutcome(part="twig")
SCALE = PartOutcome(part="open scale", state="short")


def test_what_was_seen_is_told_once_and_in_order() -> None:
    seen = outcome(
        TWIG,
        SCALE,
        replace(SCALE, part="cone", signs=(("porosity", "some"),)),
        button="none",
    )

    assert seen_of(seen) == ("short", "porosity", "no button")


def test_thin_and_far_are_read_from_the_sheet() -> None:
    """The open scale is the thinnest part of the sheet, and lies beyond the twig."""
    scale_short = record_of(plan(), outcome(TWIG, SCALE))
    twig_short = record_of(
        plan(), outcome(replace(TWIG, state="short"), replace(SCALE, state="filled"))
    )

    assert (scale_short["thin"], scale_short["far"]) == ("yes", "yes")
    assert (twig_short["thin"], twig_short["far"]) == ("no", "no")
    assert "blind" not in scale_short  # no vent, nothing to compare


def test_without_a_short_part_nothing_is_said_of_far_and_thin() -> None:
    said = record_of(plan(), outcome(TWIG))

    assert not {"far", "thin", "blind"} & set(said)


@pytest.mark.parametrize(
    ("button", "full", "porous"), [("full", "yes", "no"), ("porous", "no", "yes")]
)
def test_button_is_on_record_once_it_was_looked_at(button: str, full: str, porous: str) -> None:
    said = record_of(plan(), outcome(TWIG, button=button))

    assert (said["button_full"], said["button_porous"]) == (full, porous)
    assert "button_full" not in record_of(plan(), outcome(TWIG))


@pytest.mark.parametrize(("highest", "hot"), [(731.0, "no"), (790.0, "yes")])
def test_readings_of_the_kiln_say_whether_the_block_was_too_hot(highest: float, hot: str) -> None:
    """Source: 732 °C as the usual top: common practice, no source."""
    day = [Reading(pour_id="f", kind="kiln_C", taken=AT, value=at) for at in (150.0, highest)]

    assert record_of(plan(), outcome(TWIG), day)["hot_block"] == hot
    assert "hot_block" not in record_of(plan(), outcome(TWIG))


def test_metal_and_flask_are_compared_with_the_plan() -> None:
    """The sheet plans 1130 °C and 560 °C."""
    cold = [
        Reading(pour_id="f", kind="metal_C", taken=AT, value=1100.0),
        Reading(pour_id="f", kind="core_C", taken=AT, value=558.0),
    ]
    said = record_of(plan(), outcome(TWIG), cold)

    assert (said["cold_metal"], said["hot_metal"], said["cold_flask"]) == ("yes", "no", "no")


def test_forecast_takes_a_side_on_char_only_where_it_has_one() -> None:
    assert record_of(plan(burnout={"chance_clean": 0.2}), outcome(TWIG))["char_expected"] == "yes"
    assert record_of(plan(burnout={"chance_clean": 0.95}), outcome(TWIG))["char_expected"] == "no"
    assert "char_expected" not in record_of(plan(burnout={"chance_clean": 0.7}), outcome(TWIG))


def test_holes_where_the_forecast_has_a_hot_spot_lie_where_it_freezes_last() -> None:
    holes = replace(TWIG, signs=(("porosity", "many"),))
    spots = plan(freeze={"feed_problems": [{"part": "twig"}]})
    elsewhere = plan(freeze={"feed_problems": [{"part": "cone"}]})

    assert record_of(spots, outcome(holes))["last_to_freeze"] == "yes"
    assert record_of(elsewhere, outcome(holes))["last_to_freeze"] == "no"


@pytest.mark.parametrize(
    ("cause", "told"),
    [
        ("gas", "told_gas"),
        ("cold", "told_cold"),
        ("capillary", "told_fine"),
        ("head", "told_fine"),
        ("choke", "told_choke"),
    ],
)
def test_what_the_forecast_had_stop_a_short_part_is_told(cause: str, told: str) -> None:
    fill = {"parts": [{"name": "open scale", "cause": cause}, {"name": "cone", "cause": "cold"}]}
    short = PartOutcome(part="open scale", state="short", members_short=2)
    keys = ("told_cold", "told_gas", "told_fine", "told_choke")

    found = record_of(plan(fill=fill), outcome(short), ())

    assert {key: found[key] for key in keys} == {
        key: "yes" if key == told else "no" for key in keys
    }


def test_of_a_part_that_the_forecast_had_fill_nobody_is_asked_what_it_had_stop_it() -> None:
    """The record answers: it had nothing stop it.  Of a part that it does not know it is silent."""
    fill = {"parts": [{"name": "open scale", "cause": None}]}
    short = PartOutcome(part="open scale", state="short", members_short=2)
    keys = ("told_cold", "told_gas", "told_fine", "told_choke")

    found = record_of(plan(fill=fill), outcome(short), ())
    other = record_of(plan(fill={"parts": []}), outcome(short), ())

    assert [found[key] for key in keys] == ["no"] * 4
    assert not set(keys) & set(other)


def test_dry_wood_without_a_seal_is_thirsty() -> None:
    """The sheet has a dry twig sealed with lacquer."""
    blurred = outcome(replace(TWIG, signs=(("blurred", "some"),)))
    bare = edited(TEXT, [Edit(path=("original", "holds"), value=["resin"])])

    assert record_of(plan(), blurred)["thirsty"] == "no"
    assert record_of(plan(bare), blurred)["thirsty"] == "yes"


@pytest.mark.parametrize(("meltings", "many"), [(1, "no"), (2, "no"), (3, "yes"), (6, "yes")])
def test_meltings_are_read_from_the_store(meltings: int, many: str) -> None:
    """Three meltings and more speak of gas and lost zinc: common practice, no source."""
    metal = MetalUsed(taken_mg=200_000, returned_mg=0, most_meltings=meltings)

    said = record_of(plan(), outcome(TWIG), metal=metal)

    assert said["many_remelts"] == many
    assert "all_weighed" not in said


@pytest.mark.parametrize(
    ("returned_g", "all_there"), [(120, "yes"), (106, "yes"), (105, "no"), (80, "no")]
)
def test_metal_that_did_not_come_back_is_missing(returned_g: int, all_there: str) -> None:
    """Worked by hand: the piece takes 40 in 100 of 211.5 g at most, and 10 g may be lost.

    That is 84.6 g of 211.5 g: of 200 g taken at least 105.4 g come back.
    """
    weigh = {"cavity_cm3": 25.0, "button_cm3": 15.0, "metal_high_g": 211.5}
    metal = MetalUsed(taken_mg=200_000, returned_mg=1000 * returned_g, most_meltings=1)

    said = record_of(plan(weigh=weigh), outcome(TWIG), metal=metal)

    assert said["all_weighed"] == all_there


def test_metal_of_a_pour_by_its_ledgers(book: Book) -> None:
    """Worked by hand: 120 g and 60 g taken, 95.5 g returned; the older lot melted twice before."""
    change_settings(book, currency="EUR")
    pour = begin_pour(book, kept(book).id, day=DAY, at=AT)
    assert metal_used(book, pour.id) is None
    buying: dict[str, Any] = {"bought": DAY, "price": Decimal(40), "at": AT, "mass_mg": 500_000}
    new = buy(book, "metal", "CuSn10", **buying)
    old = buy(book, "metal", "CuSn10", remelts=2, **buying)
    powder = buy(book, "powder", "gypsum", **buying)
    move(book, new.id, "taken", 120_000, at=AT, pour_id=pour.id)
    move(book, old.id, "taken", 60_000, at=AT, pour_id=pour.id)
    move(book, new.id, "taken", 999, at=AT)
    move(book, powder.id, "taken", 300_000, at=AT, pour_id=pour.id)
    move(book, old.id, "returned", 95_500, at=AT, pour_id=pour.id)

    assert metal_used(book, pour.id) == MetalUsed(
        taken_mg=180_000, returned_mg=95_500, most_meltings=3
    )


@pytest.mark.parametrize(
    ("shown", "low", "fell"),
    [
        ([70.0], "no", None),
        ([66.0], "no", None),
        ([60.0], "yes", None),
        ([70.0, 69.0], "no", "no"),
        ([70.0, 40.0], "yes", "yes"),
    ],
)
def test_the_gauge_of_the_pump_answers_for_itself(
    shown: list[float], low: str, fell: str | None
) -> None:
    """Common practice, no source: low as it comes on or falling, the end of the block has gone."""
    text = TEXT.replace('kind = "gravity"', 'kind = "vacuum"\nvacuum_kPa = 70')
    readings = [
        Reading(pour_id="f" * 12, kind="vacuum_kPa", taken=AT + timedelta(minutes=k), value=each)
        for k, each in enumerate(shown)
    ]
    record = record_of(plan(text), outcome(TWIG), readings)

    assert record.get("gauge_low") == low
    assert record.get("gauge_fell") == fell
