"""Where ash lies and what char did to the block, as the caster reads it."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.burnout.ash_checks import MUCH_FILL, ash_findings
from pourcast.burnout.model import BurnoutResult
from pourcast.findings import Finding
from pourcast.materials import library
from pourcast.piece.network import build
from tests.burnout.hand import DRAWS, case, curve, result
from tests.forecast.hand import example

NETWORK = build(example("sea_holly").piece)
MEMBERS = NETWORK.member_part.size


def told(ash: float, *, of: BurnoutResult | None = None) -> tuple[Finding, ...]:
    """Return the findings for an ash that is shared evenly by all members, in kg."""
    day = of or result()
    each = np.full((DRAWS, MEMBERS), ash / MEMBERS)
    volume = each.sum(axis=1) / 300.0
    chemistry = library().investment["chemistry"]
    return ash_findings(
        NETWORK,
        case(),
        replace(day, fate=replace(day.fate, ash=each, ash_volume=volume)),
        activation=chemistry["sulphate_carbon_E"],
        log10_rate=chemistry["sulphate_carbon_log10_A"],
    )


def test_much_ash_names_the_part_that_it_fills_most() -> None:
    """By hand: 5 g at 300 kg/m³ lie as 16.7 cm³, far more than the cavity holds.

    No part and no passage can be told to be fuller than full.
    """
    (finding,) = told(5e-3)

    assert finding.level == "WATCH"
    assert "17 cm³" in finding.text
    assert finding.part in NETWORK.part_names
    assert finding.value == 100.0
    assert finding.limit == pytest.approx(100.0 * MUCH_FILL)
    assert f"closes the way at one place of {finding.part}." in finding.text


def test_less_ash_takes_a_share_of_the_way() -> None:
    """Property: a thousandth of what closes the way leaves it open, told in the same unit."""
    (finding,) = told(5e-6)

    assert finding.value is not None
    assert 100.0 * MUCH_FILL <= finding.value < 100.0
    assert f"takes {finding.value:.0f} % of the way at one place of {finding.part}." in finding.text


def test_a_trace_of_ash_is_no_fault() -> None:
    (finding,) = told(1e-7)

    assert finding.level == "GOOD"


def test_no_ash_says_nothing() -> None:
    assert told(0.0) == ()


@pytest.mark.parametrize(("top", "held", "said"), [(640.0, 4.0, False), (850.0, 4.0, True)])
def test_sulphate_is_told_where_char_meets_it_hot(top: float, held: float, said: bool) -> None:
    """Published: Strydom et al. 1997, J Therm Anal 49, 1501: with carbon from 850 °C on."""
    day = result(curve((0.0, 20.0), (5.0, top), (5.0 + held, top)))
    dirty = np.full(DRAWS, np.nan)
    char = np.full_like(day.fate.char, 1e-4)

    found = told(1e-7, of=replace(day, fate=replace(day.fate, char=char, clean_at=dirty)))

    assert any("sulphate" in finding.text for finding in found) == said
