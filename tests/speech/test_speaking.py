"""In which unit a caster is told a heat: conversions, rounding, and what a sentence keeps."""

import copy
import pickle
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.findings import Finding
from pourcast.sheet import read_plan
from pourcast.sheet.spoken import speech_of_text
from pourcast.speech import (
    CELSIUS,
    FAHRENHEIT,
    Heat,
    Heats,
    Ramp,
    Speech,
    Step,
    as_written,
    joined,
    said,
)
from tests.outside.record import record
from tests.speech.written import example

FIXED_POINTS = (
    ("zinc", 692.677, 787.149),
    ("aluminium", 933.473, 1220.581),
    ("silver", 1234.93, 1763.204),
    ("gold", 1337.33, 1947.524),
    ("copper", 1357.77, 1984.316),
)
"""Freezing points of the ITS-90 (Preston-Thomas 1990, Metrologia 27, 3, table 1) in K, and in °F
by NIST SP 811 (2008) B.8: t/°F = 1.8 (T/K - 273.15) + 32."""


@pytest.mark.parametrize(("metal", "kelvin", "fahrenheit"), FIXED_POINTS)
def test_fixed_points_are_told_as_the_standard_turns_them(
    metal: str, kelvin: float, fahrenheit: float
) -> None:
    """Source: ITS-90 fixed points, and NIST SP 811 (2008), B.8, degree Fahrenheit to kelvin.

    Tolerance: the last figure of the table.
    """
    got = FAHRENHEIT.exact(kelvin)

    record(
        "speech", f"freezing point of {metal}", "ITS-90; NIST SP 811 (2008) B.8",
        got, fahrenheit, "°F", 0.0005, kind="table",
    )  # fmt: skip
    assert got == pytest.approx(fahrenheit, abs=0.0005)
    assert FAHRENHEIT.heat(kelvin) == f"{round(fahrenheit)} °F"
    assert FAHRENHEIT.at(got) == pytest.approx(kelvin, abs=1e-9)


def test_a_difference_has_no_zero_in_it() -> None:
    """Source: NIST SP 811 (2008), B.8: an interval of 1 °F is 5/9 K, of a rate too."""
    record(
        "speech", "a difference of 5/9 K", "NIST SP 811 (2008) B.8",
        FAHRENHEIT.measure(5 / 9, "K")[0], 1.0, "°F", 1e-9, kind="table",
    )  # fmt: skip
    value, unit = FAHRENHEIT.measure(5 / 9, "K")
    assert value == pytest.approx(1.0, abs=1e-9)
    assert unit == "°F"
    assert FAHRENHEIT.step(0.0) == "0 °F"
    assert FAHRENHEIT.step(50.0) == "90 °F"
    assert CELSIUS.step(50.0) == "50 K"
    assert FAHRENHEIT.ramp(si.to_si(100.0, "C/h")) == "180 °F an hour"
    assert CELSIUS.ramp(si.to_si(100.0, "C/h")) == "100 °C an hour"


@given(st.integers(-40, 2500), st.sampled_from((CELSIUS, FAHRENHEIT)))
def test_whole_degrees_come_back_as_they_were_written(figure: int, speech: Speech) -> None:
    """Property: what was written in whole degrees is told so, whatever the unit."""
    told = speech.heat(speech.at(figure))

    assert told == f"{figure} {speech.unit}".replace("-", "−")
    assert speech.figure(speech.at(figure)) == figure


def test_a_half_goes_up() -> None:
    """The one rule of rounding: `pourcast.findings.half_up`."""
    assert CELSIUS.heat(si.to_si(732.5, "degC")) == "733 °C"
    assert CELSIUS.heat(si.to_si(731.5, "degC")) == "732 °C"
    assert FAHRENHEIT.step(si.to_si(1.5, "F") - si.to_si(0.0, "F")) == "2 °F"


def test_a_sentence_keeps_its_numbers_when_it_is_put_beside_others() -> None:
    """Before, behind, within and in a list, in another process and in a copy."""
    top = said("stay under {top}", top=Heat(1033.15))
    whole = "Hot: " + top + "; " + said("{name}: {within}.", name="{odd} name", within=top)
    both = joined(" and ", [top, "no more"])

    assert whole == "Hot: stay under 760 °C; {odd} name: stay under 760 °C."
    for each in (whole, pickle.loads(pickle.dumps(whole)), copy.deepcopy(whole)):
        assert FAHRENHEIT.text(each) == whole.replace("760 °C", "1400 °F")
    assert FAHRENHEIT.text(both) == "stay under 1400 °F and no more"
    assert FAHRENHEIT.text("760 °C by a source") == "760 °C by a source"
    assert type(FAHRENHEIT.text(whole)) is str


