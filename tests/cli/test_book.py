"""The book and the outcome, as they are typed; house rules, so no outside number."""

import json
import re
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from pourcast.book.days import keep_note
from pourcast.book.kiln_days import begin_day
from pourcast.book.plans import latest_plan, pieces_named, read_plan
from pourcast.book.store import open_book
from tests.book.conftest import DAY, LATER, kept
from tests.book.test_pictures import PNG
from tests.cli.conftest import Typed

EXAMPLE = Path(__file__).parents[2] / "examples" / "fern_crozier.toml"
DATA = ("--data", "book")


@pytest.fixture
def piece(tmp_path: Path) -> str:
    """Keep a made-up plan of two parts in the folder "book", and return the id of its piece."""
    with open_book(tmp_path / "book") as book:
        return kept(book).piece_id


def test_plan_is_kept_from_a_piece_file(typed: Typed, tmp_path: Path) -> None:
    """House rule: the sheet is kept sign by sign, the forecast whole."""
    said = typed("book", "keep", str(EXAMPLE), "--draws", "10", "--threads", "1", *DATA)

    assert said.status == 0, said.err
    assert said.out.startswith("Fern crozier, plan ")
    asked = re.search(r"pourcast outcome (\w+)", said.out)
    assert asked is not None
    with open_book(tmp_path / "book") as book:
        plan = latest_plan(book, asked[1])
    assert plan.sheet == EXAMPLE.read_text(encoding="utf-8")
    assert plan.file_name == EXAMPLE.name
    assert json.loads(plan.document)["draws"] == 10
    assert plan.alloy == "si_bronze_c87300"


def test_outcome_is_asked_part_by_part_and_the_forecast_comes_after(
    typed: Typed, tmp_path: Path, piece: str
) -> None:
    """House rule: nothing of the forecast is shown before the last answer."""
    answers = "\nwrong\n?\nshort 4 mm 2 of 12, porosity\nsunk\nmaybe\nfairly\ncut by saw\n"

    said = typed("outcome", piece[:6], *DATA, given=answers.encode())

    assert said.status == 0, said.err
    asked, _, shown = said.out.partition("In your words (Enter: nothing): ")
    assert "70" not in asked.replace('"filled 70 %"', "")
    assert "holes or pits" in asked
    assert asked.count("bract (12): ") == 3
    assert re.search(r"^bract +70 +short 4 mm, 2 of 12, porosity$", shown, re.M)
    assert "Whole piece: 60 in 100 pours; it came out short." in shown
    # By hand: ((0.99 - 1)² + 0.7²) / 2 = 0.24505; q = 396.5/401 and 120.5/401: 0.607
    assert "Brier score of this pour 0.245, logarithmic 0.607 over 2 parts" in shown
    assert "Button: sunk." in shown
    assert "Note: cut by saw" in shown


def test_answers_that_end_early_keep_nothing(typed: Typed, tmp_path: Path, piece: str) -> None:
    said = typed("outcome", piece, *DATA, given=b"short\n")

    assert said.status == 2
    assert "Nothing was kept" in said.err
    assert "poured" not in typed("book", "show", piece, *DATA).out.lower().replace(
        "pours followed", ""
    )


def pours(typed: Typed, piece: str) -> list[tuple[str, str, int]]:
    """Return day, stage and entered days of each pour, as `book show --json` has them."""
    tree = json.loads(typed("book", "show", piece, "--json", *DATA).out)
    found = [each["pour"] for each in tree["pours"]]
    return [(each["day"], each["stage"], each["days_entered"]) for each in found]


def test_a_later_outcome_may_correct_the_day_of_the_pour(typed: Typed, piece: str) -> None:
    """Once it was refused; both days are kept, and the last one counts."""
    typed("outcome", piece, "--filled", "--poured", "2026-03-02", "--seen", "2026-03-03", *DATA)

    same = typed("outcome", piece, "--filled", "--again", "--seen", "2026-03-03", *DATA)
    assert pours(typed, piece) == [("2026-03-02", "poured", 0)]
    again = ("--filled", "--again", "--seen", "2026-03-03")
    other = typed("outcome", piece, *again, "--poured", "2026-03-01", *DATA)
    back = typed("outcome", piece, *again, "--poured", "2026-03-02", *DATA)

    assert [each.status for each in (same, other, back)] == [0, 0, 0]
    assert "Poured 2026-03-01, pour" in other.out
    assert "Its day was entered 2 times; the earlier ones are kept." in back.out
    assert pours(typed, piece) == [("2026-03-02", "poured", 2)]


