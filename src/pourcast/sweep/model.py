"""What a sweep goes over, and what comes of each of its cells."""

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from pourcast import units as si
from pourcast.forecast.model import Calibration
from pourcast.pour.model import Cause
from pourcast.sheet.lines import Path
from pourcast.sheet.takes import InUnitOfKey

Swept: TypeAlias = InUnitOfKey | int | str
"""A value as it stands in a piece file."""

Ending: TypeAlias = Literal["whole", "short_tips", "short_parts", "lost"]
ENDINGS: tuple[Ending, ...] = ("whole", "short_tips", "short_parts", "lost")

MOST_CELLS = 1_000_000
MOST_POURS = 1000
"""Of one cell: a cell is one block of draws, see `pourcast.forecast.many`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Numbers from one on, evenly apart.

    Parameters
    ----------
    start, step : float [unit of the key]
    count : int
        1 or more.
    """

    start: InUnitOfKey
    step: InUnitOfKey
    count: int

    def at(self, place: int) -> Swept:
        """Return one of them, without the rounding of a sum.

        Parameters
        ----------
        place : int
            From 0.
        """
        number = float(f"{self.start + place * self.step:.12g}")
        return int(number) if number.is_integer() else number


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One key of the piece file and the values that it goes through.

    Parameters
    ----------
    key : str
        As the caster wrote it: "flask.temperature_C".
    path : tuple of str and int
        Of `pourcast.sheet.edit`.
    unit : str
        Of plain numbers; "" where there is none.
    values : Steps or tuple [unit of the key]
    """

    key: str
    path: Path
    unit: str
    values: Steps | tuple[Swept, ...]

    @property
    def count(self) -> int:
        """How many values there are."""
        return self.values.count if isinstance(self.values, Steps) else len(self.values)

    def at(self, place: int) -> Swept:
        """Return one of the values.

        Parameters
        ----------
        place : int
            From 0.
        """
        return self.values.at(place) if isinstance(self.values, Steps) else self.values[place]

    @property
    def is_number(self) -> bool:
        """Whether all values are plain numbers."""
        return isinstance(self.values, Steps) or not any(
            isinstance(value, str) for value in self.values
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sweep:
    """What all cells of a sweep have in common.

    Parameters
    ----------
    text : str
        The piece file.
    axes : tuple of Axis
    draws : int
        Pours of each cell; 1 to 1000.
    seed : int
    calibration : Calibration or None
    """

    text: str
    axes: tuple[Axis, ...]
    draws: int
    seed: int
    calibration: Calibration | None = None

    @property
    def cells(self) -> int:
        """How many cells there are."""
        return math.prod(axis.count for axis in self.axes)

    def values(self, cell: int) -> tuple[Swept, ...]:
        """Return the values of a cell; the last axis goes through its values first.

        Parameters
        ----------
        cell : int
            From 0.
        """
        found: list[Swept] = []
        for axis in reversed(self.axes):
            cell, place = divmod(cell, axis.count)
            found.append(axis.at(place))
        return tuple(reversed(found))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What comes of one cell.

    Parameters
    ----------
    cell : int
        From 0.
    values : tuple [unit of the key]
        In the order of the axes.
    chance, low, high : float or None [-]
        That the whole piece comes out, and how low and high it could be; None: the
        piece file cannot be worked with at these values.
    ending : str or None
        Commonest end of a pour.
    part : str
        That fails first of all; "" where all comes out.
    cause : str or None
        What stops it.
    stops : tuple of pair of str
        What must stop the caster: a key that says what it is about, and its text.
    fault : str
        Why there is no chance.
    """

    cell: int
    values: tuple[Swept, ...]
    chance: si.Ratio | None
    low: si.Ratio | None
    high: si.Ratio | None
    ending: Ending | None
    part: str
    cause: Cause | None
    stops: tuple[tuple[str, str], ...]
    fault: str
