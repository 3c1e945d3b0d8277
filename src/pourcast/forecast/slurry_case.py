"""Slurry case: the original in the slurry, the clock of mixing, and the far end.

Draws of its own: nothing of the pour hangs on them, and they are not ranked with
what moves the filling.
"""

from collections.abc import Mapping

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.forecast.prepare import Prepared
from pourcast.materials import Value, draw
from pourcast.materials.draws import ArrayInSI
from pourcast.mould.clock import clock_case, mix_clock
from pourcast.mould.clock_checks import clock_findings
from pourcast.mould.end_checks import far_end_findings
from pourcast.mould.far_end import far_end
from pourcast.mould.fresh import growth_from, rise_speed, water_factor
from pourcast.mould.in_slurry import on_the_piece
from pourcast.mould.model import EndCase, MixClock, SlurryCase, SlurryResult
from pourcast.mould.originals import density_of, youngs_of
from pourcast.mould.slurry_checks import slurry_findings
from pourcast.mould.water import original_water
from pourcast.mould.water_checks import water_findings
from pourcast.pour.gas import air_viscosity
from pourcast.pour.model import PourCase
from pourcast.sheet.model import Plan

_HEAD = 0.08  # m of metal over the far end when it is full; estimate


def slurry(
    plan: Plan, ready: Prepared, poured: PourCase
) -> tuple[SlurryResult, MixClock, tuple[Finding, ...]]:
    """Return what the slurry does to the original, the clock of mixing, and what to know.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    poured : PourCase
        Of the same draws.

    Returns
    -------
    result : SlurryResult
    clock : MixClock
    findings : tuple of Finding
    """
    book, original = ready.book, plan.original
    draws = ready.scale.shape[0]
    kept = book.investment["fresh"].values
    drawn = draw({value.key: value for value in kept.values()}, draws, ready.seed)
    fresh = {name: drawn[value.key] for name, value in kept.items()}
    bench = book.investment["limits"]["cure_before_kiln"].si
    clock = mix_clock(plan.mix, clock_case(fresh, bench))
    case = _case(plan, ready, fresh, clock)
    result = on_the_piece(ready.network, plan.piece, plan.flask, case)
    end = far_end(ready.mould, plan.flask, ready.measures, _end(ready, poured))
    water = original_water(plan.piece, book.plants, original.state, original.drying_time)
    return (
        result,
        clock,
        (
            *clock_findings(clock, plan.mix),
            *water_findings(
                water,
                original.state,
                plants=book.plants,
                seal=book.coatings["water_seal_hours"],
                slurry=result.parts,
            ),
            *slurry_findings(result, case),
            *far_end_findings(end, plan.flask),
        ),
    )


def _case(
    plan: Plan, ready: Prepared, fresh: Mapping[str, ArrayInSI], clock: MixClock
) -> SlurryCase:
    book, state = ready.book, plan.original.state
    draws = ready.scale.shape[0]

    def drawn(value: Value) -> ArrayInSI:
        return draw({value.key: value}, draws, ready.seed)[value.key]

    def of(name: str) -> ArrayInSI:
        return fresh[name]

    records = [
        (book.plants if part.material in book.plants else book.waxes)[part.material]
        for part in plan.piece.parts
    ]
    lacquered = "lacquer" in plan.original.holds
    coats, casting = book.coatings, book.waxes["casting"]
    factor = water_factor(plan.mix.water_to_powder, of("wp_38_factor"), of("wp_42_factor"))
    return SlurryCase(
        density=np.full(draws, ready.mould.slurry_density),
        yield_stress=of("yield_stress_start") * factor,
        plastic_viscosity=of("plastic_viscosity_start") * factor,
        growth_from=growth_from(clock.still_by),
        growth_time=of("growth_time_constant"),
        poured_age=clock.poured,
        froth_age=clock.done,
        rise_speed=rise_speed(plan.flask.height, of("pour_time")),
        froth_rise=of("rise_in_vacuum"),
        froth_time=of("froth_time"),
        part_density=np.stack([drawn(density_of(kept, state)) for kept in records], axis=1),
        part_youngs=np.stack([drawn(youngs_of(kept, state)) for kept in records], axis=1),
        coat_density=drawn(coats["density_lacquer"] if lacquered else casting["density"]),
        coat_youngs=drawn(coats["youngs_lacquer"] if lacquered else casting["youngs_20"]),
        joint_strength=drawn(book.waxes[plan.piece.button.material]["joint_strength"]),
        section_scale=ready.scale,
    )


def _end(ready: Prepared, poured: PourCase) -> EndCase:
    strength = ready.book.investment["strength"]
    draws = ready.scale.shape[0]
    drawn = draw(
        {"hot": strength["compressive_hot_700"], "ratio": strength["tension_ratio"]},
        draws,
        ready.seed,
    )
    block = poured.block
    weight = poured.metal.density * si.GRAVITY * _HEAD
    return EndCase(
        pressure=block.vacuum + weight,
        tensile_strength=drawn["hot"] * drawn["ratio"],
        permeability=block.permeability,
        gas_viscosity=air_viscosity(block.temperature),
        air_pressure=block.air_pressure,
        vacuum=block.vacuum,
    )
