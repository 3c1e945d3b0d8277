"""The pages of a piece whose file is in °F: the piece with its knobs, the day, the break-out.

House rule; heats by the definition of the scale.  What a source is quoted with is left out.
"""

import re
from collections.abc import Iterator
from datetime import datetime, timedelta
from html import unescape

import pytest
from starlette.testclient import TestClient

from pourcast.app.knob_edits import edits_for
from pourcast.app.knobs import knobs
from pourcast.app.scene import scene
from pourcast.app.studio import Studio
from pourcast.sheet import read_plan
from pourcast.sheet.edit import edited
from pourcast.speech import FAHRENHEIT
from tests.app.client import browser, opened
from tests.speech.written import example, in_celsius_left

PIECE = example("sea_holly", fahrenheit=True)


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Studio, TestClient, str]]:
    """Give a studio with the piece in its book, its browser and the id of the piece."""
    with opened(tmp_path_factory.mktemp("studio")) as (studio, app):
        piece = studio.add(PIECE)
        studio.keep_in_book(piece.id)
        yield studio, browser(app), piece.id


def _read(page: str) -> str:
    """Return what a person reads of a page, or hears of its drawings."""
    plain = re.sub(r"<(script|style)\b.*?</\1>", " ", page, flags=re.DOTALL)
    spoken = " ".join(re.findall(r'aria-label="([^"]*)"', plain))
    return unescape(re.sub(r"<[^>]+>", " ", plain) + " " + spoken)


def _quoted(studio: Studio) -> list[str]:
    said = studio.forecast(PIECE)
    return [*(each.source for each in said.findings), *(each.source for each in said.unknowns)]


def test_the_page_of_a_piece_tells_fahrenheit(shown: tuple[Studio, TestClient, str]) -> None:
    studio, page, piece = shown

    told = _read(page.get(f"/piece/{piece}").text)

    assert "pour at 2048 °F" in " ".join(told.split())
    assert in_celsius_left(told, _quoted(studio)) == []


def test_a_day_and_its_readings_are_told_in_fahrenheit(
    shown: tuple[Studio, TestClient, str],
) -> None:
    studio, page, _ = shown
    asks = page.get("/day").text
    plan = re.search(r'<option value="([^"]+)"', asks)
    token = re.search(r'name="form-token" content="([^"]+)"', asks)
    assert plan
    assert token
    began = (datetime.now().astimezone() - timedelta(hours=1)).strftime("%Y-%m-%dT%H:%M")
    form = {"token": token[1], "plan": plan[1], "start": began}
    day = str(page.post("/day", data=form, follow_redirects=True).url.path)
    page.post(f"{day}/entry", data={"token": token[1], "number": "302", "unit": "F"})

    # The box of the unit offers all of them.
    told = _read(re.sub(r"<option.*?</option>", "", page.get(day).text))

    assert "kiln 302 °F" in " ".join(told.split())
    assert re.search(r"\d °F is what we expect now", " ".join(told.split()))
    assert in_celsius_left(told, _quoted(studio)) == []


def test_a_knob_of_a_heat_turns_in_fahrenheit_and_is_written_so(
    shown: tuple[Studio, TestClient, str],
) -> None:
    studio, _, _ = shown
    said = studio.forecast(PIECE)
    flask = next(each for each in knobs(said, studio.look) if each.id == "flask.temperature_C")

    assert (flask.shown, flask.unit_shown) == ("1112", "°F")
    assert flask.turned(1) == "1132"
    text = edited(PIECE, edits_for(flask, "1150", PIECE))
    plan = read_plan(text)
    assert 'temperature_C = "1150 F"' in text
    assert FAHRENHEIT.heat(plan.flask.temperature or 0.0) == "1150 °F"
    assert plan.speech == FAHRENHEIT


def test_the_scene_says_how_its_heats_are_told(shown: tuple[Studio, TestClient, str]) -> None:
    """Its heats stay in °C, as every JSON; what turns them comes with them."""
    studio, _, _ = shown
    tree = scene(studio.forecast(PIECE))

    assert tree["degrees"] == {"unit": "°F", "of_0": 32.0, "each": 1.8}
    assert max(tree["burnout"]["kiln_C"]) == pytest.approx(700.0, abs=0.2)
