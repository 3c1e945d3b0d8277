"""Pieces and slurries for the tests of what the slurry does to the original."""

import math
from typing import Any

import numpy as np

from pourcast import units as si
from pourcast.mould.in_slurry import on_the_piece
from pourcast.mould.limbs import limbs
from pourcast.mould.model import Flask, Limbs, Patterns, SlurryCase, SlurryResult
from pourcast.mould.patterns import patterns
from pourcast.piece.model import Network, Part, Piece
from pourcast.piece.network import build
from tests.piece.make import piece

FLASK = Flask(inside_diameter=0.1, height=0.12, wall="solid", wall_thickness=2e-3, temperature=None)
STALK = 3e8
"""Young's modulus of a green stem [Pa], as in the plant records."""


def case(
    network: Network,
    *,
    draws: int = 1,
    youngs: float | si.Pascals = STALK,
    density: float = 900.0,
    rise_speed: float = 3e-3,
    froth_time: float = 1e9,
    froth_rise: float = 1.001,
    scale: float = 1.0,
    **changes: Any,
) -> SlurryCase:
    """Return a slurry of 40 parts of water, without froth unless it is asked for."""
    parts, members = len(network.part_names), network.member_part.size

    def even(value: Any) -> si.Floats:
        return np.full(draws, value, dtype=float)

    values: dict[str, Any] = {
        "density": even(1765.0),
        "yield_stress": even(5.0),
        "plastic_viscosity": even(0.6),
        "growth_from": even(360.0),
        "growth_time": even(150.0),
        "poured_age": even(330.0),
        "froth_age": even(330.0),
        "rise_speed": even(rise_speed),
        "froth_rise": even(froth_rise),
        "froth_time": even(froth_time),
        "part_density": np.full((draws, parts), density),
        "part_youngs": np.broadcast_to(np.asarray(youngs, dtype=float), (draws, parts)).copy(),
        "coat_density": even(1150.0),
        "coat_youngs": even(1e9),
        "joint_strength": even(5e5),
        "section_scale": np.full((draws, members), scale),
    }
    values |= {
        name: even(value) if np.ndim(value) == 0 else value for name, value in changes.items()
    }
    return SlurryCase(**values)


def result(*parts: Part, flask: Flask = FLASK, tilt: float = 0.0, **options: Any) -> SlurryResult:
    """Return what the slurry does to parts that hang from the gate."""
    whole = made(*parts, tilt=tilt)
    network = build(whole)
    return on_the_piece(network, whole, flask, case(network, **options))


def made(*parts: Part, tilt: float = 0.0) -> Piece:
    """Return a piece with a gate that is thicker than what hangs from it."""
    return piece(*parts, tilt=math.degrees(tilt))


def unit_loads(*parts: Part, room: float = 0.1) -> tuple[Network, Limbs, Patterns]:
    """Return a network, its limbs and its patterns."""
    network = build(made(*parts))
    found = limbs(network)
    coats = np.array([part.coat for part in parts])
    lump = np.array([part.shape == "lump" for part in parts])
    return network, found, patterns(network, found, coats=coats, lump=lump, room=room)
