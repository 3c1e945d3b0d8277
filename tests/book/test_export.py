"""Export and import: the whole book goes out as plain files and comes back as it was."""

import csv
import hashlib
import json
import shutil
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
import sqlalchemy as sa
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from pourcast.book import sqlite, tables
from pourcast.book.calibrations import keep_act
from pourcast.book.castings import keep_test
from pourcast.book.days import keep_note, keep_reading
from pourcast.book.export import HEAD, export_book
from pourcast.book.faults import ChangedElsewhereError
from pourcast.book.kiln_days import keep_event
from pourcast.book.listing import list_pieces
from pourcast.book.model import PartOutcome
from pourcast.book.outcomes import begin_pour, correct_day, keep_outcome
from pourcast.book.pictures import keep_photograph
from pourcast.book.settings import change_settings, put_flask
from pourcast.book.sheets import add_sheet, keep_text
from pourcast.book.spending import attempt_cost, spend
from pourcast.book.stock import buy, move
from pourcast.book.store import PICTURES, Book, open_book
from pourcast.book.take_in import import_book
from pourcast.book.users import add_user
from pourcast.errors import InputError
from tests.book.conftest import AT, DAY, LATER, in_a_file, kept, lay
from tests.book.strategies import amounts, names, part_outcomes
from tests.book.test_pictures import PNG


def rows_of(book: Book) -> dict[str, list[dict[str, Any]]]:
    """Return all rows of all tables that an export holds, sorted."""
    with book.reading() as connection:
        return {
            table.name: [
                dict(row)
                for row in connection.execute(
                    sa.select(table).order_by(*table.primary_key.columns)
                ).mappings()
            ]
            for table in tables.EXPORTED
        }


def fill(book: Book, name: str = "Teasel head", price: Decimal = Decimal("84.5")) -> str:
    """Write something into every table, and return the id of the pour."""
    plan = kept(book, name=name)
    change_settings(book, currency="EUR", rate_per_hour=Decimal(30), least_mg={"metal": 5})
    put_flask(book, "tall", inside_diameter_mm=90.5, height_mm=180.0)
    pour = begin_pour(book, plan.id, day=DAY, at=AT)
    correct_day(book, pour.id, DAY - timedelta(days=1), at=LATER)
    keep_outcome(book, pour.id, [], seen=DAY, at=LATER)
    keep_reading(book, pour.id, "kiln_C", 640.1, taken=LATER)
    keep_event(book, pour.id, "turned", at=LATER, entered=LATER, setting=3.0)
    keep_note(book, plan.piece_id, "=1+1", at=AT, pour_id=pour.id)
    keep_photograph(book, PNG, "../x.png", piece_id=plan.piece_id, at=AT, pour_id=pour.id)
    lot = buy(book, "metal", "x", mass_mg=10**6, price=price, bought=DAY, at=AT)
    move(book, lot.id, "taken", 400, pour_id=pour.id, at=LATER)
    spend(book, pour.id, "gas", amount=Decimal("-4.2"), at=LATER)
    keep_test(book, "block", day=DAY, at=LATER, inputs={"set_g": 1.5}, result={"measured": []})
    keep_act(book, "off", at=LATER)
    add_user(book, "Ash" if name == "Teasel head" else name, "owner", at=AT)
    sheet = add_sheet(book, "first", at=AT)
    keep_text(book, sheet.sheet_id, "second", base=1, at=LATER)
    with pytest.raises(ChangedElsewhereError):
        keep_text(book, sheet.sheet_id, "another", base=1, at=LATER)
    return pour.id


@pytest.fixture
def exported(book: Book, tmp_path: Path, empty_file: Path) -> Path:
    """Export a book that holds something of everything; an empty one lies beside it."""
    lay(empty_file, tmp_path / "other")
    pour = fill(book)
    short = PartOutcome(part="bract", state="short", signs=(("dirt", "many"),))
    keep_outcome(book, pour, [short], seen=DAY, at=LATER)
    export_book(book, tmp_path / "export", at=LATER, as_csv=True)
    return tmp_path / "export"


