"""Document: what the JSON promises, it holds."""

import copy
import json
import math
import warnings
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from pourcast.errors import PourcastError, SolveError
from pourcast.forecast.document import SCHEMA, document, schema
from pourcast.forecast.model import Calibration, Forecast, Override
from pourcast.forecast.solve import forecast
from pourcast.sheet.model import Plan
from tests.forecast.hand import EXAMPLES, example
from tests.strategies import plans

VALIDATOR = Draft202012Validator(schema())


@cache
def made_of(name: str) -> Forecast:
    return forecast(example(name), draws=8)


def document_of(name: str) -> dict[str, Any]:
    return document(made_of(name), version="0.1.0", timing={"pour": 0.1})


def test_schema_is_itself_valid() -> None:
    """Source: JSON Schema, draft 2020-12, as jsonschema checks it."""
    assert schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"

    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("name", EXAMPLES)
def test_document_of_a_demo_piece_follows_the_schema(name: str) -> None:
    made = document_of(name)

    VALIDATOR.validate(made)

    assert made["schema"] == SCHEMA


@pytest.mark.parametrize("name", EXAMPLES)
def test_document_is_the_same_after_a_trip_through_json(name: str) -> None:
    """Source: RFC 8259: no NaN and no infinity; plain values only."""
    made = document_of(name)

    assert json.loads(json.dumps(made, allow_nan=False)) == made


