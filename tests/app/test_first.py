"""What to change first behind a page: with what is at hand, and never before an answer.

That somebody who waits goes first is our own rule.
"""

import threading
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest

from pourcast.app.behind import Quiet
from pourcast.app.first import FirstChanges, lines
from pourcast.app.hand import at_hand
from pourcast.app.studio import Studio
from pourcast.book.settings import change_settings, put_flask
from pourcast.book.stock import buy, move
from pourcast.change.model import Change, Cost, Lever, Ranking
from pourcast.forecast.model import Calibration
from pourcast.sheet import read_plan
from pourcast.sheet.edit import Edit
from pourcast.sheet.model import Plan
from tests.app.client import example, opened

AT = datetime(2026, 3, 1, 9, tzinfo=UTC)
FERN = example("fern_crozier")


def test_store_and_shelf_are_at_hand(tmp_path: Path) -> None:
    """Own alloy, an empty lot, powder, a name that is no record and the own flask stay out."""
    plan = read_plan(FERN)
    with opened(tmp_path) as (studio, _):
        book = studio.book
        change_settings(book, currency="EUR")

        def lot(kind: str, material: str) -> str:
            made = buy(
                book, kind, material, mass_mg=1000, price=Decimal(1), bought=date(2026, 3, 1), at=AT
            )
            return made.id

        for name in (plan.charge.alloy, "UNS C87300", "CuSn10", "my own melt"):
            lot("metal", name)
        move(book, lot("metal", "copper"), "taken", 1000, at=AT)
        lot("powder", "CuSn10")
        inside, height = 1e3 * plan.flask.inside_diameter, 1e3 * plan.flask.height
        for name, more, wall in (("own", 0.0, plan.flask.wall), ("large", 20.0, "perforated")):
            put_flask(
                book,
                name,
                inside_diameter_mm=inside + more,
                height_mm=height + more,
                wall=wall,
            )

        hand = at_hand(book, plan)

    others = {"si_bronze_c87300", "sn_bronze_cusn10"} - {plan.charge.alloy}
    assert set(hand.alloys) == others
    assert len(hand.alloys) == len(others)
    assert [round(1e3 * flask.inside_diameter - inside) for flask in hand.flasks] == [20]


def test_quiet_is_waited_for_and_not_for_ever() -> None:
    quiet = Quiet()
    assert quiet.wait(0.0)
    inside, leave = threading.Event(), threading.Event()

    def answer() -> None:
        with quiet.broken():
            inside.set()
            leave.wait(30)

    thread = threading.Thread(target=answer)
    thread.start()
    inside.wait(30)
    assert not quiet.wait(0.01)
    leave.set()
    assert quiet.wait(30.0)
    thread.join()


@pytest.mark.usefixtures("anew")
def test_ranking_stands_still_while_somebody_waits(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, _):
        quiet = Quiet()
        first = FirstChanges(studio, quiet)
        with quiet.broken():
            first.look(FERN)
            time.sleep(0.5)
            held = first.look(FERN)
        for _ in range(600):
            begun = first.look(FERN)
            if begun.ranking is not None:
                break
            time.sleep(0.1)

    assert held.ranking is None
    assert held.proposals == ()
    assert begun.ranking is not None


def test_pages_that_are_shown_no_more_are_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    """House rule: memory is bounded; each text that was ever looked at was kept for good."""
    clock = iter(range(10_000))
    monkeypatch.setattr("pourcast.app.first.time", SimpleNamespace(monotonic=lambda: next(clock)))
    first = FirstChanges(cast(Studio, None))
    monkeypatch.setattr(first, "_behind", SimpleNamespace(do=lambda _: None))

    for number in range(500):
        first.look(f"no piece file {number}")

    assert len(first._looked) <= 13  # one a second, and a page counts as shown for 12 s
    assert "no piece file 499" in first._looked
    assert first._is_shown("no piece file 499")
    assert not first._is_shown("no piece file 3")


def test_what_takes_a_stop_away_is_told_though_it_buys_no_chance() -> None:
    plan = read_plan(FERN)
    lever = Lever(
        kind="hold",
        moved="hold at 730 °C",
        act="Hold 3 h at 730 °C",
        before="none",
        after="3",
        unit="h",
        edits=(Edit(path=("kiln", "step", 1), value={"to_C": 730}),),
        plan=plan,
        cost=Cost(words="3 h later"),
    )
    same = Change(
        levers=(lever,),
        chance_before=0.9,
        chance_after=0.9,
        gain=0.0,
        standard_error=0.0,
        draws=40,
    )
    cure = replace(same, mends=("In 23 of 100 burnouts char is left. More hours help.",))
    ranking = Ranking(plan=plan, chance=0.9, changes=(same, cure), draws=40, seed=0)

    (told,) = lines(ranking, [])

    assert told.gain == "no stop"
    assert told.after == "It takes away what stops the plan: In 23 of 100 burnouts char is left."

    right = replace(same, gain=-0.1, standard_error=0.01, rights=("The mix is wet. So.",))
    (told,) = lines(replace(ranking, changes=(same, right)), [])
    assert told.gain == "put right"
    assert told.after == (
        "90 whole, give or take 2. It puts right what is out of the usual: The mix is wet."
    )


def test_ranking_begins_anew_when_the_studio_has_learnt_something(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made to fail: gains of before would stand beside a chance of now."""
    asked: list[Calibration | None] = []

    def ranked(_: Plan, calibration: Calibration | None, **__: object) -> Iterator[Ranking]:
        asked.append(calibration)
        yield cast(Ranking, SimpleNamespace(complete=True))

    monkeypatch.setattr("pourcast.change.rank.rankings", ranked)
    monkeypatch.setattr("pourcast.app.first.can_propose", lambda: False)

    def settled(first: FirstChanges) -> None:
        for _ in range(600):
            if first.look(FERN).complete:
                return
            time.sleep(0.02)
        raise AssertionError

    with opened(tmp_path) as (studio, _):
        first = FirstChanges(studio)
        settled(first)
        settled(first)
        studio.own.put("pour.film_factor", value=1.2, low=1.1, high=1.4, note="strips of March")
        settled(first)

    assert asked[0] is None
    assert [kept is not None for kept in asked] == [False, True]