def test_a_kiln_that_is_lit_in_the_evening_is_poured_the_next_day(
    typed: Typed, tmp_path: Path, piece: str
) -> None:
    """Common practice, no source: lit on Friday for a pour on Saturday."""
    with open_book(tmp_path / "book") as book:
        lit = datetime(2026, 3, 6, 19, 0, tzinfo=UTC)
        begin_day(book, latest_plan(book, piece).id, start=lit, at=lit)
    shown = typed("book", "show", piece, *DATA).out
    assert "In the kiln since 2026-03-06, no pour told, pour" in shown

    early = typed("outcome", piece, "--filled", "--poured", "2026-03-05", *DATA)
    late = typed("book", "pour", piece, "--on", "2099-03-07", *DATA)
    noted = typed("book", "pour", piece, "--on", "2026-03-08", *DATA)
    mended = typed("book", "pour", piece, "--again", "--on", "2026-03-07", *DATA)

    assert (early.status, late.status) == (2, 2)
    assert "must be 2026-03-06, when the kiln was lit, or later" in early.err
    assert "which is today, or earlier" in late.err
    assert "Poured 2026-03-08, kiln lit 2026-03-06, pour" in noted.out
    assert "Poured 2026-03-07, kiln lit 2026-03-06, pour" in mended.out
    assert pours(typed, piece) == [("2026-03-07", "poured", 2)]
    assert re.search(r"2026-03-07 +Teasel head$", typed("book", "list", *DATA).out, re.M)


def test_the_day_of_no_pour_is_not_corrected(typed: Typed, piece: str) -> None:
    said = typed("book", "pour", piece, "--again", *DATA)

    assert said.status == 2
    assert "one whose day is corrected" in said.err


def test_outcome_is_taken_from_options(typed: Typed, tmp_path: Path, piece: str) -> None:
    (tmp_path / "end.png").write_bytes(PNG)
    said = typed(
        "outcome", "Teasel head", "--part", "bract=missing", "--sure", "weighed",
        "--photo", "end.png", "--poured", "2026-03-02", "--seen", "2026-03-03", *DATA,
    )  # fmt: skip
    again = typed("outcome", piece, "--filled", *DATA)
    mended = typed("outcome", piece, "--filled", "--again", *DATA)
    shown = typed("book", "show", piece, "--json", *DATA)
    listed = typed("book", "list", *DATA)

    assert said.status == 0, said.err
    assert "a part is missing" in said.out
    assert again.status == 2
    assert "--again" in again.err
    assert "Entered 2 times; the earlier entries are kept." in mended.out
    tree = json.loads(shown.out)
    assert [entry["revision"] for entry in tree["pours"][0]["outcomes"]] == [1, 2]
    assert tree["pours"][0]["outcomes"][0]["sure"] == "weighed"
    assert tree["photographs"][0]["original_name"] == "end.png"
    assert re.search(r"2026-03-02 +whole +Teasel head$", listed.out, re.M)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--part", "petal=short"), "Its parts are"),
        (("--part", "bract=short 4 kg"), "a length"),
        (("--filled", "--sure", "maybe"), "one of guessed"),
        (("--filled", "--seen", "yesterday"), "a day such as"),
        (("--filled", "--seen", "2026-03-02", "--poured", "2026-03-03"), "day of the break-out"),
        (("--filled", "--photo", "none.png"), "a file that can be read"),
        (("--filled", "--photo", "text.png"), "a PNG, JPEG or WebP"),
    ],
)
def test_outcome_that_cannot_be_is_wrong_use_and_keeps_nothing(
    typed: Typed, tmp_path: Path, piece: str, words: tuple[str, ...], said: str
) -> None:
    (tmp_path / "text.png").write_text("no picture")
    ended = typed("outcome", piece, *words, *DATA)

    assert ended.status == 2
    assert said in ended.err
    assert json.loads(typed("book", "show", piece, "--json", *DATA).out)["pours"] == []


def test_plan_that_was_kept_after_the_break_out_is_not_scored(typed: Typed, tmp_path: Path) -> None:
    with open_book(tmp_path / "book") as book:
        plan = kept(book, at=datetime.now(UTC))
    said = typed(
        "outcome",
        plan.piece_id,
        "--filled",
        "--poured",
        "2026-03-02",
        "--seen",
        "2026-03-02",
        *DATA,
    )

    assert "Brier" not in said.out
    assert "kept after the break-out" in said.out
    assert "No forecast can be held" in typed("book", "scores", *DATA).out


