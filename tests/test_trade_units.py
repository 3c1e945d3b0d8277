"""Trade units: each way to write a measure and each refusal."""

import itertools
import math

import pytest

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.trade_units import Quantity, read
from pourcast.trade_units.quantities import CHAINS, SUCH_AS, spellings, symbols

# A few roundings of a double, 1.1e-16 each.
ROUNDING = 1e-14

# Inch, foot and pound are exact, bold in NIST SP 811 (2008), appendix B.8.  The masses below
# follow from the pound: ounce 1/16, troy ounce 480/7000, pennyweight 24/7000; B.8 has 7 figures.
INCH, FOOT = 0.0254, 0.3048
POUND, OUNCE = 0.453_592_37, 0.028_349_523_125
TROY_OUNCE, PENNYWEIGHT = 0.031_103_476_8, 0.001_555_173_84

DEFAULT: dict[Quantity, str] = {
    "length": "mm",
    "mass": "g",
    "temperature": "C",
    "temperature difference": "K",
    "ramp": "C/h",
    "time": "h",
    "pressure": "kPa",
    "vacuum": "kPa",
    "volume": "l",
    "angle": "deg",
    "ratio": "-",
    "rate": "1/h",
    "power": "kW",
}

READS: list[tuple[Quantity, str, float]] = [
    ("length", "3/16 in", 3 * INCH / 16),
    ("length", '3/16"', 3 * INCH / 16),
    ("length", "1 3/16 in", 19 * INCH / 16),
    ("length", "1-3/16 in", 19 * INCH / 16),
    ("length", "2 ft 3 in", 27 * INCH),
    ("length", "2'3\"", 27 * INCH),
    ("length", "2'-3 1/2\"", 27.5 * INCH),
    ("length", "2′3″", 27 * INCH),
    ("length", "2'3''", 27 * INCH),
    ("length", "2ft3in", 27 * INCH),
    ("length", "3 in.", 3 * INCH),
    ("length", "½ in", INCH / 2),
    ("length", "1¼ in", 1.25 * INCH),
    ("length", "2 ft 1⅛ in", 2 * FOOT + 1.125 * INCH),
    ("length", "1-¾ in", 1.75 * INCH),
    ("length", "3⁄16 in", 3 * INCH / 16),
    ("length", "1,5 mm", 0.0015),
    ("length", "0,500 mm", 0.0005),
    ("length", "250 µm", 0.00025),
    ("length", "1.5e2 mm", 0.15),
    ("length", "12\N{NO-BREAK SPACE}cm", 0.12),
    ("length", "12\N{NARROW NO-BREAK SPACE}CM", 0.12),
    ("mass", "7 lb", 7 * POUND),
    ("mass", "7 lb 4 oz", 7.25 * POUND),
    ("mass", "7 lb .5 oz", 7 * POUND + 0.5 * OUNCE),
    ("mass", "3 oz", 3 * OUNCE),
    ("mass", "3 ozt", 3 * TROY_OUNCE),
    ("mass", "5 dwt", 5 * PENNYWEIGHT),
    ("mass", "2 ozt 19 dwt", 2 * TROY_OUNCE + 19 * PENNYWEIGHT),
    ("mass", "2 kg 350 g", 2.35),
    ("temperature", "1400 F", (1400 - 32) / 1.8 + 273.15),
    ("temperature", "760 C", 1033.15),
    ("temperature", "760 °C", 1033.15),
    ("temperature", "760 ℃", 1033.15),
    ("temperature", "\N{MINUS SIGN}40 °F", 233.15),
    ("temperature", "-459.67 F", 0.0),
    ("temperature", "300 K", 300.0),
    ("temperature difference", "25 K", 25.0),
    ("temperature difference", "-5 K", -5.0),
    ("ramp", "12 C/min", 0.2),
    ("ramp", "100 K/h", 100 / 3600),
    ("ramp", "180 °F per hour", 100 / 3600),
    ("ramp", "9 F / min", 5 / 60),
    ("ramp", "-50 degC/hr", -50 / 3600),
    ("time", "2 h 30 min", 9000.0),
    ("time", "1:30 h", 5400.0),
    ("time", "1:30 min", 90.0),
    ("time", "1 d 2 h", 93_600.0),
    ("time", "1 h 90 s", 3690.0),
    ("vacuum", "27 inHg", 27 * 3386.389),
    ("vacuum", '27 "Hg', 27 * 3386.389),
    ("vacuum", "90 kPa", 90e3),
    ("pressure", "1013.25 mbar", 101_325.0),
    ("pressure", "760 mmHg", 760 * 133.3224),
    ("volume", "40 ml", 40e-6),
    ("volume", "40 cc", 40e-6),
    ("volume", "40 cm3", 40e-6),
    ("volume", "2.5 l", 2.5e-3),
    ("volume", "2 cu ft", 2 * FOOT**3),
    ("volume", "3 in³", 3 * INCH**3),
    ("ratio", "40:100", 0.4),
    ("ratio", "40 : 100", 0.4),
    ("ratio", "2/5", 0.4),
    ("ratio", "40 %", 0.4),
    ("ratio", "0,4", 0.4),
    ("angle", "30°", math.pi / 6),
    ("angle", "-0.5 rad", -0.5),
    ("rate", "6 per h", 6 / 3600),
    ("rate", "6 1/h", 6 / 3600),
    ("power", "3.5 kW", 3500.0),
]