@settings(
    max_examples=25,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(plans())
def test_document_of_any_plan_follows_the_schema(plan: Plan) -> None:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            made = document(forecast(plan, draws=4), version="0")
    except PourcastError:
        return

    VALIDATOR.validate(made)


def _keys(tree: Any, place: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the place of each key of each table, one for all items of a list."""
    if isinstance(tree, dict):
        for key, inner in tree.items():
            yield (*place, key)
            yield from _keys(inner, (*place, key))
    elif isinstance(tree, list) and tree:
        yield from _keys(tree[0], (*place, 0))


def _holder(tree: Any, place: tuple[Any, ...]) -> Any:
    for step in place[:-1]:
        tree = tree[step]
    return tree


def _place_name(place: tuple[Any, ...]) -> str:
    return ".".join(map(str, place))


PLACES = [
    place for place in _keys(document_of("sea_holly")) if place[0] != "timing_s" or len(place) == 1
]


STAGES = ("burnout", "freeze", "finish")
"""May be absent: a stage that is not worked out is not there."""

ABSENT = (*((stage,) for stage in STAGES), ("mould", "in_slurry"), ("mould", "clock"))
"""Places of tables that may be absent."""

NAMED = (("finish", "parts", 0, "bent"), ("freeze", "last"))
"""Tables whose keys are acts and parts."""

LATER = {("findings", 0, "key")}
"""Keys that came after the form was given out: a document without them still holds."""


def test_a_stage_may_be_absent() -> None:
    made = {key: kept for key, kept in document_of("sea_holly").items() if key not in STAGES}

    VALIDATOR.validate(made)


@pytest.mark.parametrize(
    "place",
    [place for place in PLACES if place not in {*ABSENT, *LATER} and place[:-1] not in NAMED],
    ids=_place_name,
)
def test_a_key_that_is_missing_is_caught(place: tuple[Any, ...]) -> None:
    made = copy.deepcopy(document_of("sea_holly"))
    del _holder(made, place)[place[-1]]

    with pytest.raises(ValidationError):
        VALIDATOR.validate(made)


@pytest.mark.parametrize("place", PLACES, ids=_place_name)
def test_a_value_of_another_type_is_caught(place: tuple[Any, ...]) -> None:
    made = copy.deepcopy(document_of("sea_holly"))
    _holder(made, place)[place[-1]] = b"bytes are no JSON"

    with pytest.raises(ValidationError):
        VALIDATOR.validate(made)


def test_a_key_that_is_not_promised_is_caught() -> None:
    made = copy.deepcopy(document_of("sea_holly"))
    made["fill"]["parts"][0]["chance"] = 0.5

    with pytest.raises(ValidationError, match="chance"):
        VALIDATOR.validate(made)


@pytest.mark.parametrize("share", [-2.3e-16, 1.0 + 2.3e-16, -1.0])
def test_a_share_outside_0_to_1_is_caught(share: float) -> None:
    made = copy.deepcopy(document_of("sea_holly"))
    made["fill"]["parts"][0]["share"]["p10"] = share

    with pytest.raises(ValidationError):
        VALIDATOR.validate(made)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_not_finite_is_refused_with_its_place(value: float) -> None:
    made = replace(made_of("sea_holly"), chance_all=value)

    with pytest.raises(SolveError, match=r"document\.fill\.chance_all"):
        document(made, version="0")


def test_a_number_that_is_not_finite_is_found_in_a_list_too() -> None:
    made = made_of("sea_holly")
    bad = replace(made.unknowns[3], rank_correlation=math.nan)
    made = replace(made, unknowns=(*made.unknowns[:3], bad, *made.unknowns[4:]))

    with pytest.raises(SolveError, match=r"document\.unknowns\[3\]\.rank_correlation"):
        document(made, version="0")


def test_a_timing_that_is_not_finite_is_refused() -> None:
    with pytest.raises(SolveError, match="timing_s"):
        document(made_of("sea_holly"), version="0", timing={"pour": math.nan})


# The hash of the inputs.


def _numbers(record: Any) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Yield place and value of each plain value of a plan."""
    for name in record.__dataclass_fields__:
        value = getattr(record, name)
        if hasattr(value, "__dataclass_fields__"):
            yield from (((name, *place), inner) for place, inner in _numbers(value))
        elif isinstance(value, tuple) and value and hasattr(value[0], "__dataclass_fields__"):
            yield from (((name, 0, *place), inner) for place, inner in _numbers(value[0]))
        else:
            yield (name,), value


def _changed(record: Any, place: tuple[Any, ...], value: Any) -> Any:
    name, *rest = place
    if not rest:
        return replace(record, **{name: value})
    inner = getattr(record, name)
    if isinstance(inner, tuple):
        return replace(record, **{name: (_changed(inner[0], tuple(rest[1:]), value), *inner[1:])})
    return replace(record, **{name: _changed(inner, tuple(rest), value)})


def _other(value: Any) -> Any:
    if isinstance(value, bool):
        return not value
    if isinstance(value, float):
        return math.nextafter(value, math.inf)
    if isinstance(value, tuple):
        return (_other(value[0]), *value[1:]) if value else ("x",)
    if isinstance(value, int):
        return value + 1
    return 1.0 if value is None else f"{value} "


def _sha(made: Forecast, **options: Any) -> str:
    sha = document(made, version="0", **options)["inputs_sha256"]
    assert isinstance(sha, str)
    return sha


SPOKEN = {("speech", "degrees"): "F", ("speech", "gauge"): "inHg"}
"""How the caster is spoken to: the same forecast in other words."""

INPUTS = [each for each in _numbers(example("dragonfly")) if each[0] not in SPOKEN]


@pytest.mark.parametrize(
    ("place", "value"), INPUTS, ids=[_place_name(place) for place, _ in INPUTS]
)
def test_hash_changes_with_each_input(place: tuple[Any, ...], value: Any) -> None:
    """A single bit of one number is enough."""
    made = made_of("dragonfly")
    plan = _changed(made.plan, place, _other(value))

    assert plan != made.plan
    assert _sha(replace(made, plan=plan)) != _sha(made)


@pytest.mark.parametrize(("place", "unit"), SPOKEN.items(), ids=[*map(_place_name, SPOKEN)])
def test_hash_is_the_same_whatever_its_units(place: tuple[Any, ...], unit: str) -> None:
    """House rule: one forecast, in °C or °F, in kPa or inHg."""
    made = made_of("dragonfly")
    plan = _changed(made.plan, place, unit)

    assert plan.speech != made.plan.speech
    assert _sha(replace(made, plan=plan)) == _sha(made)


def test_hash_changes_with_seed_draws_and_name_of_the_calibration() -> None:
    made = made_of("dragonfly")

    seen = {
        _sha(made),
        _sha(replace(made, seed=made.seed + 1)),
        _sha(replace(made, draws=made.draws + 1)),
        _sha(replace(made, calibration="Studio by the mill")),
    }

    assert len(seen) == 4


def test_hash_changes_with_what_a_studio_has_learnt() -> None:
    """Two calibrations of one name that differ in a range are two inputs."""

    def learnt(high: float) -> Forecast:
        override = Override(
            key="pour.film_factor", value=1.2, low=1.1, high=high, source="strips of this studio"
        )
        return forecast(example("dragonfly"), Calibration(name="x", overrides=(override,)), draws=2)

    assert _sha(learnt(1.3)) != _sha(learnt(1.4))


def test_hash_changes_with_what_a_studio_has_learnt_of_its_caliper() -> None:
    """Errors of reading are not ranked, and still they are inputs."""

    def learnt(high: float) -> Forecast:
        override = Override(
            key="pour.measure_error", value=0.02, low=0.01, high=high, source="own measures"
        )
        return forecast(example("dragonfly"), Calibration(name="x", overrides=(override,)), draws=2)

    assert _sha(learnt(0.03)) != _sha(learnt(0.04))


def test_hash_does_not_change_with_time_version_or_outcome() -> None:
    made = made_of("dragonfly")

    same = {
        _sha(made),
        _sha(made, timing={"pour": 1.5}),
        _sha(forecast(example("dragonfly"), draws=8, threads=2)),
        _sha(replace(made, chance_all=0.123, segment_chance=np.zeros(3))),
    }

    assert len(same) == 1
    assert document(made, version="9")["inputs_sha256"] in same
