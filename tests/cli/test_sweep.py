"""A sweep as it is typed: table, picture, one line that says it; stopped, killed, gone on.

The kill is a real SIGKILL of the command.  Parquet and CSV are read by pyarrow and by
Python, which stand outside.
"""

import csv
import json
import re
import signal
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from pourcast.cli.sweep_table import Rows, columns, write_table
from pourcast.errors import InputError
from pourcast.execute import Threads
from pourcast.sweep.solve import rows
from tests.cli.conftest import Typed
from tests.sweep.small import TEXT, sweep

OVER = ("--over", "flask.temperature_C=450:650:100", "--over", "assist.vacuum_kPa=0,8,20")
FEW = ("--draws", "20", "--threads", "1")


@pytest.fixture
def piece(tmp_path: Path) -> str:
    """Write the small piece and return its name."""
    file = tmp_path / "spray.toml"
    file.write_text(TEXT, encoding="utf-8")
    return str(file)


def read(file: Path) -> list[dict[str, str]]:
    """Return the rows of a CSV table."""
    with file.open(encoding="utf-8", newline="") as opened:
        return list(csv.DictReader(opened))


def command(piece: str, out: str, *more: str) -> list[str]:
    """Return the words that start a sweep in a process of its own."""
    return [sys.executable, "-m", "pourcast", "sweep", piece, *OVER, *FEW, "--out", out, *more]


def test_a_sweep_writes_table_picture_and_the_answer_first(
    typed: Typed, piece: str, tmp_path: Path
) -> None:
    said = typed("sweep", piece, *OVER, *FEW, "--out", "t.csv")

    assert said.status == 0
    assert said.out.startswith("Best: flask at the pour")
    assert "no vacuum" in said.out
    assert "What must stop you" in said.out
    assert "9 forecasts of 20 pours" in said.err
    table = read(tmp_path / "t.csv")
    assert [row["assist.vacuum_kPa"] for row in table] == ["0", "8", "20"] * 3
    assert all(0.0 <= float(row["chance_all"]) <= 1.0 for row in table)
    assert not (tmp_path / "t.csv.part").exists()
    root = ET.parse(tmp_path / "t.svg").getroot()
    drawn = [each.get("class") for each in root.iter() if each.get("class")]
    assert "stop" in drawn
    assert "contour" in drawn
    words = "".join(root.itertext())
    assert "No vacuum: " in words
    assert "whole in 100 pours" in words


def test_parquet_holds_what_csv_holds(typed: Typed, piece: str, tmp_path: Path) -> None:
    parquet = pytest.importorskip("pyarrow.parquet")
    typed("sweep", piece, *OVER, *FEW, "--out", "t.csv")
    typed("sweep", piece, *OVER, *FEW, "--out", "t.parquet")

    table = parquet.read_table(tmp_path / "t.parquet").to_pylist()
    for mine, theirs in zip(table, read(tmp_path / "t.csv"), strict=True):
        assert mine["chance_all"] == float(theirs["chance_all"])
        assert mine["flask.temperature_C"] == float(theirs["flask.temperature_C"])
        assert (mine["stops"] or "") == theirs["stops"]
        assert (mine["told"] or "") == theirs["told"]