@pytest.mark.parametrize(("quantity", "text", "want"), READS)
def test_text_reads_as_arithmetic_on_the_published_factor(
    quantity: Quantity, text: str, want: float
) -> None:
    """Published: NIST SP 811 (2008), appendix B.8; °C = (°F - 32)/1.8, same place.

    Tolerance: roundings of doubles.  Found: no miss over 5e-16.
    """
    assert read(text, quantity, default_unit=DEFAULT[quantity]) == pytest.approx(want, rel=ROUNDING)


@pytest.mark.parametrize("text", [12, 12.0, "12", " 12 ", "+12", "1.2e1", "12,0"])
def test_plain_number_is_in_the_unit_of_its_key(text: str | float) -> None:
    """By definition: ``diameter_mm = 12`` is 12 mm."""
    assert read(text, "length", default_unit="mm") == pytest.approx(0.012, rel=ROUNDING)


@pytest.mark.parametrize("text", ["-0 mm", "-0 ft 0 in", -0.0])
def test_nothing_has_no_sign(text: str | float) -> None:
    """By definition: a length of -0 mm would be shown with its sign."""
    assert math.copysign(1.0, read(text, "length", default_unit="mm")) == 1.0


REFUSED: list[tuple[Quantity, object, str]] = [
    ("temperature", "1400 F 20 C", "one number with one unit"),
    ("temperature", "1400 F 20 F", "one number with one unit"),
    ("temperature", "-300 C", "below absolute zero"),
    ("temperature", "-5 K", "below absolute zero"),
    ("temperature", "-459.68 F", "below absolute zero"),
    ("temperature", "1,400 F", "write 1400 or 1.400"),
    ("temperature", "25 K/h", "unit of ramp"),
    ("temperature difference", "25 C", "write 25 K"),
    ("temperature difference", "45 F", "write 25 K"),
    ("ramp", "100 C", "unit of temperature"),
    ("length", "3 in 2 ft", "larger unit first"),
    ("mass", "4 oz 7 lb", "larger unit first"),
    ("time", "30 min 2 h", "larger unit first"),
    ("length", "2 ft 3 in 4 in", "stands twice"),
    ("length", "2 ft 3 cm", "ft and in go together"),
    ("mass", "2 kg 3 oz", "kg and g go together"),
    ("mass", "7 lb 20 oz", "16 oz make 1 lb"),
    ("mass", "7 lb 16 oz", "16 oz make 1 lb"),
    ("mass", "2 ozt 20 dwt", "20 dwt make 1 ozt"),
    ("length", "2 ft 12 in", "12 in make 1 ft"),
    ("time", "2 h 60 min", "60 min make 1 h"),
    ("time", "1:30", "1 h 30 min"),
    ("time", "1:75 h", "1 h 30 min"),
    ("time", "1:30 s", "1 h 30 min"),
    ("length", "2 1/2 ft 3 in", "only the last number"),
    ("length", "2.5 ft 3 in", "only the last number"),
    ("length", "1 5/4 in", "less than 1"),
    ("length", "1 4/4 in", "less than 1"),
    ("length", "3/0 in", "divides by zero"),
    ("length", "1 3/0 in", "divides by zero"),
    ("ratio", "40:0", "divides by zero"),
    ("ratio", "40/0", "divides by zero"),
    ("length", "3/16", "say the unit"),
    ("length", "2 ft 3", "without its unit"),
    ("length", "1 500 mm", "without its unit"),
    ("length", "½5 in", "without its unit"),
    ("length", "5² mm", "did you mean mm"),
    ("length", "2 ft -3 in", "only in front"),
    ("length", "1,500 mm", "write 1500 or 1.500"),
    ("length", "1,500,000 mm", "with a point"),
    ("mass", "7 lb,4 oz", "with a point"),
    ("length", "nan mm", "in digits"),
    ("length", "inf", "in digits"),
    ("length", "1e999 mm", "too large"),
    ("length", "-3 mm", "cannot be negative"),
    ("mass", "-1 g", "cannot be negative"),
    ("time", "-1 h", "cannot be negative"),
    ("ratio", "-0.4", "cannot be negative"),
    ("vacuum", "-27 inHg", "without a sign"),
    ("length", "", "nothing is written"),
    ("length", " \N{NO-BREAK SPACE} ", "nothing is written"),
    ("length", "-", "number is missing"),
    ("length", "mm", "in digits"),
    ("length", "3 kg", "unit of mass"),
    ("mass", "3 mm", "unit of length"),
    ("volume", "3 oz", "unit of mass"),
    ("time", "30 m", "unit of length"),
    ("length", "3 inc", "did you mean in"),
    ("mass", "3 Mg", "did you mean"),
    ("length", "3 zork", "known here"),
    ("length", "3 mm" + " " * 80, "over 80 characters"),
    ("length", math.nan, "not a number"),
    ("length", math.inf, "too large"),
    ("length", 10**400, "too large"),
    ("length", -1.0, "cannot be negative"),
    ("length", True, "write a number"),
    ("length", None, "write a number"),
    ("length", [3.0], "write a number"),
]


