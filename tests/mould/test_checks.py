"""Findings of the mould: each limit seen from both sides."""

from dataclasses import replace

import pytest

from pourcast.errors import InputError
from pourcast.findings import Finding
from pourcast.materials import Fact, Value, library
from pourcast.mould.checks import findings
from pourcast.mould.flask_heat import usual_flask_temperature
from pourcast.mould.model import Flask, Mix
from pourcast.mould.solve import solve
from tests.mould.cases import POWDER, button, flask, measures, mix

SILICA = Fact(key="silica_dust", text="Dust.", source="a rule", kind="published")
USUAL = Value(
    key="alloys.x.flask_very_thin",
    value=650.0,
    low=620.0,
    high=700.0,
    unit="degC",
    kind="common practice",
    source="common practice, no source",
)


ANY = (593.15, 973.15)
STOP = replace(
    USUAL, key="investment.limits.burnout_peak_hard_stop", value=760.0, low=750.0, high=760.0
)


def _found(
    *,
    wall_gap: float = 0.015,
    far_cover: float = 0.03,
    in_flask: Flask | None = None,
    of_mix: Mix | None = None,
    ends_at: float | None = None,
    followed: bool = False,
) -> tuple[Finding, ...]:
    here = in_flask or flask()
    mixed = of_mix or mix()
    mould = replace(
        solve(measures(), button(), here, mixed, POWDER), wall_gap=wall_gap, far_cover=far_cover
    )
    return findings(mould, here, mixed, ends_at=ends_at, followed=followed, any_section=ANY,
                    usual_temperature=USUAL, hard_stop=STOP, silica=SILICA)  # fmt: skip


@pytest.mark.parametrize(
    ("gap", "level"),
    [
        (-0.004, "STOP"),
        (0.0, "STOP"),
        (0.0059, "STOP"),
        (0.0061, "WATCH"),
        (0.0099, "WATCH"),
        (0.0101, "GOOD"),
    ],
)
def test_wall_beside_the_piece(gap: float, level: str) -> None:
    """Common practice, one voice: 10 to 13 mm beside the work, 6 mm the least seen."""
    wall = _found(wall_gap=gap)[0]

    assert wall.level == level
    assert wall.value == pytest.approx(1e3 * gap)


def test_piece_wider_than_the_flask_is_told_by_how_much() -> None:
    assert "4.0 mm past the inside" in _found(wall_gap=-0.004)[0].text


@pytest.mark.parametrize(
    ("diameter", "cover", "level", "says"),
    [
        (0.127, -0.003, "STOP", "3.0 mm too low"),
        (0.127, 0.005, "STOP", "practice disagrees"),
        (0.127, 0.019, "WATCH", "less than both rules"),
        (0.127, 0.021, "WATCH", "one of the two"),
        (0.127, 0.031, "WATCH", "one of the two"),
        (0.127, 0.032, "GOOD", "keeps both"),
        (0.076, 0.0195, "WATCH", "one of the two"),
        (0.076, 0.0201, "GOOD", "keeps both"),
    ],
)
def test_both_rules_for_the_far_end_are_shown(
    diameter: float, cover: float, level: str, says: str
) -> None:
    """Common practice disagrees: 0.25 of the flask's diameter, or 20 mm.

    For 127 mm the first asks for 31.75 mm, for 76 mm for 19 mm.
    """
    found = _found(far_cover=cover, in_flask=flask(diameter=diameter, height=0.178))[1]

    assert found.level == level
    assert says in found.text
    if cover > 0.0:
        assert f"({250 * diameter:.0f} mm)" in found.text
        assert "20 mm whatever the flask" in found.text


@pytest.mark.parametrize(
    ("water", "level"), [(0.379, "WATCH"), (0.38, "GOOD"), (0.42, "GOOD"), (0.421, "WATCH")]
)
def test_water_outside_38_to_42_is_watched(water: float, level: str) -> None:
    """Common practice, no source: 38 to 42 parts of water to 100 of powder."""
    assert _found(of_mix=mix(water))[2].level == level


