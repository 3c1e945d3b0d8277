"""Burn some: some draws of a burnout, and more of them behind those that are there.

Each draw stands by itself, so the first can be burnt before the others.  Two things are
of all draws together and are named before a case is parted: the radius of the room in
which the matter lies (`pourcast.burnout.fate_pack.matter_radius`), and the curve.
"""

from dataclasses import fields, replace
from typing import Any, TypeAlias, TypeVar

import numpy as np

from pourcast.burnout.fate_pack import matter_radius
from pourcast.burnout.model import (
    BlockCase,
    Burning,
    BurnoutCase,
    BurnoutResult,
    Fate,
    HeatDays,
    Matter,
)

Burnt: TypeAlias = tuple[BurnoutCase, BurnoutResult]

_Record = TypeVar("_Record", BlockCase, Matter, Burning, HeatDays, Fate)

_NOT_BY_DRAW = ("time", "half_thickness", "member_part")
"""Arrays of the records below that are not by draw, beside those whose name ends in "_at"
of a block: the points of its tables."""

_TABLES = ("burnt_conductivity_at", "burnt_specific_heat_at")


def some_of(case: BurnoutCase, start: int, stop: int) -> BurnoutCase:
    """Return what some of the burnouts start from.

    Parameters
    ----------
    case : BurnoutCase
    start, stop : int
        The draws from ``start`` up to, without it, ``stop``.

    Returns
    -------
    BurnoutCase
    """
    if (start, stop) == (0, case.matter.wax.size):
        return case
    room = matter_radius(case.block, case.matter)
    return replace(
        case,
        block=_cut(case.block, start, stop),
        matter=replace(_cut(case.matter, start, stop), room_radius=room),
        burning=_cut(case.burning, start, stop),
    )


def ended_some(result: BurnoutResult, start: int, stop: int) -> BurnoutResult:
    """Return how some of the burnouts ended.

    Parameters
    ----------
    result : BurnoutResult
    start, stop : int
        As for `some_of`.

    Returns
    -------
    BurnoutResult
    """
    if (start, stop) == (0, result.ready_at.size):
        return result
    return replace(
        result,
        heat=_cut(result.heat, start, stop),
        fate=_cut(result.fate, start, stop),
        ready_at=result.ready_at[start:stop],
        flask_temperature=result.flask_temperature[start:stop],
    )


def ended_all(one: BurnoutResult, other: BurnoutResult) -> BurnoutResult:
    """Return how burnouts ended that were followed in two lots.

    Parameters
    ----------
    one, other : BurnoutResult
        Of one case; the draws of the other come after those of the one.

    Returns
    -------
    BurnoutResult
    """
    return replace(
        one,
        heat=_joined(one.heat, other.heat),
        fate=_joined(one.fate, other.fate),
        ready_at=np.concatenate([one.ready_at, other.ready_at]),
        flask_temperature=np.concatenate([one.flask_temperature, other.flask_temperature]),
    )


def _by_draw(record: _Record) -> dict[str, Any]:
    return {
        field.name: value
        for field in fields(record)
        if isinstance(value := getattr(record, field.name), np.ndarray)
        and field.name not in (*_NOT_BY_DRAW, *_TABLES)
    }


def _cut(record: _Record, start: int, stop: int) -> _Record:
    arrays: dict[str, Any] = {name: value[start:stop] for name, value in _by_draw(record).items()}
    return replace(record, **arrays)


def _joined(one: _Record, other: _Record) -> _Record:
    more = _by_draw(other)
    arrays: dict[str, Any] = {
        name: np.concatenate([value, more[name]]) for name, value in _by_draw(one).items()
    }
    return replace(one, **arrays)
