"""Pack: the fields of a freezing in small numbers, for a page or a file.

A row of numbers becomes whole numbers of two bytes,

    value = low + code · step,   step = (high - low) / 65 534                 (1)

so that it comes back to within half a step: 0.01 s of a quarter of an hour, 0.01 K of a
thousand kelvins.  The last code means: not a number.
"""

from dataclasses import dataclass
from typing import Annotated, Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.freeze.fields import VoxelFields

Codes: TypeAlias = NDArray[np.uint16]
AnyUnit: TypeAlias = Annotated[NDArray[np.floating[Any]], si.Unit("any")]
AnyNumber: TypeAlias = Annotated[float, si.Unit("any")]

NOT_A_NUMBER = 65_535
_MOST_CELLS = 32_767  # along an axis, in two bytes with a sign


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """Numbers in two bytes each, equation 1.

    Parameters
    ----------
    codes : array of int
    low, step : float [any]
        In the unit of the numbers.
    """

    codes: Codes
    low: AnyNumber
    step: AnyNumber


def pack(values: AnyUnit) -> Packed:
    """Return numbers in two bytes each.

    Parameters
    ----------
    values : array [any]
        Finite or not a number.

    Returns
    -------
    Packed

    Raises
    ------
    InputError
        If a value is infinite.

    Examples
    --------
    >>> packed = pack(np.array([0.0, 65_534.0, np.nan]))
    >>> packed.codes.tolist()
    [0, 65534, 65535]
    """
    if np.isinf(values).any():
        raise InputError("values", "infinite", "", "finite or not a number")
    there = ~np.isnan(values)
    kept = values[there].astype(np.float64)
    low = float(kept.min(initial=np.inf)) if kept.size else 0.0
    high = float(kept.max(initial=-np.inf)) if kept.size else 0.0
    step = (high - low) / (NOT_A_NUMBER - 1)
    codes = np.full(values.shape, NOT_A_NUMBER, dtype=np.uint16)
    if step > 0.0:
        codes[there] = np.round((kept - low) / step).astype(np.uint16)
    else:
        codes[there] = 0
    return Packed(codes=codes, low=low, step=step)


def unpack(packed: Packed) -> AnyUnit:
    """Return the numbers that `pack` was given, to within half a step.

    Parameters
    ----------
    packed : Packed

    Returns
    -------
    array [any], shape of the codes
    """
    values = packed.low + packed.codes.astype(np.float64) * packed.step
    values[packed.codes == NOT_A_NUMBER] = np.nan
    return np.asarray(values)


def packed_arrays(fields: VoxelFields) -> dict[str, NDArray[Any]]:
    """Return the large fields as small arrays by name, ready to be written.

    Each packed field stands under its own name with its ``low`` and ``step`` under that
    name and a suffix.

    Parameters
    ----------
    fields : VoxelFields

    Returns
    -------
    dict of str to array

    Raises
    ------
    InputError
        If the grid has more than 32 767 cells along an axis.
    """
    if max(fields.shape) > _MOST_CELLS:
        raise InputError("shape", fields.shape, "cells", f"at most {_MOST_CELLS} along an axis")
    made: dict[str, NDArray[Any]] = {
        "voxel": np.array(fields.voxel),
        "origin": fields.origin,
        "shape": np.array(fields.shape, dtype=np.int16),
        "cells": fields.cells.astype(np.int16),
        "part": fields.part.astype(np.int16),
        "stack_place": fields.stack_place.astype(np.float32),
        "stack_part": fields.stack_part.astype(np.int16),
        "times": fields.times.astype(np.float32),
        "section_times": np.array([section.time for section in fields.sections]),
        "curve_names": np.array([curve.name for curve in fields.curves]),
        "partial": np.array(fields.partial),
    }
    rows: dict[str, AnyUnit] = {
        "freeze_time": fields.freeze_time,
        "stop_time": fields.stop_time,
        "stack_freeze_time": fields.stack_freeze_time,
        "stack_stop_time": fields.stack_stop_time,
        "curves": np.array([curve.temperature for curve in fields.curves]),
    }
    if fields.sections:
        rows["sections"] = np.array([section.temperature for section in fields.sections])
    for name, values in rows.items():
        packed = pack(values)
        made[name] = packed.codes
        made[f"{name}_low"] = np.array(packed.low)
        made[f"{name}_step"] = np.array(packed.step)
    return made