def test_threads_and_a_cluster_write_the_same_table(
    typed: Typed, piece: str, tmp_path: Path
) -> None:
    pytest.importorskip("distributed")
    few = ("--draws", "20", "--threads", "2")
    said = [
        typed("sweep", piece, *OVER, *few, "--out", "a.csv"),
        typed("sweep", piece, *OVER, *few, "--out", "b.csv", "--cluster", "local"),
    ]

    assert [each.status for each in said] == [0, 0], said[1].err
    assert (tmp_path / "a.csv").read_bytes() == (tmp_path / "b.csv").read_bytes()
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT])
def test_a_sweep_that_is_killed_or_stopped_goes_on_to_the_same_table(
    piece: str, tmp_path: Path, how: signal.Signals
) -> None:
    """The same command after the signal; what was worked out is not worked out again."""
    whole = subprocess.run(command(piece, "whole.csv"), cwd=tmp_path, capture_output=True)
    assert whole.returncode == 0, whole.stderr

    part = tmp_path / "t.csv.part"
    going = subprocess.Popen(
        command(piece, "t.csv"), cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    while going.poll() is None and (not part.exists() or part.read_bytes().count(b"\n") < 4):
        time.sleep(0.005)
    going.send_signal(how)
    _, err = going.communicate()
    kept = part.read_bytes().count(b"\n") - 1

    assert going.returncode == (-signal.SIGKILL if how is signal.SIGKILL else 1)
    assert how is signal.SIGKILL or b"the same command goes on" in err
    assert not (tmp_path / "t.csv").exists()
    assert 3 <= kept < 9

    again = subprocess.run(command(piece, "t.csv"), cwd=tmp_path, capture_output=True)
    assert again.returncode == 0
    assert f"Going on after {kept} of 9".encode() in again.stderr
    assert (tmp_path / "t.csv").read_bytes() == (tmp_path / "whole.csv").read_bytes()


def test_a_row_that_was_cut_off_is_worked_out_again(tmp_path: Path) -> None:
    """A power cut in the middle of a line leaves the rows before it."""
    asked = sweep("assist.vacuum_kPa=8,20", draws=10)
    found = list(rows(asked, Threads(1)))
    kept = Rows(asked, tmp_path / "t.csv")
    for row in found:
        kept.add(row)
    kept.close(forget=False)
    part = tmp_path / "t.csv.part"
    part.write_bytes(part.read_bytes()[:-7])

    again = Rows(asked, tmp_path / "t.csv")
    assert again.found == found[:1]
    again.add(found[1])
    again.close(forget=False)
    assert Rows(asked, tmp_path / "t.csv").found == found


def test_rows_of_another_sweep_are_refused(tmp_path: Path) -> None:
    asked = sweep("assist.vacuum_kPa=8,20", draws=10)
    kept = Rows(asked, tmp_path / "t.csv")
    kept.add(next(rows(asked, Threads(1))))
    kept.close(forget=False)

    with pytest.raises(InputError, match="of this very sweep"):
        Rows(sweep("assist.vacuum_kPa=8,21", draws=10), tmp_path / "t.csv")


def test_a_name_that_a_spreadsheet_would_run_is_text(tmp_path: Path) -> None:
    """A part may be called what it likes; common practice for CSV, no source."""
    evil = TEXT.replace('"stem"', '"=1+2"').replace("spine.long", "@SUM(A1)")
    asked = sweep('part."=1+2".diameter_mm=3,4', "metal.alloy=C87300,CuSn10", text=evil, draws=10)
    found = list(rows(asked, Threads(1)))

    write_table(asked, found, tmp_path / "t.csv")

    cells = [cell for row in read(tmp_path / "t.csv") for pair in row.items() for cell in pair]
    assert not [cell for cell in cells if cell.startswith(("=", "@", "+", "\t"))]
    assert columns(asked, found)["metal.alloy"] == ["C87300", "CuSn10"] * 2


def test_an_estimate_alone_writes_nothing(typed: Typed, piece: str, tmp_path: Path) -> None:
    said = typed("sweep", piece, *OVER, *FEW, "--estimate")

    assert said.status == 0
    assert "9 forecasts of 20 pours" in said.err
    assert "at a time" in said.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["spray.toml"]


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--over", "flask.temprature_C=1,2", "--out", "t.csv"), "did you mean temperature_C"),
        (("--over", "flask.temperature_C=500,600"), "--out is left out"),
        (("--over", "flask.temperature_C=500,600", "--out", "t.xls"), "ends in .csv or .parquet"),
        (("--over", "flask.temperature_C=500,600", "--out", "no/t.csv"), "a folder that is there"),
        (
            ("--over", "flask.temperature_C=400:700:0.0001", "--out", "t.csv", *FEW),
            "3 000 001.*at most 1 000 000.*they would take about",
        ),
    ],
)
def test_what_cannot_be_begun_is_wrong_use(
    typed: Typed, piece: str, more: tuple[str, ...], said: str
) -> None:
    told = typed("sweep", piece, *more)

    assert told.status == 2
    assert re.search(said, told.err)


def test_a_table_that_is_there_is_not_written_over(
    typed: Typed, piece: str, tmp_path: Path
) -> None:
    (tmp_path / "t.csv").write_text("mine")

    assert typed("sweep", piece, *OVER, *FEW, "--out", "t.csv").status == 2
    assert (tmp_path / "t.csv").read_text() == "mine"


def test_a_forecast_of_many_draws_is_the_same_from_a_cluster(typed: Typed, piece: str) -> None:
    """The command as it is typed, but for the times of the work."""
    pytest.importorskip("distributed")
    said = [
        typed("forecast", piece, "--json", "--draws", "1200", "--threads", "2", *more)
        for more in ((), ("--cluster", "local"))
    ]

    trees = [json.loads(each.out) for each in said]
    for tree in trees:
        del tree["timing_s"]
    assert trees[0] == trees[1]
