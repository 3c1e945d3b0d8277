"""What is typed with gloves on; the words are our own."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.day.typed import Typed, typed
from pourcast.errors import InputError


@pytest.mark.parametrize(
    ("line", "place", "celsius"),
    [
        ("672 C", "kiln", 672.0),
        ("1250 F", "kiln", 676.6667),
        ("1250f", "kiln", 676.6667),
        ("kiln 672°C", "kiln", 672.0),
        ("flask 540 C", "wall", 540.0),
        ("  CORE   300 c. ", "core", 300.0),
        ("metal 1120,5 C", "metal", 1120.5),
        ("945 K", "kiln", 671.85),
    ],
)
def test_readings_are_read_with_their_units(line: str, place: str, celsius: float) -> None:
    """Exact: the Fahrenheit scale by its definition, 5/9 (F - 32)."""
    found = typed(line, unit="")

    assert found.act is None
    assert found.place == place
    assert found.temperature is not None
    assert si.from_si(found.temperature, "degC") == pytest.approx(celsius, abs=1e-3)


@pytest.mark.parametrize(
    ("line", "pascal"),
    [
        ("gauge 24 inHg", 24.0 * 3386.389),
        ("Gauge 24 in Hg 10:51", 24.0 * 3386.389),
        ("vacuum 81 kPa", 81e3),
        ("gauge 810 mbar 5 min ago", 81e3),
        ("gauge 0 kPa", 0.0),
    ],
)
def test_the_gauge_of_the_pump_is_read_with_its_unit(line: str, pascal: float) -> None:
    """NIST SP 811 (2008), table B.8, for the inch of mercury; the rest are prefixes of SI."""
    found = typed(line, unit="F")

    assert found.act is None
    assert found.place is None
    assert found.vacuum == pytest.approx(pascal)
    assert found.unit == "F"  # of the next heat


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("gauge 24", "gauge is 24; it must be with its unit"),
        ("gauge inHg", "a vacuum counted down from the air outside"),
        ("gauge 24 C", "a vacuum counted down from the air outside"),
        ("gauge", "entry is gauge; it must be a reading"),
    ],
)
def test_a_gauge_without_its_unit_is_refused(line: str, said: str) -> None:
    with pytest.raises(InputError) as fault:
        typed(line, unit="F")

    assert said in str(fault.value)


@pytest.mark.parametrize(
    ("before", "behind"),
    [("7:30 300 F", "300 F 7:30"), ("05:05 turned to 3", "turned to 3 05:05"), ("16:40 poured",
     "poured at 16:40"), ("0:00 flask 540 C", "flask 540 C 0:00"), ("9:15 310", "310 9:15")],
)  # fmt: skip
def test_a_time_may_stand_before_the_line_as_in_a_log(before: str, behind: str) -> None:
    assert typed(before, unit="F") == typed(behind, unit="F")


def test_a_time_alone_is_no_entry() -> None:
    for line in ("16:40", "25:00 300 F"):
        with pytest.raises(InputError):
            typed(line, unit="F")


def test_a_number_alone_takes_the_unit_of_the_last_reading() -> None:
    found = typed("1250", unit="F")

    assert found.unit == "F"
    assert found.temperature == pytest.approx(949.8167, abs=1e-3)
    with pytest.raises(InputError, match="unit the first time"):
        typed("1250", unit="")


@pytest.mark.parametrize(
    ("line", "act", "setting"),
    [
        ("turned to 3", "turned", 3.0),
        ("dial 2.5", "turned", 2.5),
        ("turn to off", "turned", 0.0),
        ("off", "turned", 0.0),
        ("out", "out", None),
        ("Blew out", "blew", None),
        ("back in", "in", None),
        ("sealed", "sealed", None),
        ("lit", "lit", None),
        ("molten", "molten", None),
        ("poured", "poured", None),
        ("quenched", "quenched", None),
        ("right", "right", None),
        ("wrong", "wrong", None),
        ("undo", "undo", None),
        ("Wrong day", "wrong day", None),
        ("wrong piece.", "wrong day", None),
        ("right day", "right day", None),
        ("right  piece", "right day", None),
    ],
)
def test_acts_are_read(line: str, act: str, setting: float | None) -> None:
    found = typed(line, unit="")

    assert (found.act, found.setting) == (act, setting)


def test_a_time_may_stand_behind() -> None:
    assert typed("poured 16:40", unit="") == Typed(act="poured", clock=60_000.0)
    assert typed("turned to 3 at 7:05", unit="").clock == 25_500.0
    assert typed("1250 F 05:45", unit="").clock == 20_700.0
    assert typed("out 5 min ago", unit="").ago == 300.0


@pytest.mark.parametrize(
    "line", ["", "nonsense", "turned", "turned to x", "1250 X", "1 2 3", "25:99"]
)
def test_what_is_neither_is_refused_with_what_may_be_typed(line: str) -> None:
    with pytest.raises(InputError):
        typed(line, unit="C")


@given(line=st.text(max_size=40))
def test_no_line_breaks_it(line: str) -> None:
    """Made to fail: any text is either understood or refused."""
    try:
        found = typed(line, unit="degC")
    except InputError:
        return
    assert found.act is not None or found.temperature is not None
