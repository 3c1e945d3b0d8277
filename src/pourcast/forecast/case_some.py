"""Case some: the case of some draws of a pour; each draw stands by itself."""

from dataclasses import fields, replace
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.pour.model import PourCase

RECORDS = ("metal", "block", "stream")
"""Values of a case that are records of arrays themselves."""


def draws_of(case: PourCase, which: slice | si.Integers) -> PourCase:
    """Return a case with some of its draws alone.

    Parameters
    ----------
    case : PourCase
    which : slice or array of int, shape (chosen,)
        Draws, in the order in which they shall stand.
    """
    made: dict[str, Any] = {}
    for field in fields(case):
        value = getattr(case, field.name)
        if field.name in RECORDS:
            made[field.name] = replace(
                value,
                **{
                    inner.name: array[which]
                    for inner in fields(value)
                    if isinstance(array := getattr(value, inner.name), np.ndarray)
                },
            )
        elif isinstance(value, np.ndarray):
            made[field.name] = value[which]
    return replace(case, **made)
