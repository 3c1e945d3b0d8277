"""Pages that are made from the program say all of it, and say it as the program does."""

import json
import re
from pathlib import Path
from types import ModuleType

import pytest
from typer.testing import CliRunner

from pourcast.cli.main import app
from pourcast.forecast.document import schema
from pourcast.materials import library
from tests.docs.conftest import DOCS, ROOT, of_site


def sources() -> str:
    return "\n".join(path.read_text(encoding="utf-8") for path in sorted(DOCS.rglob("*.md")))


def test_page_of_the_commands_has_each_command_that_the_program_lists() -> None:
    """The list under `pourcast --help` is that of the headings."""
    listed = CliRunner().invoke(app, ["--help"]).output.partition("Commands:")[2]
    names = set(re.findall(r"^  (\w[\w-]*)", listed, re.M))

    told = of_site("made_commands").commands()

    assert names
    assert names <= set(re.findall(r"^## pourcast (\S+)$", told, re.M))


def test_page_of_the_commands_has_each_option(site: Path) -> None:
    """What a command takes on the command line stands on its page."""
    text = (site / "reference" / "commands.html").read_text(encoding="utf-8")
    commands = of_site("made_commands")

    options = {
        option
        for words in commands.names()
        for option in re.findall(r"(?<![\w-])--[a-z][\w-]*", commands.asked(words))
    }

    assert len(options) > 80
    assert {option for option in options if option not in text} == set()


def test_page_of_the_json_has_each_key_of_the_schema() -> None:
    keys = set(re.findall(r'"properties": \{"(\w+)"', json.dumps(schema())))

    told = of_site("made_schema").schema()

    assert keys
    assert {key for key in keys if f"`{key}`" not in told} == set()


def test_each_value_of_the_library_stands_on_a_page() -> None:
    """Every value with its source: those that a mark names, and the limits in the air."""
    marked = re.findall(r"<!-- made: values (.+) -->", sources())
    told = "".join(of_site("made_values").values(*places.split()) for places in marked)
    limits = re.findall(r"<!-- made: limits (.+) -->", sources())
    told += "".join(of_site("made_values").limits(*words.split()) for words in limits)
    # Not limits in the air: told in words where they belong.
    apart = {"compressed_air_cleaning_osha", "radiant_pain", "steam_volume_ratio"}
    apart |= {"silver_osha", "tin_osha", "antimony_osha", "aluminium_resp_osha", "iron_oxide_osha"}

    missing = {
        value.key
        for value in library().find("")
        if value.name not in apart
        and f"`{value.name}`" not in told
        and value.name.replace("_", " ") not in told
    }

    assert missing == set()


def test_each_file_of_a_stage_says_its_question_on_the_page() -> None:
    told = of_site("made_code").docstrings("pour")

    files = {path.name for path in (ROOT / "src/pourcast/pour").glob("*.py")} - {"__init__.py"}

    assert {name for name in files if f"### {name}" not in told} == set()


def test_rows_of_outside_numbers_are_those_of_the_stage() -> None:
    told = of_site("made_checks").checks("pour").splitlines()[2:]

    assert told
    assert {row.split("|")[1].strip() for row in told} == {"pour"}


def test_an_unknown_mark_is_refused(made: ModuleType) -> None:
    """Made to fail: a mark that nothing stands behind must not vanish in silence."""
    with pytest.raises(KeyError):
        made.filled("<!-- made: nothing -->")


def test_no_mark_is_left_on_the_site(site: Path) -> None:
    held = [path.name for path in site.rglob("*.html") if "made: " in path.read_text("utf-8")]

    assert held == []


def test_words_of_the_program_mean_what_they_say() -> None:
    """A bar, a star or a bracket of a text does not become a table, a bold word or a link."""
    plain = of_site("made_words").plain

    assert plain("a|b *c* [d](e) $f$") == r"a\|b \*c\* \[d\](e) \$f\$"


def test_an_equation_that_is_not_known_fails_the_build() -> None:
    """Made to fail: a command of TeX that docutils cannot turn into MathML."""
    from sphinx.errors import SphinxError

    with pytest.raises(SphinxError, match="notacommand"):
        of_site("equations").as_mathml(r"\notacommand{x}", block=True)


def test_every_trade_word_of_the_house_is_in_the_glossary() -> None:
    """The words that a caster meets: those of the house, shapes, and what stops a part."""
    rules = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    listed = re.search(r"Trade words as the caster has them: ([^.]+)\.", rules)
    assert listed is not None
    house = {" ".join(word.split()) for word in listed[1].split(",")}
    shapes = {"rod", "blade", "lump", "perforated", "coat", "vent", "tilt"}
    kept = set(re.findall(r"^([a-z][a-z -]*)$", (DOCS / "glossary.md").read_text("utf-8"), re.M))

    # The button is of wax; the glossary has it without.
    assert {word.removeprefix("wax ") for word in house | shapes} - kept == set()
    assert len(house) > 15


def test_glossary_is_in_order_and_has_no_word_twice() -> None:
    words = re.findall(r"^([a-z][a-z -]*)$", (DOCS / "glossary.md").read_text("utf-8"), re.M)

    assert words == sorted(set(words))
