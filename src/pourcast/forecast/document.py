"""Document: the forecast as JSON, schema "pourcast.forecast/1".

The keys are those of `schema.json` in this folder and are kept from the first
release.  Units stand in the key.  A stage that is not built is absent.  Numbers
that are not finite never appear.
"""

import hashlib
import json
import math
from dataclasses import replace
from importlib import resources
from typing import Any

from pourcast import units as si
from pourcast.errors import SolveError
from pourcast.findings import Finding
from pourcast.forecast.burnout_document import burnout_document
from pourcast.forecast.finish_document import finish_document
from pourcast.forecast.freeze_document import freeze_document
from pourcast.forecast.model import Forecast, PartForecast
from pourcast.forecast.slurry_document import clock_document, slurry_document
from pourcast.forecast.trees import spread_tree
from pourcast.kernels import HASH
from pourcast.pour.model import CAUSES

SCHEMA = "pourcast.forecast/1"


def schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) that every document follows."""
    text = resources.files("pourcast.forecast").joinpath("schema.json").read_text("utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


def document(
    forecast: Forecast,
    *,
    version: str,
    timing: dict[str, si.Second] | None = None,
    made_with: dict[str, str] | None = None,
) -> dict[str, Any]:
    """Return the forecast as a tree of plain values.

    Parameters
    ----------
    forecast : Forecast
    version : str
        Of pourcast.
    timing : dict of str to float, optional [s]
        How long each step of the work took.
    made_with : dict of str to str, optional
        By what it was worked out, `pourcast.execute.made_with`.

    Returns
    -------
    dict

    Raises
    ------
    SolveError
        If a number is not finite.
    """
    measures, metal, mould = forecast.measures, forecast.metal, forecast.mould
    ranges = [replace(unknown, rank_correlation=0.0) for unknown in forecast.unknowns]
    ranges.sort(key=lambda unknown: unknown.key)
    learnt = (forecast.calibration, forecast.learnt)
    curve = forecast.burnout.curve if forecast.burnout else None
    # In full: the repr of a long array leaves its middle out.
    hours = (curve.name, curve.time.tolist(), curve.temperature.tolist()) if curve else None
    inputs = repr((forecast.plan, learnt, ranges, hours, forecast.draws, forecast.seed))
    made: dict[str, Any] = {
        "schema": SCHEMA,
        "version": version,
        "seed": forecast.seed,
        "draws": forecast.draws,
        "calibration": forecast.calibration,
        "inputs_sha256": hashlib.sha256(inputs.encode()).hexdigest(),
        "kernels_sha256": HASH,
        **({"made_with": dict(made_with)} if made_with else {}),
        "piece": {
            "name": forecast.plan.piece.name,
            "invented": forecast.plan.invented,
            "parts": len(forecast.parts),
            "members": int(forecast.network.member_part.size),
            "segments": int(forecast.network.length.size),
            "volume_cm3": si.from_si(measures.volume, "cm3"),
            "area_cm2": si.from_si(measures.area, "cm2"),
            "thinnest_mm": si.from_si(measures.thinnest, "mm"),
            "joint_overlap_cm3": si.from_si(measures.joint_overlap, "cm3"),
        },
        "weigh": {
            "cavity_cm3": si.from_si(metal.cavity_volume, "cm3"),
            "button_cm3": si.from_si(metal.button_volume, "cm3"),
            "metal_g": si.from_si(metal.metal, "g"),
            "metal_low_g": si.from_si(metal.metal_low, "g"),
            "metal_high_g": si.from_si(metal.metal_high, "g"),
            "new_metal_g": si.from_si(metal.new_metal, "g"),
            "return_metal_g": si.from_si(metal.return_metal, "g"),
            "short_by_g": si.from_si(metal.short_by, "g"),
            "slurry_l": si.from_si(mould.slurry_volume, "l"),
            "powder_g": si.from_si(mould.powder, "g"),
            "water_g": si.from_si(mould.water, "g"),
            "wax_equivalent_g": si.from_si(metal.wax_equivalent, "g"),
            "wax_factor": metal.wax_factor,
        },
        "mould": {
            "slurry_density_kg_per_m3": mould.slurry_density,
            "burnt_porosity": mould.burnt_porosity,
            "full_kg": mould.full_mass,
            "wall_gap_mm": si.from_si(mould.wall_gap, "mm"),
            "far_cover_mm": si.from_si(mould.far_cover, "mm"),
            **({"in_slurry": slurry_document(forecast.slurry)} if forecast.slurry else {}),
            **({"clock": clock_document(forecast.clock)} if forecast.clock else {}),
        },
        **({"burnout": burnout_document(forecast.burnout)} if forecast.burnout else {}),
        "fill": {
            "chance_all": forecast.chance_all,
            "chance_all_low": forecast.chance_low,
            "chance_all_high": forecast.chance_high,
            "outcomes": {
                "whole": forecast.outcomes.whole,
                "short_tips": forecast.outcomes.short_tips,
                "short_parts": forecast.outcomes.short_parts,
                "lost": forecast.outcomes.lost,
            },
            "cold_shut_chance": forecast.cold_shut_chance,
            "parts": [_part(part) for part in forecast.parts],
        },
        **({"freeze": freeze_document(forecast.freeze)} if forecast.freeze else {}),
        **({"finish": finish_document(forecast.finish)} if forecast.finish else {}),
        "unknowns": [
            {
                "key": unknown.key,
                "rank_correlation": unknown.rank_correlation,
                "value": unknown.value,
                "low": unknown.low,
                "high": unknown.high,
                "unit": unknown.unit,
                "kind": unknown.kind,
                "source": unknown.source,
            }
            for unknown in forecast.unknowns
        ],
        "findings": [finding_tree(finding) for finding in forecast.findings],
        "timing_s": dict(timing or {}),
    }
    refuse_not_finite(made, "document")
    return made


def _part(part: PartForecast) -> dict[str, Any]:
    return {
        "name": part.name,
        "count": part.count,
        "thinnest_mm": si.from_si(part.thinnest, "mm"),
        "chance_full": part.chance_full,
        "chance_weakest": part.chance_weakest,
        "share": spread_tree(part.share, "-"),
        "cause": part.cause,
        "causes": {cause: part.causes.get(cause, 0.0) for cause in CAUSES},
        "fill_time_s": spread_tree(part.fill_time, "s") if part.fill_time else None,
    }


def finding_tree(finding: Finding) -> dict[str, Any]:
    """Return a finding as a tree of plain values.

    Parameters
    ----------
    finding : Finding
    """
    return {
        "stage": finding.stage,
        "key": finding.key,
        "level": finding.level,
        "part": finding.part,
        "text": finding.text,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "kind": finding.kind,
    }


def refuse_not_finite(value: Any, place: str) -> None:
    """Raise `SolveError` where a tree of plain values holds a number that is not finite.

    Parameters
    ----------
    value : dict, list, number, text or None
    place : str
        What it is called in the message.

    Raises
    ------
    SolveError
    """
    if isinstance(value, float) and not math.isfinite(value):
        raise SolveError(f"{place} is {value}", 0, value)
    if isinstance(value, dict):
        for key, inner in value.items():
            refuse_not_finite(inner, f"{place}.{key}")
    if isinstance(value, list):
        for number, inner in enumerate(value):
            refuse_not_finite(inner, f"{place}[{number}]")