def test_all_of_it_comes_back_with_its_ids(book: Book, exported: Path, tmp_path: Path) -> None:
    """House rule: every table has a row, and every row comes back equal."""
    before = rows_of(book)
    with open_book(tmp_path / "other") as other:
        import_book(other, exported)

        assert rows_of(other) == before
        assert sqlite.integrity(other.engine) == ()
        assert list_pieces(other) == list_pieces(book)
    assert [table for table, rows in before.items() if not rows] == []
    lying = [path.name for path in (tmp_path / "other" / PICTURES).iterdir()]
    assert lying == [f"{hashlib.sha256(PNG).hexdigest()}.png"]


@settings(max_examples=10, phases=(Phase.reuse, Phase.generate))
@given(
    pieces=st.lists(names(), min_size=1, max_size=4),
    notes=st.lists(names(), max_size=4),
    told=part_outcomes(part="bract", count=12),
    price=amounts(),
    values=st.lists(st.floats(-30, 1300), max_size=5),
)
def test_any_book_comes_back(
    pieces: list[str], notes: list[str], told: Any, price: Decimal, values: list[float]
) -> None:
    with TemporaryDirectory() as held:
        place = Path(held)
        with open_book(place / "a") as book, open_book(place / "b") as other:
            for name in pieces:
                plan = kept(book, name=name, new_piece=True)
                pour = begin_pour(book, plan.id, day=DAY, at=AT)
                keep_outcome(book, pour.id, [told], seen=DAY, at=LATER)
                for note in notes:
                    if note.strip():
                        keep_note(book, plan.piece_id, note, at=AT)
                for number, value in enumerate(values):
                    taken = AT + timedelta(microseconds=number)
                    keep_reading(book, pour.id, "kiln_C", value, taken=taken)
            change_settings(book, currency="EUR")
            buy(book, "wax", "x", mass_mg=7, price=price, bought=DAY, at=AT)
            export_book(book, place / "out", at=LATER)
            import_book(other, place / "out")

            assert rows_of(other) == rows_of(book)


def test_book_that_holds_something_is_left_alone_unless_it_is_said(
    book: Book, exported: Path, tmp_path: Path
) -> None:
    with open_book(tmp_path / "other") as other:
        fill(other, name="Fern")
        before = rows_of(other)
        with pytest.raises(InputError, match="--merge"):
            import_book(other, exported)
        assert rows_of(other) == before

        added = import_book(other, exported, merge=True)
        again = import_book(other, exported, merge=True)

        assert added["plans"] == 1
        assert set(again.values()) == {0}
        assert {line.name for line in list_pieces(other)} == {"Fern", "Teasel head"}
        assert sqlite.integrity(other.engine) == ()


def rewritten(folder: Path, table: str, change: Callable[[dict[str, Any]], object]) -> None:
    """Change the first row of a file of an export, and its hash with it."""
    path = folder / f"{table}.jsonl"
    lines = path.read_text(encoding="utf-8").splitlines()
    row = json.loads(lines[0])
    change(row)
    text = "\n".join([json.dumps(row), *lines[1:]]) + "\n"
    path.write_text(text, encoding="utf-8")
    signed(folder, path)


def signed(folder: Path, path: Path) -> None:
    head = json.loads((folder / HEAD).read_text(encoding="utf-8"))
    head["sha256"][path.name] = hashlib.sha256(path.read_bytes()).hexdigest()
    (folder / HEAD).write_text(json.dumps(head), encoding="utf-8")


