"""Voxel document: one casting frozen in cells as JSON, schema "pourcast.freeze/1"."""

from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.forecast.document import refuse_not_finite
from pourcast.forecast.trees import known
from pourcast.forecast.voxel_study import VoxelStudy
from pourcast.kernels import HASH

SCHEMA = "pourcast.freeze/1"


def voxel_document(study: VoxelStudy, *, version: str) -> dict[str, Any]:
    """Return a casting frozen in cells as a tree of plain values.

    Parameters
    ----------
    study : VoxelStudy
    version : str
        Of pourcast.

    Returns
    -------
    dict

    Raises
    ------
    SolveError
        If a number is not finite.
    """
    fields = study.fields
    made: dict[str, Any] = {
        "schema": SCHEMA,
        "version": version,
        "seed": study.seed,
        "draw": study.draw,
        "kernels_sha256": HASH,
        "piece": {"name": study.plan.piece.name, "invented": study.plan.invented},
        "voxel_mm": si.from_si(fields.voxel, "mm"),
        "cells": fields.cell_count,
        "stacks": fields.stack_count,
        "steps": fields.steps,
        "partial": fields.partial,
        "followed_min": si.from_si(fields.time, "min"),
        "energy_error": fields.energy_error,
        "last": {
            "part": fields.last_part,
            "s": known(fields.last_time),
            "place_mm": [si.from_si(value, "mm") for value in fields.last_place.tolist()],
        },
        "network": {
            "all_solid_s": known(study.network_solid),
            "button_s": known(study.network_button),
        },
        "pools": [
            {
                "part": pool.part,
                "lack_mm3": 1e9 * pool.lack,
                "cut_off_s": None if pool.cut_time < 0.0 else pool.cut_time,
                "last_s": known(pool.last_time),
                "place_mm": [si.from_si(value, "mm") for value in pool.place.tolist()],
            }
            for pool in fields.pools
        ],
        "mould_peak_C": si.from_si(fields.mould_peak, "degC"),
        "hot_mould": [
            {
                "over_C": si.from_si(hot.limit, "degC"),
                "volume_cm3": si.from_si(hot.volume, "cm3"),
                "until_s": hot.until,
            }
            for hot in fields.hot_mould
        ],
        "cooling": {
            "time_s": fields.times.tolist(),
            "curves": [
                {"name": curve.name, "C": np.round(curve.temperature - si.ZERO_CELSIUS, 2).tolist()}
                for curve in fields.curves
            ],
        },
    }
    refuse_not_finite(made, "document")
    return made
