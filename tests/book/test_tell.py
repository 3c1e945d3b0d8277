"""What a caster writes of a part; words are ours, lengths are read by `trade_units`."""

import contextlib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pourcast.book.model import PartOutcome
from pourcast.book.store import Book
from pourcast.book.tell import in_words, lengths_mm, read_part, read_parts
from pourcast.book.words import SIGN_AMOUNTS, SIGNS
from pourcast.errors import InputError
from pourcast.sheet import read_plan
from tests.book.conftest import kept
from tests.book.strategies import part_outcomes

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", PartOutcome(part="bract")),
        ("  filled ", PartOutcome(part="bract")),
        ("Full", PartOutcome(part="bract")),
        ("short", PartOutcome(part="bract", state="short")),
        ("short 4", PartOutcome(part="bract", state="short", short_by_mm=4.0)),
        ("SHORT by 4 mm", PartOutcome(part="bract", state="short", short_by_mm=4.0)),
        ("short 3/16 in", PartOutcome(part="bract", state="short", short_by_mm=4.7625)),
        ("filled 70 %", PartOutcome(part="bract", state="short", filled_share=0.7)),
        (
            "short 4 mm 2 of 12",
            PartOutcome(part="bract", state="short", short_by_mm=4.0, members_short=2),
        ),
        ("missing 3 of 12", PartOutcome(part="bract", state="missing", members_short=3)),
        ("not seen", PartOutcome(part="bract", state="not seen")),
        ("porosity", PartOutcome(part="bract", signs=(("porosity", "some"),))),
        (
            "gone, dirt many, crack, note: black, and crumbly",
            PartOutcome(
                part="bract",
                state="missing",
                signs=(("dirt", "many"), ("crack", "some")),
                note="black, and crumbly",
            ),
        ),
    ],
)
def test_text_is_read(text: str, told: PartOutcome) -> None:
    assert read_part(text, "bract", 12) == told


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("short 70 %", 'write "filled 70 %"'),
        ("filled 100 %", "below 100 %"),
        ("short 0 mm", "more than nothing"),
        ("short 4 kg", "a length"),
        ("short nan", "a length"),
        ("short 2 of 12 of 3", "a length"),
        ("3 of 12", "after the word short or missing"),
        ("short, 3 of 11", "so many of 12"),
        ("short, 13 of 12", "1 to 12"),
        ("short, 0 of 12", "1 to 12"),
        ("dirt, dirt many", "once for each sign"),
        ("porositty", "Did you mean porosity"),
        ("dirt lots", "filled"),
        ("short, filled", "filled"),
        ("'; DROP TABLE pieces", "Signs: "),
    ],
)
def test_text_without_one_reading_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_part(text, "bract", 12)


@given(told=part_outcomes(part="bract", count=12))
def test_what_is_written_is_read_back(told: PartOutcome) -> None:
    assert read_part(in_words(told, 12), "bract", 12) == told


@given(text=st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    with contextlib.suppress(InputError):
        read_part(text, "bract", 12)


def test_options_name_the_parts_also_with_an_equals_sign() -> None:
    told = read_parts(["a=b=short", "a=missing"], {"a": 1, "a=b": 1})

    assert [(part.part, part.state) for part in told] == [("a=b", "short"), ("a", "missing")]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["brackt=short"], "Did you mean bract"),
        (["x=short"], "Its parts are: stem, bract"),
        (["bract"], "a part of the piece"),
        (["bract=", "bract=short"], "once for each part"),
    ],
)
def test_option_that_names_no_part_is_refused(options: list[str], said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_parts(options, {"stem": 1, "bract": 12})


def test_signs_are_single_words_that_no_other_word_begins_with() -> None:
    """A sign is told from a state and from an amount by its first word alone."""
    assert all(" " not in sign for sign in SIGNS)
    assert not set(SIGNS) & set(SIGN_AMOUNTS)


def test_no_part_is_short_by_more_than_it_is_long() -> None:
    """A slip such as 40 for 4: by hand, a leaf of 25 mm."""
    assert read_part("short 25 mm", "leaf", 2, length_mm=25.0).short_by_mm == 25.0
    with pytest.raises(InputError, match="up to 25 mm, its whole length; what is all gone"):
        read_parts(["leaf=short 40 mm"], {"leaf": 2}, lengths={"leaf": 25.0})


def test_lengths_are_those_of_the_kept_sheet(book: Book) -> None:
    """A sheet that has no reading now, as that of the made-up plan, tells none."""
    plan = kept(book)
    sheet = (ROOT / "examples" / "larch_twig.toml").read_text(encoding="utf-8")
    lengths = {part.name: 1000.0 * part.length for part in read_plan(sheet).piece.parts}

    assert lengths_mm(plan) == {}
    assert lengths_mm(replace(plan, sheet=sheet)) == pytest.approx(lengths)
