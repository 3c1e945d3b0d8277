"""Scene in cells: what a browser needs to draw a casting that was frozen in cells.

Times in seconds, temperatures in °C, lengths in millimetres.  Metal is sent cell by
cell with the time at which it is solid; the block is sent as its section through the
axis at each time that was kept.
"""

from typing import Any, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.forecast.voxel_study import VoxelStudy
from pourcast.freeze.fields import Section

Tree: TypeAlias = dict[str, Any]

MOST_ACROSS = 96
"""Cells of a section along its longer side; a finer one is thinned."""

_MM = 1000.0


def scene_cells(study: VoxelStudy) -> Tree:
    """Return a frozen casting as plain values, ready to be written as JSON.

    Parameters
    ----------
    study : VoxelStudy
    """
    fields = study.fields
    return {
        "schema": "pourcast.cells/1",
        "side_mm": round(fields.voxel * _MM, 5),
        "origin_mm": np.round(fields.origin * _MM, 4).tolist(),
        "shape": list(fields.shape),
        "metal": {
            "cell": fields.cells.astype(int).ravel().tolist(),
            "solid_s": _times(fields.freeze_time),
        },
        "thin": {
            "place_mm": np.round(fields.stack_place * _MM, 3).ravel().tolist(),
            "solid_s": _times(fields.stack_freeze_time),
        },
        "sections": [_section(section) for section in fields.sections],
        "end_s": round(float(fields.time), 2),
    }


def _times(times: Any) -> list[float | None]:
    return [round(each, 2) if np.isfinite(each) else None for each in times.astype(float).tolist()]


def _section(section: Section) -> Tree:
    """Return a section: rows of cells along z, each along x; null outside the block."""
    field = section.temperature
    every = max(1, -(-max(field.shape) // MOST_ACROSS))
    thinned = field[every // 2 :: every, every // 2 :: every]
    celsius = np.round(thinned - si.ZERO_CELSIUS)
    return {
        "time_s": round(float(section.time), 2),
        "every": every,
        "wide": int(thinned.shape[0]),
        "high": int(thinned.shape[1]),
        "C": [int(each) if np.isfinite(each) else None for each in celsius.T.ravel().tolist()],
    }
