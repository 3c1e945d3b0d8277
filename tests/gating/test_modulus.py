"""The gate rule against the moduli of plain bodies and Chvorinov's law."""

import math

import pytest

from pourcast.errors import InputError
from pourcast.gating.modulus import freezing_ratio, rod_for, rod_modulus
from tests.outside.record import record


def test_rod_that_feeds_a_ball() -> None:
    """Published: the modulus of a ball is d/6, that of a long rod d/4 (geometry).

    Source: 1.2 times the modulus, common practice, no source; in foundry textbooks for
    feeders (Campbell, Castings, from memory).  A ball of 15 mm: 4 · 1.2 · 2.5 = 12 mm, exact.
    """
    ball = (math.pi / 6 * 15.0**3) / (math.pi * 15.0**2)

    got = rod_for(1e-3 * ball)

    record("gating", "gate of a ball of 15 mm by its modulus", "1.2 times, common practice",
           1e3 * got, 12.0, "mm", 1e-9, kind="common practice")  # fmt: skip
    assert got == pytest.approx(12e-3, rel=1e-12)


def test_feeder_of_1_2_times_the_modulus_freezes_1_44_times_as_long() -> None:
    """Published: freezing time grows with the square of the modulus.

    Source: Chvorinov (1940), Giesserei 27, 177, from memory; 1.2² = 1.44, exact.
    """
    got = freezing_ratio(rod_modulus(rod_for(2e-3)), 2e-3)

    record("gating", "freezing time of a feeder over what it feeds", "Chvorinov 1940",
           got, 1.44, "-", 1e-9, kind="closed form")  # fmt: skip
    assert got == pytest.approx(1.44, rel=1e-12)


@pytest.mark.parametrize("bad", [0.0, -1e-3, float("nan")])
def test_body_without_a_modulus_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="modulus"):
        rod_for(bad)
    with pytest.raises(InputError, match="diameter"):
        rod_modulus(bad)
    with pytest.raises(InputError, match="modulus"):
        freezing_ratio(1e-3, bad)