@pytest.mark.parametrize(
    ("kelvin", "level", "says"),
    [(292.0, "WATCH", "wet"), (293.2, "GOOD", ""), (297.0, "GOOD", ""), (299.0, "WATCH", "early")],
)
def test_warmth_of_the_mix(kelvin: float, level: str, says: str) -> None:
    """Common practice, no source: 20 to 24 °C for water and powder."""
    found = _found(of_mix=mix(temperature=kelvin))[3]

    assert found.level == level
    assert says in found.text


def test_bowl_holds_three_times_the_slurry() -> None:
    """Common practice, no source: 439.6 cm³ and 4 % are 0.457 l, so 1.4 l of bowl."""
    bowl = _found()[4]

    assert bowl.value == pytest.approx(3 * 0.4572, rel=1e-3)
    assert "0.46 l" in bowl.text


def test_weight_of_the_fresh_block_is_said() -> None:
    """By hand: 439.6 cm³ of 1.765 g/cm³ weigh 0.776 kg."""
    assert "0.78 kg" in _found()[5].text


@pytest.mark.parametrize(
    ("kelvin", "level", "says"),
    [
        (None, "WATCH", "650 °C is taken"),
        (880.0, "WATCH", "607 °C"),
        (900.0, "GOOD", "627 °C"),
        (980.0, "WATCH", "weaker"),
        (980.0, "WATCH", "over 700 °C for none"),
        (590.0, "WATCH", "under 320 °C for none"),
        (594.0, "WATCH", "of this piece."),
        (1033.0, "WATCH", "weaker"),
        (1034.0, "STOP", "Above 760 °C"),
    ],
)
def test_flask_temperature_against_the_usual(kelvin: float | None, level: str, says: str) -> None:
    """Common practice, no source: 620 to 700 °C for very thin work."""
    found = _found(in_flask=flask(temperature=kelvin))[6]

    assert found.level == level
    assert says in found.text
    assert "620 to 700 °C is usual" in found.text


@pytest.mark.parametrize(
    ("ends_at", "followed", "level", "says"),
    [
        (833.15, True, "WATCH", "Flask at 560 °C at the pour, where the curve ends; 620 to 700"),
        (923.15, True, "GOOD", "Flask at 650 °C at the pour, where the curve ends; 620 to 700"),
        (1043.15, True, "STOP", "Above 760 °C"),
        (833.15, False, "WATCH", "650 °C is taken, for the curve, which ends at 560 °C, is"),
        (None, True, "WATCH", "is not said; 650 °C is taken. 620 to 700 °C"),
    ],
)
def test_a_flask_that_is_not_said_is_as_hot_as_the_end_of_a_curve_that_is_followed(
    ends_at: float | None, followed: bool, level: str, says: str
) -> None:
    found = _found(in_flask=flask(temperature=None), ends_at=ends_at, followed=followed)[6]

    assert found.level == level
    assert says in found.text


def test_silica_dust_is_told_with_its_rule() -> None:
    caution = _found()[-1]

    assert (caution.level, caution.text, caution.source) == ("WATCH", "Dust.", "a rule")


def test_no_sentence_says_that_something_is_safe() -> None:
    assert not any("safe" in finding.text.lower() for finding in _found())


@pytest.mark.parametrize(
    ("section", "key"),
    [
        (0.3e-3, "flask_very_thin"),
        (1.49e-3, "flask_very_thin"),
        (1.5e-3, "flask_light"),
        (3.99e-3, "flask_light"),
        (4e-3, "flask_medium"),
        (9.99e-3, "flask_medium"),
        (10e-3, "flask_heavy"),
    ],
)
def test_thinner_work_has_a_hotter_flask(section: float, key: str) -> None:
    """Common practice, no source: classes at 1.5, 4 and 10 mm."""
    bronze = library().alloys["si_bronze_c87300"]

    assert usual_flask_temperature(bronze, section) is bronze[key]


def test_section_without_size_is_refused() -> None:
    bronze = library().alloys["si_bronze_c87300"]

    with pytest.raises(InputError, match="section"):
        usual_flask_temperature(bronze, 0.0)
