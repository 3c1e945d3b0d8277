"""Finish document: what may touch each part, in the JSON."""

from typing import Any

from pourcast import units as si
from pourcast.finish.model import Cut, FinishResult, PartFinish


def finish_document(finish: FinishResult) -> dict[str, Any]:
    """Return what may touch each part, where it is cut and what comes back.

    Parameters
    ----------
    finish : FinishResult

    Returns
    -------
    dict
    """
    balance = finish.balance
    return {
        "parts": [_part(part) for part in finish.parts],
        "cuts": [_cut(cut) for cut in finish.cuts],
        "metal_g": {
            "charged": si.from_si(balance.charged, "g"),
            "lost": si.from_si(balance.lost, "g"),
            "work": si.from_si(balance.work, "g"),
            "feeds": si.from_si(balance.feeds, "g"),
            "vents": si.from_si(balance.vents, "g"),
            "button": si.from_si(balance.button, "g"),
            "back": si.from_si(balance.back, "g"),
        },
    }


def _part(part: PartFinish) -> dict[str, Any]:
    return {
        "name": part.name,
        "count": part.members,
        "act": part.act,
        "allowed": list(part.allowed),
        "bent": dict(part.bent),
        "bent_by_water": part.bent_by_water,
        "bends_at": part.bends_at,
        "tip_force_N": part.tip_force,
        "tip_force_low_N": part.tip_force_low,
        "end_force_N": part.end_force,
        "pressure_kPa": si.from_si(part.pressure, "kPa"),
        "deflection_mm": si.from_si(part.deflection, "mm"),
    }


def _cut(cut: Cut) -> dict[str, Any]:
    return {
        "place": cut.place,
        "count": cut.count,
        "area_mm2": 1e6 * cut.area,
        "time_min": si.from_si(cut.time, "min"),
    }
