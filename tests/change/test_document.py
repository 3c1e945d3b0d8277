"""Document: what the JSON of changes promises, it holds."""

import json

from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from pourcast.change.compared import Comparison
from pourcast.change.document import (
    changes_tree,
    comparison_document,
    cost_note,
    ranking_document,
)
from pourcast.change.model import Change, Ranking
from pourcast.forecast.document import schema
from tests.strategies_change import changes, comparisons, rankings

VALIDATOR = Draft202012Validator(schema()["properties"]["changes"])
SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.large_base_example]


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(rankings())
def test_changes_follow_the_schema_of_the_forecast(ranking: Ranking) -> None:
    tree = changes_tree(ranking)

    VALIDATOR.validate(tree)

    assert json.loads(json.dumps(tree, allow_nan=False)) == tree
    assert len(tree) == len(ranking.changes) + len(ranking.combinations)


def test_the_keys_of_the_promise_are_needed() -> None:
    """House rule: keys are kept from the first release."""
    needed = schema()["properties"]["changes"]["items"]["required"]

    assert {"change", "from", "to", "chance_all_before", "chance_all_after", "standard_error",
            "cost_note"} <= set(needed)  # fmt: skip
    assert "changes" not in schema()["required"]


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(rankings())
def test_a_ranking_is_plain_values(ranking: Ranking) -> None:
    tree = ranking_document(ranking, version="0", first="said")

    assert json.loads(json.dumps(tree, allow_nan=False)) == tree
    assert tree["schema"] == "pourcast.change/1"
    assert len(tree["trials"]) == len(ranking.trials)


@settings(max_examples=25, deadline=None)
@given(comparisons())
def test_a_comparison_is_plain_values(said: Comparison) -> None:
    tree = comparison_document(said, version="0", first="said")

    assert json.loads(json.dumps(tree, allow_nan=False)) == tree
    assert tree["gain"] == said.other.chance - said.one.chance


@settings(max_examples=40, deadline=None, suppress_health_check=SLOW)
@given(changes())
def test_costs_of_all_levers_are_told_together(change: Change) -> None:
    note = cost_note(change)

    assert all(lever.cost.words in note for lever in change.levers)
    grams = round(1e3 * sum(lever.cost.metal for lever in change.levers))
    assert (f"{abs(grams)} g " in note) == (grams != 0)
