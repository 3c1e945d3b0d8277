"""How numbers are written."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.forecast.model import Outcomes
from pourcast.page.figures import (
    clean,
    counts,
    degrees,
    grams,
    hundred,
    in_100,
    millimetres,
    number,
    with_unit,
)
from tests.strategies import outcomes


@given(outcomes())
def test_hundred_pours_are_a_hundred(drawn: Outcomes) -> None:
    """Arithmetic: the method of largest remainders gives away every unit.

    Hamilton's method of apportionment (1792), from memory: each count is the
    exact one rounded down or up, so it is off by less than 1.
    """
    made = counts(hundred(drawn))

    shares = (drawn.whole, drawn.short_tips, drawn.short_parts, drawn.lost)
    total = math.fsum(shares)
    assert sum(made) == 100
    assert all(
        abs(count - 100 * share / total) < 1 + 1e-9
        for count, share in zip(made, shares, strict=True)
    )


@given(outcomes())
def test_counts_that_are_drawn_and_written_are_one(drawn: Outcomes) -> None:
    """House rule: one figure on every page; it was 62 drawn and 63 written of 250 in 400."""
    total = math.fsum((drawn.whole, drawn.short_tips, drawn.short_parts, drawn.lost))
    written = in_100(drawn.whole / total)

    said = {"under 1": "0", "over 99": "100"}.get(written, written)
    assert hundred(drawn).whole == int(said)


@pytest.mark.parametrize("draws", [200, 400, 1000])
def test_a_half_goes_up_for_any_number_of_draws(draws: int) -> None:
    """Arithmetic in whole numbers: (200 k + n) // 2n is 100 k/n to the nearest, halves up."""
    for whole in range(draws // 100, draws - draws // 100):
        rest = (draws - whole) / draws
        drawn = Outcomes(whole=whole / draws, short_tips=rest, short_parts=0.0, lost=0.0)

        want = (200 * whole + draws) // (2 * draws)

        assert in_100(whole / draws) == str(want)
        assert counts(hundred(drawn)) == (want, 100 - want, 0, 0)


def test_equal_remainders_go_to_the_worse_outcome() -> None:
    """Arithmetic: thirds leave one pour over; ours goes to the worse, a choice of honesty."""
    made = hundred(Outcomes(whole=1 / 3, short_tips=1 / 3, short_parts=1 / 3, lost=0.0))

    assert counts(made) == (33, 33, 34, 0)


@pytest.mark.parametrize(
    ("share", "written"),
    [(0.0, "0"), (0.004, "under 1"), (0.005, "1"), (0.615, "62"), (0.9949, "99"), (1.0, "100")],
)
def test_chance_is_written_as_a_count(share: float, written: str) -> None:
    """Arithmetic: rounded to the nearest whole count in 100, halves up."""
    assert in_100(share) == written


@given(st.floats(0.0, 1.0, exclude_min=True, exclude_max=True))
def test_chance_between_never_reads_as_never_or_always(share: float) -> None:
    """House rule: a chance with a spread, never a bare yes."""
    assert in_100(share) not in ("0", "100")


@given(st.floats(1e-30, 1e30), st.integers(2, 6))
def test_written_number_is_the_number(value: float, digits: int) -> None:
    """Arithmetic: rounding to n figures errs by at most half of the last figure.

    Tolerance 0.51 of that figure, for the binary form of the number.
    """
    written = number(value, digits)

    mantissa, _, power = written.replace("\u00a0", "").partition("×10")
    power = power.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")) or "0"
    read = float(mantissa) * 10.0 ** int(power)
    last = 10.0 ** (math.floor(math.log10(value)) - digits + 1)
    assert abs(read - value) <= 0.51 * max(last, 10.0 ** int(power) * 1e-12)
    assert "e" not in written


def test_units_stand_behind_a_space_that_does_not_break() -> None:
    """Usage: the SI brochure (BIPM 2019, 5.4.3) puts a space before a unit, none before °."""
    assert millimetres(0.00035) == "0.35\u00a0mm"
    assert degrees(1423.15) == "1150\u00a0°C"
    assert degrees(263.15) == "−10\u00a0°C"
    assert grams(0.6081) == "608\u00a0g"
    assert grams(0.0904) == "90.4\u00a0g"
    assert with_unit(12.0, "deg") == "12°"
    assert with_unit(1200.0, "W/m2/K") == "1200\u00a0W/(m²·K)"


@given(st.text())
def test_cleaned_text_cannot_steer_what_stands_beside_it(text: str) -> None:
    """Unicode: control signs (Cc) and the bidirectional marks of annex 9 are gone."""
    made = clean(text)

    assert not any(ord(sign) < 32 or 0x7F <= ord(sign) < 0xA0 for sign in made)
    assert not set(made) & set("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
    assert clean(made) == made
