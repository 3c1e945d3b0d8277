"""Units: the names of units, the physical constants, the only conversions.

Inside pourcast every number is in SI base units.  A type of this file says
which: ``Metre`` is one number in metres, ``Metres`` an array of them.  Trade
units come in through `pourcast.trade_units` and values with a written unit
through `to_si`; they go out through `from_si`.  No other file holds a factor.
"""

import math
from dataclasses import dataclass
from typing import Annotated, TypeAlias

import numpy as np
from numpy.typing import NDArray

from pourcast.errors import InputError


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit of an annotated number, as a docstring writes it in brackets."""

    symbol: str


Floats: TypeAlias = NDArray[np.float64]
Integers: TypeAlias = NDArray[np.int64]
Places: TypeAlias = NDArray[np.uint32]
Booleans: TypeAlias = NDArray[np.bool_]

Metre: TypeAlias = Annotated[float, Unit("m")]
Metres: TypeAlias = Annotated[Floats, Unit("m")]
SquareMetre: TypeAlias = Annotated[float, Unit("m²")]
SquareMetres: TypeAlias = Annotated[Floats, Unit("m²")]
CubicMetre: TypeAlias = Annotated[float, Unit("m³")]
CubicMetres: TypeAlias = Annotated[Floats, Unit("m³")]
CubicMetrePerSecond: TypeAlias = Annotated[float, Unit("m³/s")]
CubicMetresPerSecond: TypeAlias = Annotated[Floats, Unit("m³/s")]
Second: TypeAlias = Annotated[float, Unit("s")]
Seconds: TypeAlias = Annotated[Floats, Unit("s")]
MetrePerSecond: TypeAlias = Annotated[float, Unit("m/s")]
MetresPerSecond: TypeAlias = Annotated[Floats, Unit("m/s")]
Kilogram: TypeAlias = Annotated[float, Unit("kg")]
Kilograms: TypeAlias = Annotated[Floats, Unit("kg")]
KilogramPerSecond: TypeAlias = Annotated[float, Unit("kg/s")]
KilogramPerCubicMetre: TypeAlias = Annotated[float, Unit("kg/m³")]
KilogramsPerCubicMetre: TypeAlias = Annotated[Floats, Unit("kg/m³")]
Kelvin: TypeAlias = Annotated[float, Unit("K")]
Kelvins: TypeAlias = Annotated[Floats, Unit("K")]
Pascal: TypeAlias = Annotated[float, Unit("Pa")]
Pascals: TypeAlias = Annotated[Floats, Unit("Pa")]
PascalSecond: TypeAlias = Annotated[float, Unit("Pa·s")]
PascalSeconds: TypeAlias = Annotated[Floats, Unit("Pa·s")]
WattPerKilogram: TypeAlias = Annotated[float, Unit("W/kg")]
WattPerKilogramKelvin: TypeAlias = Annotated[float, Unit("W/(kg·K)")]
NewtonPerMetre: TypeAlias = Annotated[float, Unit("N/m")]
NewtonsPerMetre: TypeAlias = Annotated[Floats, Unit("N/m")]
JoulePerKilogram: TypeAlias = Annotated[float, Unit("J/kg")]
JoulesPerKilogram: TypeAlias = Annotated[Floats, Unit("J/kg")]
JoulePerKilogramKelvin: TypeAlias = Annotated[float, Unit("J/(kg·K)")]
JoulesPerKilogramKelvin: TypeAlias = Annotated[Floats, Unit("J/(kg·K)")]
KilogramKelvinsPerJoule: TypeAlias = Annotated[Floats, Unit("kg·K/J")]
KilogramKelvinPerJoule: TypeAlias = Annotated[float, Unit("kg·K/J")]
WattPerMetreKelvin: TypeAlias = Annotated[float, Unit("W/(m·K)")]
WattsPerMetreKelvin: TypeAlias = Annotated[Floats, Unit("W/(m·K)")]
WattPerSquareMetreKelvin: TypeAlias = Annotated[float, Unit("W/(m²·K)")]
WattsPerSquareMetreKelvin: TypeAlias = Annotated[Floats, Unit("W/(m²·K)")]
WattsPerSquareMetre: TypeAlias = Annotated[Floats, Unit("W/m²")]
SquareMetrePerSecond: TypeAlias = Annotated[float, Unit("m²/s")]
SquareMetresPerSecond: TypeAlias = Annotated[Floats, Unit("m²/s")]
KelvinPerSecond: TypeAlias = Annotated[float, Unit("K/s")]
PerSecond: TypeAlias = Annotated[float, Unit("1/s")]
PerSeconds: TypeAlias = Annotated[Floats, Unit("1/s")]
PerKelvin: TypeAlias = Annotated[float, Unit("1/K")]
PerKelvins: TypeAlias = Annotated[Floats, Unit("1/K")]
Joule: TypeAlias = Annotated[float, Unit("J")]
Joules: TypeAlias = Annotated[Floats, Unit("J")]
JoulePerMole: TypeAlias = Annotated[float, Unit("J/mol")]
JoulesPerMole: TypeAlias = Annotated[Floats, Unit("J/mol")]
Mole: TypeAlias = Annotated[float, Unit("mol")]
MolePerSecond: TypeAlias = Annotated[float, Unit("mol/s")]
MolePerCubicMetre: TypeAlias = Annotated[float, Unit("mol/m³")]
Moles: TypeAlias = Annotated[Floats, Unit("mol")]
Newton: TypeAlias = Annotated[float, Unit("N")]
Newtons: TypeAlias = Annotated[Floats, Unit("N")]
Watt: TypeAlias = Annotated[float, Unit("W")]
Watts: TypeAlias = Annotated[Floats, Unit("W")]
JoulePerCubicMetreKelvin: TypeAlias = Annotated[float, Unit("J/(m³·K)")]
JoulesPerKelvin: TypeAlias = Annotated[Floats, Unit("J/K")]
KelvinsPerWatt: TypeAlias = Annotated[Floats, Unit("K/W")]
WattsPerKelvin: TypeAlias = Annotated[Floats, Unit("W/K")]
WattPerKelvin: TypeAlias = Annotated[float, Unit("W/K")]
Radian: TypeAlias = Annotated[float, Unit("rad")]
Radians: TypeAlias = Annotated[Floats, Unit("rad")]
KelvinsPerSecond: TypeAlias = Annotated[Floats, Unit("K/s")]
Ratio: TypeAlias = Annotated[float, Unit("-")]
Ratios: TypeAlias = Annotated[Floats, Unit("-")]
PerMetre: TypeAlias = Annotated[float, Unit("1/m")]
SquareMetreKelvinPerWatt: TypeAlias = Annotated[float, Unit("m²·K/W")]
SquareMetresKelvinPerWatt: TypeAlias = Annotated[Floats, Unit("m²·K/W")]
PascalSecondPerMetreFour: TypeAlias = Annotated[float, Unit("Pa·s/m⁴")]
PascalSecondPerCubicMetre: TypeAlias = Annotated[float, Unit("Pa·s/m³")]
PascalSquareSecondPerMetreSix: TypeAlias = Annotated[float, Unit("Pa·s²/m⁶")]
CubicMetrePerPascalSecond: TypeAlias = Annotated[float, Unit("m³/(Pa·s)")]
Table: TypeAlias = Annotated[Floats, Unit("by column")]
"""Rows of mixed units; the file that names the columns states the unit of each."""

GRAVITY = 9.80665  # m/s², standard value, 3rd CGPM 1901
ZERO_CELSIUS = 273.15  # K, by definition of the Celsius scale
STANDARD_ATMOSPHERE = 101_325.0  # Pa, 10th CGPM 1954
GAS_CONSTANT = 8.314_462_618  # J/(mol·K), CODATA 2018, exact
CARBON_MOLAR = 12.011e-3  # kg/mol, IUPAC standard atomic weight
STEFAN_BOLTZMANN = 5.670_374_419e-8  # W/(m²·K⁴), CODATA 2018

_INCH = 0.0254  # m, international inch of 1959, exact
_POUND = 0.453_592_37  # kg, international avoirdupois pound of 1959, exact

# symbol: (factor, offset, SI symbol); SI value = factor * (value + offset)
_TABLE: dict[str, tuple[float, float, str]] = {
    "m": (1.0, 0.0, "m"),
    "mm": (1e-3, 0.0, "m"),
    "cm": (1e-2, 0.0, "m"),
    "um": (1e-6, 0.0, "m"),
    "in": (_INCH, 0.0, "m"),
    "ft": (12 * _INCH, 0.0, "m"),
    "m2": (1.0, 0.0, "m²"),
    "cm2": (1e-4, 0.0, "m²"),
    "m3": (1.0, 0.0, "m³"),
    "cm3": (1e-6, 0.0, "m³"),
    "in3": (_INCH**3, 0.0, "m³"),
    "ft3": ((12 * _INCH) ** 3, 0.0, "m³"),
    "ml": (1e-6, 0.0, "m³"),
    "l": (1e-3, 0.0, "m³"),
    "ml/s": (1e-6, 0.0, "m³/s"),
    "kg": (1.0, 0.0, "kg"),
    "g": (1e-3, 0.0, "kg"),
    "mg": (1e-6, 0.0, "kg"),
    "lb": (_POUND, 0.0, "kg"),
    "oz": (_POUND / 16, 0.0, "kg"),
    "dwt": (24 * _POUND / 7000, 0.0, "kg"),  # 24 grains; 7 000 grains are one pound
    "ozt": (480 * _POUND / 7000, 0.0, "kg"),  # 480 grains
    "s": (1.0, 0.0, "s"),
    "min": (60.0, 0.0, "s"),
    "h": (3600.0, 0.0, "s"),
    "d": (86_400.0, 0.0, "s"),
    "1/h": (1 / 3600, 0.0, "1/s"),
    "1/s": (1.0, 0.0, "1/s"),
    "1/K": (1.0, 0.0, "1/K"),
    "degC": (1.0, ZERO_CELSIUS, "K"),
    "C": (1.0, ZERO_CELSIUS, "K"),
    "F": (5 / 9, 459.67, "K"),
    "K": (1.0, 0.0, "K"),
    "K/min": (1 / 60, 0.0, "K/s"),
    "K/h": (1 / 3600, 0.0, "K/s"),
    "K/s": (1.0, 0.0, "K/s"),
    "C/min": (1 / 60, 0.0, "K/s"),  # a step of 1 °C is a step of 1 K
    "C/h": (1 / 3600, 0.0, "K/s"),
    "F/min": (5 / 9 / 60, 0.0, "K/s"),  # a step of 1 °F is a step of 5/9 K
    "F/h": (5 / 9 / 3600, 0.0, "K/s"),
    "Pa": (1.0, 0.0, "Pa"),
    "kPa": (1e3, 0.0, "Pa"),
    "MPa": (1e6, 0.0, "Pa"),
    "GPa": (1e9, 0.0, "Pa"),
    "mbar": (1e2, 0.0, "Pa"),
    "bar": (1e5, 0.0, "Pa"),
    "inHg": (3386.389, 0.0, "Pa"),  # conventional inch of mercury, 0 °C, NIST SP 811 table B.8
    "mmHg": (133.322_4, 0.0, "Pa"),  # conventional millimetre of mercury, NIST SP 811 table B.8
    "psi": (6894.757, 0.0, "Pa"),  # NIST SP 811 table B.8
    "Pa s": (1.0, 0.0, "Pa·s"),
    "mPa s": (1e-3, 0.0, "Pa·s"),
    "N": (1.0, 0.0, "N"),
    "N/m": (1.0, 0.0, "N/m"),
    "N/m/K": (1.0, 0.0, "N/(m·K)"),
    "deg": (math.pi / 180, 0.0, "rad"),
    "rad": (1.0, 0.0, "rad"),
    "kg/m3": (1.0, 0.0, "kg/m³"),
    "kg/m3/K": (1.0, 0.0, "kg/(m³·K)"),
    "kg/l": (1e3, 0.0, "kg/m³"),
    "mg/m3": (1e-6, 0.0, "kg/m³"),
    "kg/m2": (1.0, 0.0, "kg/m²"),
    "J/kg": (1.0, 0.0, "J/kg"),
    "J/kg/K": (1.0, 0.0, "J/(kg·K)"),
    "J/mol": (1.0, 0.0, "J/mol"),
    "W/m/K": (1.0, 0.0, "W/(m·K)"),
    "W/m2/K": (1.0, 0.0, "W/(m²·K)"),
    "kW/m2": (1e3, 0.0, "W/m²"),
    "kW": (1e3, 0.0, "W"),
    "W": (1.0, 0.0, "W"),
    "m2/s": (1.0, 0.0, "m²/s"),
    "W s^0.5/m2/K": (1.0, 0.0, "W·s^½/(m²·K)"),
    "-": (1.0, 0.0, "-"),
    "x": (1.0, 0.0, "-"),
    "%": (1e-2, 0.0, "-"),
    "ppm": (1e-6, 0.0, "-"),
    "% per 100 K": (1e-4, 0.0, "1/K"),
}


def to_si(value: float, unit: str) -> float:
    """Return ``value`` of a written unit in SI.

    Parameters
    ----------
    value : float
    unit : str
        Symbol, or symbol and what it counts: "mm", "% of dry mass", "kg/kg fresh".

    Returns
    -------
    float

    Raises
    ------
    InputError
        If the unit is not known.

    Examples
    --------
    >>> to_si(250.0, "mm")
    0.25
    """
    factor, offset, _ = _look_up(unit)
    return factor * (value + offset)


def from_si(value: float, unit: str) -> float:
    """Return an SI ``value`` in a written unit; the inverse of `to_si`.

    Raises
    ------
    InputError
        If the unit is not known.

    Examples
    --------
    >>> round(from_si(873.15, "degC"), 6)
    600.0
    """
    factor, offset, _ = _look_up(unit)
    return value / factor - offset


def si_symbol(unit: str) -> str:
    """Return the SI symbol that `to_si` turns ``unit`` into."""
    return _look_up(unit)[2]


# First words of units that count something: "kg/kg fresh", "vol %", "ppm ceiling".
_COUNTED: tuple[tuple[str, str], ...] = (
    ("% per 100 K", "% per 100 K"),
    ("% of", "%"),
    ("vol %", "%"),
    ("mass %", "%"),
    ("linear %", "%"),
    ("kg/kg", "-"),
    ("kg O2/kg", "-"),
    ("x ", "x"),
    ("J/kg ", "J/kg"),
    ("kg/m3 of", "kg/m3"),
    ("Pa below", "Pa"),
    ("mm per", "mm"),
    ("h at", "h"),
    ("K/min at", "K/min"),
    ("psi (", "psi"),
)


def _look_up(unit: str) -> tuple[float, float, str]:
    if unit in _TABLE:
        return _TABLE[unit]
    for start, symbol in _COUNTED:
        if unit.startswith(start):
            return _TABLE[symbol]
    raise InputError("unit", unit, "", "one that pourcast knows", "See pourcast/units.py.")
