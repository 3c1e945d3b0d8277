"""Edits of a piece file: one value changes, all else stays as the caster wrote it.

What a TOML document says is held against `tomllib` of Python's own library, the
reference reader of the format (TOML 1.0.0); that nothing else moves is our own rule.
"""

import tomllib
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.errors import InputError, SheetError
from pourcast.sheet import read_plan
from pourcast.sheet.edit import Edit, edited
from pourcast.sheet.new import new_sheet

EXAMPLES = sorted(Path("examples").glob("*.toml"))
TEXT = Path("examples/larch_twig.toml").read_text(encoding="utf-8")


def test_a_value_changes_and_every_other_line_stays() -> None:
    after = edited(TEXT, [Edit(path=("flask", "temperature_C"), value=600.0)])

    changed = [
        pair
        for pair in zip(TEXT.splitlines(), after.splitlines(), strict=True)
        if pair[0] != pair[1]
    ]
    assert changed == [("temperature_C = 560", "temperature_C = 600.0")]


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda path: path.stem)
def test_no_edit_changes_nothing(file: Path) -> None:
    text = file.read_text(encoding="utf-8")

    assert edited(text, []) == text


def test_a_comment_behind_a_value_stays() -> None:
    after = edited(
        "[flask]\nheight_mm = 100  # steel\n", [Edit(path=("flask", "height_mm"), value=90)]
    )

    assert after == "[flask]\nheight_mm = 90  # steel\n"


def test_a_part_is_named_by_its_name_or_its_place() -> None:
    by_name = edited(TEXT, [Edit(path=("part", "twig", "coat_mm"), value=0.1)])
    by_place = edited(TEXT, [Edit(path=("part", 0, "coat_mm"), value=0.1)])

    assert by_name == by_place
    assert tomllib.loads(by_name)["part"][0]["coat_mm"] == 0.1
    assert read_plan(by_name).piece.parts[0].coat == pytest.approx(1e-4)


def test_a_key_of_a_section_that_is_left_out_makes_the_section() -> None:
    after = edited(TEXT, [Edit(path=("studio", "altitude_m"), value=1500)])

    assert tomllib.loads(after)["studio"] == {"altitude_m": 1500}
    assert read_plan(after).studio.altitude == 1500.0


def test_none_takes_a_key_away_and_a_second_time_does_nothing() -> None:
    without = [Edit(path=("flask", "temperature_C"), value=None)]
    once = edited(TEXT, without)

    assert "temperature_C" not in tomllib.loads(once)["flask"]
    assert edited(once, without) == once


def test_a_table_with_double_brackets_is_added_and_taken_away() -> None:
    vent = {"on": "twig", "diameter_mm": 1.5, "length_mm": 60, "leads_to": "air"}
    added = edited(TEXT, [Edit(path=("vent",), value=vent)])
    read = read_plan(added)

    assert tomllib.loads(added)["vent"][-1] == vent
    assert len(read.piece.vents) == len(read_plan(TEXT).piece.vents) + 1
    last = len(read.piece.vents) - 1
    taken = edited(added, [Edit(path=("vent", last), value=None)])
    assert read_plan(taken) == read_plan(TEXT)


def test_a_part_and_a_step_are_added_at_the_end() -> None:
    part = {
        "name": "feeder",
        "on": "button",
        "shape": "rod",
        "length_mm": 20,
        "diameter_mm": 4,
        "material": "sprue",
    }
    after = edited(
        TEXT,
        [
            Edit(path=("part",), value=part),
            Edit(path=("kiln", "step"), value={"to_C": 500, "hold_h": 1}),
            Edit(path=("kiln", "step", 1, "hold_h"), value=13),
        ],
    )
    said = tomllib.loads(after)

    assert said["part"][-1] == part
    assert [step["to_C"] for step in said["kiln"]["step"]] == [150, 710, 560, 500]
    assert said["kiln"]["step"][1]["hold_h"] == 13
    assert said["part"][:-1] == tomllib.loads(TEXT)["part"]


def test_numbers_of_numpy_are_written_as_numbers() -> None:
    edits = [
        Edit(path=("flask", "height_mm"), value=np.float64(120.5)),
        Edit(path=("part", 0, "diameter_mm"), value=[np.float64(3.0), np.float64(2.0)]),
    ]
    said = tomllib.loads(edited(TEXT, edits))

    assert said["flask"]["height_mm"] == 120.5
    assert said["part"][0]["diameter_mm"] == [3.0, 2.0]


def test_a_new_sheet_keeps_its_lines_of_help() -> None:
    text = new_sheet("Poppy head")
    after = edited(text, [Edit(path=("metal", "pour_temperature_C"), value=1150)])

    assert [line for line in after.splitlines() if line.lstrip().startswith("#")] == [
        line for line in text.splitlines() if line.lstrip().startswith("#")
    ]


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ((), 1, "a section or of a key"),
        (("part", "twigg", "coat_mm"), 1, "known: twig"),
        (("part", 99, "coat_mm"), 1, "counted from 0"),
        (("vent", "first", "length_mm"), 1, "place"),
        (("nothing", "here"), None, "there is no 'nothing'"),
        (("flask", "wall", "deep"), 1, "not a section"),
        (("flask", "height_mm"), float("nan"), "a finite number"),
        (("flask", "height_mm"), object(), "a finite number"),
        (("flask", 3), 1, "name of a key"),
    ],
)
def test_an_edit_that_leads_nowhere_is_refused_by_name(
    path: tuple[str | int, ...], value: object, said: str
) -> None:
    """Made to fail."""
    with pytest.raises(InputError, match=said):
        edited(TEXT, [Edit(path=path, value=value)])


