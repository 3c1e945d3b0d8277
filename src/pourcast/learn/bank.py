"""Bank: pours of one kept plan, each with another set of unknowns.

The studio's unknowns are drawn from the seed of the bank, the same for every plan,
so that draw i stands for the same studio in all of them.  What differs from day to
day is drawn from a seed of the plan's own.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.forecast.burn import burn_as_planned
from pourcast.forecast.chances import Members, members
from pourcast.forecast.draws import section_scale
from pourcast.forecast.prepare import Prepared, case_of, prepare
from pourcast.learn.axes import is_of_studio, place
from pourcast.materials import Value, draw
from pourcast.materials.draws import ArrayInSI
from pourcast.piece.model import Network
from pourcast.pour.model import PourCase
from pourcast.pour.solve import solve
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Bank:
    """Pours of a plan and where they began.

    Parameters
    ----------
    parts : tuple of str
    full : array of bool, shape (draws, parts)
        Every member of the part is full.
    whole : array [-], shape (draws, parts)
        Share of its members that are full.
    share : array [-], shape (draws, parts)
        Of the length of the part that metal reached.
    studio : dict of str to array [-], shape (draws,)
        Place of each unknown of the studio in its range, by key.
    day : array [-], shape (draws, columns)
        What differs from pour to pour, each with mean 0 and spread 1.
    sections : array [-], shape (draws, parts, 2)
        Mean and least of the sections of each part, in the same way.
    values : dict of str to Value
        The studio's unknowns by key.
    """

    parts: tuple[str, ...]
    full: si.Booleans
    whole: si.Ratios
    share: si.Ratios
    studio: dict[str, si.Ratios]
    day: si.Ratios
    sections: si.Ratios
    values: dict[str, Value]


def bank_of(
    plan: Plan,
    draws: int,
    *,
    seed: int,
    day_seed: int,
    threads: int = 1,
    studio: Mapping[str, ArrayInSI] | None = None,
) -> Bank:
    """Return pours of a plan.

    Parameters
    ----------
    plan : Plan
    draws : int
    seed, day_seed : int
        Of the studio's unknowns, and of what differs from pour to pour.
    threads : int
        The result is the same for any number.
    studio : mapping of str to array [SI], shape (draws,), optional
        Values of the studio by key, in the place of draws.

    Returns
    -------
    Bank

    Raises
    ------
    InputError
        If a value of the plan is outside its limits.
    """
    ready = _for_days(prepare(plan, None, draws, seed), draws, day_seed, studio or {})
    burnt = burn_as_planned(plan, ready, threads=threads)
    case = case_of(plan, ready, burnt[1] if burnt else None)
    result = solve(ready.poured, case, threads=threads)
    ends = members(ready.network, result, ready.book.pour["full_share"].si)
    of_studio = {name: value for name, value in ready.values.items() if is_of_studio(value)}
    full, whole, share = _by_part(ready.network, ends)
    return Bank(
        parts=ready.network.part_names,
        full=full,
        whole=whole,
        share=share,
        studio={value.key: place(value, ready.drawn[name]) for name, value in of_studio.items()},
        day=_day(plan, ready, case),
        sections=_sections(ready.network, ready.scale),
        values={value.key: value for value in of_studio.values()},
    )


def _for_days(
    ready: Prepared, draws: int, day_seed: int, studio: Mapping[str, ArrayInSI]
) -> Prepared:
    own = draw(ready.values, draws, day_seed)
    mixed = {
        name: studio.get(value.key, ready.drawn[name]) if is_of_studio(value) else own[name]
        for name, value in ready.values.items()
    }
    scale = section_scale(ready.network, mixed, draws, day_seed)
    return replace(ready, drawn=mixed, scale=scale, seed=day_seed)


def _by_part(network: Network, ends: Members) -> tuple[si.Booleans, si.Ratios, si.Ratios]:
    length = np.bincount(network.member, weights=network.length)
    full, whole, share = [], [], []
    for part in range(len(network.part_names)):
        own = np.flatnonzero(network.member_part == part)
        full.append(ends.full[:, own].all(axis=1))
        whole.append(ends.full[:, own].mean(axis=1))
        share.append(ends.share[:, own] @ length[own] / length[own].sum())
    return np.stack(full, 1), np.stack(whole, 1), np.stack(share, 1)


def _day(plan: Plan, ready: Prepared, case: PourCase) -> si.Ratios:
    """Return what differs from day to day, so that it hangs on nothing of the studio."""
    columns: list[si.Floats] = [
        place(value, ready.drawn[name])
        for name, value in ready.values.items()
        if not is_of_studio(value)
    ]
    columns += [case.metal.temperature - case.metal.liquidus, case.block.air_pressure]
    columns += [case.block.vacuum, case.stream.metal_volume]
    if plan.flask.temperature is not None:
        columns.append(case.block.temperature)
    return _spread_evenly(np.stack(columns, axis=1))


def _sections(network: Network, scale: si.Ratios) -> si.Ratios:
    made = []
    for part in range(len(network.part_names)):
        own = scale[:, network.member_part == part]
        made.append(_spread_evenly(np.stack((own.mean(axis=1), own.min(axis=1)), axis=1)))
    return np.stack(made, axis=1)


def _spread_evenly(columns: si.Floats) -> si.Ratios:
    off = columns - columns.mean(axis=0)
    spread = off.std(axis=0)
    flat = spread <= 1e-12 * np.maximum(np.abs(columns).max(axis=0), 1e-300)
    return np.asarray(np.where(flat, 0.0, off / np.where(flat, 1.0, spread)))
