"""What was learnt, as it is said; house rules, so no outside number."""

import re

from hypothesis import given
from hypothesis import strategies as st

from pourcast.learn.model import LearntValue
from pourcast.learn.solve import learn
from pourcast.page.words_learn import CAUTIONS, HOW, fan_rows, learnt_rows, learnt_told
from tests.strategies_learn import fans, learnt_values


@given(st.lists(learnt_values(), max_size=6))
def test_each_value_that_is_used_has_its_row(values: list[LearntValue]) -> None:
    rows = learnt_rows(values)

    assert len(rows) == 1 + sum(value.used for value in values)
    assert len(learnt_rows(values, everything=True)) == 1 + len(values)
    assert all(len(row) == 4 for row in rows)


@given(fans())
def test_each_strip_has_its_row_with_the_length_to_cut(fan: object) -> None:
    rows = fan_rows(fan)  # type: ignore[arg-type]

    cut = [row[2] for row in rows[1:]]
    assert cut == [f"{1000 * strip.length:.0f}" for strip in fan.strips]  # type: ignore[attr-defined]


def test_nothing_to_learn_from_is_told_in_words() -> None:
    said = " ".join(learnt_told(learn([])))

    assert "0 outcomes and 0 tests" in said
    assert "nothing to learn from" in said


def test_every_test_has_its_way_and_its_cautions_and_none_is_called_safe() -> None:
    """House rule: the usual precaution, and never a promise."""
    assert set(HOW) == set(CAUTIONS)
    text = " ".join(line for lines in (*HOW.values(), *CAUTIONS.values()) for line in lines)
    assert not re.search(r"\bsafe", text)
    for kind, words in (
        ("pull-down", ("hot flask", "burst inwards", "silica")),
        ("fan", ("steam", "silica")),
        ("block", ("silica", "steam")),
        ("day", ("monoxide",)),
    ):
        said = " ".join(CAUTIONS[kind])
        assert all(word in said for word in words)
