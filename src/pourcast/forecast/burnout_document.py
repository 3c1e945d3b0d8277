"""Burnout document: the burnout's part of the JSON."""

from collections.abc import Callable
from typing import Any

from pourcast import units as si
from pourcast.forecast.model import BurnoutForecast, Hour, Spread


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
        "dry_h": _hour(burnout.dry_at),
        "wax_gone_h": _hour(burnout.wax_gone_at),
        "clean_h": _hour(burnout.clean_at),
        "ready_h": _hour(burnout.ready_at),
        "clean_below_mg": si.from_si(burnout.clean_below, "mg"),
        "chance_clean": burnout.chance_clean,
        "char_left_mg": _spread(burnout.char_left, "mg"),
        "peak_core_C": _spread(burnout.peak_core, "degC"),
        "peak_wall_C": _spread(burnout.peak_wall, "degC"),
        "flask_C": _spread(burnout.flask_temperature, "degC"),
        "steam_kPa": _spread(burnout.overpressure, "kPa"),
        "stress_over_strength": _spread(burnout.stress, "-"),
        "ash_cm3": _spread(burnout.ash_volume, "cm3"),
        "oxygen_used_g": _spread(burnout.oxygen_used, "g"),
        "least_oxygen": _spread(burnout.least_oxygen, "-"),
        "over_the_day": {
            "time_h": _hours(burnout.time),
            "kiln_C": _celsius(burnout.kiln),
            "wall_C": _band(burnout.wall, _celsius),
            "core_C": _band(burnout.core, _celsius),
            "water_left": _band(burnout.water, _plain),
            "char_mg": _band(burnout.char, _milligrams),
        },
    }


def _hour(hour: Hour) -> dict[str, float | None]:
    named = {"p10": hour.p10, "p50": hour.p50, "p90": hour.p90}
    return {name: None if when is None else si.from_si(when, "h") for name, when in named.items()}


def _spread(spread: Spread, unit: str) -> dict[str, float]:
    named = {"p10": spread.p10, "p50": spread.p50, "p90": spread.p90}
    return {name: si.from_si(value, unit) for name, value in named.items()}


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
