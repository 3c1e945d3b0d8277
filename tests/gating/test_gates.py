"""Gates made thicker: what is asked for is what is written, and no less."""

import pytest

from pourcast.gating.gates import MOST_COAT, _coated, _rolled
from tests.piece.make import part


def test_a_rod_that_is_thick_enough_at_one_end_is_made_thicker_at_the_other() -> None:
    """Geometry: 3.5 mm are asked, the base has 4 and the tip 3, so the tip alone grows."""
    edit, words, width, coat = _rolled(part("gate", width=(4e-3, 3e-3)), 3.5e-3)

    assert edit is not None
    assert edit.value == [4.0, 3.5]
    assert words == "gate 4 to 3.5 mm"
    assert width == pytest.approx((4e-3, 3.5e-3))
    assert coat == 0.0


def test_a_coat_makes_up_half_of_what_is_missing_on_each_side() -> None:
    """Geometry: a stem of 3 mm at its thinner end has 4 mm under a coat of 0.5 mm."""
    made = _coated(part("stem", width=(4e-3, 3e-3)), 4e-3)

    assert made is not None
    edit, _, width, coat = made
    assert edit is not None
    assert edit.value == pytest.approx(0.5)
    assert width == (4e-3, 3e-3)
    assert coat == pytest.approx(0.5e-3)


def test_a_coat_that_would_be_too_thick_is_not_told() -> None:
    """Made to fail: twice the most coat and a little more are missing."""
    assert _coated(part("stem", width=3e-3), 3e-3 + 2.1 * MOST_COAT) is None
