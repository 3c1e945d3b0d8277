"""The kiln day as it is typed: begun, gone on with, watched, practised."""

from pathlib import Path

import pytest

from tests.cli.conftest import Typed

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "sea_holly.toml")
START = ("--start", "2026-12-05 05:00", "--zone", "UTC", "--threads", "1")


def rows(count: int) -> str:
    """Return a log of a quarter of an hour a row."""
    made = "".join(
        f"2026-12-05 {5 + number // 4:02d}:{number % 4 * 15:02d},{20 + 15 * number},1\n"
        for number in range(count)
    )
    return "time,temperature C,dial\n" + made


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


def test_lines_are_acknowledged_and_bad_ones_told(typed: Typed, tmp_path: Path) -> None:
    lines = b"turned to 1 5:00\n60 C 5:15\nnonsense\nhelp\nundo\n"

    said = typed("day", EXAMPLE, *START, "--data", str(tmp_path / "book"), given=lines)

    assert said.status == 0
    assert "Kept 05:00: turned the dial to 1." in said.out
    assert "Kept 05:15: kiln 60\N{NO-BREAK SPACE}°C." in said.out
    assert "Kept 05:00: taken back: turned." in said.out
    assert "nonsense" in said.err


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
