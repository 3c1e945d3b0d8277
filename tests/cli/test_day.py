"""The kiln day as it is typed: begun, gone on with, watched, practised."""

import os
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

import pytest
import sqlalchemy as sa

from pourcast import units as si
from pourcast.book import tables
from pourcast.book.kiln_days import begin_day
from pourcast.book.plans import latest_plan, pieces_named
from pourcast.book.store import open_book
from pourcast.cli import day_replay
from pourcast.day.case import day_case
from pourcast.day.model import DayEvent, DayLog
from pourcast.sheet import read_plan
from tests.book.conftest import kept
from tests.cli.conftest import Typed

if TYPE_CHECKING:
    from pourcast.cli.show_day import DayView

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "sea_holly.toml")
START = ("--start", "2026-12-05 05:00", "--zone", "UTC", "--threads", "1")


def rows(count: int) -> str:
    """Return a log of a quarter of an hour a row."""
    made = "".join(
        f"2026-12-05 {5 + number // 4:02d}:{number % 4 * 15:02d},{20 + 15 * number},1\n"
        for number in range(count)
    )
    return "time,temperature C,dial\n" + made


@pytest.mark.usefixtures("anew")
def test_a_day_is_begun_and_gone_on_with(typed: Typed, tmp_path: Path) -> None:
    """What was typed before stands in the book, and the second time is the same day."""
    log = tmp_path / "kiln.csv"
    log.write_text(rows(9), encoding="utf-8")
    data = ("--data", str(tmp_path / "book"))

    first = typed("day", EXAMPLE, *START, *data, "--readings", str(log), "--once")
    second = typed("day", EXAMPLE, *START, *data, "--once")

    assert first.status == second.status == 0
    assert "kiln.csv: 9 readings, 1 turns of the dial." in first.out
    assert "Dry by" in first.out
    answer = [line for line in first.out.splitlines() if line.startswith("Dry by")]
    assert answer == [line for line in second.out.splitlines() if line.startswith("Dry by")]
    assert "Local codes" in first.out
    assert "carbon monoxide alarm" in first.out


def test_a_day_that_is_only_asked_for_writes_nothing(typed: Typed, tmp_path: Path) -> None:
    """House rule: nothing was entered, so nothing stands in the book; a reading begins the day.

    Once `--once` kept a plan and opened a pour each time that it was asked, and `queue` then
    waited for a flask that no kiln held.  A log of another day is no entry either.
    """
    data = ("--data", str(tmp_path / "book"))
    log, old = tmp_path / "kiln.csv", tmp_path / "old.csv"
    log.write_text(rows(3), encoding="utf-8")
    old.write_text(rows(3).replace("2026-12-05", "2026-11-05"), encoding="utf-8")
    written = (tables.pieces, tables.plans, tables.pours, tables.events, tables.readings)

    def counts() -> list[int]:
        with open_book(tmp_path / "book") as book, book.reading() as connection:
            asked = [sa.select(sa.func.count()).select_from(table) for table in written]
            return [int(connection.execute(each).scalar_one()) for each in asked]

    asked = typed("day", EXAMPLE, *START, *data, "--once")
    typed("day", EXAMPLE, *START, *data, "--once", "--readings", str(old))

    assert asked.status == 0
    assert "Dry by" in asked.out
    assert counts() == [0, 0, 0, 0, 0]

    typed("day", EXAMPLE, *START, *data, "--once", "--watch", str(log))

    assert counts() == [1, 1, 1, 2, 3]


def test_lines_are_acknowledged_and_bad_ones_told(typed: Typed, tmp_path: Path) -> None:
    begun = datetime.now(UTC) - timedelta(hours=2)
    start = ("--start", f"{begun:%Y-%m-%d %H:%M}", "--zone", "UTC", "--threads", "1")
    early, later = (f"{begun + timedelta(minutes=minutes):%H:%M}" for minutes in (-60, 15))
    lines = f"turned to 1 {early}\n60 C {later}\n55 C {early}\nnonsense\nhelp\nundo\n".encode()

    said = typed("day", EXAMPLE, *start, "--data", str(tmp_path / "book"), given=lines)

    assert said.status == 0
    assert f"Kept {early}: turned the dial to 1." in said.out
    assert f"Kept {later}: kiln 60\N{NO-BREAK SPACE}°C." in said.out
    assert f"Kept {early}: taken back: turned." in said.out
    assert "nonsense" in said.err
    assert f"it must be after the block went in, {begun:%H:%M on %d %b}" in said.err


