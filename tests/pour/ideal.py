"""Pours with parts of the physics taken out, so that a closed form is left."""

import math
from typing import Any

import numpy as np

from pourcast.piece.model import Network
from pourcast.pour.model import FULL, PourResult
from pourcast.pour.sections import mean_area

GRAVITY = 9.80665  # m/s², standard value
DENSITY = 7550.0  # kg/m³, of the metal of `tests.pour.cases.case`
AIR = 101_325.0  # Pa

NO_COOLING: dict[str, Any] = {"interface_heat_transfer": 1e-12, "conductivity": 0.0}
"""Metal that loses no heat."""

NO_SURFACE: dict[str, Any] = {"surface_tension": 0.0}
"""Metal without a skin to break."""

NO_GAS: dict[str, Any] = {"permeability": 1e-6}
"""A block that lets air out as if it were not there."""

NO_FRICTION: dict[str, Any] = {"viscosity": 1e-200, "roughness": 0.0, "entry_loss": 0.0}
"""The law of smooth pipes nears 0 only with the logarithm of the viscosity: f is 8e-6 here."""

TIGHT: dict[str, Any] = {"permeability": 1e-30}
"""A block that lets no air out."""


def wide_cup(head: float) -> dict[str, Any]:
    """Return a cup so wide that its level [m] stays where it is; all the metal is in it."""
    gate, rim = 0.995, 1.0
    top = gate + (rim - gate) * head
    volume = math.pi / 3.0 * head * (gate**2 + gate * top + top**2)
    return {
        "cup_diameter": 2.0 * rim,
        "gate_diameter": 2.0 * gate,
        "cup_height": 1.0,
        "start_head": head,
        "metal_volume": volume,
        "pour_rate": 1.0,
    }


def all_full(result: PourResult) -> bool:
    """Return whether every segment of the first draw is full."""
    return bool(np.all(result.cause[0] == FULL))


def cavity_volumes(network: Network, scale: float = 1.0) -> np.ndarray:
    """Return the volume of each segment, width and thickness times ``scale`` [m³]."""
    areas = [
        mean_area(int(section), *(scale * float(size) for size in sizes))
        for section, *sizes in zip(
            network.section,
            network.width[:, 0],
            network.thickness[:, 0],
            network.width[:, 1],
            network.thickness[:, 1],
            strict=True,
        )
    ]
    return np.array(areas) * network.length
