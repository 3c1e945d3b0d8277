"""Ellipsoids against natural bodies that others measured: eggs.

Who has a caliper only writes down the length and the width of a pod or a fruit, and the piece
takes an ellipsoid.  Of eggs the volume was weighed under water besides.
"""

import math

import pytest

from pourcast.piece import solids
from tests.outside.record import record

POINTED = 0.12
"""Of the volume: an egg has a blunt and a pointed end, and an ellipsoid has not; a wader's
egg, the most pointed, is 10 % smaller.  The piece then holds too much metal, not too little."""


@pytest.mark.parametrize(
    ("bird", "share", "source"),
    [
        ("hen", 0.6057 - 0.0018 * 44.0, "Narushin (2005), Poult. Sci. 84, 482: 90 eggs"),
        ("many birds", 0.51, "Hoyt (1979), Auk 96, 73"),
        ("white pelican", 0.500, "O'Malley and Evans (1980), Can. J. Zool. 58, 603: 30 eggs"),
        ("wader", 0.471, "Governali et al. (2012), Wader Study Group Bull. 119: five species"),
    ],
)
def test_egg_is_an_ellipsoid_but_for_its_pointed_end(bird: str, share: float, source: str) -> None:
    """Measured: volume of eggs over length and square of the width.

    Source: as beside each, all read as abstracts, Hoyt's in that of Governali; that of the hen
    is 0.6057 - 0.0018 B with the width B in mm, here 44 mm.  Tolerance 12 %, see `POINTED`.
    Found: 0.6 % low for the hen, then 2.7 %, 4.7 % and 11.2 % high.
    """
    length, width = 0.057, 0.044

    got = solids.ellipsoid_volume(length, width, width) / (length * width**2)

    record("piece", f"volume of an egg over length and width squared, {bird}", source,
           got, share, "", POINTED * share, kind="measured")  # fmt: skip
    assert got == pytest.approx(share, rel=POINTED)


def test_shell_of_a_hens_egg_is_the_surface_of_an_ellipsoid() -> None:
    """Measured: (3.155 - 0.0136 L + 0.0115 B) L B is the surface of a hen's egg in mm².

    Source: Narushin (2005), Poult. Sci. 84, 482, abstract; L and B in mm, 90 eggs; here 57 and
    44 mm.  Tolerance 3 %: an egg is no ellipsoid, and ours is up to 1 % off one.
    Found: 1.0 % high.
    """
    long, wide = 57.0, 44.0

    got = 1e6 * solids.ellipsoid_area(1e-3 * long, 1e-3 * wide, 1e-3 * wide)

    want = (3.155 - 0.0136 * long + 0.0115 * wide) * long * wide
    record("piece", "surface of a hen's egg of 57 by 44 mm",
           "Narushin (2005), Poult. Sci. 84, 482: 90 eggs",
           1e-2 * got, 1e-2 * want, "cm²", 3e-4 * want, kind="measured")  # fmt: skip
    assert got == pytest.approx(want, rel=0.03)
    assert math.pi * wide**2 < got < math.pi * long**2
