"""Knobs: what is turned stands in the piece file, and nothing else has changed.

How wide a step is, and where a ruler ends, is our own choice.
"""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.app.knob import Knob
from pourcast.app.knob_edits import edits_for
from pourcast.app.knob_ruler import ruler
from pourcast.app.knobs import knobs
from pourcast.app.look import Look
from pourcast.errors import InputError
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.sheet import read_plan
from pourcast.sheet.edit import edited

HOLLY = Path("examples/sea_holly.toml").read_text(encoding="utf-8")
MM, INCH = Look(), Look(lengths="in")


@pytest.fixture(scope="module")
def said() -> Forecast:
    return forecast(read_plan(HOLLY), draws=10)


def knob(said: Forecast, name: str, look: Look = MM) -> Knob:
    return next(each for each in knobs(said, look) if each.id == name)


def turned(said: Forecast, name: str, typed: str, look: Look = MM, text: str = HOLLY) -> Forecast:
    changed = edited(text, edits_for(knob(said, name, look), typed, text))
    return replace(said, plan=read_plan(changed))


def test_every_number_can_be_turned_by_one_step_and_is_then_in_the_plan(said: Forecast) -> None:
    """Our own rule: a knob is a key of the piece file."""
    for each in knobs(said, MM):
        if each.choices:
            continue
        typed = each.turned(1)
        after = knob(turned(said, each.id, typed), each.id)

        assert after.shown == typed, each.id
        assert after.shown != each.shown, each.id


def test_knobs_stand_in_every_row_that_has_values_to_choose(said: Forecast) -> None:
    """Our own rule: bench, mix, burn, pour and freezing have knobs; quench has none."""
    assert {each.row for each in knobs(said, MM)} == {"bench", "mix", "burn", "pour", "freeze"}


def test_text_with_another_unit_gives_way_to_what_was_typed(said: Forecast) -> None:
    """NIST SP 811, B.8: °C = (°F - 32)/1.8, so 1000 °F are 537.8 °C."""
    text = HOLLY.replace("temperature_C = 600", 'temperature = "1100 F"')
    assert turned(said, "flask.temperature_C", "580", text=text).plan.flask.temperature == (
        pytest.approx(580 + 273.15)
    )
    after = turned(said, "flask.temperature_C", "1000 F").plan.flask.temperature

    assert after == pytest.approx(537.78 + 273.15, abs=0.01)  # rounded to two places


def test_inches_are_read_and_shown_where_they_are_chosen(said: Forecast) -> None:
    """NIST SP 811, B.8: an inch is 25.4 mm exactly."""
    assert knob(said, "flask.inside_diameter_mm", INCH).value == pytest.approx(76 / 25.4)
    after = turned(said, "flask.inside_diameter_mm", "3", INCH)

    assert after.plan.flask.inside_diameter == pytest.approx(0.0762)


def test_taper_keeps_its_tip(said: Forecast) -> None:
    """Our own rule: the knob turns the base; a tip that is another stays."""
    stem = turned(said, "part.0.diameter_mm", "6,4").plan.piece.parts[0]

    assert stem.width == pytest.approx((0.0064, 0.0036))


def test_word_is_a_choice(said: Forecast) -> None:
    """Our own rule."""
    assert turned(said, "button.top", "covered").plan.piece.button.top == "covered"


@pytest.mark.parametrize("typed", ["", "   ", "9" * 61])
def test_nothing_and_too_much_are_refused(said: Forecast, typed: str) -> None:
    """Our own rule."""
    with pytest.raises(InputError):
        edits_for(knob(said, "flask.temperature_C"), typed, HOLLY)


@given(
    value=st.floats(0.0, 1000.0),
    step=st.sampled_from([0.01, 0.05, 0.2, 1.0, 5.0, 10.0]),
    by=st.integers(1, 9),
)
def test_steps_go_there_and_back(value: si.Ratio, step: si.Ratio, by: int) -> None:
    """Exact case: as many steps back as forth; four figures that count are shown."""
    start = Knob(id="a.b", row="pour", label="a", value=round(value / step) * step, step=step)
    there = replace(start, value=float(start.turned(by)))
    back = float(there.turned(-by))

    assert there.value is not None
    assert start.value is not None
    # The field shows four figures; each way is rounded by up to half of the last one, 5e-4.
    assert back == pytest.approx(start.value, rel=1.01e-3, abs=1e-9)


def test_ruler_shows_a_ring_before_and_a_mark_now(said: Forecast) -> None:
    """Our own rule: a hollow ring at the old value, a full mark at the new, a line between."""
    now = replace(knob(said, "flask.temperature_C"), value=540.0)
    drawn = str(ruler(now, knob(said, "flask.temperature_C")))

    assert drawn.count('class="old"') == 1
    assert drawn.count('class="now ch"') == 1
    assert drawn.count('class="span"') == 1
    assert "was 600" in drawn
    assert 'class="old"' not in str(ruler(now, None))
