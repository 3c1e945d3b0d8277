"""Watch: what is kept on the way: curves, sections, hot mould, the account of heat.

Looks are taken every tenth pass, between steps.  The mould of the stacks counts with the cells.
"""

from dataclasses import dataclass, field

import numpy as np

from pourcast import units as si
from pourcast.freeze.fields import Curve, HotMould, Section
from pourcast.freeze.voxel_grid import MOULD, Grid
from pourcast.freeze.voxel_look import temperature_of, usual_places
from pourcast.freeze.voxel_march import held_heat
from pourcast.freeze.voxel_model import HOT_LIMITS, VoxelAsk
from pourcast.freeze.voxel_state import March
from pourcast.freeze.voxel_types import KelvinsSingle, Kinds
from pourcast.kernels import kernel

LOOK_EVERY = 10  # passes
ACCOUNT_EVERY = 100  # passes
_PIECE = 256  # cells that are passed by together


@dataclass(slots=True, kw_only=True)
class Watch:
    """What was seen up to now.

    Parameters
    ----------
    grid : Grid
    names : tuple of str
        Of the curves.
    places : array [m], shape (curves, 3)
    spots : array of int, shape (curves, 3)
        Cell of each curve.
    cores : array of int, shape (curves,)
        Stack whose core it follows; -1: the cell.
    total, reference : float [J]
        Heat at the start: from the zeros of the account, and above the room.
    side : array of int, shape (side,)
        Which faces of the wall are its side.
    limits : array [K], shape (limits,)
        Scaled heat content at `HOT_LIMITS`.
    ever : array of int, shape (cells,)
        One bit for each limit that a cell was ever over.
    nodes_ever : array of int, shape (nodes,)
    times : list of float [s]
    warmth : list of array [K]
        One array a look, one number a curve, the wall last.
    sections : list of Section
    largest : array [m³], shape (limits,)
    until : array [s], shape (limits,)
    peak : float [K]
        Of the scaled heat content of the mould.
    error : float [-]
    """

    grid: Grid
    names: tuple[str, ...]
    places: si.Metres
    spots: si.Integers
    cores: si.Integers
    total: si.Joule
    reference: si.Joule
    side: si.Integers
    limits: si.Kelvins
    ever: Kinds
    nodes_ever: Kinds
    largest: si.CubicMetres
    until: si.Seconds
    peak: si.Kelvin = 0.0
    error: si.Ratio = 0.0
    times: list[si.Second] = field(default_factory=list)
    warmth: list[si.Kelvins] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)


@kernel
def _see_hot(
    u: KelvinsSingle,
    kind: Kinds,
    peak: si.Kelvin,
    low: si.Kelvin,
    high: si.Kelvin,
    ever: Kinds,
    count: si.Integers,
) -> si.Kelvin:
    """Mark the mould cells over two limits, count them, and return the largest content.

    Most pieces of the block hold nothing hot: they are counted in a plain loop and passed by.
    """
    unit = u.dtype.type
    first, second = unit(low), unit(high)
    floor = unit(min(low, peak))
    top = unit(peak)
    over, far_over = 0, 0
    for begin in range(0, u.size, _PIECE):
        low_end, high_end = np.uint64(begin), np.uint64(min(begin + _PIECE, u.size))
        above = 0
        for cell in range(low_end, high_end):
            above += 1 if u[cell] > floor else 0
        if above == 0:
            continue
        for cell in range(low_end, high_end):
            own = u[cell]
            if own > floor and kind[cell] == MOULD:
                top = max(top, own)
                if own > first:
                    over += 1
                    ever[cell] |= np.uint8(1)
                    if own > second:
                        far_over += 1
                        ever[cell] |= np.uint8(2)
    count[0] = over
    count[1] = far_over
    return float(top)


def watch(march: March, grid: Grid, ask: VoxelAsk, part_names: tuple[str, ...]) -> Watch:
    """Return what to watch.

    Parameters
    ----------
    march : March
        At the start.
    grid : Grid
    ask : VoxelAsk
    part_names : tuple of str

    Returns
    -------
    Watch
    """
    names, places, stacks = usual_places(grid, part_names)
    names += [f"place {place + 1}" for place in range(ask.places.shape[0])]
    where = np.concatenate([places, ask.places])
    spots = np.clip(
        np.round((where - grid.origin) / grid.voxel).astype(np.int64),
        0,
        np.array(grid.kind.shape) - 1,
    )
    made = Watch(
        grid=grid,
        names=tuple(names),
        places=where,
        spots=spots,
        cores=np.array(stacks + [-1] * ask.places.shape[0]),
        total=held_heat(march),
        reference=_heat_above_room(march),
        side=np.flatnonzero(march.lists.wall[:, 5] > 0.0),
        limits=_content_at(march, np.array(HOT_LIMITS)),
        ever=np.zeros(march.u.size, dtype=np.uint8),
        nodes_ever=np.zeros(march.nodes.capacity.size, dtype=np.uint8),
        largest=np.zeros(len(HOT_LIMITS)),
        until=np.zeros(len(HOT_LIMITS)),
    )
    look(march, made)
    return made


