"""Edit plan: the edited text and the edited records give the same plan."""

from dataclasses import fields, is_dataclass, replace

import pytest

from pourcast.burnout.model import KilnStep
from pourcast.change.edit_plan import changed, in_turn, setting
from pourcast.change.keys import PART, SECTIONS, STEP, VENT, Key
from pourcast.errors import InputError
from pourcast.piece.model import Part, Vent
from pourcast.sheet import keys as sheet_keys
from pourcast.sheet import read_plan
from pourcast.sheet.edit import Edit, edited
from tests.change.small import ask_of, ground, levers_of, only, text_of
from tests.forecast.hand import EXAMPLES, example


def alike(one: object, other: object) -> bool:
    """Return whether two records hold the same, figures within a part in 1e12."""
    if is_dataclass(one) and not isinstance(one, type):
        pairs = ((getattr(one, each.name), getattr(other, each.name)) for each in fields(one))
        return type(one) is type(other) and all(alike(*pair) for pair in pairs)
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(alike, one, other))
    if isinstance(one, float) and isinstance(other, float):
        return one == pytest.approx(other, rel=1e-12, abs=0.0)
    return one == other


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_lever_makes_the_same_plan_in_text_and_records(name: str) -> None:
    """House rule: one plan; a conversion may differ in its last bit, a part in 1e12."""
    ask = ask_of(ground(name))
    levers = [lever for lever in only(levers_of(ask)) if lever.edits]

    assert len(levers) >= 10
    for lever in levers:
        read = read_plan(edited(text_of(name), lever.edits))

        assert alike(read, lever.plan), lever.act
        assert lever.plan != ask.plan, lever.act


@pytest.mark.parametrize("name", EXAMPLES)
def test_comments_of_the_caster_stay(name: str) -> None:
    """House rule: nothing that the caster wrote goes but the value."""
    text = text_of(name)
    lines = [line for line in text.splitlines() if line.lstrip().startswith("#")]

    for lever in only(levers_of(ask_of(ground(name)))):
        made = edited(text, lever.edits).splitlines()

        assert all(line in made for line in lines), lever.act


def test_a_text_with_its_unit_gives_way_to_the_number() -> None:
    """A key may be written with its unit in a text; both beside each other are a fault."""
    text = text_of("sea_holly").replace("temperature_C = 600", 'temperature = "1112 F"')

    made = changed(example("sea_holly"), setting(("flask", "temperature_C"), 650.0), text)

    assert made.flask.temperature == pytest.approx(923.15)
    assert "1112" not in edited(text, setting(("flask", "temperature_C"), 650.0))


def test_a_heat_is_written_as_the_caster_writes_heats() -> None:
    """By the definition of the scale, °F = 1.8 °C + 32 (NIST SP 811): 663 °C is 1225.4 °F."""
    text = text_of("sea_holly").replace("temperature_C = 600", 'temperature = "1112 F"')
    step = {"to_C": 150.0, "ramp_C_per_h": 100.0, "hold_h": 2.0}
    other = setting(("metal", "pour_temperature_C"), 1100)

    made = edited(text, setting(("flask", "temperature_C"), 663.0))
    both = edited(text, (*other, Edit(path=("kiln", "step", 0), value=step)))

    assert 'temperature = "1225.4 F"' in made
    assert "temperature_C" not in made.partition("[flask]")[2].partition("[")[0]
    assert 'pour_temperature = "2012 F"' in both
    assert "pour_temperature_C" not in both
    assert 'to = "302 F"' in both
    assert 'ramp = "180 F/h"' in both
    assert "hold_h = 2" in both
    assert "pour_temperature_C = 1100" in edited(text_of("sea_holly"), other)


def test_every_key_of_a_piece_file_has_its_place() -> None:
    """A key that the reader knows and this table does not could be changed unseen."""
    for section, keys in sheet_keys.SECTIONS.items():
        assert set(SECTIONS[section]) == set(keys), section
    assert set(STEP) == set(sheet_keys.KILN_STEP)
    assert set(VENT) == set(sheet_keys.VENT)
    # A rod's diameter is its width and its thickness; a name is what a part goes by.
    assert set(PART) | {"diameter_mm", "name"} == set(sheet_keys.PART)