def test_a_low_gauge_is_kept_and_told_what_to_do_about(typed: Typed, tmp_path: Path) -> None:
    """The demo counts on 70 kPa; that a fall means a gone end is common practice, no source."""
    begun = datetime.now(UTC) - timedelta(hours=2)
    start = ("--start", f"{begun:%Y-%m-%d %H:%M}", "--zone", "UTC", "--threads", "1")
    lines = b"gauge 70 kPa 20 min ago\ngauge 15 inHg\ngauge 15\n"

    said = typed("day", EXAMPLE, *start, "--data", str(tmp_path / "book"), given=lines)

    assert ": gauge 70 kPa." in said.out
    assert ": gauge 50.8 kPa." in said.out  # 15 inHg by NIST SP 811
    assert said.out.count("on the gauge every part fills in") == 1  # of the low one alone
    assert said.out.count("counts on 70 kPa") == 1
    assert "do not pour" in said.out
    assert "with its unit" in said.err
    with open_book(tmp_path / "book") as book, book.reading() as connection:
        asked = sa.select(sa.func.count()).where(tables.readings.c.kind == "vacuum_kPa")
        assert connection.execute(asked).scalar_one() == 2


@pytest.mark.parametrize("word", ["end", "Quit"])
def test_a_word_leaves_the_day_and_nothing_after_it_is_taken(
    typed: Typed, tmp_path: Path, word: str
) -> None:
    """Once the way out was an end of the input alone, and "quit" was told to be no reading."""
    begun = datetime.now(UTC) - timedelta(hours=2)
    start = ("--start", f"{begun:%Y-%m-%d %H:%M}", "--zone", "UTC", "--threads", "1")
    later = f"{begun + timedelta(minutes=15):%H:%M}"
    lines = f"60 C {later}\n{word}\n70 C\n".encode()

    said = typed("day", EXAMPLE, *start, "--data", str(tmp_path / "book"), given=lines)

    assert said.status == 0
    assert said.err == ""
    assert said.out.count("Kept") == 1
    assert "end leaves" in said.out


def test_a_folder_is_watched(typed: Typed, tmp_path: Path) -> None:
    folder = tmp_path / "logs"
    folder.mkdir()
    (folder / "a.csv").write_text(rows(5), encoding="utf-8")
    (folder / "b.csv").write_text("nothing that is a log\n", encoding="utf-8")
    data = ("--data", str(tmp_path / "book"))

    said = typed("day", EXAMPLE, *START, *data, "--watch", str(folder), "--once")

    assert said.status == 0
    assert "a.csv: 5 readings" in said.out
    assert "b.csv" in said.err


@pytest.mark.skipif(sys.platform == "win32", reason="it has no pipes with a name")
def test_a_pipe_in_a_watched_folder_does_not_hold_up_the_day(typed: Typed, tmp_path: Path) -> None:
    """Made to fail: whoever may write there could stop the day; to open a pipe waits for good."""
    folder = tmp_path / "logs"
    folder.mkdir()
    os.mkfifo(folder / "a.csv")
    (folder / "b.csv").symlink_to("/dev/zero")
    (folder / "c.csv").write_text(rows(5), encoding="utf-8")
    data = ("--data", str(tmp_path / "book"))

    said = typed("day", EXAMPLE, *START, *data, "--watch", str(folder), "--once")

    assert said.status == 0
    assert "c.csv: 5 readings" in said.out


