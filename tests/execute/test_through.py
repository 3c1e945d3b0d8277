"""Changes, comparisons and banks are the same whoever pours them.

One way through the program held against another; no outside number belongs to it.
"""

import numpy as np
import pytest

from pourcast.change.compare import compare
from pourcast.change.document import comparison_document, ranking_document
from pourcast.change.rank import rankings
from pourcast.execute import Executor, Threads
from pourcast.learn.banks import banks_of
from pourcast.learn.model import PourSeen
from pourcast.sheet import read_plan
from tests.execute.works import Shuffled
from tests.sweep.small import TEXT, plan

HANDS = pytest.mark.parametrize("hands", [Threads(2), Shuffled(4)], ids=["two", "mixed"])
HOTTER = read_plan(TEXT.replace("temperature_C = 600", "temperature_C = 650"))


def ranked(hands: Executor | None) -> list[object]:
    """Return the ranking of the small piece as it grows."""
    return [
        ranking_document(each, version="0", first="")
        for each in rankings(plan(), text=TEXT, draws=40, executor=hands)
    ]


@HANDS
def test_changes_are_ranked_the_same_row_by_row(hands: Executor) -> None:
    assert ranked(hands) == ranked(None)


def test_changes_are_ranked_the_same_by_a_cluster() -> None:
    pytest.importorskip("distributed")
    from pourcast.execute.cluster import Cluster

    with Cluster(workers=2) as hands:
        assert ranked(hands) == ranked(None)


@HANDS
def test_two_plans_compare_the_same(hands: Executor) -> None:
    one, other = (
        comparison_document(compare(plan(), HOTTER, draws=40, executor=each), version="0", first="")
        for each in (None, hands)
    )

    assert one == other


@HANDS
def test_banks_are_the_same_and_each_plan_is_poured_once(hands: Executor) -> None:
    pours = [PourSeen(name="a", plan=each, parts=()) for each in (plan(), HOTTER, plan())]
    found = [list(banks_of(pours, 30, 0, each, 1)) for each in (None, hands)]

    assert [len(each) for each in found] == [2, 2]
    for one, other in zip(*found, strict=True):
        assert np.array_equal(one.full, other.full)
        assert np.array_equal(one.day, other.day)
