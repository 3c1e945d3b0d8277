"""A run sheet in °F, where the piece file is."""

import re
from dataclasses import replace

import pytest

from pourcast.burnout.model import KilnStep
from pourcast.forecast.model import Forecast
from pourcast.runsheet.calendar import calendar_file
from pourcast.runsheet.paper import printed
from pourcast.runsheet.text import lines
from pourcast.speech import FAHRENHEIT
from pourcast.trade_units import read
from tests.runsheet.sample import HOUR, burnout, curve, dial, forecast, sheet


def _in_fahrenheit(made: Forecast) -> Forecast:
    return replace(made, plan=replace(made.plan, speech=FAHRENHEIT))


@pytest.mark.parametrize("fahrenheit", range(-40, 2300, 37))
def test_what_was_written_in_whole_degrees_comes_back_as_it_was_written(fahrenheit: int) -> None:
    """By definition of the scale, 9/5 C + 32, into kelvin and back."""
    base = _in_fahrenheit(forecast())
    kelvin = read(f"{fahrenheit} F", "temperature", default_unit="C")
    charge = replace(base.plan.charge, pour_temperature=kelvin)

    made = sheet(replace(base, plan=replace(base.plan, charge=charge)))

    told = next(act.what for act in made.acts if act.key == "metal_ready")
    assert told.startswith(f"Metal at {fahrenheit}\u00a0°F in the pot.".replace("-", "−"))


def test_no_heat_of_an_act_is_left_in_celsius_and_no_hour_moves() -> None:
    """Every act, with steps and with turns of the dial, on text, paper and in the calendar."""
    steps = (
        KilnStep(temperature=422.0, ramp=60.0 / HOUR, hold=2.0 * HOUR),
        KilnStep(temperature=977.6, ramp=100.0 / HOUR, hold=8.0 * HOUR),
    )
    base = forecast(worked_out=burnout(curve(steps)), steps=steps)
    turned = forecast(worked_out=burnout())
    for of, turns in ((base, None), (turned, dial(6))):
        before, after = sheet(of, dial=turns), sheet(_in_fahrenheit(of), dial=turns)

        said = [
            *(act.what for act in after.acts),
            *(act.why for act in after.acts),
            *(reading.unit for act in after.acts for reading in act.readings),
            *(reading.what for act in after.acts for reading in act.readings),
        ]
        assert not [each for each in said if "°C" in each]
        assert [each for each in said if "°F" in each]
        assert [act.at for act in after.acts] == [act.at for act in before.acts]
        assert [act.key for act in after.acts] == [act.key for act in before.acts]
        assert replace(after, acts=(), findings=()) == replace(
            before, acts=(), findings=(), speech=FAHRENHEIT
        )
        assert "°F" in calendar_file(after, stamp=0.0).decode()
        assert printed(after).pdf[:4] == b"%PDF"
    text = "\n".join(lines(sheet(_in_fahrenheit(base))))
    # 422.0 K and 977.6 K are 300 and 1300 °F; 60 and 100 °C an hour are 108 and 180 °F.
    assert re.search(r"Turn up for 300.°F, 108.°F an hour", text)
    assert re.search(r"Turn up for 1300.°F, 180.°F an hour", " ".join(text.split()))
