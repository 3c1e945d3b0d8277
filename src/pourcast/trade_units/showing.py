"""Show: how an SI value reads in the unit of the trade."""

import math

from pourcast import units as si
from pourcast.errors import InputError, require_finite

_PRINTED = {
    "C": " °C",
    "degC": " °C",
    "F": " °F",
    "C/min": " °C/min",
    "C/h": " °C/h",
    "F/min": " °F/min",
    "F/h": " °F/h",
    "um": " µm",
    "m2": " m²",
    "cm2": " cm²",
    "m3": " m³",
    "cm3": " cm³",
    "in3": " in³",
    "ft3": " ft³",
    "kg/m3": " kg/m³",
    "1/h": " per h",
    "deg": "°",
    "-": "",
}

# Past this stand only the roundings of a conversion: 32 °F is 6e-14 °C.
_MOST_PLACES = 9


def show(si_value: float, unit: str, digits: int = 3) -> str:
    """Return an SI value as text in a trade unit.

    Parameters
    ----------
    si_value : float
        In the SI unit that ``unit`` belongs to.  A temperature difference is
        shown in "K": in "C" it would be taken for a temperature.
    unit : str
        Symbol of `pourcast.units`.
    digits : int
        Figures to show, the zero before the point counted; 1 or more.
        Figures before the point are never cut; after it stand 9 at most.

    Returns
    -------
    str

    Raises
    ------
    InputError
        If the value is not finite, the unit is not known or ``digits`` is
        below 1.

    Examples
    --------
    >>> show(0.00025, "mm")
    '0.25 mm'
    >>> show(873.15, "C")
    '600 °C'
    >>> show(27 * 3386.389, "inHg")
    '27.0 inHg'
    """
    require_finite("si_value", si_value, "")
    if digits < 1:
        raise InputError("digits", digits, "", "1 or more")
    value = si.from_si(si_value, unit)
    return _figures(value, digits) + _PRINTED.get(unit, f" {unit}")


def _figures(value: float, digits: int) -> str:
    if value == 0.0:
        return "0"
    # The exponent is taken after rounding, so that 9.999 has two figures before the point.
    exponent = _exponent(value, digits)
    if exponent < 0:
        digits = max(1, digits - 1)
        exponent = _exponent(value, digits)
    places = min(_MOST_PLACES, max(0, digits - 1 - exponent))
    text = f"{value:.{places}f}"
    return "0" if float(text) == 0.0 else text


def _exponent(value: float, digits: int) -> int:
    return int(f"{math.fabs(value):.{digits - 1}e}".partition("e")[2])
