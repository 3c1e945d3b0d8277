"""What an original holds is told with its reason; what must not be burnt stops the caster."""

import pytest

from pourcast.burnout.matter_checks import LEVELS, matter_findings
from pourcast.burnout.model import Original
from pourcast.materials import library


@pytest.mark.parametrize("key", sorted(library().matter))
def test_each_kind_of_matter_is_told_with_reason_and_cure(key: str) -> None:
    """Sources stand with each record; most are common practice."""
    kept = library().matter[key]

    (finding,) = matter_findings(Original(holds=(key,)), library().matter)

    assert finding.level == LEVELS[kept.burns]
    assert kept.reason in finding.text
    assert kept.act in finding.text
    assert "safe" not in finding.text.lower().split()


def test_plastic_and_treated_wood_stop_the_caster() -> None:
    """Common practice: what gives acid or poisonous smoke is not burnt."""
    forbidden = [k for k, kept in library().matter.items() if kept.burns == "must not be burnt"]

    assert {"plastic", "treated_wood"} <= set(forbidden)
    for key in forbidden:
        (finding,) = matter_findings(Original(holds=(key,)), library().matter)
        assert finding.level == "STOP"


def test_the_gravest_comes_first() -> None:
    levels = [
        finding.level
        for finding in matter_findings(Original(holds=("stone", "plastic")), library().matter)
    ]

    assert levels == ["STOP", "WATCH"]


def test_nothing_named_says_nothing() -> None:
    assert matter_findings(Original(), library().matter) == ()