@pytest.mark.parametrize(("quantity", "text", "hint"), REFUSED)
def test_refusal_names_the_quantity_and_what_to_change(
    quantity: Quantity, text: object, hint: str
) -> None:
    """By definition: a text with no reading, or with two, is not guessed at."""
    with pytest.raises(InputError) as caught:
        read(text, quantity, default_unit=DEFAULT[quantity])  # type: ignore[arg-type]

    assert caught.value.what == quantity
    assert caught.value.must == SUCH_AS[quantity]
    assert hint in caught.value.hint


def test_refused_text_is_shown_short() -> None:
    """By definition: an error of one line holds no whole file."""
    with pytest.raises(InputError) as caught:
        read("x" * 10_000, "length", default_unit="mm")

    assert len(str(caught.value)) < 250


@pytest.mark.parametrize(("quantity", "unit"), [("length", "kg"), ("temperature difference", "C")])
def test_default_unit_of_another_quantity_is_refused(quantity: Quantity, unit: str) -> None:
    """By definition: a key that ends in ``_kg`` holds no length."""
    with pytest.raises(InputError, match="default_unit"):
        read(1.0, quantity, default_unit=unit)


def test_unknown_quantity_is_refused() -> None:
    """By definition: there is no reading without knowing what is measured."""
    with pytest.raises(InputError, match="quantity"):
        read(1.0, "colour", default_unit="mm")  # type: ignore[arg-type]


@pytest.mark.parametrize("quantity", DEFAULT)
def test_units_of_one_quantity_share_one_si_unit(quantity: Quantity) -> None:
    """By definition: a length in any unit comes out in metres."""
    assert len({si.si_symbol(symbol) for symbol in symbols(quantity)}) == 1


@pytest.mark.parametrize("quantity", DEFAULT)
def test_every_spelling_reads_as_its_symbol(quantity: Quantity) -> None:
    """By definition: spellings of one unit mean one unit; "-" stands in no text."""
    for spelled, symbol in spellings(quantity).items():
        if symbol != "-":
            got = read(f"7 {spelled}", quantity, default_unit=DEFAULT[quantity])
            assert got == si.to_si(7.0, symbol), spelled


@pytest.mark.parametrize("chain", CHAINS)
def test_each_unit_of_a_chain_is_a_whole_number_of_the_next(chain: tuple[str, ...]) -> None:
    """From memory: 12 in, 16 oz, 20 dwt or 60 min make one of the larger unit."""
    for larger, smaller in itertools.pairwise(chain):
        count = si.to_si(1.0, larger) / si.to_si(1.0, smaller)
        assert count == pytest.approx(round(count), rel=ROUNDING)
