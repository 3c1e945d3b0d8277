"""A casting frozen in cells is asked for, waited for, told and drawn.

That the numbers of picture and text are those of the study is our own rule.
"""

import time
from pathlib import Path

import numpy as np
import pytest

from pourcast.app import cells as worker
from pourcast.app.cells import MOST_CELLS, side_for
from pourcast.app.desk import Desk
from pourcast.app.scene_cells import scene_cells
from pourcast.sheet import read_plan
from tests.app.client import EXAMPLES, browser, opened, token

FERN = (EXAMPLES / "fern_crozier.toml").read_text("utf-8")


@pytest.fixture
def coarse(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make a casting small enough for a test."""
    monkeypatch.setattr(worker, "MOST_CELLS", 20_000)
    monkeypatch.setattr(worker, "UNTIL", 120.0)
    monkeypatch.setattr(worker, "SECTIONS", (5.0, 60.0))


@pytest.mark.parametrize("name", [path.stem for path in sorted(EXAMPLES.glob("*.toml"))])
def test_cells_are_as_many_as_meant(name: str) -> None:
    plan = read_plan((EXAMPLES / f"{name}.toml").read_text("utf-8"))
    flask = plan.flask
    across = flask.inside_diameter + 2.0 * flask.wall_thickness

    cells = across**2 * flask.height / side_for(plan) ** 3

    assert cells <= 1.001 * MOST_CELLS


@pytest.mark.usefixtures("coarse")
def test_asked_for_worked_on_and_told(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        piece = studio.add(FERN).id
        page = browser(app)
        before = page.get(f"/piece/{piece}/cells").text
        none = page.get(f"/piece/{piece}/cells.json")
        form = {"token": token(page, f"/piece/{piece}")}
        asked = page.post(f"/piece/{piece}/cells", data=form)
        desk: Desk = app.state.desk
        for _ in range(1200):
            frozen = desk.cells.look(FERN)
            if frozen.state != "working":
                break
            time.sleep(0.05)
        after = page.get(f"/piece/{piece}/cells").text
        tree = page.get(f"/piece/{piece}/cells.json").json()
        whole = page.get(f"/piece/{piece}").text

    assert 'data-state="none"' in before
    assert none.status_code == 404
    assert asked.status_code == 303
    assert frozen.state == "done", frozen.fault
    assert frozen.study is not None
    assert 'data-state="done"' in after
    assert "By the network, which the chances come from" in after
    assert tree == scene_cells(frozen.study)
    assert [each["time_s"] for each in tree["sections"]] == [5.0, 60.0]
    assert 'id="way-cells"' in whole
    assert 'id="way-cells" hidden' not in whole

    fields = frozen.study.fields
    solid = np.array([time is not None for time in tree["metal"]["solid_s"]])
    assert solid.sum() == np.isfinite(fields.freeze_time).sum()
    hottest = max(heat for heat in tree["sections"][0]["C"] if heat is not None)
    assert hottest <= round(float(np.nanmax(fields.sections[0].temperature)) - 273.15)


@pytest.mark.usefixtures("coarse")
def test_what_cannot_be_frozen_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Too little memory: the page says so and offers to try again."""
    monkeypatch.setattr(worker, "_MEMORY", 1000)
    with opened(tmp_path) as (studio, app):
        piece = studio.add(FERN).id
        page = browser(app)
        page.post(f"/piece/{piece}/cells", data={"token": token(page, f"/piece/{piece}")})
        for _ in range(1200):
            if app.state.desk.cells.look(FERN).state == "failed":
                break
            time.sleep(0.05)
        told = page.get(f"/piece/{piece}/cells").text

    assert 'data-state="failed"' in told
    assert "It could not be frozen in cells." in told
    assert "memory" in told
    assert "<button" in told


def test_plan_that_moved_has_no_casting_yet(tmp_path: Path) -> None:
    """A casting belongs to one text; a turned knob begins anew."""
    with opened(tmp_path) as (studio, app):
        piece = studio.add(FERN).id
        browser(app).get(f"/piece/{piece}")

        assert app.state.desk.cells.look(FERN).state == "none"


def test_casting_of_before_the_studio_said_a_value_of_its_own_is_not_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Made to fail: the picture would hold to values that the rest of the page has left."""
    monkeypatch.setattr("pourcast.app.cells.Behind.do", lambda *_: None)
    with opened(tmp_path) as (studio, app):
        browser(app).get(f"/piece/{studio.add(FERN).id}")
        cells = app.state.desk.cells
        cells.ask(FERN)
        before = cells.look(FERN).state
        studio.own.put("pour.film_factor", value=1.2, low=1.1, high=1.4, note="strips of March")
        after = cells.look(FERN).state

    assert (before, after) == ("working", "none")
