"""Trade units under made-up texts: valid ones come back exact, near misses are refused."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast.errors import InputError
from pourcast.trade_units import Quantity, read
from pourcast.trade_units.quantities import SUCH_AS, spellings, symbols

# Exact factors as whole fractions: bold in NIST SP 811 (2008), appendix B.8; an ounce is 1/16 lb.
EXACT: dict[Quantity, dict[str, Fraction]] = {
    "length": {
        "mm": Fraction(1, 1000),
        "cm": Fraction(1, 100),
        "in": Fraction(254, 10_000),
        '"': Fraction(254, 10_000),
        "ft": Fraction(3048, 10_000),
    },
    "mass": {
        "g": Fraction(1, 1000),
        "kg": Fraction(1),
        "lb": Fraction(45_359_237, 10**8),
        "oz": Fraction(45_359_237, 16 * 10**8),
    },
    "time": {"s": Fraction(1), "min": Fraction(60), "h": Fraction(3600)},
    "volume": {"ml": Fraction(1, 10**6), "l": Fraction(1, 1000)},
    "vacuum": {"kPa": Fraction(1000), "mbar": Fraction(100)},
    "ramp": {"K/h": Fraction(1, 3600), "°C/min": Fraction(1, 60), "F/h": Fraction(5, 9 * 3600)},
    "temperature difference": {"K": Fraction(1)},
}
DEFAULT = {quantity: symbols(quantity)[0] for quantity in SUCH_AS}
PRINTED = {"½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅝": (5, 8), "⅞": (7, 8)}

# (larger, smaller, how many make one, quantity)
STEPS: list[tuple[str, str, int, Quantity]] = [
    ("ft", "in", 12, "length"),
    ("'", '"', 12, "length"),
    ("lb", "oz", 16, "mass"),
    ("ozt", "dwt", 20, "mass"),
    ("kg", "g", 1000, "mass"),
    ("h", "min", 60, "time"),
    ("min", "s", 60, "time"),
    ("l", "ml", 1000, "volume"),
]
# A few roundings of a double, 1.1e-16 each.
ROUNDING = 1e-14

quick = settings(max_examples=150, deadline=None)
spaces = st.sampled_from(["", " ", "  ", "\N{NO-BREAK SPACE}"])
quantities = st.sampled_from(sorted(SUCH_AS))


@st.composite
def fractions(draw: st.DrawFn) -> tuple[str, Fraction]:
    """Draw a fraction below 1 as text and value."""
    if draw(st.booleans()):
        mark = draw(st.sampled_from(sorted(PRINTED)))
        return mark, Fraction(*PRINTED[mark])
    bottom = draw(st.integers(2, 64))
    top = draw(st.integers(1, bottom - 1))
    return f"{top}/{bottom}", Fraction(top, bottom)


@st.composite
def numbers(draw: st.DrawFn) -> tuple[str, Fraction]:
    """Draw a number that has one reading, as text and value."""
    whole = draw(st.integers(0, 9999))
    form = draw(st.sampled_from(["whole", "point", "comma", "fraction", "mixed"]))
    if form == "whole":
        return str(whole), Fraction(whole)
    if form in ("point", "comma"):
        places = draw(st.sampled_from([1, 2, 4]))  # three places after a comma are refused
        part = draw(st.integers(0, 10**places - 1))
        mark = "." if form == "point" else ","
        return f"{whole}{mark}{part:0{places}d}", whole + Fraction(part, 10**places)
    text, part_value = draw(fractions())
    if form == "fraction":
        return text, part_value
    joint = draw(st.sampled_from([" ", "-"]))
    return f"{whole}{joint}{text}", whole + part_value


@st.composite
def singles(draw: st.DrawFn) -> tuple[str, Quantity, Fraction]:
    """Draw one number with one unit: text, quantity, exact SI value."""
    quantity = draw(st.sampled_from(sorted(EXACT)))
    unit = draw(st.sampled_from(sorted(EXACT[quantity])))
    text, value = draw(numbers())
    sign = draw(st.sampled_from(["", "+"]))
    return f"{sign}{text}{draw(spaces)}{unit}", quantity, value * EXACT[quantity][unit]


@st.composite
def counts(draw: st.DrawFn) -> tuple[str, str, int, int, str, str, Quantity]:
    """Draw a fitting pair of larger and smaller units with their counts."""
    larger, smaller, makes_one, quantity = draw(st.sampled_from(STEPS))
    many, few = draw(st.integers(0, 999)), draw(st.integers(0, makes_one - 1))
    return f"{many} {larger}", f"{few} {smaller}", many, few, larger, smaller, quantity


def refused(text: str, quantity: Quantity) -> bool:
    """Return whether ``text`` is refused; any other error goes through."""
    try:
        read(text, quantity, default_unit=DEFAULT[quantity])
    except InputError:
        return True
    return False


@quick
@given(singles())
def test_valid_text_reads_to_its_exact_value(case: tuple[str, Quantity, Fraction]) -> None:
    """Published: exact factors of NIST SP 811 (2008), B.8, in whole fractions.

    Tolerance: roundings of doubles.
    """
    text, quantity, want = case

    got = read(text, quantity, default_unit=DEFAULT[quantity])

    assert got == pytest.approx(float(want), rel=ROUNDING)


@quick
@given(st.integers(-459, 5000), spaces)
def test_fahrenheit_reads_by_its_definition(degrees: int, gap: str) -> None:
    """Published: °C = (°F - 32)/1.8, NIST SP 811 (2008), B.8.  Tolerance: rounding near 0 K."""
    want = float((Fraction(degrees) - 32) * Fraction(5, 9) + Fraction(27_315, 100))

    got = read(f"{degrees}{gap}°F", "temperature", default_unit="C")

    assert got == pytest.approx(want, rel=ROUNDING, abs=1e-12)


@quick
@given(counts(), spaces)
def test_compound_is_the_sum_of_its_terms(
    case: tuple[str, str, int, int, str, str, Quantity], gap: str
) -> None:
    """By definition: 7 lb 4 oz is 7 lb and 4 oz.  Tolerance: roundings of doubles."""
    first, second, many, few, larger, smaller, quantity = case
    unit = DEFAULT[quantity]
    want = many * read(f"1 {larger}", quantity, default_unit=unit)
    want += few * read(f"1 {smaller}", quantity, default_unit=unit)

    assert read(first + gap + second, quantity, default_unit=unit) == pytest.approx(
        want, rel=ROUNDING
    )


@quick
@given(counts(), st.data())
def test_near_misses_of_a_compound_are_refused(
    case: tuple[str, str, int, int, str, str, Quantity], data: st.DataObject
) -> None:
    """By definition: units fall, none stands twice, no count reaches the next unit."""
    first, second, many, few, larger, smaller, quantity = case
    makes_one = next(step[2] for step in STEPS if step[:2] == (larger, smaller))
    over = data.draw(st.integers(makes_one, 10 * makes_one))
    stranger = {"length": "cm", "mass": "mg", "time": "K", "volume": "in3"}[quantity]
    near_misses = (
        f"{second} {first}",
        f"{first} {first}",
        f"{first} {second} {second}",
        f"{first} {over} {smaller}",
        f"{first} {few} {stranger}",
        f"{many}.5 {larger} {second}",
        f"{many} 1/2 {larger} {second}",
        f"{first} -{second}",
        f"-1 {larger} {second}",
        f"{first} {few}",
    )

    accepted = [text for text in near_misses if not refused(text, quantity)]

    assert accepted == []


@quick
@given(st.integers(1, 999), st.integers(0, 999), st.sampled_from(sorted(EXACT)))
def test_near_misses_of_a_number_are_refused(whole: int, part: int, quantity: Quantity) -> None:
    """By definition: no division by zero, no improper mixed number, no comma with two readings."""
    unit = DEFAULT[quantity]
    near_misses = (
        f"{part}/0 {unit}",
        f"{whole} {part}/0 {unit}",
        f"{whole} {part + whole}/{whole} {unit}",
        f"{whole},{part:03d} {unit}",
        f"{whole} {part:03d} {unit}",
        f"{whole}/{whole}/{whole} {unit}",
        f"{whole}.{part}.{part} {unit}",
        f"{whole}e999 {unit}",
        f"{whole}/{whole}",
        f"½{whole} {unit}",
        f"{whole}² {unit}",
    )

    accepted = [text for text in near_misses if not refused(text, quantity)]

    assert accepted == []


@quick
@given(st.integers(0, 3000), st.sampled_from("CFK"), st.integers(0, 3000), st.sampled_from("CFK"))
def test_two_temperatures_in_a_row_are_refused(
    first: int, one: str, second: int, other: str
) -> None:
    """By definition: two temperatures have no sum."""
    assert refused(f"{first} {one} {second} {other}", "temperature")


@quick
@given(quantities, st.integers(0, 100), st.sampled_from(sorted(SUCH_AS)))
def test_unit_of_another_quantity_is_refused(
    quantity: Quantity, count: int, other: Quantity
) -> None:
    """By definition: a mass is no length."""
    foreign = set(spellings(other)) - set(spellings(quantity)) - {"-"}

    accepted = [unit for unit in sorted(foreign) if not refused(f"{count} {unit}", quantity)]

    assert accepted == []


@settings(max_examples=300, deadline=None)
@given(
    st.one_of(
        st.text(max_size=90),
        st.text(alphabet="0123456789 .,-+/:'\"½⅛−eE%°CFKhminftlbozgkPaHgd3³", max_size=20),
        st.from_regex(r"-?[0-9]{1,3}([ -][0-9]/[0-9])? ?(ft|in|lb|oz|h|min|C|F|'|%|:)[0-9 a-z]*"),
    ),
    quantities,
)
def test_any_text_gives_a_finite_number_or_an_input_error(text: str, quantity: Quantity) -> None:
    """By definition: no text of a caster ends in another error, a nan or an infinity."""
    try:
        got = read(text, quantity, default_unit=DEFAULT[quantity])
    except InputError:
        return

    assert math.isfinite(got)


@quick
@given(singles(), st.data())
def test_slip_of_one_character_gives_a_number_or_an_input_error(
    case: tuple[str, Quantity, Fraction], data: st.DataObject
) -> None:
    """By definition: a slip of the finger is refused or read, never an error of another kind."""
    text, quantity, _ = case
    place = data.draw(st.integers(0, len(text)))
    slip = data.draw(st.sampled_from(list("0/,.-:'\"³½e %")))

    try:
        got = read(text[:place] + slip + text[place:], quantity, default_unit=DEFAULT[quantity])
    except InputError:
        return

    assert math.isfinite(got)
