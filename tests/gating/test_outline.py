"""Outline of a piece: against the circle of a rod."""

import math

import numpy as np
import pytest

from pourcast.gating.outline import surface_points
from tests.piece.make import part, piece


def test_corners_of_a_rod_hold_its_circle_in_every_direction() -> None:
    """Published: a polygon of n sides round a circle reaches r to r / cos(π/n).

    Source: Archimedes, Measurement of a Circle; 16 sides, 1.96 % at most.  To rounding.
    """
    points, _ = surface_points(piece(part(width=0.006)))
    around = np.linspace(0.0, 2.0 * math.pi, 361)

    ends = points[points[:, 2] < -1e-6]
    reach = (ends[:, :2] @ np.stack([np.cos(around), np.sin(around)])).max(axis=0)

    assert reach.min() == pytest.approx(0.003, rel=1e-3)
    assert reach.max() == pytest.approx(0.003 / math.cos(math.pi / 16), rel=1e-3)
