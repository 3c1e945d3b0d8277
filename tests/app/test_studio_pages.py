"""Settings, store and book as pages; house rules, so no outside number is held against them."""

import re
import string
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from pourcast.app.look import Look, checked, read_look, write_look
from pourcast.app.reliability_svg import reliability
from pourcast.app.words import LANGUAGES, count, say
from pourcast.book.kiln_days import begin_day
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import keep_first_outcome
from pourcast.book.scores import Trial, score
from pourcast.errors import InputError
from tests.app.client import browser, example, opened, token


def test_look_is_kept_and_what_is_none_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "look.json"
    assert read_look(path) == Look()

    write_look(path, Look(lengths="in", decimal="comma", days="day first"))

    assert read_look(path).lengths == "in"
    with pytest.raises(InputError, match="lengths"):
        checked({"lengths": "ell"})
    with pytest.raises(InputError):
        checked({"colour": "red"})


def test_days_and_figures_are_written_as_chosen() -> None:
    """ISO 8601 for the year first; the others are common practice, no source."""
    day = date(2026, 3, 1)

    assert Look().day(day) == "2026-03-01"
    assert Look(days="day first").day(day) == "1.3.2026"
    assert Look(days="month first").day(day) == "3/1/2026"
    assert Look(decimal="comma").figures("2.5") == "2,5"
    assert Look(lengths="in").length(0.0254) == "1\u00a0in"


