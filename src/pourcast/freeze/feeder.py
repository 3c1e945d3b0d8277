"""Feeder: which wax rod from a hot spot to the button would feed it?

Two rules, and the larger answer counts.

1. The casting modulus of the rod, d/4, is 1.2 times that of what draws on the hot
   spot.  Source: common practice, no source.
2. A rod of that metal in that mould closes no earlier than the hot spot, by the
   freezing that is worked out here, for a rod that is fed by nothing.  The rod in use is
   warmed by the button, so this errs to the thick side.

Left out: the heat of the rod itself, which makes the hot spot close later and moves it
towards the rod, and whether anything of the piece stands in the way.
"""

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

import numpy as np

from pourcast import units as si
from pourcast.freeze.model import Feeder, FreezeCase, HotSpot
from pourcast.freeze.solve import solve
from pourcast.piece.model import ROUND, Network
from pourcast.pour.model import FULL, PourResult

MODULUS_FACTOR = 1.2
"""Casting modulus of a feeder over that of what it feeds; common practice, no source."""

_RODS = np.geomspace(0.5e-3, 60e-3, 25)  # m, diameters that are tried
_ROD_LENGTH = 1.0  # m; so long that its ends do not matter

_Record = TypeVar("_Record")


def proposals(
    network: Network,
    case: FreezeCase,
    result: PourResult,
    spots: tuple[HotSpot, ...],
) -> tuple[Feeder, ...]:
    """Return a feeder for each hot spot.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    result : PourResult
    spots : tuple of HotSpot
        From `pourcast.freeze.spots.hot_spots`.

    Returns
    -------
    tuple of Feeder
        In the order of ``spots``.
    """
    return tuple(_feeder(network, case, result, spot) for spot in spots)


def _feeder(network: Network, case: FreezeCase, result: PourResult, spot: HotSpot) -> Feeder:
    by_modulus = 4.0 * MODULUS_FACTOR * spot.modulus
    by_model = rod_that_closes_at(
        spot.close_time, case, spot.draw, float(result.end_time[spot.draw])
    )
    return Feeder(
        segment=spot.segment,
        part=spot.part,
        length=length_to_button(network, spot.segment, case.pour.stream.gate_diameter),
        diameter_by_modulus=by_modulus,
        diameter_by_model=by_model,
        diameter=max(by_modulus, by_model),
    )


def length_to_button(network: Network, segment: int, gate_diameter: si.Metre) -> si.Metre:
    """Return the straight way from a segment to the floor of the button [m].

    Parameters
    ----------
    network : Network
    segment : int
    gate_diameter : float [m]
        The floor of the button is taken as wide as the gate.

    Returns
    -------
    float [m]
    """
    middle = 0.5 * (network.start_position[segment] + network.end_position[segment])
    aside = max(float(np.hypot(middle[0], middle[1])) - 0.5 * gate_diameter, 0.0)
    return float(np.hypot(aside, middle[2]))


def rod_that_closes_at(
    time: si.Second, case: FreezeCase, draw: int, end_time: si.Second
) -> si.Metre:
    """Return the diameter of a long rod through which metal moves until a time [m].

    Parameters
    ----------
    time : float [s]
        From the start of the pour.
    case : FreezeCase
    draw : int
        Whose metal and mould are taken.
    end_time : float [s]
        When the pour came to rest; the rod is full and as hot as the cup then.

    Returns
    -------
    float [m]
        At most that of the thickest rod tried, 60 mm.
    """
    rods = _rods()
    one: FreezeCase = row(case, draw)
    one = replace(one, pour=replace(one.pour, section_scale=np.ones((1, _RODS.size))))
    shape = (1, _RODS.size)
    metal = one.pour.metal.temperature
    poured = PourResult(
        filled=np.ones(shape),
        cause=np.full(shape, FULL),
        fill_time=np.full(shape, end_time),
        temperature=np.full(shape, float(metal[0])),
        solid_fraction=np.zeros(shape),
        cold_shut=np.zeros(shape, dtype=np.bool_),
        metal_left=np.zeros(1),
        end_time=np.array([end_time]),
        steps=np.zeros(1, dtype=np.int64),
    )
    closes = solve(rods, one, poured).feed_stop_time[0]
    known = np.isfinite(closes)
    if not known.any():
        return float(_RODS[-1])
    return float(np.interp(time, closes[known], _RODS[known]))


def row(record: _Record, draw: int) -> _Record:
    """Return a record with one draw of each of its arrays.

    Parameters
    ----------
    record : dataclass
        Its arrays have shape (draws, ...); records inside it are taken apart too.
    draw : int

    Returns
    -------
    dataclass
    """
    changed: dict[str, Any] = {}
    for field in fields(record):  # type: ignore[arg-type]
        value = getattr(record, field.name)
        if isinstance(value, np.ndarray):
            changed[field.name] = value[draw : draw + 1].copy()
        elif is_dataclass(value):
            changed[field.name] = row(value, draw)
    return replace(record, **changed)  # type: ignore[type-var]


def _rods() -> Network:
    """Return a row of rods from one node, none of which feels the others."""
    count = _RODS.size
    both = np.column_stack([_RODS, _RODS])
    nowhere = np.zeros((count, 3))
    return Network(
        start=np.zeros(count, dtype=np.int64),
        end=np.arange(1, count + 1),
        start_position=nowhere,
        end_position=nowhere,
        section=np.full(count, ROUND),
        length=np.full(count, _ROD_LENGTH),
        width=both,
        thickness=both,
        member=np.arange(count),
        member_part=np.zeros(count, dtype=np.int64),
        part_names=("rod",),
        vent_diameter=np.zeros(count + 1),
        vent_length=np.zeros(count + 1),
        vent_to_vacuum=np.zeros(count + 1, dtype=np.bool_),
        is_joint=np.zeros(count, dtype=np.bool_),
    )
