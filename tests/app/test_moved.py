"""Moved: every figure that moved says what it was, and nothing else does."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from pourcast.app.moved import noise, time_told, whole_told, with_was
from pourcast.forecast.model import Forecast, Outcomes
from pourcast.forecast.solve import forecast
from pourcast.sheet import read_plan

HOLLY = Path("examples/sea_holly.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def said() -> Forecast:
    return forecast(read_plan(HOLLY), draws=10)


@pytest.mark.parametrize(
    ("now", "was", "shown"),
    [
        ("Melt 80 g.", "Melt 80 g.", "Melt 80 g."),
        ("Melt 80 g at 5.", "Melt 75 g at 5.", 'Melt 80 <span class="was">was 75</span> g at 5.'),
        ("over 99 of 100", "97 of 100", 'over 99 <span class="was">was 97</span> of 100'),
        ("It fills.", "It stops.", 'It fills. <span class="was said">Was: It stops.</span>'),
        ("<b> 1", "<b> 2", '&lt;b&gt; 1 <span class="was">was 2</span>'),
    ],
)
def test_only_figures_that_moved_say_what_they_were(now: str, was: str, shown: str) -> None:
    """Our own rule."""
    assert str(with_was(now, was)) == shown


def test_noise_is_that_of_two_shares(said: Forecast) -> None:
    """Binomial variance p(1-p)/n of each of two independent shares; any text on statistics."""
    now, was = (replace(said, chance_all=share, draws=400) for share in (0.5, 0.9))

    assert noise(now, was) == pytest.approx(math.sqrt((0.25 + 0.09) / 400))


def test_difference_under_its_error_is_called_noise(said: Forecast) -> None:
    """Our own rule; the error of 0.5 against 0.51 in 400 pours is 3.5 in 100."""
    was = replace(said, chance_all=0.5, draws=400, outcomes=_half(said, 0.5))
    near = replace(was, chance_all=0.51, outcomes=_half(said, 0.51))
    far = replace(was, chance_all=0.6, outcomes=_half(said, 0.6))

    assert "within the noise" in whole_told(near, was)
    assert whole_told(far, was) == "Whole went from 50 to 60."
    assert whole_told(was, was) == "Whole stays at 50."


def test_longer_burnout_makes_the_pour_later(said: Forecast) -> None:
    """Exact case: two hours more at the top are two hours more in all."""
    longer = forecast(read_plan(HOLLY.replace("hold_h = 8", "hold_h = 10")), draws=10)

    assert time_told(longer, said).startswith("The pour comes 2\u00a0h later")
    assert time_told(said, longer).startswith("The pour comes 2\u00a0h sooner")
    assert time_told(said, said).startswith("The pour is no later")


def _half(said: Forecast, whole: float) -> Outcomes:
    return replace(said.outcomes, whole=whole, short_tips=1 - whole, short_parts=0.0, lost=0.0)