def look(march: March, seen: Watch) -> None:
    """Take one look.

    Parameters
    ----------
    march : March
    seen : Watch
        Changed.
    """
    count = np.zeros(2, dtype=np.int64)
    low, high = seen.limits.tolist()
    seen.peak = _see_hot(march.u, march.kind, seen.peak, low, high, seen.ever, count)
    stacks = march.graph.shells.first.size
    shells = march.nodes.content[stacks:]
    seen.peak = max(seen.peak, float(shells.max(initial=seen.peak)))
    for place, limit in enumerate(seen.limits.tolist()):
        hot = shells > limit
        seen.nodes_ever[stacks:][hot] |= 1 << place
        volume = float(march.graph.shells.volume[stacks:][hot].sum())
        volume += int(count[place]) * march.voxel**3
        seen.largest[place] = max(seen.largest[place], volume)
        if volume > 0.0:
            seen.until[place] = march.time
    seen.times.append(march.time)
    wall = march.wall_temperature[seen.side].max(initial=0.0)
    at = tuple(seen.spots.T)
    warm = temperature_of(march, seen.grid, at)
    of_core = seen.cores >= 0
    warm[of_core] = march.nodes.temperature[seen.cores[of_core]]
    seen.warmth.append(np.append(warm, wall))


def account(march: March, seen: Watch) -> None:
    """Hold the heat that is left, and that was lost, against what there was.

    Parameters
    ----------
    march : March
    seen : Watch
        Changed.
    """
    lost = float(march.lost.sum()) + march.lost_above
    miss = abs(held_heat(march) + lost - seen.total) / seen.reference
    seen.error = max(seen.error, miss)


def keep_section(march: March, seen: Watch) -> None:
    """Keep the cut through the axis.

    Parameters
    ----------
    march : March
    seen : Watch
        Changed.
    """
    nx, ny, nz = seen.grid.kind.shape
    x, z = np.meshgrid(np.arange(1, nx - 1), np.arange(1, nz - 1), indexing="ij")
    at = (x.ravel(), np.full(x.size, ny // 2), z.ravel())
    warm = temperature_of(march, seen.grid, at).reshape(x.shape)
    seen.sections.append(Section(time=march.time, temperature=warm))


def curves_of(seen: Watch) -> tuple[Curve, ...]:
    """Return the curves.

    Parameters
    ----------
    seen : Watch

    Returns
    -------
    tuple of Curve
    """
    rows = np.array(seen.warmth)
    made = [
        Curve(name=name, place=place, temperature=rows[:, at])
        for at, (name, place) in enumerate(zip(seen.names, seen.places, strict=True))
    ]
    wall = Curve(name="wall", place=np.full(3, np.nan), temperature=rows[:, -1])
    return (*made, wall)


def hot_mould_of(march: March, seen: Watch) -> tuple[HotMould, ...]:
    """Return the mould over each limit.

    Parameters
    ----------
    march : March
    seen : Watch

    Returns
    -------
    tuple of HotMould
    """
    made = []
    for place, limit in enumerate(HOT_LIMITS):
        bit = np.uint8(1 << place)
        volume = int(((seen.ever & bit) > 0).sum()) * march.voxel**3
        nodes = (seen.nodes_ever & bit) > 0
        volume += float(march.graph.shells.volume[nodes].sum())
        made.append(
            HotMould(
                limit=limit,
                volume=volume,
                largest=float(seen.largest[place]),
                until=float(seen.until[place]),
            )
        )
    return tuple(made)


def _content_at(march: March, temperature: si.Kelvins) -> si.Kelvins:
    content = np.linspace(-1500.0, 2500.0, 8001)
    warm = march.fit.temperature_at(content)
    # The polynomial holds in the range of its fit; beyond, only order matters here.
    return np.interp(temperature, np.maximum.accumulate(warm), content)


def _heat_above_room(march: March) -> si.Joule:
    room = march.mould_row[3]
    cold = float(_content_at(march, np.array([room]))[0])
    capacity = march.fit.capacity * march.voxel**3
    mould = -cold * int((march.kind == MOULD).sum()) * capacity
    stacks = march.graph.shells.first.size
    nodes, shells = march.nodes, march.graph.shells
    base = float(march.metal.heat_at(np.array([room]))[0])
    metal = float((march.heat - base).sum()) * march.voxel**3
    cores = float(((nodes.content[:stacks] - base) * shells.volume[:stacks]).sum())
    around = float(((nodes.content[stacks:] - cold) * nodes.capacity[stacks:]).sum())
    wall = march.lists.wall
    steel = float((wall[:, 0] * wall[:, 2] * (march.wall_temperature - room)).sum())
    return mould + metal + cores + around + steel
