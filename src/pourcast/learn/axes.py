"""Axes: which unknowns belong to the studio, and where in its range does a value lie?

Unknowns are of two sorts.  Those of the studio are the same in each of its pours:
the powder's permeability, the heat that passes into the wall, what the oxide film
adds, the kiln.  Those of the day differ from pour to pour: readings that are off,
the hand that pours, the alloy of the lot, the original.  Only the first are learnt;
over the second each pour is averaged.

Values that are tied (`pourcast.materials.draws`) lie on one axis.  A place on an
axis is a share u of 0 to 1 as in that file, or

    x = 2 (T(v) - T(low)) / (T(high) - T(low)) - 1                              (1)

of -1 to 1, with T the logarithm where the range is drawn in it.  In x there is
no bend at the value, as there is none in what the metal does; in u each place is as
likely as any other by the book.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.materials import Value
from pourcast.materials.draws import LOGARITHM_ABOVE, TIES, ArrayInSI, char_log10_a, quantile
from pourcast.materials.model import InSI

OF_THE_DAY = (
    "stream_loss",
    "pour_rate",
    "start_head",
    "melt_loss",
    "member_thickness_scatter",
    "measure_error",
    "metal_thermometer_error",
    "flask_thermometer_error",
    "gauge_error",
    "controller_error",
    "kiln_gradient",
    "flask_temperature",
)
"""Last part of the key of what differs from pour to pour, beside `OTHER_OWNERS`."""

OTHER_OWNERS = ("alloys.", "plants.", "waxes.")
"""Beginning of the key of what belongs to a lot or an original; "flask_" of alloys too."""

_ON_LINE = "kiln.char_log10_A"
"""Follows from the energy of the char; it has no axis of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One unknown of the studio, or several that move together.

    Parameters
    ----------
    name : str
    values : tuple of Value
        The first one gives the place.
    signs : tuple of int
        +1, or -1 for a value that moves against the first.
    """

    name: str
    values: tuple[Value, ...]
    signs: tuple[int, ...]


def is_of_studio(value: Value) -> bool:
    """Return whether an unknown is the same in all pours of a studio."""
    return value.name not in OF_THE_DAY and not value.key.startswith(OTHER_OWNERS)


def axes_of(values: Mapping[str, Value]) -> tuple[Axis, ...]:
    """Return the axes of the studio's unknowns.

    Parameters
    ----------
    values : mapping of str to Value
        By key; those of the day are passed over.
    """
    grouped: dict[str, list[tuple[Value, int]]] = {}
    for value in values.values():
        if not is_of_studio(value) or value.key == _ON_LINE or value.low == value.high:
            continue
        tie, sign = TIES.get(value.name, ("", 1))
        name = f"{value.owner}/{tie}" if tie else value.key
        grouped.setdefault(name, []).append((value, sign))
    return tuple(
        Axis(
            name=name,
            values=tuple(value for value, _ in held),
            signs=tuple(sign * held[0][1] for _, sign in held),
        )
        for name, held in grouped.items()
    )


def values_at(
    axes: tuple[Axis, ...], share: si.Ratios, known: Mapping[str, Value]
) -> dict[str, ArrayInSI]:
    """Return all values that places on the axes stand for, by key.

    Parameters
    ----------
    axes : tuple of Axis
    share : array [-], shape (draws, axes)
        u of each axis.
    known : mapping of str to Value
        By key; only for the value that follows from another.

    Returns
    -------
    dict of str to array [SI], shape (draws,)
    """
    made: dict[str, ArrayInSI] = {}
    for column, axis in enumerate(axes):
        at = share[:, column]
        for value, sign in zip(axis.values, axis.signs, strict=True):
            made[value.key] = quantile(value, at if sign > 0 else 1.0 - at)
    if _ON_LINE in known and "kiln.char_E" in made:
        line = known[_ON_LINE]
        made[_ON_LINE] = np.clip(char_log10_a(made["kiln.char_E"]), line.si_low, line.si_high)
    return made


def place(value: Value, drawn: ArrayInSI) -> si.Ratios:
    """Return where in its range each draw lies, by (1) [-].

    Parameters
    ----------
    value : Value
    drawn : array [SI], any shape

    Returns
    -------
    array [-], shape of ``drawn``
        -1 at the low end, 1 at the high end.
    """
    low, high = transformed(value, np.array([value.si_low, value.si_high])).tolist()
    if high <= low:
        return np.zeros_like(drawn)
    return np.asarray(2.0 * (transformed(value, drawn) - low) / (high - low) - 1.0)


def is_in_logarithm(low: InSI, high: InSI) -> bool:
    """Return whether a range is drawn in the logarithm, by rule 4 of the draws.

    Parameters
    ----------
    low, high : float [SI]
    """
    return low > 0.0 and high > LOGARITHM_ABOVE * low


def transformed(value: Value, numbers: ArrayInSI) -> ArrayInSI:
    """Return the numbers in which a range is drawn: the logarithm, or as they are [SI].

    Parameters
    ----------
    value : Value
    numbers : array [SI], any shape
    """
    return np.log(numbers) if is_in_logarithm(value.si_low, value.si_high) else numbers
