"""Lumps: as one solid and as slices."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.piece import lumps, solids
from tests.piece.make import few, near

BASES = st.floats(0.01, 0.7)


def slices(stops: np.ndarray, base: float) -> np.ndarray:
    angles, step = lumps.even_slices(stops, base)
    return lumps.share_at(np.linspace(angles[0], angles[-1], 9), base) if step > 0 else stops


def test_lump_on_a_hair_is_the_whole_ellipsoid() -> None:
    """Published: π/6 of the box about it (CRC Standard Mathematical Tables).

    Tolerance 1e-8: the neck of 1e-4 cuts off a cap of 1e-8 of the length squared.
    """
    got = lumps.lump_volume(0.02, 0.01, 0.006, 1e-4)

    assert got == near(math.pi / 6 * 0.02 * 0.01 * 0.006, rel=1e-8)


@few
@given(base=BASES)
def test_volume_is_the_integral_of_the_waist(base: float) -> None:
    """Computed: 20 000 strips of the section; tolerance 1e-6, of the flat pole and the strips."""
    share = (np.arange(20_000) + 0.5) / 20_000
    rise = math.sqrt(1 - base * base)
    section = 1 - (share * (1 + rise) - rise) ** 2

    want = math.pi / 4 * 0.02 * 0.01 * 0.006 * float(section.mean())
    assert lumps.lump_volume(0.02, 0.01, 0.006, base) == near(want, rel=1e-6)


@few
@given(base=BASES)
def test_lump_starts_with_the_section_of_its_parent(base: float) -> None:
    """Property: the waist at the base is the ratio that was asked for."""
    assert float(lumps.waist(np.zeros(1), base)[0]) == near(base, rel=1e-6)


def test_lump_is_widest_at_its_middle_and_blunt_at_its_tip() -> None:
    """Property of the rule: 1 at the middle of the ellipsoid, 0.15 at the pole."""
    rise = math.sqrt(1 - 0.4**2)

    waist = lumps.waist(np.array([rise / (1 + rise), 1.0]), 0.4)
    assert waist == near(np.array([1.0, 0.15]))


def test_thick_parent_cuts_no_lump_at_its_middle() -> None:
    """Property of the rule: 0.7 at most (estimate)."""
    assert lumps.base_ratio(0.02, 0.005) == 0.7
    assert lumps.base_ratio(0.001, 0.005) == near(0.2)


@few
@given(base=BASES)
def test_scaled_slices_hold_the_volume_and_stay_near_the_lump(base: float) -> None:
    """Property: to rounding; the scale lies in 1.00 to 1.03; found 1.010 to 1.019."""
    share = slices(np.array([0.0, 1.0]), base)
    scale = lumps.slice_scale(share, base)
    cut = lumps.waist(share, base) * 0.01 * scale

    volume = sum(
        solids.round_taper_volume(0.02 * (s1 - s0), d0, d1)
        for s0, s1, d0, d1 in zip(share[:-1], share[1:], cut[:-1], cut[1:], strict=True)
    )
    assert volume == near(lumps.lump_volume(0.02, 0.01, 0.01, base), rel=1e-12)
    assert 1.0 <= scale <= 1.03


@few
@given(base=BASES, share=st.floats(0.0, 1.0))
def test_angle_and_share_are_each_other_s_inverse(base: float, share: float) -> None:
    """Property; tolerance 1e-7: near the poles the angle is the root of the share."""
    angles, _ = lumps.even_slices(np.array([0.0, share, 1.0]), base)

    assert lumps.share_at(angles, base)[1] == pytest.approx(share, abs=1e-7)


def test_side_of_a_round_lump_on_a_hair_is_the_sphere() -> None:
    """Published: Archimedes, 4 π r²; tolerance 1e-6 for the neck."""
    got = lumps.lump_side(0.02, 0.02, 0.02, 1e-4)

    assert got == near(math.pi * 0.02**2, rel=1e-6)


def test_side_of_a_flat_lump_on_a_hair_is_the_ellipsoid() -> None:
    """Published: Thomsen's form of the surface; tolerance 1e-6 for the neck."""
    got = lumps.lump_side(0.03, 0.02, 0.01, 1e-4)

    assert got == near(solids.ellipsoid_area(0.03, 0.02, 0.01), rel=1e-6)
