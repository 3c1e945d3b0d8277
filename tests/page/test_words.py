"""The sentences of a forecast."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast.cli.show import text
from pourcast.errors import SourceError
from pourcast.findings import Finding, Level
from pourcast.forecast.model import Forecast, Outcomes
from pourcast.page import cautions, findings, words
from pourcast.page.names import CAUSE_SENTENCES, CAUSES, unknown_name
from pourcast.page.render import render
from pourcast.page.words_rests import rests_on
from pourcast.pour.model import CAUSES as CAUSES_OF_THE_POUR
from tests.page import sample


def _with_whole(whole: float) -> Forecast:
    return replace(
        sample.forecast(),
        outcomes=Outcomes(whole=whole, short_tips=1 - whole, short_parts=0.0, lost=0.0),
        chance_all=whole,
    )


@pytest.mark.parametrize(
    ("whole", "heading", "line"),
    [
        (0.0, "In 100 pours, none comes out whole.", "None of 100 pours comes out whole."),
        (0.01, "In 100 pours, 1 comes out whole.", "1 of 100 pours comes out whole."),
        (0.62, "In 100 pours, 62 come out whole.", "62 of 100 pours come out whole."),
        (0.9975, "In 100 pours, over 99 come out whole.", "Over 99 of 100 pours come out whole."),
        (1.0, "In 100 pours, over 99 come out whole.", "Over 99 of 100 pours come out whole."),
    ],
)
def test_answer_is_one_plain_sentence(whole: float, heading: str, line: str) -> None:
    """House rule: the wording of the page, with its grammar for none and one."""
    forecast = _with_whole(whole)

    assert words.headline(forecast) == heading
    assert words.answer(forecast) == line


def test_answer_gives_its_spread_and_what_stops_it_first() -> None:
    """House rule: the part with the least chance is named, with the reason in words."""
    forecast = sample.forecast()

    assert words.spread(forecast) == "It could be as few as 60 or as many as 80."
    assert words.what_stops_it(forecast) == (
        "When it fails, it is first of all “Side spines”: "
        "the metal sets before it reaches the ends."
    )


def test_no_failure_is_said_as_such() -> None:
    """House rule: what was found in the pours that were worked out, and no promise."""
    forecast = sample.forecast()
    sure = tuple(replace(part, chance_full=1.0, cause=None, causes={}) for part in forecast.parts)

    said = words.what_stops_it(replace(forecast, parts=sure))

    assert said == "No part comes short in any of the pours that were worked out."


def test_every_cause_has_its_words() -> None:
    """House rule: the causes of the pour, all of them, in words of the trade."""
    assert set(CAUSES) == set(CAUSES_OF_THE_POUR) == set(CAUSE_SENTENCES)


def test_gravest_finding_stands_first() -> None:
    """House rule: stop, then watch, then good."""
    levels: list[Level] = [kept.level for kept in findings.sorted_findings(sample.forecast())]

    assert levels == ["STOP", "WATCH", "GOOD"]


def test_piece_that_does_not_fit_is_said_first() -> None:
    """Arithmetic: a gap of -3.6 mm is 3.6 mm past the wall."""
    base = sample.forecast()
    forecast = replace(base, mould=replace(base.mould, wall_gap=-0.0036, far_cover=-0.002))

    said = words.bench(forecast)

    assert said.startswith("It does not fit: it reaches 3.6\u00a0mm past the wall")
    assert "2\u00a0mm too tall for the flask" in said


def test_metal_missing_on_hand_is_said_in_grams() -> None:
    """Arithmetic: 0.0121 kg is 12.1 g."""
    base = sample.forecast()
    forecast = replace(base, metal=replace(base.metal, short_by=0.0121))

    assert "12.1\u00a0g too little metal on hand" in words.pour_note(forecast)
    assert ("metal short", "12.1\u00a0g") in words.weigh_out(forecast)


def test_weak_link_is_called_noise() -> None:
    """From memory: Hotelling and Pabst (1936): the standard error without a link is 1/√(n - 1).

    With 401 draws that is 0.05; of two values 2.24 times that is passed by luck on some row of
    1 in 20 tables (normal law, Bonferroni), so 0.12 stands out and 0.09 does not.
    """
    base = sample.forecast()
    known = base.unknowns[0]
    forecast = replace(
        base,
        draws=401,
        unknowns=(
            replace(known, rank_correlation=-0.09),
            replace(known, rank_correlation=0.12),
        ),
    )

    ranked = rests_on(forecast)

    assert [(kept.rank_correlation, stands) for kept, stands in ranked] == [
        (0.12, True),
        (-0.09, False),
    ]


def test_of_many_values_luck_makes_none_stand_out() -> None:
    """Draws without any link: 75 values of 400 draws, in 40 tables at most a few stand out.

    1 in 20 tables by the rule, so more than 6 of 40 in fewer than 1 of 100 such tests (binomial).
    Twice the standard error, as it was, makes some row stand out in 39 of these 40.  Found: 2.
    """
    base = sample.forecast()
    rng = np.random.default_rng(0)
    tables = 0
    for _ in range(40):
        drawn = rng.standard_normal(75) / np.sqrt(399.0)
        unknowns = tuple(replace(base.unknowns[0], rank_correlation=float(r)) for r in drawn)
        told = rests_on(replace(base, draws=400, unknowns=unknowns))
        tables += any(stands for _, stands in told)

    assert tables <= 6


def test_value_without_a_name_of_its_own_is_called_by_its_key() -> None:
    """House rule: nothing is left out because a word for it is missing."""
    assert unknown_name("kiln.draught_height") == "draught height"


def test_cautions_of_the_vacuum_stand_for_a_vacuum_pour_only() -> None:
    """House rule: the caution stands where the act is."""
    base = sample.forecast()
    gravity = replace(
        base, plan=replace(base.plan, assist=replace(base.plan.assist, kind="gravity"))
    )

    with_pump = " ".join(kept.text for kept in cautions.at_the_pour(base))
    without = " ".join(kept.text for kept in cautions.at_the_pour(gravity))

    assert "flask under vacuum" in with_pump
    assert "flask under vacuum" not in without
    for word in ("steam", "Fume", "carbon monoxide", "Face shield"):
        assert word in without


def test_caution_that_is_missing_is_refused() -> None:
    """House rule: a caution never goes missing without a word."""
    with pytest.raises(SourceError, match="no_such_hazard"):
        cautions.named("silica_dust", "no_such_hazard")


def test_no_sentence_promises() -> None:
    """House rule: the word that nobody may promise stands nowhere."""
    forecast = sample.forecast()
    said = " ".join(
        [
            words.headline(forecast),
            words.spread(forecast),
            words.what_stops_it(forecast),
            words.bench(forecast),
            words.mix(forecast),
            words.pour(forecast),
            words.pour_note(forecast),
            *words.not_known(forecast),
        ]
    )

    assert "safe" not in said.casefold()


def test_a_part_under_the_proved_range_is_named_beside_the_answer_and_in_the_table() -> None:
    """House rule: each chance under 0.5 mm under vacuum carries a watch."""
    forecast = _with_whole(0.62)
    name = forecast.parts[-1].name
    thin = Finding(stage="pour", key="thin-unproved", level="WATCH", text="Thin.", part=name)
    plain = replace(forecast, findings=())
    watched = replace(forecast, findings=(thin,))

    assert words.unproved(plain) == ""
    assert name in words.unproved(watched)
    assert words.what_stops(watched, forecast.parts[-1]).endswith("; watch")
    assert "watch" not in words.what_stops(watched, forecast.parts[0])
    assert "; watch" in text(watched)
    assert "; watch" in render(watched)
