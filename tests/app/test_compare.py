"""Two plans side by side on the page.

That the page says what the comparison found, and names what it cannot show, is our own
rule; that two plans which are the same differ in nothing follows from the same draws.
"""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from pourcast.app import comparisons
from pourcast.app.look import Look
from pourcast.app.sides import Sides
from pourcast.app.trials import Trials
from pourcast.change.compare import compare
from pourcast.page.words_compare import compared
from pourcast.sheet import read_plan
from tests.app.client import browser, example, opened

DRAWS = 40


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pour little enough for a test."""
    monkeypatch.setattr(comparisons, "DRAWS", DRAWS)


def hotter(text: str, by: float = 60.0) -> str:
    """Return a piece file with a hotter flask."""
    plan = read_plan(text)
    assert plan.flask.temperature is not None
    was = plan.flask.temperature - 273.15
    lines = [
        f"temperature_C = {was + by:g}" if line.startswith("temperature_C") else line
        for line in text.splitlines()
    ]
    return "\n".join(lines) + "\n"


def test_two_texts_of_a_piece_are_told_apart(tmp_path: Path) -> None:
    before = example()
    after = hotter(before)
    with opened(tmp_path) as (studio, app):
        piece = studio.add(before)
        studio.save(piece.id, after, base=1)
        page = browser(app)
        chosen = page.get(f"/compare?one={piece.id}.1&other={piece.id}")
        answer = page.get(f"/compare/answer?one={piece.id}.1&other={piece.id}").text
        at_once = page.get(f"/compare?one={piece.id}.1&other={piece.id}&wait=yes").text
        texts = page.get(f"/piece/{piece.id}/texts").text
    said = compare(read_plan(before), read_plan(after), draws=DRAWS)

    assert chosen.status_code == 200
    assert f'value="{piece.id}.1" selected' in chosen.text
    assert "hx-get" in chosen.text
    assert compared(said) in answer
    assert len(said.differences) == 1
    cell = 'data-is="First">{} °C<'
    assert cell.format(said.differences[0].one) in answer
    assert compared(said) in at_once
    assert f"/compare?one={piece.id}.1&amp;other={piece.id}" in texts
    for move in said.parts:
        assert f"<bdi>{move.name}</bdi>" in answer


def test_same_text_differs_in_nothing(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(example())
        answer = browser(app).get(f"/compare/answer?one={piece.id}&other={piece.id}").text

    assert "The two files say the same." in answer
    assert "any difference is within the noise" in answer
    assert "the pour is no later" in answer.lower()


def test_two_pieces_and_the_way_there_from_the_shelf(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        one = studio.add(example())
        page = browser(app)
        alone = page.get("/").text
        other = studio.add(example("larch_twig"))
        shelf = page.get("/").text
        page_of_one = page.get(f"/piece/{one.id}").text
        answer = page.get(f"/compare/answer?one={one.id}&other={other.id}").text

    assert 'href="/compare"' not in alone
    assert 'href="/compare"' in shelf
    assert f'href="/compare?one={one.id}"' in page_of_one
    parts = [part.name for part in read_plan(example("larch_twig")).piece.parts]
    assert "Only in the second: " in answer
    assert parts[-1] in answer.partition("Only in the second: ")[2]


def test_knobs_as_turned_and_plan_of_the_book_are_sides(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, _):
        piece = studio.add(example())
        kept = studio.keep_in_book(piece.id)
        studio.save(piece.id, hotter(example()), base=1)
        trials = Trials(tmp_path / "trials")
        sides = Sides(studio, trials, "one")
        offered = [side.at for side in sides.offered(piece.id, "")]

        assert offered == [piece.id, f"{piece.id}.kept", f"{piece.id}.1"]
        assert sides.text(f"{piece.id}.kept") == kept.sheet == example()
        assert sides.text(piece.id) == hotter(example())
        assert datetime.now(UTC).strftime("%Y") in sides.words(f"{piece.id}.kept")
        assert sides.text(f"{piece.id}.turned") == hotter(example())


def test_figures_are_in_the_unit_of_the_reader(tmp_path: Path) -> None:
    """4 in are 101.6 mm."""
    before = example()
    plan = read_plan(before)
    was = f"inside_diameter_mm = {1000.0 * plan.flask.inside_diameter:g}"
    assert was in before
    with opened(tmp_path) as (studio, app):
        studio.set_look(Look(lengths="in"))
        piece = studio.add(before)
        studio.save(piece.id, before.replace(was, "inside_diameter_mm = 101.6"), base=1)
        answer = browser(app).get(f"/compare/answer?one={piece.id}.1&other={piece.id}").text

    assert 'data-is="Second">4 in<' in answer.replace("\u00a0", " ")


@pytest.mark.parametrize(
    "path",
    [
        "/compare/answer?one=aaaaaaaaaaaaaaaa&other=aaaaaaaaaaaaaaaa",
        "/compare?one=aaaaaaaaaaaaaaaa",
    ],
)
def test_piece_that_is_not_there_is_no_fault_of_the_program(tmp_path: Path, path: str) -> None:
    with opened(tmp_path) as (_, app):
        assert browser(app).get(path).status_code == 404


def test_side_that_is_no_name_is_refused(tmp_path: Path) -> None:
    with opened(tmp_path) as (_, app):
        assert browser(app).get("/compare?one=../../etc").status_code in (400, 422)