def test_a_logged_day_is_practised_and_drawn(typed: Typed, tmp_path: Path) -> None:
    log, picture = tmp_path / "kiln.csv", tmp_path / "day.svg"
    log.write_text(rows(3), encoding="utf-8")

    said = typed(
        "day", EXAMPLE, *START, "--replay", str(log), "--speed", "1e6", "--picture", str(picture),
        "--furnace", "0.1 kg 20 min", "--crucible-ml", "60",
    )  # fmt: skip

    assert said.status == 0
    assert "Practice" in said.out
    assert said.out.count("Dry by") == 3
    assert picture.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    "options",
    [("--start", "tomorrow"), ("--start", "05:00", "--furnace", "many")],
)
def test_bad_options_are_refused(typed: Typed, tmp_path: Path, options: tuple[str, ...]) -> None:
    said = typed("day", EXAMPLE, *options, "--data", str(tmp_path / "book"), "--once")

    assert said.status == 2
    assert said.out == ""


def test_a_longer_hold_is_asked_in_the_terminal(typed: Typed, tmp_path: Path) -> None:
    given = b"longer 2 h\nlonger three\nlonger 200 h\n"

    said = typed("day", EXAMPLE, *START, "--data", str(tmp_path / "book"), given=given)

    assert "Held 2 h longer" in said.out
    assert "Kept" not in said.out
    assert "three" in said.err
    assert "longer hold is 200 h; it must be 0 to 24" in said.err


def test_flasks_in_the_kiln_are_put_in_order(typed: Typed, tmp_path: Path) -> None:
    data = ("--data", str(tmp_path / "book"))
    nothing = typed("queue", *data)
    assert "No flask is in the kiln" in nothing.out
    start = (datetime.now(UTC) - timedelta(hours=8)).strftime("%Y-%m-%d %H:%M")
    other = EXAMPLE.replace("sea_holly", "larch_twig")
    for file in (other, EXAMPLE):
        typed("day", file, "--start", start, "--zone", "UTC", "--threads", "1", *data)

    said = typed("queue", *data)

    assert said.status == 0
    lines = said.out.splitlines()
    assert lines[0].startswith("1. Sea holly")
    assert lines[1].startswith("2. Larch twig")
    assert "on the bench" in lines[0]
    assert "Local codes" in said.out


def test_a_day_begun_on_the_wrong_piece_is_taken_back_and_set_right(
    typed: Typed, tmp_path: Path
) -> None:
    """What was typed stays in the book; the piece stands as before, and the day goes on later."""
    data = ("--data", str(tmp_path / "book"))
    begun = datetime.now(UTC) - timedelta(hours=2)
    start = ("--start", f"{begun:%Y-%m-%d %H:%M}", "--zone", "UTC")
    typed("day", EXAMPLE, *start, *data, "--threads", "1", given=b"60 C\n")
    assert "in kiln" in typed("book", "list", *data).out

    wrong = typed("day", EXAMPLE, "--wrong", *data)

    assert wrong.status == 0
    assert wrong.out == (
        "Kept: this day was begun by mistake; it counts no more, and all of it is kept.\n"
    )
    assert "in kiln" not in typed("book", "list", *data).out
    assert "No flask is in the kiln" in typed("queue", *data).out
    shown = typed("book", "show", "Sea holly head", *data).out
    assert f"Kiln day of {begun:%Y-%m-%d}, begun by mistake: it counts for nothing" in shown

    twice = typed("day", EXAMPLE, "--wrong", *data)
    assert twice.status == 2
    assert "it must be one of this piece that is in the kiln. Its days began: " in twice.err

    right = typed("day", "Sea holly head", "--right", *start, *data)
    assert "this day counts again, with all that was entered" in right.out
    again = typed("day", EXAMPLE, *start, *data, "--threads", "1", "--once")
    assert f"kiln 60{chr(160)}°C" in again.out


def test_the_word_ends_what_is_followed(typed: Typed, tmp_path: Path) -> None:
    """Nothing more is asked of a day that does not count."""
    data = ("--data", str(tmp_path / "book"), "--threads", "1")
    begun = datetime.now(UTC) - timedelta(hours=2)
    start = ("--start", f"{begun:%Y-%m-%d %H:%M}", "--zone", "UTC")

    said = typed("day", EXAMPLE, *start, *data, given=b"wrong piece\n70 C\n")

    assert said.status == 0
    assert said.out.splitlines()[-1].endswith("it counts no more, and all of it is kept.")
    assert "70" not in said.out.splitlines()[-1]


