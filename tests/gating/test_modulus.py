"""The gate rule against the moduli of plain bodies and Chvorinov's law."""

import math

import pytest

from pourcast.errors import InputError
from pourcast.gating.modulus import rod_for
from tests.outside.record import record


def rod_modulus(diameter: float) -> float:
    """Return volume over side of a long rod, its ends left out: d/4 (geometry) [m]."""
    return (math.pi / 4.0 * diameter**2) / (math.pi * diameter)


def freezing_ratio(one: float, other: float) -> float:
    """Return how many times as long one modulus freezes as another (Chvorinov 1940)."""
    return (one / other) ** 2


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


def test_factor_of_1_2_agrees_with_feeders_that_were_tried_on_steel() -> None:
    """Measured: sound and unsound steel castings part at X = 0.10/(Y - 0.03) + 1.0.

    Source: Caine (1948), Trans. Am. Foundrymen's Soc. 56, 492, from memory: X is the modulus of
    the feeder over that of the casting, Y its volume over that of the casting.  A feeder of
    half the volume of the casting needs 1.213 times its modulus.  Tolerance 0.05: the curve is
    drawn by eye between his castings.  Found: 1.1 % low.  Small feeders need more, 1.4 times
    at 0.28 of the volume, and 1.2 does not know that; steel in sand, no bronze in plaster.
    """
    got = rod_modulus(rod_for(2e-3)) / 2e-3

    want = 0.10 / (0.5 - 0.03) + 1.0
    record("gating", "modulus of a feeder of half the volume of its casting over that",
           "Caine (1948), steel castings, sound or not, from memory",
           got, want, "", 0.05, kind="measured")  # fmt: skip
    assert got == pytest.approx(want, abs=0.05)


@pytest.mark.parametrize("bad", [0.0, -1e-3, float("nan")])
def test_body_without_a_modulus_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="modulus"):
        rod_for(bad)
    with pytest.raises(InputError, match="factor"):
        rod_for(1e-3, factor=bad)
