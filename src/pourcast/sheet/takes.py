"""Takes: what one key of a piece file may hold."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Literal, TypeAlias

from pourcast import units as si
from pourcast.trade_units import Quantity

InUnitOfKey: TypeAlias = Annotated[float, si.Unit("unit of the key")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A key that takes a number, or a text with its unit.

    Parameters
    ----------
    quantity : str
        As `pourcast.trade_units` knows it.
    unit : str
        Of a plain number.
    low, high : float [unit of the key]
        Limits.
    taper : bool
        True if a list of two, [start, end], is accepted too.
    needed : bool
    hint : str
        What to do about a value outside the limits.
    """

    quantity: Quantity
    unit: str
    low: InUnitOfKey
    high: InUnitOfKey
    taper: bool = False
    needed: bool = False
    hint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """A key that takes a whole number from 1 on."""

    most: int
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """A key that takes true or false."""

    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A key that takes any text on one line, or on more where ``lines`` is True."""

    longest: int
    lines: bool = False
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A key that takes one of a few words."""

    words: tuple[str, ...]
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A key that names a material record."""

    kind: Literal["alloy", "powder", "wax", "original"]
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """A key that takes a list of words, each of them matter in or on an original."""

    most: int
    needed: bool = False


Takes: TypeAlias = Number | Count | Flag | Text | Choice | Material | Matter
Keys: TypeAlias = Mapping[str, Takes]
