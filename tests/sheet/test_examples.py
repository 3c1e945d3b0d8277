"""The demo pieces and the empty sheet."""

import re
import tomllib
from pathlib import Path

import pytest

from pourcast.errors import InputError
from pourcast.piece import limits, measure, network
from pourcast.sheet import new_sheet, read_plan
from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, TOP

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ["dragonfly", "fern_crozier", "larch_twig", "sea_holly"]


def text_of(name: str) -> str:
    """Return an example as it is stored."""
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def test_the_demo_pieces_are_these_four() -> None:
    """Source: our own choice."""
    assert sorted(path.stem for path in EXAMPLES.glob("*.toml")) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_a_demo_piece_reads_and_says_that_it_is_invented(name: str) -> None:
    """Source: our own rule: nobody may take its measures for those of a real thing."""
    plan = read_plan(text_of(name), file=f"{name}.toml")

    assert plan.invented
    assert text_of(name).startswith("# Measures are invented for this demonstration.\n")
    limits.check(plan.piece)


@pytest.mark.parametrize("name", NAMES)
def test_a_demo_piece_fits_its_flask(name: str) -> None:
    """Common practice, no source: 10 mm of block beside the piece and 20 mm over its far end."""
    plan = read_plan(text_of(name))
    made = network.build(plan.piece)

    measures = measure.measure(plan.piece, made)

    assert plan.flask.inside_diameter / 2 - measures.reach >= 0.010
    assert plan.flask.height - plan.piece.button.height + measures.lowest >= 0.020
    assert 40 <= sum(part.members for part in measures.parts) <= 140


def test_a_new_sheet_reads_with_any_name() -> None:
    """Source: TOML 1.0, "string": quotes and backslashes are escaped."""
    for name in ("Oak gall", 'a "b" \\ c', "# [x] {y}", "木の実", "a'''b\"\"\""):
        assert read_plan(new_sheet(name)).piece.name == name


@pytest.mark.parametrize("name", ["", "  ", "a\nb", "a\tb", "a" * 121, "\ud800"])
def test_a_new_sheet_refuses_a_name_that_is_not_one_line(name: str) -> None:
    """Source: our own rule."""
    with pytest.raises(InputError, match=r"name is .*; it must be one line of 1 to 120 characters"):
        new_sheet(name)


def switched_on(sheet: str) -> str:
    """Return a sheet with its optional keys and sections, which stand behind a "# ", read too."""
    return re.sub(r"^# (?=\[|[A-Za-z_]+ = )", "", sheet, flags=re.MULTILINE)


def test_a_new_sheet_names_every_key_that_may_stand_in_a_file() -> None:
    """Source: the table of keys; the sheet's own figures are called invented."""
    document = tomllib.loads(switched_on(new_sheet("x")))

    assert set(document) == {*TOP, *SECTIONS, *LISTS}
    for name, keys in SECTIONS.items():
        assert set(document[name]) - {"step"} == set(keys)
    for name, keys in LISTS.items():
        assert {key for table in document[name] for key in table} == set(keys)
    assert {key for step in document["kiln"]["step"] for key in step} == set(KILN_STEP)


def test_a_new_sheet_reads_with_all_its_optional_lines_too() -> None:
    """Source: our own rule: whatever the caster switches on must be a value in its range."""
    assert read_plan(switched_on(new_sheet("x"))).piece.vents


def test_each_key_of_a_new_sheet_says_how_to_measure_it() -> None:
    """Source: our own rule; a key that stands a second time needs no second note."""
    seen: set[str] = set()
    for line in switched_on(new_sheet("x")).split("\n"):
        key = re.match(r"([A-Za-z_]+) = ", line)
        if key and key[1] not in seen | {"name", "note"}:
            seen.add(key[1])
            assert "#" in line, line