@pytest.mark.parametrize(
    ("table", "key", "value", "said"),
    [
        ("photographs", "sha256", "../../etc/passwd", "64 figures"),
        ("photographs", "kind", "../x", "one of png"),
        ("photographs", "size_bytes", 3, "what its hash, kind and size say"),
        ("photographs", "sha256", "0" * 64, "in the export"),
        ("plans", "chance_whole", float("nan"), "JSON, without NaN"),
        ("plans", "chance_whole", 2, "0 to 1"),
        ("plans", "chance_whole", "0.5", "a number"),
        ("plans", "document", "[1]", "a JSON object"),
        ("plans", "document", '{"a": NaN}', "JSON, without NaN"),
        ("plans", "document", "[" * 100_000, "JSON, without NaN"),
        ("plans", "created", "yesterday", "a time such as"),
        ("plans", "piece_id", "nobody", "fit together"),
        ("plans", "seed", None, "given"),
        ("plans", "seed", 1.5, "a whole number"),
        ("pieces", "name", "a\0b", "NUL"),
        ("pieces", "name", "\ud800", "whole signs"),
        ("pieces", "name", ["x"], "a text"),
        ("lots", "price", 84.5, "an amount"),
        ("lots", "price", "NaN", "an amount"),
        ("outcome_parts", "part", "petal", "a part of its plan"),
        ("outcome_parts", "state", "fine", "one of filled"),
        ("movements", "change_mg", 5, "fit together"),
        ("readings", "value", 1e400, "finite|without NaN"),
        ("settings", "value", "x" * 2000, "length of value"),
        ("pour_days", "day", "2099-03-01", "which is today, or earlier"),
        ("pour_days", "day", "soon", "a day such as"),
        ("pour_days", "revision", 0, "1 to"),
        ("pour_days", "pour_id", "nobody", "fit together"),
    ],
)
def test_export_that_holds_what_cannot_be_is_refused_whole(
    exported: Path, tmp_path: Path, table: str, key: str, value: object, said: str
) -> None:
    """Made to fail: each is one wrong value in an export that is otherwise whole."""
    if table == "movements":
        rows = [
            json.loads(line) for line in (exported / "movements.jsonl").read_bytes().splitlines()
        ]
        rows.sort(key=lambda row: bool(row["move"] != "taken"))
        text = "".join(json.dumps(row) + "\n" for row in rows)
        (exported / "movements.jsonl").write_text(text, encoding="utf-8")
    rewritten(exported, table, lambda row: row.update({key: value}))

    with open_book(tmp_path / "other") as other:
        with pytest.raises(InputError, match=said):
            import_book(other, exported)
        assert not any(rows_of(other).values())


def test_a_pour_before_its_kiln_was_lit_is_refused_whole(exported: Path, tmp_path: Path) -> None:
    """Made to fail: the act of the export becomes the beginning of a kiln day."""
    rewritten(exported, "events", lambda row: row.update({"act": "began", "setting": None}))

    with open_book(tmp_path / "other") as other:
        with pytest.raises(InputError, match="2026-03-02, when the kiln was lit, or later"):
            import_book(other, exported)
        assert not any(rows_of(other).values())


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda folder: (folder / HEAD).unlink(), r"a folder with book\.json"),
        (lambda folder: (folder / HEAD).write_text("[]"), "of the schema"),
        (lambda folder: (folder / HEAD).write_text("[" * 90_000), "a folder with"),
        (lambda folder: (folder / "notes.jsonl").unlink(), "a file that can be read"),
        (lambda folder: (folder / "notes.jsonl").write_text(""), "as it was written"),
        (lambda folder: shutil.rmtree(folder / PICTURES), "in the export"),
        (lambda folder: _spoilt_picture(folder), "what its hash, kind and size say"),
        (lambda folder: _append(folder, "notes", b"{}\n"), "a row with the keys"),
        (lambda folder: _append(folder, "notes", b"\xff\n"), "JSON"),
        (lambda folder: _repeat(folder, "notes"), "stand once"),
        (lambda folder: _head(folder, "form", "9999"), "form of the export"),
        (lambda folder: _head(folder, "sha256", None), "names no hashes"),
    ],
)
def test_export_that_is_not_whole_is_refused(
    exported: Path, tmp_path: Path, spoil: Callable[[Path], object], said: str
) -> None:
    spoil(exported)

    with open_book(tmp_path / "other") as other:
        with pytest.raises(InputError, match=said):
            import_book(other, exported)
        assert not any(rows_of(other).values())


