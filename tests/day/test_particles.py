"""Particles: percentiles of draws, with and without weights."""

import math

import numpy as np
import pytest

from pourcast.day.particles import percentiles
from tests.outside.record import record

SHARES = (0.1, 0.25, 0.37, 0.5, 0.9)


def test_percentiles_of_like_draws_are_those_of_numpy_by_weibull() -> None:
    """Against numpy.quantile with the positions i/(n + 1) of Weibull; to rounding."""
    values = np.random.default_rng(4).standard_normal(19)

    got = percentiles(values, np.full(19, 1.0 / 19.0), SHARES)

    want = np.quantile(values, SHARES, method="weibull")
    record(
        "day", "37th percentile of 19 draws", "numpy.quantile, positions of Weibull",
        got[2], want[2], "", 1e-12, kind="reference library",
    )  # fmt: skip
    assert got == pytest.approx(want, rel=1e-12)


def test_where_the_later_draw_never_happens_the_nearer_counts() -> None:
    """Definition: between 3 and never no straight way leads; up to half way it is 3."""
    values = np.array([1.0, 2.0, 3.0, math.inf])

    got = percentiles(values, np.full(4, 0.25), [0.5, 0.65, 0.75])

    assert got.tolist() == [2.5, 3.0, math.inf]
