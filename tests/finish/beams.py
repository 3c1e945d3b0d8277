"""Pieces that are one beam, and beams worked out by finite elements.

The elements are those of any textbook: straight, two nodes, deflection of third
degree.  A tapered beam is cut into many, each with the second moment of its
middle, so the error falls with the square of their number.
"""

import math
from collections.abc import Callable

import numpy as np
from scipy import linalg

from pourcast import units as si
from pourcast.finish.chain import bearers
from pourcast.finish.limits import part_limits
from pourcast.finish.model import Bearers, Limits, Loads, Strength
from pourcast.piece.model import Network, Part
from pourcast.piece.network import build
from tests.piece.make import piece

YIELD, YOUNGS = 150e6, 103e9
"""Pa; of a silicon bronze, and for these tests only a number."""


def network(*parts: Part) -> Network:
    """Return the network of parts that hang from the gate."""
    return build(piece(*parts))


def rows(*parts: Part) -> Bearers:
    """Return the bearers of parts."""
    return bearers(network(*parts))


def strength(draws: int = 1) -> Strength:
    """Return a metal that is the same in each draw."""
    return Strength(yield_strength=np.full(draws, YIELD), youngs_modulus=np.full(draws, YOUNGS))


def loads(
    *,
    hand_brush: float = 1e-3,
    wheel: float = 15.0,
    water_jet: float = 1e-3,
    blast: float = 1e4,
    light_blast: float = 1.0,
    draws: int = 1,
) -> Loads:
    """Return pushes that are the same in each draw."""
    return Loads(
        hand_brush=np.full(draws, hand_brush),
        wheel=np.full(draws, wheel),
        water_jet=np.full(draws, water_jet),
        blast=np.full(draws, blast),
        light_blast=np.full(draws, light_blast),
    )


def limits(*parts: Part, push: Loads | None = None, scale: float = 1.0) -> Limits:
    """Return what parts bear in one draw."""
    made = network(*parts)
    factors = np.full((1, made.member_part.size), scale)
    return part_limits(made, bearers(made), strength(), factors, push or loads())


def tip_of_tapered_beam(
    length: float,
    moment: Callable[[float], float],
    *,
    force: float = 0.0,
    line_load: Callable[[float], float] = lambda _: 0.0,
    elements: int = 150,
) -> float:
    """Return how far the free end of a cantilever moves, from the second moment by place."""
    size = 2 * elements + 2
    stiff, push = np.zeros((size, size)), np.zeros(size)
    h = length / elements
    for i in range(elements):
        middle = (i + 0.5) * h
        at = slice(2 * i, 2 * i + 4)
        stiff[at, at] += YOUNGS * moment(middle) * _bending(h)
        push[at] += line_load(middle) * np.array([h / 2, h**2 / 12, h / 2, -(h**2) / 12])
    push[-2] += force
    return float(linalg.solve(stiff[2:, 2:], push[2:], assume_a="pos")[-2])


def end_force_of_tapered_beam(
    length: float, moment: Callable[[float], float], *, elements: int = 100
) -> float:
    """Return the push on the free end at which a cantilever bows out."""
    size = 2 * elements + 2
    stiff, geometric = np.zeros((size, size)), np.zeros((size, size))
    h = length / elements
    for i in range(elements):
        at = slice(2 * i, 2 * i + 4)
        stiff[at, at] += YOUNGS * moment((i + 0.5) * h) * _bending(h)
        geometric[at, at] += _tilting(h)
    loads_ = linalg.eigh(geometric[2:, 2:], stiff[2:, 2:], eigvals_only=True)
    return 1.0 / float(loads_[-1])


def _bending(h: float) -> si.Floats:
    return (
        np.array(
            [
                [12.0, 6 * h, -12.0, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12.0, -6 * h, 12.0, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
        / h**3
    )


def _tilting(h: float) -> si.Floats:
    return np.array(
        [
            [36.0, 3 * h, -36.0, 3 * h],
            [3 * h, 4 * h * h, -3 * h, -h * h],
            [-36.0, -3 * h, 36.0, -3 * h],
            [3 * h, -h * h, -3 * h, 4 * h * h],
        ]
    ) / (30 * h)


def round_moment(diameter: float) -> float:
    """Return the second moment of a round section [m⁴]."""
    return math.pi * diameter**4 / 64


def along(first: float, last: float, length: float) -> Callable[[float], float]:
    """Return a size that changes evenly from the root to the tip."""
    return lambda place: first + (last - first) * place / length