def test_several_days_of_a_piece_are_told_apart_by_their_start(
    typed: Typed, tmp_path: Path
) -> None:
    with open_book(tmp_path / "book") as book:
        plan = kept(book)
        for hour in (5, 6):
            at = datetime(2026, 3, 6, hour, tzinfo=UTC)
            begin_day(book, plan.id, start=at, at=at)
    words = ("day", "Teasel head", "--wrong", "--zone", "UTC", "--data", str(tmp_path / "book"))

    several = typed(*words)
    one = typed(*words, "--start", "2026-03-06 05:00")
    other = typed(*words, "--start", "2026-03-06 07:00")

    assert several.status == 2
    assert 'Name it with --start "2026-03-06 06:00".' in several.err
    assert one.status == 0
    assert other.status == 2
    assert "kiln day is 2026-03-06 07:00; it must be one of this piece" in other.err


def test_a_thermometer_that_is_none_is_told(typed: Typed, tmp_path: Path) -> None:
    said = typed(
        "day",
        EXAMPLE,
        *START,
        "--data",
        str(tmp_path / "book"),
        "--listen",
        "http://x/y",
        given=b"",
    )

    assert said.status == 2
    assert "mqtt://" in said.err


def test_a_plan_is_kept_with_what_the_book_has_learnt(typed: Typed, tmp_path: Path) -> None:
    """House rule: `day`, `book keep` and the pages keep one forecast of one piece."""
    data = ("--data", str(tmp_path / "book"))
    log = tmp_path / "kiln.csv"
    began = (datetime.now(UTC) - timedelta(hours=10)).replace(second=0, microsecond=0)
    rows = [(began + timedelta(minutes=15 * n), 20 + 15 * n, 1 + n // 8) for n in range(24)]
    log.write_text(
        "time,temperature C,dial\n"
        + "".join(f"{at:%Y-%m-%d %H:%M},{read},{dial}\n" for at, read, dial in rows),
        encoding="utf-8",
    )
    first, later = (f"{at:%Y-%m-%d %H:%M}" for at in (began, began + timedelta(hours=9)))
    zone = ("--zone", "UTC", "--threads", "1", *data)
    typed(
        "day", EXAMPLE, "--start", first, *zone, "--readings", str(log), given=b"poured 5 min ago\n"
    )
    other = EXAMPLE.replace("sea_holly", "larch_twig")

    typed("day", other, "--start", later, *zone)

    with open_book(tmp_path / "book") as book:
        (piece,) = pieces_named(book, "Larch twig with three cones")
        assert "kiln of the day of pour" in latest_plan(book, piece).document


def test_practice_with_a_controller_follows_the_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """The made-up kiln of a programmed plan goes where the plan goes; it stayed cold once."""
    file = Path(EXAMPLE).with_name("dragonfly.toml")
    case = day_case(read_plan(file.read_text(encoding="utf-8"), file=file.name), particles=24)
    turned = DayLog(start=0.0, events=(DayEvent(act="turned", at=0.0, setting=0.0),))
    monkeypatch.setattr("pourcast.book.kiln_days.keep_event", lambda *_, **__: None)
    monkeypatch.setattr("pourcast.book.kiln_days.day_log", lambda *_: turned)
    lines: list[str] = []
    monkeypatch.setattr(day_replay, "typed_in", lambda _, line, __: lines.append(line))
    monkeypatch.setattr(day_replay, "next_line", lambda _: None)
    speech = case.plan.speech
    view = SimpleNamespace(book=None, pour_id="", case=case, log=lambda: turned, speech=speech)

    day_replay.replay(cast("DayView", view), day_replay.MADE_UP, 1e6)

    planned = si.from_si(float(case.planned.temperature.max()), "degC")
    read = [float(line.removesuffix(" C")) for line in lines]
    assert case.plan.kiln.control != "hand"
    assert max(read) == pytest.approx(planned, abs=5.0)  # 1 K of noise
    assert len(read) == pytest.approx(float(case.planned.time[-1]) / 900.0, abs=2)
