"""Trade units: an SI value as text, and the way back."""

import math

import pytest

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.trade_units import Quantity, read, show
from pourcast.trade_units.quantities import SUCH_AS, symbols


@pytest.mark.parametrize(
    ("value", "unit", "want"),
    [
        (0.00025, "mm", "0.25 mm"),
        (873.15, "C", "600 °C"),
        (27 * 3386.389, "inHg", "27.0 inHg"),
        (1.234, "g", "1234 g"),
        (9.9996e-3, "mm", "10.0 mm"),
        (0.99996e-3, "mm", "1.00 mm"),
        (12.3e-6, "mm", "0.012 mm"),
        (0.0, "mm", "0 mm"),
        (si.to_si(32.0, "F"), "C", "0 °C"),
        (233.15, "F", "-40.0 °F"),
        (math.pi / 6, "deg", "30.0°"),
        (0.4, "%", "40.0 %"),
        (0.4, "-", "0.40"),
        (100 / 3600, "C/h", "100 °C/h"),
        (6 / 3600, "1/h", "6.00 per h"),
        (250e-6, "um", "250 µm"),
    ],
)
def test_shown_value_has_three_figures_and_its_unit(value: float, unit: str, want: str) -> None:
    """By definition of `show`; -40 °F is -40 °C (from memory)."""
    assert show(value, unit) == want


@pytest.mark.parametrize("quantity", SUCH_AS)
def test_shown_value_reads_back(quantity: Quantity) -> None:
    """By definition; tolerance: 6 figures are shown, so half of 1e-5 is lost at most."""
    for symbol in symbols(quantity):
        value = si.to_si(123.456, symbol)
        again = read(show(value, symbol, digits=6), quantity, default_unit=symbol)
        assert again == pytest.approx(value, rel=5e-6), symbol


@pytest.mark.parametrize(
    ("value", "unit", "digits"),
    [(math.nan, "mm", 3), (math.inf, "mm", 3), (1.0, "zork", 3), (1.0, "mm", 0)],
)
def test_show_refuses(value: float, unit: str, digits: int) -> None:
    """By definition: no figure is made up for a value that is none."""
    with pytest.raises(InputError):
        show(value, unit, digits)
