"""What a curve may come to beside the usual one, and what the search hands back."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.burnout.margins import Margins, broken
from pourcast.burnout.model import NEAR
from pourcast.burnout.solve import CLEAN_BELOW
from pourcast.forecast.burn import usual_curve
from pourcast.forecast.burnout_study import middle_section, study
from pourcast.forecast.prepare import prepare
from pourcast.forecast.shortest_curve import allowed_beside, margins_of, shortest_curve
from tests.burnout.hand import DRAWS, result
from tests.forecast.hand import example

STOP = 1033.15
USUAL = Margins(
    stress=0.4,
    skin_to_core=80.0,
    inversion_ramp=0.05,
    hot_char=900.0,
    char=0.0,
    core_off=5.0,
)


def test_the_usual_curve_keeps_what_is_allowed_beside_it() -> None:
    bad = replace(USUAL, stress=7.0, char=3e-6, core_off=40.0, hot_char=1100.0)

    for usual in (USUAL, bad):
        assert broken(usual, allowed_beside(usual, hard_stop=STOP)) == ()


def test_limits_that_have_a_number_are_not_tightened_by_a_good_usual_curve() -> None:
    allowed = allowed_beside(USUAL, hard_stop=STOP)

    assert allowed.char == CLEAN_BELOW
    assert (allowed.hot_char, allowed.core_off) == (STOP, NEAR)


def test_margins_are_what_nine_of_ten_draws_stay_below() -> None:
    """By hand: char of 6 mg in 3 of 20 draws is over the 90th percentile, in 1 of 20 not."""
    few, many = margins_of(result(dirty=1)), margins_of(result(dirty=3))

    assert few.char == pytest.approx(0.0)
    assert many.char > CLEAN_BELOW
    assert margins_of(result(cracked=DRAWS)).stress == pytest.approx(1.5)
    assert margins_of(result()).core_off == pytest.approx(0.0)


def test_char_over_the_stop_is_seen() -> None:
    """A kiln at 730 °C while char is there; none is left at the very end."""
    assert margins_of(result()).hot_char == pytest.approx(1003.15, abs=15.0)


@pytest.mark.long
def test_the_shortest_curve_breaks_nothing_and_is_no_longer_than_the_usual_one() -> None:
    plan = example("sea_holly")
    ready = prepare(plan, None, 20, 0)

    found = shortest_curve(plan, ready)

    assert found.broken == ()
    assert found.time <= found.usual_time
    assert found.usual_time == pytest.approx(float(usual_curve(plan, ready).time[-1]), rel=0.02)


def test_a_study_shows_the_usual_curve_beside_that_of_the_sheet() -> None:
    told = study(example("larch_twig"), draws=6)

    assert (told.burnout.curve.name, told.usual.curve.name) == ("as written", "usual")
    assert 0 <= told.middle < 6


def test_section_shows_the_middle_draw_and_ends_at_the_pour() -> None:
    told = study(example("sea_holly"), which="usual", draws=6)

    shown = middle_section(told)

    core = shown.temperature[-1, shown.depth.size // 2, 0]
    assert shown.time[-1] == pytest.approx(float(told.case.curve.time[-1]))
    assert np.all(np.diff(shown.time) > 0.0)
    assert core == pytest.approx(told.burnout.core[1, -1], abs=15.0)
