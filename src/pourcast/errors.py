"""Errors: what is wrong, its value, what it must be, and what to change.

    PourcastError
      InputError   (also ValueError)    a value that cannot be worked with
        SheetError                      all faults of one piece file together
      SourceError  (also LookupError)   a material or key that is not there
      SolveError   (also RuntimeError)  a calculation that did not converge
      BookError    (also RuntimeError)  the book could not be opened or kept; in `pourcast.book`
        KeptForGoodError                something was to be changed that is kept as it was

A bad casting is not an error: see `pourcast.findings`.
"""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np


class PourcastError(Exception):
    """Any error that pourcast raises on purpose."""


class InputError(PourcastError, ValueError):
    """A value outside its limits.

    Parameters
    ----------
    what : str
        Name of the quantity, as the code names it.
    value : object
        The value that was given, in ``unit``.
    unit : str
        Unit of ``value``; "" where there is none.
    must : str
        What it must be, to follow "it must be".
    hint : str, optional
        What the caster can change.

    Notes
    -----
    The four parts are kept apart so that a door can say them in mm and °C
    beside the right box.
    """

    def __init__(self, what: str, value: object, unit: str, must: str, hint: str = "") -> None:
        self.what = what
        self.value = value
        self.unit = unit
        self.must = must
        self.hint = hint
        shown = f"{value} {unit}".rstrip()
        super().__init__(f"{what} is {shown}; it must be {must}" + (f". {hint}" if hint else ""))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One fault of a piece file, with the line it stands on."""

    line: int
    key: str
    text: str
    hint: str = ""


class SheetError(InputError):
    """All faults of one piece file, each with file, line, key and cure."""

    def __init__(self, file: str, faults: tuple[Fault, ...]) -> None:
        self.file = file
        self.faults = tuple(sorted(faults, key=lambda fault: (fault.line, fault.key)))
        super().__init__("piece file", file, "", f"free of faults; found {len(self.faults)}")

    def __str__(self) -> str:
        return "\n".join(
            f"{self.file}:{fault.line}: {fault.key}: {fault.text}"
            + (f"; {fault.hint}" if fault.hint else "")
            for fault in self.faults
        )


class SourceError(PourcastError, LookupError):
    """A material, value or source that is not there, or that lacks its source."""

    def __str__(self) -> str:
        return " ".join(str(part) for part in self.args)


class SolveError(PourcastError, RuntimeError):
    """A calculation that did not converge; never returned as a result."""

    def __init__(self, what: str, iterations: int, residual: float) -> None:
        self.what = what
        self.iterations = iterations
        self.residual = residual
        super().__init__(f"{what}: no answer after {iterations} steps (left over {residual:.3g})")


def require_finite(what: str, value: Any, unit: str) -> None:
    """Raise `InputError` unless every number of ``value`` is finite."""
    _require(what, value, unit, np.isfinite(np.asarray(value, dtype=float)), "a finite number")


def require_positive(what: str, value: Any, unit: str) -> None:
    """Raise `InputError` unless every number of ``value`` is finite and above 0."""
    array = np.asarray(value, dtype=float)
    with np.errstate(invalid="ignore"):
        good = np.isfinite(array) & (array > 0.0)
    _require(what, value, unit, good, "greater than 0")


def require_not_negative(what: str, value: Any, unit: str) -> None:
    """Raise `InputError` unless every number of ``value`` is finite and 0 or more."""
    array = np.asarray(value, dtype=float)
    with np.errstate(invalid="ignore"):
        good = np.isfinite(array) & (array >= 0.0)
    _require(what, value, unit, good, "0 or more")


def require_between(what: str, value: Any, unit: str, low: float, high: float) -> None:
    """Raise `InputError` unless every number of ``value`` lies in low..high."""
    array = np.asarray(value, dtype=float)
    with np.errstate(invalid="ignore"):
        good = np.isfinite(array) & (array >= low) & (array <= high)
    _require(what, value, unit, good, f"{low:g} to {high:g}")


def _require(what: str, value: Any, unit: str, good: Any, must: str) -> None:
    if np.all(good):
        return
    array = np.atleast_1d(np.asarray(value, dtype=float))
    bad = float(array[~np.atleast_1d(good)][0])
    raise InputError(what, bad if math.isnan(bad) else f"{bad:g}", unit, must)