def test_piece_that_is_not_in_the_book_is_named_with_the_way_in(typed: Typed) -> None:
    said = typed("outcome", str(EXAMPLE), *DATA)

    assert said.status == 2
    assert "pourcast book keep" in said.err


def test_stock_and_money_from_the_purchase_to_the_price(
    typed: Typed, tmp_path: Path, piece: str
) -> None:
    """By hand: 2 kg for 84.50; 400 g out, 150 g back: 10.5625; 1 h at 30; 40.56.

    At 0.6: 40.5625 / 0.6 = 67.604; times 1.3 is 87.885, upwards 87.89.
    """
    early = typed("book", "buy", "metal", "si_bronze_c87300", "2 kg", "84.50", *DATA)
    put = typed("book", "set", "--currency", "EUR", "--rate", "30", "--least", "metal=5 kg", *DATA)
    bought = typed("book", "buy", "metal", "si_bronze_c87300", "2 kg", "84.50", *DATA)
    lot = re.search(r"Lot (\w+): 2000 g left", bought.out)
    assert lot is not None, bought.err
    typed("book", "pour", piece, "--on", "2026-03-02", *DATA)
    typed("book", "move", lot[1], "taken", "400", "--pour", piece, *DATA)
    back = typed("book", "move", lot[1], "returned", "150 g", "--pour", piece, *DATA)
    spent = typed("book", "spend", piece, "hours", "1 h", "--note", "two of us", *DATA)
    typed("book", "flask", "tall", "--diameter", "3 1/2 in", "--height", "180", *DATA)
    stock = typed("book", "stock", "--for", piece, *DATA)
    cost = typed("book", "cost", piece, *DATA)
    tree = json.loads(typed("book", "cost", piece, "--margin", "0", "--json", *DATA).out)

    assert (early.status, "--currency" in early.err) == (2, True)
    assert back.out == f"Lot {lot[1]}: 1750 g left\n"
    assert re.search(r"^tall +88.9 +180 +solid +1$", stock.out, re.M)
    assert "WATCH: 1750 g of metal are left; you wanted to be told below 5000 g." in stock.out
    assert "GOOD: 1750 g of si_bronze_c87300" in stock.out
    assert "STOP: 0 g of gypsum_silica" in stock.out
    assert re.match(r"^20\d\d-\d\d-\d\d  hours: 1 h 0 min \(two of us\)$", cost.out, re.M)
    assert [(each["kind"], each["minutes"]) for each in tree["entered"]] == [("hours", 60)]
    assert re.search(r"^this attempt +40.56 EUR$", cost.out, re.M)
    assert "1.67 attempts and costs 67.60 EUR on average" in cost.out
    assert "With your margin on top: 87.89 EUR." in cost.out
    assert "You are told when less than 5000 g of metal is left." in put.out
    assert spent.out == "Entered for hours: 1 h 0 min. This attempt comes to 40.56 EUR so far.\n"
    assert "Nothing is entered for: powder, wax, gas and power." in cost.out
    assert (tree["weighed"]["price"], tree["attempt"]["metal_returned"]) == ("67.61", "6.3375")


def test_material_that_no_plan_can_ask_for_is_kept_and_told(typed: Typed) -> None:
    typed("book", "set", "--currency", "EUR", *DATA)
    said = typed("book", "buy", "metal", "old_bell", "2 kg", "10", *DATA)
    powder = typed("book", "buy", "powder", "gypsum_silica", "2 kg", "10", *DATA)

    assert said.status == 0
    assert "2000 g left" in said.out
    assert "held against no pour" in said.out
    assert "held against no pour" not in powder.out


def test_scores_of_the_book_are_told(typed: Typed, tmp_path: Path, piece: str) -> None:
    typed("outcome", piece, "--part", "bract=short", *DATA)
    said = typed("book", "scores", *DATA)
    tree = json.loads(typed("book", "scores", "--json", *DATA).out)

    assert "Brier score 0.245, logarithmic 0.607" in said.out
    assert re.search(r"^60 to 80 +1 +70 +0 ", said.out, re.M)
    assert tree["parts"]["forecasts"] == 2
    assert tree["wholes"]["base_rate"] == 0.0


def test_book_goes_out_and_comes_back(typed: Typed, tmp_path: Path, piece: str) -> None:
    out = typed("book", "export", "out", "--csv", *DATA)
    back = typed("book", "import", "out", "--data", "other")
    again = typed("book", "import", "out", "--data", "other")
    merged = typed("book", "import", "out", "--merge", "--data", "other")

    assert re.fullmatch(r"Wrote \d+ rows into out\n", out.out)
    assert back.out == out.out.replace("Wrote", "Took in").replace("into", "from")
    assert again.status == 2
    assert "--merge" in again.err
    assert merged.out == "Took in 0 rows from out\n"
    with open_book(tmp_path / "other") as book:
        assert pieces_named(book, "Teasel head") == (piece,)


