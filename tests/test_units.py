"""Units: factors against published tables, and there and back for each symbol."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pourcast import units as si
from pourcast.errors import InputError

SYMBOLS = sorted(si._TABLE)

# Published factors to SI.  Exact: international yard and pound of 1959 and what
# follows from them; the others as printed in NIST SP 811 (2008), appendix B.8.
PUBLISHED = [
    ("in", 0.0254, 1e-15),
    ("ft", 0.3048, 1e-15),
    ("in3", 1.638_706e-5, 5e-7),
    ("ft3", 2.831_685e-2, 5e-7),
    ("lb", 0.453_592_37, 1e-15),
    ("oz", 2.834_952e-2, 5e-7),
    ("ozt", 3.110_348e-2, 5e-7),
    ("dwt", 1.555_174e-3, 5e-7),
    ("inHg", 3386.389, 1e-15),
    ("mmHg", 133.3224, 1e-15),
    ("psi", 6894.757, 1e-15),
    ("bar", 1e5, 1e-15),
    ("d", 86_400.0, 1e-15),
]


@pytest.mark.parametrize(("unit", "factor", "tolerance"), PUBLISHED)
def test_factor_agrees_with_the_published_table(unit: str, factor: float, tolerance: float) -> None:
    """Published: NIST SP 811 (2008), appendix B.8.

    Tolerance: half of the last of seven printed figures (5e-7 at worst), or
    rounding where the factor is exact or is copied.
    """
    assert si.to_si(1.0, unit) == pytest.approx(factor, rel=tolerance)


@pytest.mark.parametrize(
    ("ours", "name", "tolerance"),
    [
        (si.GRAVITY, "g", 0.0),
        (si.ZERO_CELSIUS, "zero_Celsius", 0.0),
        (si.STANDARD_ATMOSPHERE, "atm", 0.0),
        (si.GAS_CONSTANT, "R", 1e-10),
        (si.STEFAN_BOLTZMANN, "Stefan_Boltzmann", 1e-10),
        (si.to_si(1.0, "in"), "inch", 1e-15),
        (si.to_si(1.0, "ft"), "foot", 1e-15),
        (si.to_si(1.0, "lb"), "pound", 1e-15),
        (si.to_si(1.0, "oz"), "oz", 1e-15),
        (si.to_si(1.0, "ozt"), "troy_ounce", 1e-15),
        (si.to_si(1.0, "dwt"), "grain", 1e-15),
        (si.to_si(1.0, "deg"), "degree", 1e-15),
        (si.to_si(1.0, "psi"), "psi", 1e-7),
        (si.to_si(1.0, "mmHg"), "mmHg", 3e-7),
        (si.to_si(1.0, "inHg"), "mmHg", 3e-7),
    ],
)
def test_constant_agrees_with_scipy(ours: float, name: str, tolerance: float) -> None:
    """Published: `scipy.constants`, from CODATA and NIST SP 811.

    Tolerance: rounding, or the figures that we carry.  Found: gas constant
    2e-11, Stefan-Boltzmann 3e-11 (both cut at ten figures), psi 4e-8 (seven
    figures), mmHg and inHg 2e-7 (scipy holds the torr, 1/760 atm).
    """
    constants = pytest.importorskip("scipy.constants")
    makes = {"grain": 24.0, "mmHg": 25.4 if ours > 1000 else 1.0}.get(name, 1.0)

    assert ours == pytest.approx(makes * getattr(constants, name), rel=tolerance, abs=0.0)


def test_gas_constant_agrees_with_fluids() -> None:
    """Published: `fluids.constants.R`, CODATA 2018.  Tolerance: we carry ten figures."""
    constants = pytest.importorskip("fluids.constants")

    assert pytest.approx(constants.R, rel=1e-10) == si.GAS_CONSTANT


@pytest.mark.parametrize(
    ("value", "unit", "kelvin"),
    [
        (32.0, "F", 273.15),
        (212.0, "F", 373.15),
        (-459.67, "F", 0.0),
        (-40.0, "F", 233.15),
        (-40.0, "C", 233.15),
        (0.0, "degC", 273.15),
    ],
)
def test_temperature_scale_agrees_with_its_fixed_points(
    value: float, unit: str, kelvin: float
) -> None:
    """Published: °F = 1.8 °C + 32, K = °C + 273.15, NIST SP 811 (2008), B.8.

    Tolerance: 1e-12 K, roundings of numbers of some hundreds.
    """
    assert si.to_si(value, unit) == pytest.approx(kelvin, abs=1e-12)


@pytest.mark.parametrize(
    ("ramp", "in_kelvin"),
    [
        ("C/min", ("K/min", 1.0)),
        ("C/h", ("K/h", 1.0)),
        ("F/min", ("K/min", 5 / 9)),
        ("F/h", ("K/h", 5 / 9)),
    ],
)
def test_ramp_has_no_offset(ramp: str, in_kelvin: tuple[str, float]) -> None:
    """Published: a step of 1 °C is 1 K, a step of 1 °F is 5/9 K, NIST SP 811 (2008), B.8."""
    unit, factor = in_kelvin

    assert si.to_si(180.0, ramp) == pytest.approx(si.to_si(180.0 * factor, unit), rel=1e-15)
    assert si.to_si(0.0, ramp) == 0.0


@pytest.mark.parametrize("symbol", SYMBOLS)
@settings(max_examples=20, deadline=None)
@given(value=st.floats(-1e6, 1e6))
def test_each_symbol_goes_to_si_and_back(symbol: str, value: float) -> None:
    """By definition: `from_si` undoes `to_si`.

    Tolerance: roundings of the value, or of the zero point where there is one
    (460 at most, so 1e-12).
    """
    assert si.from_si(si.to_si(value, symbol), symbol) == pytest.approx(value, rel=1e-14, abs=1e-12)


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_factor_of_each_symbol_is_finite_and_positive(symbol: str) -> None:
    """By definition: a larger number of a unit is more of it."""
    assert 0.0 < si.to_si(2.0, symbol) - si.to_si(1.0, symbol) < math.inf


@pytest.mark.parametrize(
    ("written", "symbol"),
    [
        ("% of dry mass", "%"),
        ("vol %", "%"),
        ("kg/kg fresh", "-"),
        ("J/kg wax", "J/kg"),
        ("% per 100 K", "% per 100 K"),
        ("Pa below the air", "Pa"),
        ("K/min at most", "K/min"),
    ],
)
def test_unit_with_what_it_counts_reads_as_the_unit(written: str, symbol: str) -> None:
    """By definition: what is counted changes no factor."""
    assert si.to_si(3.0, written) == si.to_si(3.0, symbol)
    assert si.si_symbol(written) == si.si_symbol(symbol)


@pytest.mark.parametrize("unit", ["", "zork", "MM", "C difference"])
def test_unknown_unit_is_refused(unit: str) -> None:
    """By definition: no factor is guessed."""
    for convert in (si.to_si, si.from_si):
        with pytest.raises(InputError, match="unit"):
            convert(1.0, unit)
    with pytest.raises(InputError, match="unit"):
        si.si_symbol(unit)
