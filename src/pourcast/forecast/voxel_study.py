"""Voxel study: one casting of the forecast, frozen in cells.

The draw is the one whose metal is solid nearest to the middle of all draws; block,
metal and pour are those of that draw, so that cells and network tell of the same
casting.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.forecast.burn import burn_as_planned
from pourcast.forecast.burnout_case import burnt_heats, conductivities_at
from pourcast.forecast.burnout_unknowns import CONDUCTIVITY
from pourcast.forecast.freeze_case import freeze_case
from pourcast.forecast.model import Calibration
from pourcast.forecast.prepare import Prepared, case_of, prepare
from pourcast.freeze.fields import VoxelFields
from pourcast.freeze.model import FreezeCase, FreezeResult
from pourcast.freeze.solid import knots_of
from pourcast.freeze.solve import solve as solve_freeze
from pourcast.freeze.voxel_model import VoxelAsk, VoxelBlock, VoxelMetal, VoxelMould, VoxelStart
from pourcast.freeze.voxel_solve import solve_voxel
from pourcast.materials.middle import first_of_the_nearest
from pourcast.pour.model import PourResult
from pourcast.pour.solve import solve as solve_pour
from pourcast.sheet.model import Plan

DRAWS = 60
"""Draws from which the middle one is taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VoxelStudy:
    """One casting frozen in cells, beside the network of the same draw.

    Parameters
    ----------
    plan : Plan
    fields : VoxelFields
    network_solid : float [s]
        When all metal is solid by the network.
    network_button : float [s]
    draw, seed : int
    pour_end : float [s]
        After the pour began; the cells count from there.
    """

    plan: Plan
    fields: VoxelFields
    network_solid: si.Second
    network_button: si.Second
    draw: int
    seed: int
    pour_end: si.Second


def voxel_study(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    voxel: si.Metre,
    until: si.Second,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
    memory_limit: int,
    sections: Sequence[si.Second] | None = None,
    progress: Callable[[float], bool] | None = None,
) -> VoxelStudy:
    """Return how the middle casting of a forecast freezes in cells.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration, optional
    voxel : float [m]
        Side of a cell.
    until : float [s]
        After the end of the pour.
    rng : numpy.random.Generator or int
    threads : int
    memory_limit : int
        Bytes.
    sections : sequence of float [s], optional
        After the pour: when the cut through the axis is kept; None: as `VoxelAsk` has it.
    progress : callable, optional
        As for `pourcast.freeze.voxel_solve.solve_voxel`.

    Returns
    -------
    VoxelStudy

    Raises
    ------
    InputError
        If a value is outside its limits, or the cells need more memory.
    """
    ready = prepare(plan, calibration, DRAWS, rng)
    burnt = burn_as_planned(plan, ready, threads=threads)
    poured_case = case_of(plan, ready, burnt[1] if burnt else None)
    poured = solve_pour(ready.poured, poured_case, threads=threads)
    covered = plan.piece.button.top == "covered"
    case = freeze_case(ready, poured_case, covered=covered)
    frozen = solve_freeze(ready.network, case, poured, threads=threads)
    draw = _middle(frozen)
    ask = VoxelAsk(
        beta=float(case.shrinkage[draw]),
        liquid_contraction=float(case.liquid_contraction[draw]),
        stop_fraction=float(case.feed_stop[draw]),
    )
    fields = solve_voxel(
        ready.network,
        plan.piece.button,
        _block(plan, ready, case, draw),
        _metal(case, draw),
        _mould(ready, draw),
        _start(case, poured, draw),
        voxel=voxel,
        until=until,
        ask=ask if sections is None else replace(ask, section_times=tuple(sections)),
        progress=progress,
        threads=threads,
        memory_limit=memory_limit,
    )
    return VoxelStudy(
        plan=plan,
        fields=fields,
        network_solid=float(frozen.all_solid[draw]),
        network_button=float(frozen.button_freeze_time[draw]),
        draw=draw,
        seed=ready.seed,
        pour_end=float(poured.end_time[draw]),
    )


def _middle(frozen: FreezeResult) -> int:
    """Return the draw that is solid nearest to the middle of those that come to be solid."""
    times = frozen.all_solid
    if not np.isfinite(times).any():
        return 0
    return first_of_the_nearest(np.abs(times - np.nanmedian(times)))


def _metal(case: FreezeCase, draw: int) -> VoxelMetal:
    metal = case.pour.metal
    temperatures = (
        float(metal.liquidus[draw]),
        float(metal.half_solid[draw]),
        float(case.seventy_solid[draw]),
        float(case.ninety_solid[draw]),
        float(metal.solidus[draw]),
    )
    return VoxelMetal(
        density=float(metal.density[draw]),
        knots=knots_of(
            temperatures,
            float(metal.specific_heat[draw]),
            float(case.solid_specific_heat[draw]),
            float(metal.latent_heat[draw]),
        ),
        solid_conductivity=float(case.solid_conductivity[draw]),
        liquid_conductivity=float(metal.conductivity[draw]),
        interface_heat_transfer=float(case.pour.block.interface_heat_transfer[draw]),
    )


def _mould(ready: Prepared, draw: int) -> VoxelMould:
    thermal = ready.book.investment["thermal"]
    mean = thermal["cp_burnt_mean_20_600"].si
    share = float(ready.drawn["k_burnt_600"][draw]) / thermal["k_burnt_600"].si
    at = conductivities_at()
    heat_at, heats = burnt_heats(thermal)
    return VoxelMould(
        density=ready.mould.burnt_density,
        temperature=at,
        conductivity=share * np.array([thermal[name].si for name in CONDUCTIVITY]),
        specific_heat=np.interp(at, heat_at, heats)
        * float(ready.drawn["cp_burnt_mean_20_600"][draw])
        / mean,
    )


def _block(plan: Plan, ready: Prepared, case: FreezeCase, draw: int) -> VoxelBlock:
    block, flask = case.pour.block, plan.flask
    covered = case.top == "covered"
    top = plan.piece.button.height
    return VoxelBlock(
        radius=block.radius,
        top=top,
        bottom=top - flask.height,
        wall=flask.wall,
        wall_thickness=flask.wall_thickness,
        wall_density=ready.book.kiln["flask_steel_density"].si,
        room=float(case.room_temperature[draw]),
        air_heat_transfer=float(case.flask_heat_transfer[draw]),
        wall_emissivity=float(case.flask_emissivity[draw]),
        in_vacuum=plan.assist.kind == "vacuum",
        button_top=case.top,
        top_emissivity=float(case.top_emissivity[draw]),
        cover_heat_transfer=float(case.top_heat_transfer[draw]) if covered else 4.0,
    )


def _start(case: FreezeCase, poured: PourResult, draw: int) -> VoxelStart:
    return VoxelStart(
        metal=float(case.pour.metal.temperature[draw]),
        mould=float(case.pour.block.temperature[draw]),
        segment_temperature=poured.temperature[draw],
        segment_solid_fraction=poured.solid_fraction[draw],
        filled=poured.filled[draw],
    )