def test_notes_and_photographs_are_shown(typed: Typed, tmp_path: Path, piece: str) -> None:
    (tmp_path / "end.png").write_bytes(PNG)
    typed("book", "note", piece, "washed at noon", *DATA)
    typed("book", "photo", piece, "end.png", *DATA)
    said = typed("book", "show", piece, *DATA)

    assert re.search(r"^Note of 20\d\d-.*: washed at noon$", said.out, re.M)
    assert re.search(r"^Photograph of 20\d\d-.*: end.png, png, 0.0 MB$", said.out, re.M)


def test_photographs_come_out_of_the_book_as_they_went_in(
    typed: Typed, tmp_path: Path, piece: str
) -> None:
    """House rule: what the book keeps it gives back, also from a server, which has no folder."""
    (tmp_path / "end.png").write_bytes(PNG)
    (tmp_path / "out").mkdir()
    typed("book", "photo", piece, "end.png", *DATA)

    said = typed("book", "show", piece, "--photographs", "out", *DATA)
    none = typed("book", "show", piece, "--photographs", "nowhere", *DATA)

    (written,) = (tmp_path / "out").iterdir()
    assert said.status == 0, said.err
    assert written.read_bytes() == PNG
    assert written.suffix == ".png"
    assert none.status != 0
    assert "nowhere" in none.err


def test_name_and_note_do_not_steer_the_terminal(typed: Typed, tmp_path: Path) -> None:
    """ECMA-48: an escape sign begins a command to a terminal; none may come from a name."""
    hostile = "Fern\x1b[2J\u202e head"
    with open_book(tmp_path / "book") as book:
        plan = kept(book, name=hostile, chances={"leaf\x1b]0;x\x07": 0.5})
        keep_note(book, plan.piece_id, "\x1b[31mred", at=LATER)
    said = [
        typed("book", "list", *DATA),
        typed("outcome", plan.piece_id, "--filled", "--note", "\x1b[1m", *DATA),
        typed("book", "show", plan.piece_id, *DATA),
    ]

    assert [each.status for each in said] == [0, 0, 0]
    assert not any(set("\x1b\x07\u202e") & set(each.out) for each in said)
    asked = typed("outcome", plan.piece_id, "--new-pour", *DATA, given=b"\n\n\n\n")
    assert not set("\x1b\x07\u202e") & set(asked.out)


def test_book_that_is_empty_says_how_to_begin(typed: Typed) -> None:
    assert "pourcast book keep" in typed("book", "list", *DATA).out
    assert "pourcast book buy" in typed("book", "stock", *DATA).out
    assert "pourcast outcome" in typed("book", "scores", *DATA).out


def test_folder_that_holds_no_book_is_wrong_use(typed: Typed, tmp_path: Path) -> None:
    (tmp_path / "book").write_text("x")

    said = typed("book", "list", *DATA)

    assert said.status == 2
    assert "Choose another with --data" in said.err


def test_day_of_a_new_pour_is_today(typed: Typed, tmp_path: Path, piece: str) -> None:
    before = date.today()
    typed("outcome", piece, "--filled", *DATA)
    poured = json.loads(typed("book", "show", piece, "--json", *DATA).out)["pours"][0]["pour"]

    assert before <= date.fromisoformat(poured["day"]) <= date.today()
    with open_book(tmp_path / "book") as book:
        assert read_plan(book, poured["plan_id"]).piece_id == piece
    assert before > DAY


COMMANDS = (
    "buy",
    "cost",
    "export",
    "flask",
    "import",
    "keep",
    "list",
    "move",
    "note",
    "photo",
    "pour",
    "scores",
    "set",
    "show",
    "spend",
    "stock",
)


@pytest.mark.parametrize("command", [("outcome",), ("book",), *(("book", c) for c in COMMANDS)])
def test_help_fits_and_names_no_place_of_a_machine(
    typed: Typed, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...]
) -> None:
    """House rule: no path; 80 columns."""
    monkeypatch.setenv("COLUMNS", "80")

    said = typed(*command, "--help")

    assert said.status == 0
    assert all(len(line) <= 80 for line in said.out.splitlines())
    assert not re.search(r"/(home|work|root|usr|tmp)\b", said.out)
    assert said.out.startswith("Usage: pourcast")