def test_a_key_that_stood_without_its_unit_goes() -> None:
    """Both at once would be a fault: one of them is not what the caster means."""
    inches = TEXT.replace("height_mm = 28", 'height = "1 1/8 in"', 1)
    after = edited(inches, [Edit(path=("button", "height_mm"), value=30)])

    assert tomllib.loads(after)["button"]["height_mm"] == 30
    assert "height" not in tomllib.loads(after)["button"]
    assert read_plan(after).piece.button.height == pytest.approx(0.03)


def test_a_text_that_is_no_toml_is_refused_with_its_line() -> None:
    with pytest.raises(SheetError, match="piece file:1"):
        edited("[flask\n", [])


@given(
    name=st.text(min_size=1, max_size=60),
    number=st.floats(allow_nan=False, allow_infinity=False),
)
def test_whatever_is_put_in_is_read_back(name: str, number: float) -> None:
    """Hypothesis-made words and numbers, held against the reference reader."""
    said = tomllib.loads(
        edited(
            TEXT,
            [Edit(path=("note",), value=name), Edit(path=("flask", "height_mm"), value=number)],
        )
    )

    assert said["note"] == name
    assert said["flask"]["height_mm"] == number


TWO_STEPS = """\
name = "x"
note = '''
[[kiln.step]]
is only a word here
'''

[kiln]
litres = 30

# first the block dries
[[kiln.step]]
to_C = 150  # slowly
hold_h = 4

# then
# all burns
[[kiln.step]]
to_C = 700
"""


@pytest.mark.parametrize(
    ("place", "order", "after"),
    [
        (0, [90, 150, 700], "# first the block dries\n[[kiln.step]]\nto_C = 150"),
        (1, [150, 90, 700], "# then\n# all burns\n[[kiln.step]]"),
    ],
)
def test_a_step_is_put_in_before_another_and_comments_stay_with_theirs(
    place: int, order: list[int], after: str
) -> None:
    new = "[[kiln.step]]\nto_C = 90\nhold_h = 2\n\n"
    made = edited(TWO_STEPS, [Edit(path=("kiln", "step", place), value={"to_C": 90, "hold_h": 2})])

    assert [step["to_C"] for step in tomllib.loads(made)["kiln"]["step"]] == order
    assert made.count(new + after) == 1
    assert made.replace(new, "", 1) == TWO_STEPS


def test_a_step_at_the_place_after_the_last_is_added() -> None:
    step = {"to_C": 90, "hold_h": 2}
    put = edited(TWO_STEPS, [Edit(path=("kiln", "step", 2), value=step)])

    assert put == edited(TWO_STEPS, [Edit(path=("kiln", "step"), value=step)])


def test_a_step_that_is_put_in_and_taken_out_leaves_the_file_as_it_was() -> None:
    put = edited(TWO_STEPS, [Edit(path=("kiln", "step", 1), value={"to_C": 90})])
    without = edited(put, [Edit(path=("kiln", "step", 1), value=None)])

    assert tomllib.loads(without) == tomllib.loads(TWO_STEPS)


def test_steps_in_one_line_are_put_in_and_added_too() -> None:
    text = "[kiln]\nstep = [{to_C = 150}, {to_C = 700}]  # two\n"
    put = edited(text, [Edit(path=("kiln", "step", 1), value={"to_C": 370, "hold_h": 1})])
    added = edited(put, [Edit(path=("kiln", "step"), value={"to_C": 560})])

    steps = tomllib.loads(added)["kiln"]["step"]
    assert steps == [{"to_C": 150}, {"to_C": 370, "hold_h": 1}, {"to_C": 700}, {"to_C": 560}]
    assert added.endswith("# two\n")


def test_a_first_step_is_put_into_a_file_without_any() -> None:
    made = edited("[kiln]\nlitres = 30\n", [Edit(path=("kiln", "step", 0), value={"to_C": 700})])

    assert tomllib.loads(made) == {"kiln": {"litres": 30, "step": [{"to_C": 700}]}}


@pytest.mark.parametrize("place", [-1, 3, "first"])
def test_a_step_is_not_put_in_where_there_is_no_place(place: str | int) -> None:
    """Made to fail."""
    with pytest.raises(InputError, match=r"counted from 0|place from 0"):
        edited(TWO_STEPS, [Edit(path=("kiln", "step", place), value={"to_C": 90})])


@pytest.mark.parametrize("place", [0, 1, 2])
def test_lines_that_end_as_on_windows_stay_so(place: int) -> None:
    text = TEXT.replace("\n", "\r\n")
    made = edited(text, [Edit(path=("kiln", "step", place), value={"to_C": 90})])

    assert made.replace("[[kiln.step]]\r\nto_C = 90\r\n\r\n", "", 1) == text
