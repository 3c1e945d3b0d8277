"""What the freezing in cells gives: how a casting froze, place by place.

Places are those of the network: x and y from the axis of the flask, z up from the gate.
"""

from dataclasses import dataclass

from pourcast import units as si
from pourcast.freeze.voxel_types import SecondsSingle


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The block cut through its axis, in the plane y = 0, at one time.

    Parameters
    ----------
    time : float [s]
    temperature : array [K], shape (cells along x, cells along z)
        Not a number outside the block.
    """

    time: si.Second
    temperature: si.Kelvins


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """How one place cools.

    Parameters
    ----------
    name : str
        "button", "wall" (hottest place of the outer face), the name of a part (its
        thickest place) or "place 1", ...
    place : array [m], shape (3,)
    temperature : array [K], shape (times,)
    """

    name: str
    place: si.Metres
    temperature: si.Kelvins


@dataclass(frozen=True, slots=True, kw_only=True)
class HotMould:
    """Mould over one temperature.

    Parameters
    ----------
    limit : float [K]
    volume : float [m³]
        Ever over it.
    largest : float [m³]
        Over it at once.
    until : float [s]
        Last time at which any of it is.
    """

    limit: si.Kelvin
    volume: si.CubicMetre
    largest: si.CubicMetre
    until: si.Second


@dataclass(frozen=True, slots=True, kw_only=True)
class ShrinkPool:
    """Liquid that was cut off from the button.

    Parameters
    ----------
    place : array [m], shape (3,)
        Of its last liquid.
    part : str
        "button", or the name of a part.
    cut_time : float [s]
        -1: never joined to the button.
    last_time : float [s]
    lack : float [m³]
        Metal that it is short of.
    """

    place: si.Metres
    part: str
    cut_time: si.Second
    last_time: si.Second
    lack: si.CubicMetre


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelFields:
    """How a casting froze, place by place.

    Parameters
    ----------
    voxel : float [m]
        Side of a cell.
    origin : array [m], shape (3,)
        Middle of the cell (0, 0, 0).
    shape : tuple of int
        Cells along x, y and z.
    cells : array of int, shape (cells, 3)
        Which cells are metal.
    part : array of int, shape (cells,)
        -1: button; else index into the names of the parts.
    freeze_time : array [s], shape (cells,)
        When a cell is all solid; not a number where it is not yet.
    stop_time : array [s], shape (cells,)
        When its solid fraction passes the stop fraction.
    stack_place : array [m], shape (stacks, 3)
        Middle of each length of a part that is thinner than three cells.
    stack_part : array of int, shape (stacks,)
    stack_freeze_time, stack_stop_time : array [s], shape (stacks,)
    sections : tuple of Section
    times : array [s], shape (times,)
        Of the curves.
    curves : tuple of Curve
    hot_mould : tuple of HotMould
    mould_peak : float [K]
        Highest temperature of any mould cell.
    last_place : array [m], shape (3,)
        Where it freezes last.
    last_part : str
    last_time : float [s]
        Not a number where it is not all solid.
    pools : tuple of ShrinkPool
        Those that lack metal, the largest lack first.
    metal_volume, loose_volume : float [m³]
        Of all metal; of metal cells without a way to the button.
    energy_error : float [-]
        Largest miss of the account of heat at any check, over all heat above the
        room at the start.
    heat_lost : float [J]
        To the room.
    time : float [s]
        At which it ended.
    steps, stages, cell_count, stack_count : int
        Steps; stages of the metal in all; cells of mould and metal; stacks.
    partial : bool
        It was stopped before its time.
    """

    voxel: si.Metre
    origin: si.Metres
    shape: tuple[int, int, int]
    cells: si.Integers
    part: si.Integers
    freeze_time: SecondsSingle
    stop_time: SecondsSingle
    stack_place: si.Metres
    stack_part: si.Integers
    stack_freeze_time: si.Seconds
    stack_stop_time: si.Seconds
    sections: tuple[Section, ...]
    times: si.Seconds
    curves: tuple[Curve, ...]
    hot_mould: tuple[HotMould, ...]
    mould_peak: si.Kelvin
    last_place: si.Metres
    last_part: str
    last_time: si.Second
    pools: tuple[ShrinkPool, ...]
    metal_volume: si.CubicMetre
    loose_volume: si.CubicMetre
    energy_error: si.Ratio
    heat_lost: si.Joule
    time: si.Second
    steps: int
    stages: int
    cell_count: int
    stack_count: int
    partial: bool
