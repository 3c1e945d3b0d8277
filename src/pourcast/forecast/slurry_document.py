"""Slurry document: the original in the slurry and the clock of mixing, in the JSON."""

from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.mould.model import MixClock, PartSlurry, SlurryResult


def slurry_document(result: SlurryResult) -> dict[str, Any]:
    """Return what the slurry does to the original as a tree of plain values.

    Parameters
    ----------
    result : SlurryResult

    Returns
    -------
    dict
    """
    return {
        "parts": [_part(part) for part in result.parts],
        "joint_tears": result.joint.tears,
        "air_traps": [
            {"part": trap.name, "area_cm2": si.from_si(trap.area, "cm2"), "share": trap.share}
            for trap in result.traps.parts
        ],
        "narrow_gaps": [
            {
                "part": gap.part,
                "other": gap.other,
                "distance_mm": si.from_si(gap.distance, "mm"),
                "places": gap.pairs,
            }
            for gap in result.gaps
        ],
    }


def clock_document(clock: MixClock) -> dict[str, Any]:
    """Return the clock of mixing in minutes from the first powder, middle of the draws.

    Parameters
    ----------
    clock : MixClock

    Returns
    -------
    dict
    """
    named = {
        "mixed_min": clock.mixed,
        "debubbled_min": clock.debubbled,
        "poured_min": clock.poured,
        "done_min": clock.done,
        "still_by_min": clock.still_by,
        "gloss_off_min": clock.gloss_off,
        "hard_set_min": clock.hard_set,
        "open_at_min": clock.open_at,
    }
    told = {name: si.from_si(float(np.median(at)), "min") for name, at in named.items()}
    return {**told, "late_chance": clock.late}


def _part(part: PartSlurry) -> dict[str, Any]:
    return {
        "name": part.name,
        "count": part.members,
        "lean": part.lean,
        "leans_chance": part.leans,
        "lies_over_chance": part.lies_over,
        "pushed_by": part.pushed_by,
        "floats_chance": part.floats,
        "touches_chance": part.touches,
    }
