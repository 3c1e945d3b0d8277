"""Usual: which kiln curve does the trade give a flask of this size?

Four holds: a first one in which the block dries, a second in which the wax boils
and burns, the top in which char burns, and a soak at casting temperature.  The
wider the flask, the slower the ramps and the longer the holds.  Each number is an
end or the middle of its record:

    flask      top hold   second hold   soak     ramps
    small      low        low           middle   middle
    middle     middle     middle        middle   between low and middle
    large      high       middle        high     low

"Between" is the geometric mean.  An original of plant matter stays longer at the
top by its own record.  The way down to the casting temperature takes the low end
of the upper ramp, whatever the size.

Where practice disagrees: others hold long at 260 °C for the air there, which
burns wax vapour and no char; others stop at 480 °C for large plaster moulds, or
slow down once more about 570 °C.  None of that is in these curves.

Left out: what stands in the flask beside "plant or not", how open its wall is and
how much air the kiln has.  With much of the one or little of the other the usual
curve leaves char.

Source: common practice, no source; the records name theirs.
"""

import math
from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.burnout.model import KilnStep
from pourcast.errors import InputError, require_positive
from pourcast.materials import Material, Value
from pourcast.speech import Heats, said

Size = Literal["small flask", "middle flask", "large flask"]

SMALL, MIDDLE = 0.080, 0.115
"""m, inside diameter under which a flask is small, and middle; estimate, between the
sizes that the trade talks of: about 65 to 75, 90 to 100, and 125 mm or more."""

DRYING, WAX = 423.15, 643.15
"""K, 150 and 370 °C: what the first two holds are named after in their records."""

CHAR_BURNS_FROM = 923.15
"""K, 650 °C, from which char burns within hours; estimate, a little under the 675 to 735 °C
at which the trade burns plants (common practice, no source)."""

STEEPER_FROM = 573.15
"""K, 300 °C, past the change of cristobalite; the record of the upper ramp says so."""

_Pick = Literal["low", "between", "middle", "high"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picks:
    """Which number of a record a size takes; see the table above."""

    top: _Pick
    second: _Pick
    soak: _Pick
    ramp: _Pick


_PICKS: dict[Size, _Picks] = {
    "small flask": _Picks(top="low", second="low", soak="middle", ramp="middle"),
    "middle flask": _Picks(top="middle", second="middle", soak="middle", ramp="between"),
    "large flask": _Picks(top="high", second="middle", soak="high", ramp="low"),
}


def size_of(diameter: si.Metre) -> Size:
    """Return what a flask of an inside diameter is called here.

    Parameters
    ----------
    diameter : float [m]
        > 0.

    Returns
    -------
    str

    Raises
    ------
    InputError
        If the diameter is not above 0.

    Examples
    --------
    >>> size_of(0.065), size_of(0.100), size_of(0.127)
    ('small flask', 'middle flask', 'large flask')
    """
    require_positive("diameter of the flask", diameter, "m")
    if diameter < SMALL:
        return "small flask"
    return "middle flask" if diameter < MIDDLE else "large flask"


def usual_steps(
    limits: Material,
    diameter: si.Metre,
    casting_temperature: si.Kelvin,
    *,
    plant: Material | None,
) -> tuple[KilnStep, ...]:
    """Return the usual steps for a flask of this size.

    Parameters
    ----------
    limits : Material
        Limits and holds of the burnout, `Library.investment` "limits".
    diameter : float [m]
        Of the flask, inside; > 0.
    casting_temperature : float [K]
        Of the flask at the pour; from that of the first hold to the top.
    plant : Material or None
        `Library.plants` "general", which says how much longer plant matter stays
        at the top; None: wax alone.

    Returns
    -------
    tuple of KilnStep

    Raises
    ------
    InputError
        If the diameter or the casting temperature is out of its limits.
    SourceError
        If a record lacks a value.
    """
    picks = _PICKS[size_of(diameter)]
    longer = 0.0 if plant is None else plant["burnout_hold_plant_extra"].si
    return _steps(
        limits,
        casting_temperature,
        slow=_picked(limits["ramp_below_250"], picks.ramp),
        steep=_picked(limits["ramp_above_300"], picks.ramp),
        down=limits["ramp_above_300"].si_low,
        holds=(
            limits["hold_150"].si,
            _picked(limits["hold_370"], picks.second),
            _picked(limits["hold_730"], picks.top) + longer,
            _picked(limits["hold_casting_temperature"], picks.soak),
        ),
    )


def within_curve(limits: Material, casting_temperature: si.Kelvin) -> si.Kelvin:
    """Return the nearest casting temperature that the usual curve can come down to [K].

    A flask that is planned hotter than the top, or colder than the first hold, is a
    finding of its own; the curve beside it ends where it can.

    Parameters
    ----------
    limits : Material
        As for `usual_steps`.
    casting_temperature : float [K]
    """
    return min(max(casting_temperature, DRYING), limits["burnout_peak_default"].si)


def least_steps(
    limits: Material,
    casting_temperature: si.Kelvin,
    *,
    plant: Material | None,
) -> tuple[KilnStep, ...]:
    """Return steps with the shortest holds and steepest ramps that the trade takes.

    Nothing shorter is ever advised, whatever a calculation says.  The steps stand
    at the temperatures of `usual_steps`.

    Parameters
    ----------
    limits, plant : Material
        As for `usual_steps`.
    casting_temperature : float [K]
        As for `usual_steps`.

    Returns
    -------
    tuple of KilnStep

    Raises
    ------
    InputError
        If the casting temperature is out of its limits.
    SourceError
        If a record lacks a value.
    """
    longer = 0.0 if plant is None else plant["burnout_hold_plant_extra"].si_low
    return _steps(
        limits,
        casting_temperature,
        slow=limits["ramp_below_250"].si_high,
        steep=limits["ramp_above_300"].si_high,
        down=limits["ramp_above_300"].si_high,
        holds=(
            limits["hold_150"].si_low,
            limits["hold_370"].si_low,
            limits["hold_730"].si_low + longer,
            limits["hold_casting_temperature"].si_low,
        ),
    )


def _steps(
    limits: Material,
    casting_temperature: si.Kelvin,
    *,
    slow: float,
    steep: float,
    down: float,
    holds: tuple[float, float, float, float],
) -> tuple[KilnStep, ...]:
    top = limits["burnout_peak_default"].si
    if not DRYING <= casting_temperature <= top:
        raise InputError(
            "casting temperature of the flask",
            f"{si.from_si(casting_temperature, 'degC'):g}",
            "°C",
            said("{heats}", heats=Heats(DRYING, top)),
            "The usual curve comes down to it from the top.",
        )
    drying, wax, burning, soak = holds
    return (
        KilnStep(temperature=DRYING, ramp=slow, hold=drying),
        KilnStep(temperature=STEEPER_FROM, ramp=slow, hold=0.0),
        KilnStep(temperature=WAX, ramp=steep, hold=wax),
        KilnStep(temperature=top, ramp=steep, hold=burning),
        KilnStep(temperature=casting_temperature, ramp=down, hold=soak),
    )


def _picked(value: Value, pick: _Pick) -> float:
    """Return one number of a record [SI]."""
    if pick == "between":
        return math.sqrt(value.si_low * value.si)
    return {"low": value.si_low, "middle": value.si, "high": value.si_high}[pick]
