"""Plans are kept as they were, and the list shows the latest of each piece."""

import json
from datetime import timedelta
from typing import Any

import pytest

from pourcast.book.days import keep_reading, readings_of
from pourcast.book.listing import count_pieces, list_pieces
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import begin_pour, keep_outcome
from pourcast.book.plans import (
    base_name,
    keep_plan,
    kept_as,
    latest_plan,
    pieces_named,
    read_plan,
)
from pourcast.book.store import Book
from pourcast.errors import InputError
from tests.book.conftest import AT, DAY, LATER, SHEET, kept, made_up


def test_plan_is_kept_as_it_was(book: Book) -> None:
    """House rule: the piece file sign by sign, the forecast whole, and what made it."""
    said = made_up()

    found = read_plan(book, kept(book).id[:8])

    assert found.sheet == SHEET
    assert json.loads(found.document) == said
    assert (found.seed, found.draws, found.version) == (7, 400, "0.1.0")
    assert (found.inputs_sha256, found.kernels_sha256) == ("a" * 64, "b" * 64)
    assert (found.metal_mg, found.powder_mg) == (120_500, 900_000)
    assert [(part.name, part.count, part.chance_full) for part in found.parts] == [
        ("stem", 1, 0.99),
        ("bract", 12, 0.7),
    ]
    assert found.created == AT


def test_a_sheet_is_known_by_its_latest_plan_alone(book: Book) -> None:
    """House rule: one sign more is another sheet, and an earlier plan counts no more."""
    plan = kept(book)

    assert kept_as(book, plan.piece_id, SHEET) == AT
    assert kept_as(book, plan.piece_id, SHEET + " ") is None
    assert kept_as(book, "nobody", SHEET) is None
    keep_plan(
        book,
        sheet="another",
        file_name="teasel.toml",
        document=made_up(),
        alloy=plan.alloy,
        powder=plan.powder,
        at=LATER,
        piece_id=plan.piece_id,
    )
    assert kept_as(book, plan.piece_id, SHEET) is None
    assert kept_as(book, plan.piece_id, "another") == LATER


def test_pieces_of_one_name_are_one_piece_unless_it_is_said(book: Book) -> None:
    first = kept(book)
    second = kept(book, at=AT + timedelta(hours=1), whole=0.8)
    other = kept(book, at=AT + timedelta(hours=2), new_piece=True)

    assert first.piece_id == second.piece_id != other.piece_id
    assert latest_plan(book, first.piece_id) == second
    assert pieces_named(book, "Teasel head") == (other.piece_id, first.piece_id)
    with pytest.raises(InputError, match="Several have it"):
        kept(book)
    assert kept(book, piece_id=other.piece_id[:6]).piece_id == other.piece_id


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
@pytest.mark.parametrize("place", ["chance", "deep"])
def test_forecast_with_a_number_that_is_not_finite_is_refused(
    book: Book, value: float, place: str
) -> None:
    said: dict[str, Any] = made_up()
    if place == "chance":
        said["fill"]["parts"][1]["chance_full"] = value
    else:
        said["burnout"] = {"char_left_mg": [{"p10": value}]}

    with pytest.raises(InputError, match="a finite number"):
        keep_plan(book, sheet="", file_name="x", document=said, alloy="a", powder="p", at=AT)
    assert count_pieces(book) == 0


def test_what_is_no_forecast_is_refused(book: Book) -> None:
    with pytest.raises(InputError, match="schema of the forecast"):
        keep_plan(
            book,
            sheet="",
            file_name="x",
            document=made_up() | {"schema": "other/1"},
            alloy="a",
            powder="p",
            at=AT,
        )


@pytest.mark.parametrize(
    ("written", "kept_name"),
    [
        ("../../etc/passwd", "passwd"),
        ("/abs/fern.toml", "fern.toml"),
        ("C:\\Users\\x\\fern.toml", "fern.toml"),
        ("..", "unnamed"),
        ("", "unnamed"),
        ("a\0b", "ab"),
        ("x" * 300, "x" * 200),
    ],
)
def test_name_of_a_file_keeps_no_folder(written: str, kept_name: str) -> None:
    assert base_name(written) == kept_name


def test_list_shows_the_latest_plan_and_outcome_of_each_piece(book: Book) -> None:
    old = kept(book, name="Fern", whole=0.2)
    kept(book, at=AT + timedelta(hours=1), name="Larch", whole=0.5)
    new = kept(book, at=AT + timedelta(hours=2), name="Fern", whole=0.9)
    first = begin_pour(book, old.id, day=DAY, at=AT)
    keep_outcome(book, first.id, [PartOutcome(part="bract", state="missing")], seen=DAY, at=LATER)
    second = begin_pour(book, new.id, day=DAY + timedelta(days=1), at=LATER)
    keep_outcome(book, second.id, [], seen=DAY + timedelta(days=1), at=LATER)

    lines = list_pieces(book)

    assert [(line.name, line.plans, line.chance_whole, line.came) for line in lines] == [
        ("Fern", 2, 0.9, "whole"),
        ("Larch", 1, 0.5, None),
    ]
    assert lines[0].poured == DAY + timedelta(days=1)


def test_list_comes_in_pages(book: Book) -> None:
    for number in range(7):
        kept(book, at=AT + timedelta(minutes=number), name=f"Piece {number}")

    pages = [list_pieces(book, page=page, lines=3) for page in (1, 2, 3, 4)]

    assert [[line.name[-1] for line in page] for page in pages] == [
        ["6", "5", "4"],
        ["3", "2", "1"],
        ["0"],
        [],
    ]
    for wrong in ({"page": 0}, {"lines": 0}, {"lines": 1001}):
        with pytest.raises(InputError):
            list_pieces(book, **wrong)


def test_reading_of_the_same_moment_supersedes(book: Book) -> None:
    pour = begin_pour(book, kept(book).id, day=DAY, at=AT)
    keep_reading(book, pour.id, "kiln_C", 640.0, taken=LATER)
    keep_reading(book, pour.id, "kiln_C", 460.0, taken=LATER)
    keep_reading(book, pour.id, "kiln_C", 460.0, taken=LATER)
    keep_reading(book, pour.id, "core_C", 300.0, taken=AT)

    found = [(reading.kind, reading.value) for reading in readings_of(book, pour.id)]

    assert found == [("core_C", 300.0), ("kiln_C", 460.0)]
    assert [reading.value for reading in readings_of(book, pour.id, "kiln_C")] == [460.0]
    with book.reading() as connection:
        rows = connection.exec_driver_sql("SELECT count(*) FROM readings").scalar()
    assert rows == 3


@pytest.mark.parametrize(
    ("kind", "value"),
    [("kiln_C", float("nan")), ("kiln_C", 5000.0), ("vacuum_kPa", -1.0), ("kiln_F", 900.0)],
)
def test_reading_that_cannot_be_is_refused(book: Book, kind: str, value: float) -> None:
    pour = begin_pour(book, kept(book).id, day=DAY, at=AT)

    with pytest.raises(InputError):
        keep_reading(book, pour.id, kind, value, taken=LATER)
    assert readings_of(book, pour.id) == ()


def test_a_refused_reading_is_told_in_words_with_its_unit(book: Book) -> None:
    pour = begin_pour(book, kept(book).id, day=DAY, at=AT)

    with pytest.raises(InputError, match="air of the kiln is 4000 °C; it must be -30 to 1300"):
        keep_reading(book, pour.id, "kiln_C", 4000.0, taken=LATER)
