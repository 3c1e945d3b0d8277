"""Compare: what differs between two plans, and whether it is luck."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from pourcast.change.compare import beside, compare, differences
from pourcast.change.judge import CHECKED
from pourcast.change.paired import paired_gain
from pourcast.errors import InputError
from pourcast.forecast.solve import forecast_with_ends
from pourcast.forecast.whole import lay_out, pour_ends
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan
from tests.change.small import hotter, text_of
from tests.forecast.hand import EXAMPLES, example
from tests.strategies import plans


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_plan_does_not_differ_from_itself(name: str) -> None:
    assert list(differences(example(name), example(name))) == []


@settings(max_examples=30, deadline=None)
@given(plans(), plans())
def test_differences_are_there_exactly_where_plans_differ(one: Plan, other: Plan) -> None:
    """Whoever swaps the plans swaps the columns."""
    there, back = list(differences(one, other)), list(differences(other, one))

    assert {(each.key, each.one, each.other) for each in there} == {
        (each.key, each.other, each.one) for each in back
    }
    assert all(each.one != each.other for each in there)


def test_other_units_and_another_order_are_no_difference() -> None:
    """The same piece file in Fahrenheit and with its sections turned round."""
    text = text_of("sea_holly")
    other = text.replace("pour_temperature_C = 1120", 'pour_temperature = "2048 F"')

    assert list(differences(read_plan(text), read_plan(other))) == []


def test_each_key_is_told_in_the_units_of_the_file() -> None:
    one = example("sea_holly")
    bract = next(part for part in one.piece.parts if part.name == "bract")
    parts = tuple(replace(part, coat=0.2e-3) if part is bract else part for part in one.piece.parts)
    steps = (*one.kiln.steps[:2], replace(one.kiln.steps[2], hold=36_000.0), one.kiln.steps[3])
    other = replace(
        hotter(one, 50.0),
        piece=replace(one.piece, parts=parts),
        assist=replace(one.assist, vacuum=80e3),
        kiln=replace(one.kiln, steps=steps),
    )

    told = {(each.key, each.one, each.other, each.unit) for each in differences(one, other)}

    assert told == {
        ("flask.temperature_C", "600", "650", "°C"),
        ("assist.vacuum_kPa", "70", "80", "kPa"),
        ("kiln.step.3.hold_h", "8", "10", "h"),
        ("part.bract.coat_mm", "0.1", "0.2", "mm"),
    }


def test_a_round_part_has_one_diameter_and_words_of_the_file_are_said() -> None:
    """A caster measures a rod once; "seed_head" is a key, and nobody says it."""
    one = example("sea_holly")
    floret = one.piece.parts[-1]
    thin = replace(floret, width=(1e-3, 1e-3), thickness=(1e-3, 1e-3), material="leaf")
    other = replace(one, piece=replace(one.piece, parts=(*one.piece.parts[:-1], thin)))

    told = [(each.words, each.one, each.other) for each in differences(one, other)]

    assert told == [
        ("“floret”, diameter", "1.2 to 0.8", "1"),
        ("“floret”, material", "seed head", "leaf"),
    ]


def test_alloys_are_told_by_what_people_call_them() -> None:
    """House rule: no word of the code on a page for the caster."""
    one = example("larch_twig")
    other = replace(one, charge=replace(one.charge, alloy="si_bronze_c87300"))

    (told,) = differences(one, other)

    assert (told.one, told.other) == ("Tin bronze Cu-10/11Sn", "Silicon bronze Cu-4Si-1Mn")


def test_parts_and_vents_that_stand_in_one_alone_are_told() -> None:
    one = example("sea_holly")
    fewer = replace(one, piece=replace(one.piece, parts=one.piece.parts[:-1]))

    told = list(differences(one, fewer))
    said = compare(one, fewer, draws=4)

    assert [(each.key, each.one, each.other) for each in told] == [("part.floret", "yes", "no")]
    assert said.alone == (("floret",), ())


def test_the_gain_is_that_of_the_pairs() -> None:
    """House rule: same draws; the second plan against the first."""
    one, other = example("larch_twig"), hotter(example("larch_twig"), 50.0)

    said = compare(one, other, draws=40)

    pair = [pour_ends(lay_out(plan, None, 40, 0)).whole for plan in (one, other)]
    assert (said.gain, said.standard_error) == paired_gain(*pair)
    assert (said.one.chance, said.other.chance) == tuple(float(each.mean()) for each in pair)
    assert said.other.metal == pytest.approx(said.one.metal)


@pytest.mark.parametrize("other", ["larch_twig", "sea_holly"])
def test_plans_that_are_poured_already_differ_as_those_that_are_poured_here(other: str) -> None:
    """House rule: the same draws, so the same pours and the same sentences."""
    one, second = example("larch_twig"), hotter(example(other), 50.0)
    here = compare(one, second, draws=CHECKED + 10)

    there = beside(*(forecast_with_ends(each, draws=CHECKED + 10) for each in (one, second)))

    assert here == there


def test_plans_of_other_draws_are_not_laid_side_by_side() -> None:
    plan = example("larch_twig")
    first = forecast_with_ends(plan, draws=8)
    for other in (forecast_with_ends(plan, draws=9), forecast_with_ends(plan, draws=8, rng=1)):
        with pytest.raises(InputError, match="that of the first"):
            beside(first, other)


def test_the_same_plan_twice_is_within_the_noise() -> None:
    said = compare(example("sea_holly"), example("sea_holly"), draws=8)

    assert said.gain == 0.0
    assert not said.beyond_noise
    assert said.differences == ()


def test_what_would_stop_the_caster_is_told_of_each() -> None:
    """Common practice, one voice: 6 mm is the least wall seen."""
    one = example("sea_holly")
    tight = replace(one, flask=replace(one.flask, inside_diameter=0.044))

    said = compare(one, tight, draws=8)

    assert not any("beside the piece" in text for text in said.one.stops)
    assert any("beside the piece" in text or "does not fit" in text for text in said.other.stops)
    assert said.other.powder < said.one.powder
