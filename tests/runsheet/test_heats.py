"""A run sheet in °F, where the piece file is."""

import re
from dataclasses import replace

import pytest

from pourcast.burnout.model import KilnStep
from pourcast.change.as_written import writes_fahrenheit
from pourcast.runsheet.calendar import calendar_file
from pourcast.runsheet.heats import in_fahrenheit, text_in_fahrenheit
from pourcast.runsheet.paper import printed
from pourcast.runsheet.text import lines
from pourcast.sheet import new_sheet
from pourcast.trade_units import read
from tests.runsheet.sample import HOUR, burnout, curve, dial, forecast, sheet


@pytest.mark.parametrize("fahrenheit", range(150, 2300, 5))
def test_what_was_written_in_fives_comes_back_as_it_was_written(fahrenheit: int) -> None:
    """By definition of the scale, 9/5 C + 32, through whole °C and back."""
    kelvin = read(f"{fahrenheit} F", "temperature", default_unit="C")

    told = text_in_fahrenheit(f"Metal at {kelvin - 273.15:.0f}\u00a0°C in the pot.")

    assert told == f"Metal at {fahrenheit}\u00a0°F in the pot."


@pytest.mark.parametrize(
    ("celsius", "told"),
    [
        ("0 °C", "32 °F"),
        ("21 °C", "70 °F"),
        ("−40 °C", "−40 °F"),
        ("100 °C", "210 °F"),
        ("60 °C an hour", "108 °F an hour"),
        ("149 °C, 60 °C an hour: there at 23:17", "300 °F, 108 °F an hour: there at 23:17"),
        ("over 730 °C (c)", "over 1345 °F (c)"),
        ("more than 15 K off", "more than 15 K off"),
    ],
)
def test_heats_and_ramps_are_turned_each_by_its_own_rule(celsius: str, told: str) -> None:
    """Exact: water boils at 212 °F, told to the next 5; a ramp is a difference, 9/5 of it."""
    assert text_in_fahrenheit(celsius).replace("\u00a0", " ") == told


def test_no_heat_of_an_act_is_left_in_celsius_and_no_hour_moves() -> None:
    """Every act, with steps and with turns of the dial, on text, paper and in the calendar."""
    steps = (
        KilnStep(temperature=422.0, ramp=60.0 / HOUR, hold=2.0 * HOUR),
        KilnStep(temperature=977.6, ramp=100.0 / HOUR, hold=8.0 * HOUR),
    )
    made = sheet(forecast(worked_out=burnout(curve(steps)), steps=steps))
    turned = sheet(forecast(worked_out=burnout()), dial=dial(6))
    for before in (made, turned):
        after = in_fahrenheit(before)

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
            before, acts=(), findings=(), heats="F"
        )
        assert "°F" in calendar_file(after, stamp=0.0).decode()
        assert printed(after).pdf[:4] == b"%PDF"
    text = "\n".join(lines(in_fahrenheit(made)))
    assert re.search(r"Turn up for 300.°F", text)
    assert "Turn up for 1300" in text


@pytest.mark.parametrize("said", ["2050 F", "2050°F", "2050 degF"])
def test_a_piece_file_that_says_a_heat_in_fahrenheit_is_known(said: str) -> None:
    text = new_sheet("Poppy")
    line = "pour_temperature_C = 1120"

    assert line in text
    assert not writes_fahrenheit(text)
    assert writes_fahrenheit(text.replace(line, f'pour_temperature = "{said}"'))
    assert not writes_fahrenheit(text.replace(line, 'pour_temperature = "1121 C"'))
