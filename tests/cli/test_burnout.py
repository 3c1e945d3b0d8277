"""The burnout as it is typed: curves, logs, clock times, JSON, page, and bad input."""

import json
import math
from pathlib import Path

import pytest

from tests.cli.conftest import Typed

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "sea_holly.toml")
FEW = ("--draws", "8", "--threads", "1")


def hand_turned_day(path: Path, *, hours: float = 10.0) -> str:
    """Write the log of a made-up kiln: three places of the dial, first order, no noise."""
    rows = ["time,temperature C,dial"]
    air, room = 20.0, 20.0
    for minute in range(round(60 * hours) + 1):
        dial = 1 + min(minute // 150, 2)
        if minute % 10 == 0:
            rows.append(f"{7 + minute // 60:02d}:{minute % 60:02d},{air:.1f},{dial}")
        air += 60.0 * (0.015 * dial + 0.012 - (air - room) / 18_000.0)
    path.write_text("\n".join(rows) + "\n", encoding="utf-8")
    return str(path)


def test_burnout_of_a_sheet_is_told_with_the_usual_curve_beside_it(typed: Typed) -> None:
    said = typed("burnout", EXAMPLE, *FEW)

    assert said.status == 0
    assert "Dry after" in said.out
    assert "hours after the start" in said.out
    assert "usual" in said.out
    assert "Take care" in said.out
    assert "carbon monoxide" in said.out


def test_clock_times_count_from_the_start(typed: Typed) -> None:
    """The same seed: every hour is shifted by the start, to 5 min."""
    plain = json.loads(typed("burnout", EXAMPLE, *FEW, "--json").out)
    said = typed("burnout", EXAMPLE, *FEW, "--start", "05:00").out
    minutes = 5 * round(12.0 * plain["burnout"]["dry_h"]["p50"])

    assert f"Dry by {5 + minutes // 60:02d}:{minutes % 60:02d}" in said


def test_json_holds_both_curves_and_no_number_that_is_not_finite(typed: Typed) -> None:
    tree = json.loads(typed("burnout", EXAMPLE, *FEW, "--json").out)

    assert tree["schema"] == "pourcast.burnout/1"
    assert tree["burnout"]["curve"] == "as written"
    assert tree["usual"]["curve"] == "usual"
    assert [step["to_C"] for step in tree["steps"]] == pytest.approx([150, 370, 700, 600])
    assert all(math.isfinite(value) for value in tree["burnout"]["over_the_day"]["kiln_C"])


def test_page_is_written_whole_and_asks_for_nothing(typed: Typed, tmp_path: Path) -> None:
    said = typed("burnout", EXAMPLE, *FEW, "--page", "burn.html")
    page = (tmp_path / "burn.html").read_text(encoding="utf-8")

    assert said.status == 0
    assert "Page: burn.html" in said.out
    assert "http" not in page.split("<style>", 1)[0].replace("http-equiv", "")
    assert "In the middle of the draws" not in page
    assert "Half of the block in section" in page


def test_logged_day_takes_the_place_of_the_curve(typed: Typed, tmp_path: Path) -> None:
    log = hand_turned_day(tmp_path / "day.csv")
    tree = json.loads(typed("burnout", EXAMPLE, *FEW, "--log", log, "--json").out)

    assert tree["burnout"]["curve"] == "logged"
    assert tree["burnout"]["curve_C"][0] == pytest.approx(20.0)
    assert tree["burnout"]["curve_h"][-1] == pytest.approx(10.0)


def test_dial_plan_is_told_in_clock_times_with_its_caution(typed: Typed, tmp_path: Path) -> None:
    log = hand_turned_day(tmp_path / "kiln.csv")

    said = typed("burnout", EXAMPLE, *FEW, "--kiln-log", log, "--start", "06:30")

    assert said.status == 0
    assert "Turns of the dial" in said.out
    assert "06:30 to" in said.out
    assert "Read the gauge at each check" in " ".join(said.out.split())


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--start", "25:00"), "start is 25:00; it must be a time of day"),
        (("--log", "none.csv"), "log is none.csv"),
        (("--kiln-log", "kiln.csv"), "--start"),
    ],
)
def test_bad_input_is_named(
    typed: Typed, tmp_path: Path, words: tuple[str, ...], told: str
) -> None:
    hand_turned_day(tmp_path / "kiln.csv")

    said = typed("burnout", EXAMPLE, *FEW, *words)

    assert said.status == 2
    assert told in said.err
    assert said.out == ""


def test_a_faulty_log_names_its_lines(typed: Typed, tmp_path: Path) -> None:
    (tmp_path / "day.csv").write_text(
        "time,temperature C\n07:00,20\n07:10,warm\n07:20,nan\n", encoding="utf-8"
    )

    said = typed("burnout", EXAMPLE, *FEW, "--log", "day.csv")

    assert said.status == 2
    assert "day.csv:3" in said.err
    assert "day.csv:4" in said.err


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("litres = 30", ""), "litres of the kiln is not given"),
        (("to_C = 150", "to_C = 5000"), "5000"),
        (("to_C = 150", "to_C = nan"), "nan"),
        (("hold_h = 2", "hold_h = -1"), "hold_h"),
        (("to_C = 600", "to_C = 5"), "20"),
    ],
)
def test_a_kiln_that_cannot_be_is_refused_by_name(
    typed: Typed, change: tuple[str, str], told: str
) -> None:
    """5 000 °C, nan, no kiln volume, a curve under the room: never a number from nothing."""
    sheet = Path(EXAMPLE).read_text(encoding="utf-8").replace(*change, 1)

    said = typed("burnout", "-", *FEW, given=sheet.encode())

    assert said.status == 2
    assert told in said.err


def test_a_curve_over_the_hard_stop_is_a_stop(typed: Typed) -> None:
    """Common practice, no source: 760 °C stops while char is there."""
    sheet = Path(EXAMPLE).read_text(encoding="utf-8").replace("to_C = 700", "to_C = 790")
    tree = json.loads(typed("burnout", "-", *FEW, "--json", given=sheet.encode()).out)

    stops = [found["text"] for found in tree["findings"] if found["level"] == "STOP"]
    assert any("goes to 790 °C" in text and "sulphate" in text for text in stops)
