"""The run sheet as it is asked for: options, moments, zones, and the files that come of it."""

import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from icalendar import Calendar

from pourcast.cli.runsheet import read_moment, read_zone, run_runsheet
from pourcast.errors import InputError
from pourcast.page.zones import zone_record
from tests.runsheet.sample import LATE_SUMMER, moment

EXAMPLES = Path(__file__).parents[2] / "examples"
FERN = str(EXAMPLES / "fern_crozier.toml")
BERLIN = read_zone("Europe/Berlin")


def run(*, file: str = FERN, start: str = "2026-12-05 18:30", **options: object) -> None:
    run_runsheet(file, start=start, zone="Europe/Berlin", draws=5, **options)  # type: ignore[arg-type]


def test_text_is_written_where_nothing_else_is_asked_for(
    capsys: pytest.CaptureFixture[str],
) -> None:
    run()
    said = capsys.readouterr()

    assert said.out.startswith("Fern crozier  (invented demo)\nStarts Sat 5 Dec 2026 at 18:30.")
    assert max(map(len, said.out.splitlines())) <= 80
    assert said.err == ""


@pytest.mark.parametrize("example", sorted(path.name for path in EXAMPLES.glob("*.toml")))
def test_each_example_comes_on_paper_and_into_the_calendar(
    example: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pdf, calendar = tmp_path / "out.pdf", tmp_path / "out.ics"
    run(file=str(EXAMPLES / example), pdf=pdf, calendar=calendar, paper="letter")

    assert pdf.read_bytes().startswith(b"%PDF")
    assert Calendar.from_ical(calendar.read_bytes()).walk("VEVENT")
    assert capsys.readouterr().out == f"Run sheet: {pdf}\nCalendar: {calendar}\n"
    assert not list(tmp_path.glob("*.part"))


def test_signs_that_cannot_be_printed_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = Path(FERN).read_text(encoding="utf-8").replace("Fern crozier", "Fern 🦋", 1)
    file = tmp_path / "fern.toml"
    file.write_text(text, encoding="utf-8")
    run(file=str(file), pdf=tmp_path / "out.pdf")

    assert "Signs that the sheet cannot print stand as a mark: U+1F98B." in capsys.readouterr().out


def test_furnace_of_the_caster_takes_the_place_of_the_usual(
    capsys: pytest.CaptureFixture[str],
) -> None:
    run(furnace_min=55.0)

    assert "It takes 55 min, as you said." in " ".join(capsys.readouterr().out.split())


def test_pdf_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="a file that can be written"):
        run(pdf=tmp_path / "no folder" / "out.pdf")


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("2026-12-05 18:30", "2026-12-05 17:30"),
        ("2026-12-05T18:30", "2026-12-05 17:30"),
        ("2026-07-05 18:30:30", "2026-07-05 16:30:30"),
        ("2026-12-05 18:30+09:00", "2026-12-05 09:30"),
        ("2026-12-05 18:30Z", "2026-12-05 18:30"),
    ],
)
def test_moment_is_read_on_the_clock_of_the_zone(text: str, wanted: str) -> None:
    """By hand: Berlin is 1 h ahead in winter, 2 h in summer."""
    assert read_moment("start", text, BERLIN).timestamp() == moment(wanted)


@pytest.mark.parametrize(
    "text", ["", "tomorrow", "2026-12-05", "18:30", "2026-13-05 18:30", "0001-01-01 00:00"]
)
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="start is"):
        read_moment("start", text, BERLIN)


def test_hour_that_the_clock_skips_is_refused() -> None:
    """Directive 2000/84/EC: there is no 02:30 on the last Sunday of March."""
    with pytest.raises(InputError, match="a time that the clock shows"):
        read_moment("start", "2027-03-28 02:30", BERLIN)


def test_hour_that_comes_twice_is_the_first_and_says_so(
    capsys: pytest.CaptureFixture[str],
) -> None:
    first = read_moment("start", "2026-10-25 02:30", BERLIN)
    told = capsys.readouterr().err
    second = read_moment("start", "2026-10-25 02:30+01:00", BERLIN)

    assert first.timestamp() == moment("2026-10-25 00:30")
    assert second.timestamp() == moment("2026-10-25 01:30")
    assert "twice" in told
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("name", ["Nowhere/Land", "../../etc/passwd", "", "Europe", "Berlin\x00"])
def test_zone_that_is_not_there_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="zone is"):
        read_zone(name)


def test_zone_left_out_is_that_of_the_machine() -> None:
    start = datetime(2026, 10, 24, 12, 0, tzinfo=UTC)
    made = zone_record(None, None, start, start)
    here = start.astimezone()

    offset = here.utcoffset()
    assert offset is not None
    assert made.ahead[0] == offset.total_seconds()
    assert made.name.startswith("this machine")


def test_machine_that_changes_its_clock_is_followed() -> None:
    """The zone of the machine is set for a process of its own."""
    code = (
        "from datetime import UTC, datetime\n"
        "from pourcast.page.zones import zone_record\n"
        "start = datetime(2026, 10, 24, 12, tzinfo=UTC)\n"
        "print(zone_record(None, None, start, start).ahead)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        env={"TZ": "Europe/Berlin", "PATH": ""},
        check=True,
        text=True,
    )

    assert done.stdout.strip() == "(7200.0, 3600.0)"


def test_start_in_the_night_of_the_change_runs_through(capsys: pytest.CaptureFixture[str]) -> None:
    run(start=LATE_SUMMER)

    assert "The clocks go back by 60 min on Sun 25 Oct at 03:00." in " ".join(
        capsys.readouterr().out.split()
    )


def test_heavy_libraries_wait_until_they_are_wanted() -> None:
    """House rule: the command line starts quickly."""
    code = (
        "import sys\nimport pourcast.cli.runsheet, pourcast.runsheet.calendar\n"
        "import pourcast.runsheet.paper\n"
        "print(sorted({'typst', 'icalendar'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, text=True)

    assert done.stdout.strip() == "[]"
