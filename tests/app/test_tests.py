"""The pages of the tests: what is filled in is worked out, kept, and learnt from.

The synthetic pull-down is that of the closed form of a chamber that leaks through a
block (Muskat 1937, for gas; see `pourcast.learn.pull_down`).
"""

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from fastapi.testclient import TestClient

from pourcast.app.server import make_app
from pourcast.app.studio import Studio
from pourcast.book.calibrations import holds
from pourcast.book.castings import castings_of
from pourcast.learn.pull_down import axial_shape, pressure
from pourcast.pour.gas import air_viscosity
from pourcast.sheet import read_plan
from tests.outside.record import record

LARCH = Path("examples/larch_twig.toml").read_text(encoding="utf-8")
OWN = "http://127.0.0.1"
AIR = 101_325.0


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Studio]:
    with Studio(tmp_path_factory.mktemp("studio"), threads=2) as opened:
        yield opened


@pytest.fixture(scope="module")
def browser(studio: Studio) -> TestClient:
    return TestClient(make_app(studio), OWN, client=("127.0.0.1", 50_000), headers={"origin": OWN})


def token(browser: TestClient) -> str:
    found = re.search(r'name="form-token" content="([^"]+)"', browser.get("/tests").text)
    assert found
    return found[1]


def readings(permeability: float) -> str:
    """Return what a gauge shows while a chamber of 5 l fills through a block."""
    time = np.linspace(0.0, 60.0, 21)
    viscosity = float(air_viscosity(np.array(293.15)))
    through = permeability * axial_shape(0.038, 0.1) / viscosity
    inside = pressure(time, 0.3 * AIR, air=AIR, volume=5e-3, pump=0.0, through=through, leak=0.0)
    rows = zip(time.tolist(), ((AIR - inside) / 1000.0).tolist(), strict=True)
    return "\n".join(f"{seconds:.1f}, {gauge:.4f}" for seconds, gauge in rows)


def test_pull_down_is_worked_out_and_kept(studio: Studio, browser: TestClient) -> None:
    """Closed form of the chamber that fills through a block, without noise."""
    truth = 4e-14
    fields = {
        "token": token(browser),
        "open": readings(truth),
        "gauge": "kPa",
        "chamber_l": "5",
        "flask_mm": "76",
        "height_mm": "100",
    }
    looked = browser.post("/tests/pull-down", data=fields)
    assert looked.status_code == 200
    found = re.search(r"leaves through the block: (\S+) m²", looked.text)
    assert found
    record(
        "learn",
        "permeability from a pull-down typed into the page",
        "Muskat (1937), flow of gas through a block, closed form",
        float(found[1]),
        truth,
        "m2",
        0.1 * truth,
        kind="closed form",
    )
    assert float(found[1]) == pytest.approx(truth, rel=0.1)
    assert castings_of(studio.book) == ()

    kept = browser.post("/tests/pull-down", data={**fields, "keep": "yes"})
    assert "It is in the book" in kept.text
    assert [each.kind for each in castings_of(studio.book)] == ["pull-down"]


def test_block_on_the_scales_says_how_much_water_it_held(browser: TestClient) -> None:
    """Conservation of mass: 100 g of 240 g less bound water are gone."""
    fields = {"token": token(browser), "set_g": "1400", "kiln_g": "1300", "powder_g": "1000"}

    said = browser.post("/tests/block", data=fields).text

    assert re.search(r"held \d\d in 100 of its free water", said)


def test_learning_takes_the_test_and_can_be_switched_off(
    studio: Studio, browser: TestClient
) -> None:
    made = browser.post("/tests/learn", data={"token": token(browser)})
    assert made.status_code == 200
    assert "1 test" in made.text
    assert "narrower by" in made.text
    assert holds(studio.book)[1]
    learnt = studio.calibration(read_plan(LARCH))
    assert learnt is not None
    assert [each.key for each in learnt.overrides] == ["investment.flow.permeability_burnt"]

    off = browser.post("/tests/switch/off", data={"token": token(browser)})
    assert "Switched off" in off.text
    assert not holds(studio.book)[1]
    assert studio.calibration(read_plan(LARCH)) is None
    on = browser.post("/tests/switch/on", data={"token": token(browser)})
    assert "Switched off" not in on.text
    anew = browser.post("/tests/switch/reset", data={"token": token(browser)})
    assert "Nothing was learnt yet" in anew.text


def test_fan_is_designed_drawn_and_put_on_the_shelf(studio: Studio, browser: TestClient) -> None:
    assert "Put a piece on the shelf first" in browser.get("/tests/fan").text
    piece = studio.add(LARCH)
    page = browser.get("/tests/fan", params={"piece": piece.id, "strips": 3}).text
    assert "bits" in page
    drawn = browser.get("/tests/fan/drawing.svg", params={"piece": piece.id, "strips": 3})
    assert drawn.headers["content-type"].startswith("image/svg+xml")

    put = {"token": token(browser), "piece": piece.id, "strips": "3"}
    assert browser.post("/tests/fan/put", data=put).status_code == 200
    names = [studio.plan(studio.piece(each)).piece.name for each in studio.pieces.ids()]
    assert any(name.startswith("Fan of strips") for name in names)


@pytest.mark.parametrize(
    ("kind", "fields", "said"),
    [
        ("pull-down", {}, "given for the open run"),
        ("pull-down", {"open": "a, b"}, "open run"),
        ("pull-down", {"open": "0, 70\n1, x"}, "two numbers"),
        ("pull-down", {"open": "0, 70", "chamber_l": "-1"}, "0.01 to 1000"),
        ("block", {}, "a number"),
        ("block", {"set_g": "900", "kiln_g": "1000", "powder_g": "700"}, "or less"),
        ("day", {}, "time, temperature and dial"),
        ("day", {"log": "nothing here"}, ""),
    ],
)
def test_form_that_cannot_be_comes_back_as_it_was(
    studio: Studio, browser: TestClient, kind: str, fields: dict[str, str], said: str
) -> None:
    """Made to fail."""
    before = len(castings_of(studio.book))
    wrong = browser.post(f"/tests/{kind}", data={"token": token(browser), "keep": "yes", **fields})

    assert wrong.status_code == 422
    assert said in wrong.text
    assert len(castings_of(studio.book)) == before
