"""Kernels as plain Python: what compiled code does and Python does not.

`pourcast.pour.elementary` hands numba the instruction that reads the bits of a number; without the
compiler there is nothing to call, so numpy reads them here.  And a compiled kernel says nothing of
a division by zero whose result it then leaves aside; numpy would warn, and a test go red.
"""

import importlib
import math
from collections.abc import Callable
from types import ModuleType
from typing import Any

import numpy as np


def _bits_of(number: Any) -> int:
    return int(np.float64(number).view(np.int64))


def _number_of(bits: Any) -> float:
    return float(np.int64(bits).view(np.float64))


_READINGS: dict[str, Callable[[Any], Any]] = {
    "_read_bits": _bits_of,
    "_read_number": _number_of,
}


class _Math(ModuleType):
    """As `math`, but a root of less than nothing is a nan, as it is in a compiled kernel."""

    def __getattr__(self, name: str) -> Any:
        return getattr(math, name)

    @staticmethod
    def sqrt(number: Any) -> Any:
        return math.sqrt(number) if number >= 0.0 else math.nan


class _Numpy(ModuleType):
    """As `numpy`, but a nan made a whole number is some whole number, as in a compiled kernel."""

    def __getattr__(self, name: str) -> Any:
        return getattr(np, name)

    @staticmethod
    def int32(number: Any) -> Any:
        return np.int32(number) if number == number else np.iinfo(np.int32).min


def _as_compiled(function: Any) -> Any:
    if function.__globals__.get("math") is math:
        function.__globals__["math"] = _Math("math")
    if "int32" in function.__code__.co_names and function.__globals__.get("np") is np:
        function.__globals__["np"] = _Numpy("numpy")
    return np.errstate(all="ignore")(function)


def stand_in() -> None:
    """Let kernels that are not compiled do so; for this process, before the package is there."""
    # Not at the top: the run says to numba that nothing is to be compiled before it loads it.
    compiler: Any = importlib.import_module("numba")
    extending: Any = importlib.import_module("numba.extending")
    if compiler.config.DISABLE_JIT:
        extending.intrinsic = lambda reading: _READINGS[reading.__name__]
        compiler.njit = lambda **_options: _as_compiled