def test_choices_of_the_studio_are_kept_and_shown(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        page = browser(app)
        given = token(page)
        chosen = {"token": given, "lengths": "in", "decimal": "comma", "days": "day first"}

        kept = page.post("/studio/look", data=chosen)
        refused = page.post("/studio/look", data=chosen | {"lengths": "ell"})

        assert kept.status_code == 303
        assert refused.status_code == 422
        assert studio.look == Look(lengths="in", decimal="comma", days="day first")
        at = page.post("/new", data={"token": given}).headers["location"]
        assert 'value="0,40"' in page.get(at).text
        assert page.get(at).text.count('<span class="unit">in</span>') > 10


def test_flask_money_and_stock_are_entered_on_their_pages(tmp_path: Path) -> None:
    with opened(tmp_path) as (_, app):
        page = browser(app)
        given = token(page)
        lot = {"token": given, "kind": "metal", "material": "si_bronze_c87300", "mass": "2500"}
        flask = {"token": given, "name": "Small", "inside": "76", "height": "100"}

        early = page.post("/store/buy", data=lot | {"price": "84.50"})
        page.post("/studio/money", data={"token": given, "currency": "eur", "rate": "25"})
        bought = page.post("/store/buy", data=lot | {"price": "84.50", "name": "Ingots"})
        wrong = page.post("/store/buy", data=lot | {"price": "much"})
        unknown = page.post("/studio/money", data={"token": given, "currency": "E"})

        assert (early.status_code, bought.status_code) == (422, 303)
        assert (wrong.status_code, unknown.status_code) == (422, 422)
        assert page.post("/studio/flask", data=flask | {"wall": "solid"}).status_code == 303
        assert page.post("/studio/flask", data=flask | {"wall": "glass"}).status_code == 422
        assert "Small" in page.get("/studio").text
        found = re.search(r'href="/store/([0-9a-z]{16})"', page.get("/store").text)
        assert found is not None
        taken = {"token": given, "lot": found[1], "act": "taken", "mass": "420"}
        assert page.post("/store/move", data=taken).status_code == 303
        assert page.post("/store/move", data=taken | {"act": "lost"}).status_code == 422
        ledger = page.get(f"/store/{found[1]}").text
        assert "−420" in ledger
        assert "+2500" in ledger
        assert "<b>2080</b>" in page.get("/store").text
        assert page.get("/store/0000000000000000").status_code == 404


def test_book_shows_chances_against_outcomes_in_picture_and_table(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example("larch_twig"))
        page = browser(app)
        assert "No forecast has its outcome yet" in page.get("/book").text
        kept = studio.keep_in_book(piece.id)
        tomorrow = (datetime.now(UTC) + timedelta(days=1)).date()
        short = PartOutcome(part=kept.parts[-1].name, state="short", members_short=1)
        later = datetime.now(UTC) + timedelta(days=2)
        keep_first_outcome(studio.book, kept.id, [short], poured=tomorrow, seen=tomorrow, at=later)

        text = page.get("/book").text

        assert 'class="pic reliability"' in text
        assert f'href="/piece/{piece.id}"' in text
        assert "came short" in page.get("/").text


def test_a_plan_that_stands_in_the_book_is_told_on_its_page(tmp_path: Path) -> None:
    """What was pressed is answered; a text that was changed since is to be kept anew."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example("larch_twig"))
        page = browser(app)
        before = page.get(f"/piece/{piece.id}").text
        studio.keep_in_book(piece.id)

        after = page.get(f"/piece/{piece.id}").text
        studio.save(piece.id, piece.text + "\n# looked at again\n", base=1)
        changed = page.get(f"/piece/{piece.id}").text

    for shown, stands in ((before, False), (after, True), (changed, False)):
        assert ("This plan stands in the book since" in shown) is stands
        assert ("Put this plan in the book" in shown) is not stands


def test_picture_has_a_point_for_each_class_on_its_place() -> None:
    """A class of 4 in 10 said and 10 in 10 that came stands left and at the top."""
    trials = [Trial(chance=0.4, draws=100, came=True), Trial(chance=0.95, draws=100, came=False)]

    drawn = str(reliability(score(trials)))

    assert drawn.count("<circle") == 2
    assert 'cx="174.0" cy="12.0"' in drawn
    assert 'cx="339.0" cy="312.0"' in drawn


def test_piece_of_the_book_is_put_on_the_shelf_once(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        made = studio.add(example())
        kept = studio.keep_in_book(made.id)
        for path in (tmp_path / "pieces" / made.id).iterdir():
            path.unlink()
        page = browser(app)
        given = token(page)

        for _ in range(2):
            page.post(f"/shelf/from-book/{kept.piece_id}", data={"token": given})

        assert len(studio.pieces.ids()) == 1
        assert studio.pieces.book_piece(studio.pieces.ids()[0]) == kept.piece_id


def names_in(sentence: str) -> set[str]:
    """Return the names in braces of a sentence."""
    return {name for _, name, _, _ in string.Formatter().parse(sentence) if name}


def test_catalogues_hold_the_same_sentences_with_the_same_values() -> None:
    first, *others = LANGUAGES.values()
    for other in others:
        assert set(other) == set(first)
        assert all(names_in(other[key]) == names_in(first[key]) for key in first)


def test_sentence_with_a_number_begins_with_its_word() -> None:
    assert count("shelf.wait", 2) == "Two wait."
    assert count("shelf.wait", 1) == "One waits."
    assert count("shelf.wait", 40) == "40 wait."
    with pytest.raises(KeyError):
        say("no.such.sentence")


def test_piece_whose_day_is_under_way_is_in_the_kiln_and_not_poured(tmp_path: Path) -> None:
    """House rule: a day that has begun is no pour, however long nothing is said of it.

    After two days the shelf counted it as poured and the book did not.
    """
    now = datetime.now(UTC)
    with opened(tmp_path) as (studio, app):
        pieces = [studio.add(example()), studio.add(example("larch_twig"))]
        for piece, ago in zip(pieces, (timedelta(hours=3), timedelta(days=4)), strict=True):
            plan = studio.keep_in_book(piece.id)
            begin_day(studio.book, plan.id, start=now - ago, at=now)
        page = browser(app)
        shelf, out, book = (page.get(at).text for at in ("/", "/break-out", "/book"))

    for text in (shelf, out, book):
        assert text.count("in the kiln since ") == 2
        assert text.count("no pour told") == 2
    assert "Two wait." in shelf
    assert "poured." not in shelf


def test_book_is_counted_anew_once_there_is_something_new(tmp_path: Path) -> None:
    """House rule: sums that are kept in memory are those of the book as it is."""
    now = datetime.now(UTC)
    with opened(tmp_path) as (studio, app):
        plan = studio.keep_in_book(studio.add(example()).id)
        page = browser(app)
        before = page.get("/book").text
        day = (now + timedelta(days=1)).date()
        told = [PartOutcome(part=part.name, state="filled") for part in plan.parts]
        keep_first_outcome(
            studio.book, plan.id, told, poured=day, seen=day, at=now + timedelta(days=2)
        )
        after, again = page.get("/book").text, page.get("/book").text

    assert "No forecast has its outcome yet." in before
    counted = count("book.head", len(plan.parts))
    assert counted in after
    assert counted in again
