"""Scene: the piece as a browser needs it to draw it in the round.

Lengths in millimetres, times in seconds, temperatures in °C; each segment of the
network is one short tube or slab.  The same figures stand in the table of parts.
"""

from typing import Any, TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.forecast.model import BurnoutForecast, Forecast, FreezeForecast
from pourcast.page.figures import clean
from pourcast.page.svg_shapes import CLASSES, broadside
from pourcast.piece.model import RECTANGLE
from pourcast.speech import Speech

Tree: TypeAlias = dict[str, Any]

MOST_MOMENTS = 240
"""Moments of a curve that are sent."""

_MM = 1000.0


def scene(forecast: Forecast) -> Tree:
    """Return the geometry, the figures of each part and what plays over time.

    Parameters
    ----------
    forecast : Forecast

    Returns
    -------
    dict
        Ready to be written as JSON.
    """
    network, flask, button = forecast.network, forecast.plan.flask, forecast.plan.piece.button
    across = np.array(
        [
            broadside(along, None if network.across is None else network.across[k])[0]
            for k, along in enumerate(network.end_position - network.start_position)
        ]
    ).reshape(-1, 3)
    return {
        "schema": "pourcast.scene/1",
        "draws": forecast.draws,
        "flask_mm": {
            "inside": _mm(flask.inside_diameter),
            "height": _mm(flask.height),
            "wall": _mm(flask.wall_thickness),
        },
        "button_mm": {
            "diameter": _mm(button.diameter),
            "gate": _mm(button.gate_diameter),
            "height": _mm(button.height),
        },
        "segments": {
            "start_mm": _flat(network.start_position * _MM),
            "end_mm": _flat(network.end_position * _MM),
            "width_mm": _flat(network.width * _MM),
            "thickness_mm": _flat(network.thickness * _MM),
            "across": _flat(across),
            "flat": (network.section == RECTANGLE).astype(int).tolist(),
            "part": network.member_part[network.member].tolist(),
            "chance": _flat(forecast.segment_chance),
        },
        "parts": [clean(name) for name in network.part_names],
        "classes": [
            {"least": least, "name": name, "words": words} for least, name, words in CLASSES
        ],
        "solid_s": _solid(forecast.freeze, network.length.size),
        "part_solid_s": _part_solid(forecast.freeze, len(network.part_names)),
        "freeze": _freeze(forecast.freeze),
        "degrees": _degrees(forecast.plan.speech),
        "burnout": None if forecast.burnout is None else _burnout(forecast.burnout),
    }


def _degrees(speech: Speech) -> Tree:
    """Return how a heat in °C is told: its unit, and the number of 0 and of 1 °C."""
    zero, one = (speech.exact(si.ZERO_CELSIUS + heat) for heat in (0.0, 1.0))
    return {"unit": speech.unit, "of_0": round(zero, 6), "each": round(one - zero, 6)}


def _solid(freeze: FreezeForecast | None, segments: int) -> list[float | None]:
    """Return when each segment is solid, in the middle of the draws."""
    if freeze is None:
        return [None] * segments
    return [round(time, 3) if np.isfinite(time) else None for time in freeze.segment_solid.tolist()]


def _part_solid(freeze: FreezeForecast | None, parts: int) -> list[float | None]:
    if freeze is None:
        return [None] * parts
    return [None if part.solid is None else round(part.solid.p50, 3) for part in freeze.parts]


def _freeze(freeze: FreezeForecast | None) -> Tree | None:
    if freeze is None:
        return None
    button = freeze.button_solid
    return {"button_s": None if button is None else round(button.p50, 2)}


def _burnout(burnout: BurnoutForecast) -> Tree:
    every = max(1, burnout.time.size // MOST_MOMENTS)
    kept = np.unique(np.append(np.arange(0, burnout.time.size, every), burnout.time.size - 1))
    middle = 1
    return {
        "time_h": _flat(burnout.time[kept] / 3600.0),
        "kiln_C": _celsius(burnout.kiln[kept]),
        "wall_C": _celsius(burnout.wall[middle][kept]),
        "core_C": _celsius(burnout.core[middle][kept]),
        "water": _flat(burnout.water[middle][kept]),
        "char_mg": _flat(burnout.char[middle][kept] * 1e6),
    }


def _celsius(temperature: si.Kelvins) -> list[float]:
    return _flat(np.round(temperature - si.ZERO_CELSIUS, 1))


def _flat(values: si.Floats) -> list[float]:
    return np.round(np.asarray(values, dtype=float), 4).ravel().tolist()


def _mm(length: si.Metre) -> float:
    return round(length * _MM, 4)