def test_two_heats_share_one_unit() -> None:
    span = said("{heats}", heats=Heats(si.to_si(430.0, "degC"), si.to_si(700.0, "degC")))

    assert span == "430 to 700 °C"
    assert FAHRENHEIT.text(span) == "806 to 1292 °F"
    slow = said("{ramp}", ramp=Ramp(si.to_si(60.0, "C/h"), per=" per hour"))
    assert FAHRENHEIT.text(slow) == "108 °F per hour"
    hotter = said("{step} hotter", step=Step(50.0, kelvins=False))
    assert (hotter, FAHRENHEIT.text(hotter)) == ("50 °C hotter", "90 °F hotter")


def test_a_text_of_the_book_of_values_knows_the_heats_in_its_braces() -> None:
    told = as_written("Melts at {327 C}; soften between {550 and 750 C}, {50 to 60 C} is warm.")

    assert told == "Melts at 327 °C; soften between 550 and 750 °C, 50 to 60 °C is warm."
    assert FAHRENHEIT.text(told) == (
        "Melts at 621 °F; soften between 1022 and 1382 °F, 122 to 140 °F is warm."
    )
    assert as_written("No heat {here}.") == "No heat {here}."


def test_a_finding_is_told_with_its_limit_in_the_same_unit() -> None:
    text = said("At {heat}.", heat=Heat(1033.15))
    found = Finding(
        stage="burnout", key="burnout-top", level="STOP", text=text, value=760.0, limit=735.0,
        unit="°C", source=said("core within {near}", near=Step(10.0)),
    )  # fmt: skip
    told = FAHRENHEIT.finding(found)

    assert (told.text, told.unit, told.source) == ("At 1400 °F.", "°F", "core within 18 °F")
    assert told.value == pytest.approx(1400.0)
    assert told.limit == pytest.approx(1355.0)
    assert CELSIUS.finding(found) == found
    assert (found.text, found.value, found.unit) == ("At 760 °C.", 760.0, "°C")


def test_a_fault_is_told_in_the_unit_of_the_caster() -> None:
    must = said("{heats}", heats=Heats(423.15, 1003.15))

    with pytest.raises(InputError) as fault, FAHRENHEIT.errors():
        raise InputError("casting temperature", "900", "°C", must)
    assert str(fault.value) == "casting temperature is 1652 °F; it must be 302 to 1346 °F"

    with pytest.raises(InputError) as fault, CELSIUS.errors():
        raise InputError("casting temperature", "900", "°C", must)
    assert str(fault.value) == "casting temperature is 900 °C; it must be 150 to 730 °C"


@pytest.mark.parametrize("written", ['"2050 F"', '"2050°F"', '"2050 degF"', '"2050 Fahrenheit"'])
def test_one_heat_in_fahrenheit_is_enough(written: str) -> None:
    text = example("sea_holly")
    line = next(each for each in text.splitlines() if each.startswith("pour_temperature_C"))

    assert speech_of_text(text) == CELSIUS
    assert speech_of_text(text.replace(line, f"pour_temperature = {written}")) == FAHRENHEIT
    assert speech_of_text(text.replace(line, 'pour_temperature = "1120 C"')) == CELSIUS
    ramp = text.replace("ramp_C_per_h = 60", 'ramp = "108 F/h"', 1)
    assert ramp != text
    assert speech_of_text(ramp) == FAHRENHEIT


def test_how_a_plan_is_spoken_of_is_no_part_of_what_is_cast() -> None:
    """So no draw and no hash of a forecast hangs on it."""
    plan = read_plan(example("larch_twig"))
    told = replace(plan, speech=FAHRENHEIT)

    assert repr(told) == repr(plan)
    # But what is kept in memory of one is not told of the other.
    assert told != plan
    assert read_plan(example("larch_twig", fahrenheit=True)).speech == FAHRENHEIT


def test_a_limit_of_the_sheet_is_told_as_the_value_is_written() -> None:
    """House rule: the error repeats what was entered, and says the limit in the same unit."""
    text = example("larch_twig", fahrenheit=True)
    line = next(each for each in text.splitlines() if each.startswith("pour_temperature"))

    with pytest.raises(InputError) as fault:
        read_plan(text.replace(line, 'pour_temperature = "3000 F"'))

    assert 'is "3000 F"; it must be 212 to 2552 °F' in str(fault.value)
    assert "°C" not in str(fault.value)
