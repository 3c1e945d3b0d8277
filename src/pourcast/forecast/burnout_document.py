"""Burnout document: the burnout's part of the JSON."""

from collections.abc import Callable
from typing import Any

from pourcast import units as si
from pourcast.forecast.model import BurnoutForecast
from pourcast.forecast.trees import hour_tree, spread_tree


def burnout_document(burnout: BurnoutForecast) -> dict[str, Any]:
    """Return what the burnout comes to as a tree of plain values.

    Parameters
    ----------
    burnout : BurnoutForecast

    Returns
    -------
    dict
        An hour that does not come within the curve is None.
    """
    return {
        "curve": burnout.curve.name,
        "curve_h": _hours(burnout.curve.time),
        "curve_C": _celsius(burnout.curve.temperature),
        "dry_h": hour_tree(burnout.dry_at, "h"),
        "wax_gone_h": hour_tree(burnout.wax_gone_at, "h"),
        "clean_h": hour_tree(burnout.clean_at, "h"),
        "ready_h": hour_tree(burnout.ready_at, "h"),
        "clean_below_mg": si.from_si(burnout.clean_below, "mg"),
        "chance_clean": burnout.chance_clean,
        "char_left_mg": spread_tree(burnout.char_left, "mg"),
        "peak_core_C": spread_tree(burnout.peak_core, "degC"),
        "peak_wall_C": spread_tree(burnout.peak_wall, "degC"),
        "flask_C": spread_tree(burnout.flask_temperature, "degC"),
        "steam_kPa": spread_tree(burnout.overpressure, "kPa"),
        "stress_over_strength": spread_tree(burnout.stress, "-"),
        "ash_cm3": spread_tree(burnout.ash_volume, "cm3"),
        "oxygen_used_g": spread_tree(burnout.oxygen_used, "g"),
        "least_oxygen": spread_tree(burnout.least_oxygen, "-"),
        "over_the_day": {
            "time_h": _hours(burnout.time),
            "kiln_C": _celsius(burnout.kiln),
            "wall_C": _band(burnout.wall, _celsius),
            "core_C": _band(burnout.core, _celsius),
            "water_left": _band(burnout.water, _plain),
            "char_mg": _band(burnout.char, _milligrams),
        },
    }


def _band(values: si.Floats, written: Callable[[si.Floats], list[float]]) -> dict[str, list[float]]:
    return {name: written(row) for name, row in zip(("p10", "p50", "p90"), values, strict=True)}


def _hours(times: si.Seconds) -> list[float]:
    return [round(si.from_si(time, "h"), 4) for time in times.tolist()]


def _celsius(temperatures: si.Kelvins) -> list[float]:
    return [round(si.from_si(kelvin, "degC"), 2) for kelvin in temperatures.tolist()]


def _milligrams(masses: si.Kilograms) -> list[float]:
    return [round(si.from_si(mass, "mg"), 3) for mass in masses.tolist()]


def _plain(shares: si.Ratios) -> list[float]:
    return [round(share, 5) for share in shares.tolist()]