def _spoilt_picture(folder: Path) -> None:
    path = next((folder / PICTURES).iterdir())
    path.write_bytes(PNG[:-1] + b"!")


def _append(folder: Path, table: str, line: bytes) -> None:
    path = folder / f"{table}.jsonl"
    path.write_bytes(path.read_bytes() + line)
    signed(folder, path)


def _repeat(folder: Path, table: str) -> None:
    path = folder / f"{table}.jsonl"
    _append(folder, table, path.read_bytes())


def _head(folder: Path, key: str, value: object) -> None:
    head = json.loads((folder / HEAD).read_text(encoding="utf-8"))
    (folder / HEAD).write_text(json.dumps(head | {key: value}), encoding="utf-8")


def test_row_of_the_same_id_must_be_the_same_row(
    book: Book, exported: Path, tmp_path: Path
) -> None:
    """What is kept never changes, so a changed row of a kept table is no merge."""
    rewritten(exported, "notes", lambda row: row.update({"text": "other words"}))
    before = rows_of(book)

    with pytest.raises(InputError, match="the same in both books"):
        import_book(book, exported, merge=True)
    assert rows_of(book) == before


def test_amounts_of_another_currency_are_not_put_together(exported: Path, tmp_path: Path) -> None:
    with open_book(tmp_path / "other") as other:
        change_settings(other, currency="CHF")
        with pytest.raises(InputError, match="currency of the export"):
            import_book(other, exported, merge=True)


def test_ledger_below_nothing_needs_its_reason_in_an_export_too(
    exported: Path, tmp_path: Path
) -> None:
    path = exported / "movements.jsonl"
    rows = [json.loads(line) for line in path.read_bytes().splitlines()]
    for row in rows:
        if row["move"] == "taken":
            row["change_mg"] = -(10**7)
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    signed(exported, path)

    with open_book(tmp_path / "other") as other, pytest.raises(InputError, match="must say why"):
        import_book(other, exported)


def test_csv_holds_every_row_and_runs_no_formula(book: Book, exported: Path) -> None:
    """RFC 4180; a text that begins like a formula gets an apostrophe, a number does not."""
    for table, rows in rows_of(book).items():
        with (exported / f"{table}.csv").open(encoding="utf-8", newline="") as opened:
            read = list(csv.DictReader(opened))
        assert len(read) == len(rows)
        assert list(read[0]) == [column.name for column in tables.metadata.tables[table].columns]
    with (exported / "notes.csv").open(encoding="utf-8", newline="") as opened:
        assert next(csv.DictReader(opened))["text"] == "'=1+1"
    with (exported / "costs.csv").open(encoding="utf-8", newline="") as opened:
        assert next(csv.DictReader(opened))["amount"] == "-4.2"


def test_export_writes_over_nothing(book: Book, exported: Path) -> None:
    with pytest.raises(InputError, match="empty, or a new one"):
        export_book(book, exported, at=LATER)


def test_folder_of_an_export_that_cannot_be_made_is_named(book: Book, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")

    with pytest.raises(InputError, match="folder of the export"):
        export_book(book, tmp_path / "file" / "out", at=LATER)


@in_a_file
def test_export_without_its_photograph_is_refused(book: Book, tmp_path: Path) -> None:
    fill(book)
    shutil.rmtree(book.folder / PICTURES)

    with pytest.raises(InputError, match="in the folder photographs"):
        export_book(book, tmp_path / "out", at=LATER)
    assert not (tmp_path / "out" / HEAD).exists()


def test_cost_of_a_pour_is_the_same_after_the_way_there_and_back(
    book: Book, tmp_path: Path
) -> None:
    pour = fill(book)
    export_book(book, tmp_path / "out", at=LATER)
    with open_book(tmp_path / "other") as other:
        import_book(other, tmp_path / "out")

        assert attempt_cost(other, pour) == attempt_cost(book, pour)
