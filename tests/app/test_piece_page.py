"""The page of a piece without a browser: what is turned outlives the program, and is one device's.

What a page must do is our own rule, unless a test says more.
"""

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.app.client import ADDRESS, EXAMPLES, browser, opened

HOLLY = (EXAMPLES / "sea_holly.toml").read_text("utf-8")


def turn(page: TestClient, piece: str, knob: str, **form: str) -> int:
    found = re.search(r'name="token" value="([^"]+)"', page.get(f"/piece/{piece}").text)
    assert found is not None
    data = {"token": found[1], "knob": knob, **form}
    return page.post(f"/piece/{piece}/knob", data=data).status_code


def act(page: TestClient, piece: str, name: str) -> int:
    found = re.search(r'name="token" value="([^"]+)"', page.get(f"/piece/{piece}").text)
    assert found is not None
    return page.post(f"/piece/{piece}/trial/{name}", data={"token": found[1]}).status_code


def test_what_was_turned_outlives_the_program(tmp_path: Path) -> None:
    """Our own rule: a server that dies loses nothing; the cookie of the browser stays."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(HOLLY).id
        first = browser(app)
        assert turn(first, piece, "flask.temperature_C", value="540") == 303
    with opened(tmp_path) as (studio, app):
        again = browser(app)
        again.cookies = first.cookies
        shown = again.get(f"/piece/{piece}").text
        stranger = browser(app).get(f"/piece/{piece}").text

        assert "from 600 °C down to 540 °C" in shown.replace("\u00a0", " ")
        assert "down to 540" not in stranger.replace("\u00a0", " ")
        assert studio.piece(piece).text == HOLLY


@pytest.mark.usefixtures("anew")
def test_first_answer_and_the_whole_are_poured_alike(tmp_path: Path) -> None:
    """Our own rule: "was" and "now" have the same number of draws, also before all are there."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(HOLLY).id
        page = browser(app)
        studio.forecast(HOLLY)  # the kept plan is known whole
        turn(page, piece, "flask.temperature_C", value="540")
        early = page.get(f"/piece/{piece}").text
        stream = page.get(f"/piece/{piece}/progress").text
        late = page.get(f"/piece/{piece}").text

        assert "event: refined" in stream
        assert re.search(r"\b400 pours followed", late)
        assert re.search(r"\b(40|400) pours followed", early)


def test_a_knob_that_is_not_there_and_a_value_that_cannot_be_change_nothing(tmp_path: Path) -> None:
    """RFC 9110: 404 for what is not there, 422 for what is understood and cannot be."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(HOLLY).id
        page = browser(app)

        assert turn(page, piece, "flask.nothing", value="5") == 404
        assert turn(page, piece, "flask.temperature_C", value="-80") == 422
        assert turn(page, piece, "flask.temperature_C", value="") == 422
        assert turn(page, piece, "part.0.diameter_mm", value="4 mm/s") == 422
        assert 'class="moved' not in page.get(f"/piece/{piece}").text


def test_keep_needs_the_text_that_was_turned(tmp_path: Path) -> None:
    """RFC 9110: 409 where the state of what is changed is another."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(HOLLY).id
        one, two = browser(app), browser(app)
        turn(one, piece, "flask.temperature_C", by="-1")
        turn(two, piece, "metal.pour_temperature_C", by="1")

        assert act(one, piece, "keep") == 303
        assert act(two, piece, "keep") == 409
        assert act(two, piece, "bring") == 303
        assert act(two, piece, "keep") == 303
        kept = studio.piece(piece).text
        assert kept == HOLLY.replace("= 600\n", "= 590\n", 1).replace("= 1120", "= 1130")


def test_run_sheet_and_calendar_are_of_what_is_shown(tmp_path: Path) -> None:
    """ISO 32000 and RFC 5545: what a PDF and a calendar begin with."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(HOLLY).id
        page = browser(app)

        assert page.get(f"/piece/{piece}/run-sheet.pdf").content.startswith(b"%PDF-")
        calendar = page.get(f"/piece/{piece}/run-sheet.ics").text
        assert calendar.startswith("BEGIN:VCALENDAR")
        assert page.get(f"/piece/{'0' * 16}/run-sheet.pdf").status_code == 404
        assert ADDRESS not in calendar


def test_hours_move_with_the_start(tmp_path: Path) -> None:
    """Exact case: a day and an hour later are a day and an hour later."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(HOLLY).id
        page = browser(app)
        found = re.search(r'name="token" value="([^"]+)"', page.get(f"/piece/{piece}").text)
        assert found is not None
        at = f"/piece/{piece}/start"
        data = {"token": found[1], "start": "2026-12-05T18:30"}
        assert page.post(at, data=data).status_code == 303
        assert "Sat 5 Dec" in page.get(f"/piece/{piece}").text
        assert ">18:30</time>" in page.get(f"/piece/{piece}").text
        page.post(at, data={**data, "start": "2026-12-06T19:30"})

        assert "Sun 6 Dec" in page.get(f"/piece/{piece}").text
        assert ">19:30</time>" in page.get(f"/piece/{piece}").text
        assert page.post(at, data={**data, "start": "soon"}).status_code == 422
