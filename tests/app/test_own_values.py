"""The studio's own values: with a note, in every forecast that draws them, and nowhere hidden.

House rules, so no outside number is held against them.
"""

from pathlib import Path

import pytest

from pourcast.app.own_values import SOURCE, drawn_values
from pourcast.app.studio import Studio
from pourcast.errors import InputError
from pourcast.materials import library
from tests.app.client import browser, example, opened, token

KEY = "pour.film_factor"


def test_every_value_that_a_forecast_draws_may_be_ones_own() -> None:
    """Each unknown of the forecasts of our examples is on the list."""
    from pourcast.forecast.prepare import prepare
    from pourcast.sheet import read_plan

    for name in ("fern_crozier", "dragonfly", "larch_twig", "sea_holly"):
        ready = prepare(read_plan(example(name)), None, 1, 0)
        assert {value.key for value in ready.values.values()} <= set(drawn_values())


def test_own_value_reaches_the_forecast_and_is_named_as_such(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        text = example("dragonfly")
        before = studio.forecast(text, draws=20)
        studio.own.put(KEY, value=3.0, low=2.9, high=3.1, note="strips of March")

        after = studio.forecast(text, draws=20)

        known = {unknown.key: unknown for unknown in after.unknowns}[KEY]
        assert (known.value, known.low, known.high) == (3.0, 2.9, 3.1)
        assert known.source == f"{SOURCE}: strips of March"
        assert before.calibration is None
        assert after.calibration == "own values"
        studio.own.drop(KEY)
        assert studio.forecast(text, draws=20) is before


def test_own_value_that_a_plan_does_not_draw_does_not_stop_its_forecast(tmp_path: Path) -> None:
    with Studio(tmp_path) as studio:
        other = next(
            key for key in drawn_values() if key.startswith("alloys.") and "c87300" not in key
        )
        record = drawn_values()[other]

        studio.own.put(other, value=record.value, low=record.low, high=record.high, note="measured")

        assert studio.forecast(example("dragonfly"), draws=2).calibration is None


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"key": "pour.full_share"}, "a forecast draws"),
        ({"key": "no.such"}, "a forecast draws"),
        ({"note": "  "}, "note"),
        ({"note": "x" * 501}, "note"),
        ({"value": 2.0}, "within its range"),
        ({"low": -1.0, "value": 1.2}, "greater than 0"),
        ({"value": float("nan")}, "finite"),
    ],
)
def test_own_value_without_reason_or_range_is_refused(
    tmp_path: Path, change: dict[str, object], said: str
) -> None:
    asked = {"key": KEY, "value": 1.5, "low": 1.2, "high": 1.9, "note": "measured"} | change
    with Studio(tmp_path) as studio:
        with pytest.raises(InputError, match=said):
            studio.own.put(asked.pop("key"), **asked)  # type: ignore[arg-type]

        assert studio.own.all() == {}


def test_page_of_a_value_takes_ones_own_and_shows_both(tmp_path: Path) -> None:
    with opened(tmp_path) as (studio, app):
        studio.add(example("dragonfly"))
        page = browser(app)
        given = token(page)
        typed = {"token": given, "value": "1.5", "low": "1.2", "high": "1.9", "note": "my strips"}

        refused = page.post(f"/values/{KEY}", data=typed | {"high": "1.1"})
        kept = page.post(f"/values/{KEY}", data=typed)

        assert refused.status_code == 422
        assert "within its range" in refused.text
        assert 'value="1.1"' in refused.text
        assert kept.status_code == 303
        for path in (f"/values/{KEY}", "/values", "/values?group=pour"):
            text = page.get(path).text
            assert "my strips" in text
            assert "1.5" in text
            assert "1.3" in text
        assert "Dragonfly" in page.get(f"/values/{KEY}").text
        page.post(f"/values/{KEY}/drop", data={"token": given})
        assert "my strips" not in page.get("/values").text


def test_every_value_has_its_page_with_kind_and_source(tmp_path: Path) -> None:
    """One of each kind; a key that is none is not there."""
    with opened(tmp_path) as (_, app):
        page = browser(app)
        kinds = {value.kind: value for value in library().find("")}

        for value in kinds.values():
            text = page.get(f"/values/{value.key}").text
            assert value.kind in text
        assert page.get("/values/pour").status_code == 404
        assert page.get("/values/pour.film").status_code == 404
        assert page.get("/values?find=film&own=true").status_code == 200


def test_value_that_no_forecast_draws_cannot_be_ones_own(tmp_path: Path) -> None:
    with opened(tmp_path) as (_, app):
        text = browser(app).get("/values/pour.full_share").text

        assert "No forecast varies this value" in text
        assert 'name="note"' not in text