@pytest.mark.parametrize(
    ("keys", "record"), [(PART, Part), (VENT, Vent), (STEP, KilnStep)], ids=["part", "vent", "step"]
)
def test_every_key_names_a_field_that_is_there(keys: dict[str, Key], record: type) -> None:
    named = {key.field for key in keys.values()}

    assert named <= {field.name for field in fields(record)}


def test_a_first_rod_that_is_coated_widens_the_gate_as_the_reader_does() -> None:
    """The gate is the base of the first rod where nothing else is said."""
    made = changed(example("sea_holly"), setting(("part", "stem", "coat_mm"), 0.5))

    assert made.piece.button.gate_diameter == pytest.approx(6e-3)
    assert made == changed(
        example("sea_holly"), setting(("part", "stem", "coat_mm"), 0.5), text_of("sea_holly")
    )


def test_a_vent_can_be_put_on_moved_and_taken_off() -> None:
    plan, text = example("larch_twig"), text_of("larch_twig")
    table = {"on": "cone", "diameter_mm": 1.0, "length_mm": 20.0, "leads_to": "air"}
    on = (Edit(path=("vent",), value=table),)
    wider = (*on, Edit(path=("vent", 0, "diameter_mm"), value=1.5))

    assert changed(plan, on) == changed(plan, on, text)
    assert changed(plan, wider) == changed(plan, wider, text)
    assert changed(changed(plan, on), [Edit(path=("vent", 0), value=None)]) == plan


def test_a_step_of_the_kiln_can_be_added() -> None:
    plan, text = example("larch_twig"), text_of("larch_twig")
    step = (Edit(path=("kiln", "step"), value={"to_C": 600, "ramp_C_per_h": 100, "hold_h": 2}),)

    made = changed(plan, step)

    assert made == changed(plan, step, text)
    assert len(made.kiln.steps) == len(plan.kiln.steps) + 1


@pytest.mark.parametrize(
    "path", [("flask", "colour"), ("part", "nobody", "coat_mm"), ("scan", "file"), ("part",)]
)
def test_a_place_that_the_records_do_not_hold_is_refused(path: tuple[str, ...]) -> None:
    with pytest.raises(InputError):
        changed(example("sea_holly"), [Edit(path=path, value=1)])


def test_a_coat_on_a_part_changes_that_part_alone() -> None:
    plan = example("sea_holly")

    made = changed(plan, setting(("part", "bract", "coat_mm"), 0.2))

    others = [part for part in made.piece.parts if part.name != "bract"]
    assert others == [part for part in plan.piece.parts if part.name != "bract"]
    assert replace(made, piece=plan.piece) == plan


@pytest.mark.parametrize("place", [0, 1, 3])
def test_a_step_that_is_put_in_is_the_same_in_text_and_records(place: int) -> None:
    """House rule: one plan; the caster's file and the plan may not differ."""
    put = [Edit(path=("kiln", "step", place), value={"to_C": 150, "ramp_C_per_h": 60, "hold_h": 2})]
    plan = example("larch_twig")

    made = changed(plan, put)

    assert made == changed(plan, put, text_of("larch_twig"))
    assert len(made.kiln.steps) == len(plan.kiln.steps) + 1
    assert made.kiln.steps[place].hold == 7200.0
    assert changed(made, [Edit(path=("kiln", "step", place), value=None)]) == plan


def test_edits_of_two_changes_keep_their_places() -> None:
    """A step put in first would move what the other change names by its place."""
    put = Edit(path=("kiln", "step", 1), value={"to_C": 400, "hold_h": 1})
    late = Edit(path=("kiln", "step", 2), value={"to_C": 650, "hold_h": 1})
    longer = Edit(path=("kiln", "step", 1, "hold_h"), value=14)
    plan = example("larch_twig")

    made = changed(plan, in_turn([put, late, longer]))

    assert [step.hold / 3600.0 for step in made.kiln.steps] == [3.0, 1.0, 14.0, 1.0, 2.0]
    assert made == changed(plan, in_turn([put, late, longer]), text_of("larch_twig"))


@pytest.mark.parametrize(
    "edit",
    [
        Edit(path=("kiln", "step", 9), value={"to_C": 90}),
        Edit(path=("kiln", "step", 3), value=None),
        Edit(path=("kiln", "step", 0), value=5),
    ],
)
def test_a_step_without_a_place_is_refused(edit: Edit) -> None:
    """Made to fail."""
    with pytest.raises(InputError, match="step of the kiln"):
        changed(example("larch_twig"), [edit])
