"""Words of two plans side by side."""

from hypothesis import given, settings

from pourcast.change.compared import Comparison, Difference, PlanFigures
from pourcast.change.model import PartMove
from pourcast.page import words_compare as words
from tests.strategies_change import comparisons


def test_parts_are_told_only_beyond_their_noise() -> None:
    """House rule: the limit is twice the standard error."""
    moved = PartMove(name="spine", before=0.5, after=0.8, standard_error=0.03)
    still = PartMove(name="bract", before=0.5, after=0.52, standard_error=0.03)

    assert words.part_gain(moved) == "+30 ± 6"
    assert words.part_gain(still) == "within the noise"


@settings(max_examples=25, deadline=None)
@given(comparisons())
def test_every_comparison_has_an_answer(said: Comparison) -> None:
    told = words.compared(said)

    assert ("within the noise" in told) == (not said.beyond_noise)
    if said.beyond_noise:
        assert ("second plan is better" in told) == (said.gain > 0.0)


def figures(name: str, *stops: str) -> PlanFigures:
    return PlanFigures(name=name, chance=0.996, causes={}, metal=0.2, powder=1.5, stops=stops)


def beside(one: PlanFigures, other: PlanFigures, error: float = 0.0) -> Comparison:
    return Comparison(
        one=one, other=other, differences=(), gain=0.0, standard_error=error, parts=(),
        alone=((), ()), draws=400, seed=0,
    )  # fmt: skip


def test_what_stops_a_plan_is_told_with_the_answer() -> None:
    """House rule: a chance never stands alone where something must stop the caster."""
    still, hot = figures("a"), figures("b", "The flask is too hot.")

    said = words.compared(beside(still, hot))

    assert said == (
        "Over 99 whole in 100 pours with both: any difference is within the noise. The second has "
        "something that stops it as it stands."
    )
    assert "Over 99 against over 99" in words.compared(beside(still, still, error=0.01))
    assert words.compared(beside(hot, hot)).endswith(
        "Each has something that stops it as it stands."
    )


def test_a_part_in_one_alone_and_equal_masses_are_told_plainly() -> None:
    only = Difference(key="part.stem", words="part “stem”", one="yes", other="no", unit="")

    assert words.difference(only) == "part “stem”: in the first alone"
    assert words.masses(beside(figures("a"), figures("b"))) == (
        "Metal: 200\u00a0g in both; powder: 1500\u00a0g in both."
    )


def test_parts_that_stay_are_told_in_one_line() -> None:
    moves = [
        PartMove(name=name, before=before, after=before, standard_error=0.0)
        for name, before in (("stem", 1.0), ("head", 1.0), ("floret", 0.9))
    ]

    assert words.the_same(moves) == "The same in both: over 99 of “stem”, “head”; 90 of “floret”."
