"""The gauge of the pump, in the unit in which the piece file has it.

A gauge of a vacuum table shows inHg, kPa, mmHg or mbar, and the caster reads it with the pump
running and metal in the furnace: a figure in another unit is a figure misread.
"""

from typing import get_args

import pytest

from pourcast.app.knob_edits import edits_for
from pourcast.app.knobs import knobs
from pourcast.app.look import Look
from pourcast.change.model import Lever
from pourcast.change.push_levers import push_levers
from pourcast.errors import SheetError
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.runsheet.text import lines
from pourcast.sheet import read_plan
from pourcast.sheet.edit import edited
from pourcast.speech import Gauge, GaugeUnit, Speech, said
from pourcast.trade_units import read
from tests.change.test_lever_steps import ask_of
from tests.runsheet.sample import sheet
from tests.speech.written import example

IN_KPA = example("sea_holly")
IN_INCHES = IN_KPA.replace("vacuum_kPa = 70", 'vacuum = "21 inHg"')
"""By NIST SP 811, table B.8, 21 inHg are 71.114 kPa."""
INCH = 3386.389  # Pa, conventional, NIST SP 811 (2008), table B.8


@pytest.mark.parametrize(
    ("written", "gauge"),
    [
        ("25 inHg", "inHg"),
        ('25 "Hg', "inHg"),
        ("635 mmHg", "mmHg"),
        ("847 mbar", "mbar"),
        ("84.7 kPa", "kPa"),
    ],
)
def test_a_vacuum_is_told_in_the_unit_in_which_it_is_written(written: str, gauge: str) -> None:
    """847 mbar and 84.7 kPa are alike by the prefixes of SI; 25 inHg are 84.66 kPa by NIST."""
    line = f"vacuum = '{written}'"
    plan = read_plan(IN_KPA.replace("vacuum_kPa = 70", line))

    assert plan.speech == Speech(gauge=gauge)  # type: ignore[arg-type]
    assert plan.assist.vacuum == pytest.approx(84_680.0, abs=40.0)
    told = plan.speech.vacuum(plan.assist.vacuum or 0.0)
    assert told == written.replace('"Hg', "inHg")


def test_each_gauge_tells_a_standard_atmosphere_as_the_tables_have_it() -> None:
    """101 325 Pa: 760 mmHg and 1013.25 mbar by definition, 29.92 inHg by NIST SP 811."""
    told = {gauge: Speech(gauge=gauge).vacuum(101_325.0) for gauge in get_args(GaugeUnit)}

    assert told == {
        "kPa": "101.3 kPa",
        "inHg": "29.9 inHg",
        "mmHg": "760 mmHg",
        "mbar": "1013 mbar",
    }


def test_a_sentence_keeps_its_gauge_and_stays_in_kilopascal_elsewhere() -> None:
    """House rule: JSON and whoever has not said how he writes are told kPa."""
    sentence = said("Pump {more} deeper.", more=Gauge(INCH))

    assert sentence == "Pump 3.4 kPa deeper."
    assert Speech(gauge="inHg").text(sentence) == "Pump 1 inHg deeper."


@pytest.fixture(scope="module")
def poured() -> Forecast:
    return forecast(read_plan(IN_INCHES), draws=8)


def test_the_run_sheet_asks_for_the_gauge_in_its_own_unit(poured: Forecast) -> None:
    made = sheet(poured)
    text = " ".join("\n".join(lines(made)).split()).replace("\u00a0", " ")

    assert "The gauge should show 21 inHg below the air outside." in text
    assert "gauge in the pour ______ inHg" in text
    assert "with the pump on, to 28.1 inHg (c)" in text  # 95 kPa, usual for slurry
    assert "kPa below" not in text


def test_a_knob_turns_the_gauge_and_is_written_so(poured: Forecast) -> None:
    pump = next(each for each in knobs(poured, Look()) if each.id == "assist.vacuum_kPa")

    assert (pump.shown, pump.unit_shown) == ("21", "inHg")
    assert pump.turned(1) == "21.5"
    plan = read_plan(edited(IN_INCHES, edits_for(pump, "22", IN_INCHES)))
    assert plan.assist.vacuum == pytest.approx(22.0 * INCH)
    assert plan.speech.gauge == "inHg"


def test_a_lever_asks_for_what_the_gauge_can_show_and_writes_that() -> None:
    """Our own rule: 10 kPa deeper, 2.95 inHg by NIST SP 811, to a tenth of the gauge."""
    plan = read_plan(IN_INCHES)
    lever = next(
        each
        for each in push_levers(ask_of(plan))
        if isinstance(each, Lever) and each.kind == "vacuum"
    )

    assert plan.speech.text(lever.act) == "Pump 3 inHg deeper, to 24 inHg"
    text = edited(IN_INCHES, lever.edits)
    assert 'vacuum = "24 inHg"' in text
    assert read_plan(text).assist.vacuum == pytest.approx(24.0 * INCH)


@pytest.mark.parametrize("gauge", get_args(GaugeUnit))
def test_what_a_lever_tells_and_what_it_writes_are_one_figure(gauge: GaugeUnit) -> None:
    """Our own rule.  Once a tenth of a mbar was written where whole ones were told."""
    written = Speech(gauge=gauge).vacuum(84e3)
    text = IN_KPA.replace("vacuum_kPa = 70", f'vacuum = "{written}"')
    plan = read_plan(text)
    lever = next(
        each
        for each in push_levers(ask_of(plan))
        if isinstance(each, Lever) and each.kind == "vacuum"
    )
    told = plan.speech.text(lever.act).rpartition(" to ")[2]

    deeper = read_plan(edited(text, lever.edits))
    assert deeper.speech.vacuum(deeper.assist.vacuum or 0.0) == told
    assert deeper.assist.vacuum == pytest.approx(
        read(told, "vacuum", default_unit="kPa"), rel=1e-12
    )


def test_a_limit_of_the_gauge_is_told_as_it_is_written() -> None:
    """No gauge shows more than the air, 29.92 inHg at the sea (NIST SP 811)."""
    with pytest.raises(SheetError) as fault:
        read_plan(IN_INCHES.replace("21 inHg", "31 inHg"))

    assert '"31 inHg"; it must be' in str(fault.value)
    assert "29.9 inHg" in str(fault.value)
    assert "104.978" not in str(fault.value)
