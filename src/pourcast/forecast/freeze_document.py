"""Freeze document: feeding and quench, in the JSON."""

from typing import Any

from pourcast import units as si
from pourcast.forecast.model import FreezeForecast, Spread
from pourcast.forecast.trees import hour_tree, known, spread_tree
from pourcast.freeze.model import Feeder, HotSpot


def freeze_document(freeze: FreezeForecast) -> dict[str, Any]:
    """Return what the freezing comes to as a tree of plain values.

    Parameters
    ----------
    freeze : FreezeForecast

    Returns
    -------
    dict
    """
    return {
        "button_top": freeze.top,
        "last_part": max(freeze.last, key=freeze.last.__getitem__),
        "last": dict(freeze.last),
        "parts": [{"name": part.name, "solid_s": _seconds(part.solid)} for part in freeze.parts],
        "button_solid_s": _seconds(freeze.button_solid),
        "all_solid_s": _seconds(freeze.all_solid),
        "shrinkage_cm3": spread_tree(freeze.lack, "cm3"),
        "feed_problems": [_spot(spot) for spot in freeze.spots],
        "feeders": [_feeder(feeder) for feeder in freeze.feeders],
        "quench": {
            "from_min": hour_tree(freeze.quench_from, "min"),
            "to_min": hour_tree(freeze.quench_to, "min"),
        },
        "face_above_760_s": spread_tree(freeze.above_760, "s"),
        "face_above_900_s": spread_tree(freeze.above_900, "s"),
    }


def _spot(spot: HotSpot) -> dict[str, Any]:
    return {
        "part": spot.part,
        "chance": spot.chance,
        "places": spot.count,
        "shrinkage_mm3": 1e9 * spot.lack,
        "all_places_mm3": 1e9 * spot.total,
        "cut_off_s": known(spot.cut_time),
        "closes_s": known(spot.close_time),
        "cut_off_by": spot.neck or None,
        "modulus_mm": si.from_si(spot.modulus, "mm"),
    }


def _feeder(feeder: Feeder) -> dict[str, Any]:
    return {
        "part": feeder.part,
        "length_mm": si.from_si(feeder.length, "mm"),
        "diameter_mm": si.from_si(feeder.diameter, "mm"),
        "diameter_by_modulus_mm": si.from_si(feeder.diameter_by_modulus, "mm"),
        "diameter_by_model_mm": si.from_si(feeder.diameter_by_model, "mm"),
    }


def _seconds(spread: Spread | None) -> dict[str, float] | None:
    return None if spread is None else spread_tree(spread, "s")
