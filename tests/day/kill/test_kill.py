"""The program dies in the middle of a day, and the day goes on as if it had not.

The writer is killed with SIGKILL, which it cannot catch: the death of the program,
not of the machine (see tests/book/kill).
"""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pourcast.book.kiln_days import day_log
from pourcast.book.store import open_book
from pourcast.day.case import DayCase
from pourcast.day.model import DayLog
from pourcast.day.solve import reforecast
from tests.day.kill.writer import LINES, day_of

ROOT = Path(__file__).parents[3]


def run(folder: Path, seconds: float | None) -> list[int]:
    """Let the writer go on, kill it after so many seconds, and return what it said is kept."""
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.day.kill.writer", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert writer.stdout is not None
    first = writer.stdout.readline()
    if seconds is not None:
        time.sleep(seconds)
        writer.send_signal(signal.SIGKILL)
    rest, fault = writer.communicate()
    assert writer.returncode in (0, -signal.SIGKILL), fault
    # The last line may be torn: it was being said when the end came.
    said = (first + rest).split("\n")[:-1]
    return [int(line.split()[1]) for line in said if line.startswith("kept ")]


def log_of(folder: Path) -> DayLog:
    """Return the day that stands in a book."""
    with open_book(folder) as book:
        with book.reading() as connection:
            (pour_id,) = connection.exec_driver_sql("SELECT id FROM pours").scalars().all()
        return day_log(book, pour_id)


@pytest.mark.parametrize("kills", [4, pytest.param(1000, marks=pytest.mark.long)])
def test_no_acknowledged_entry_is_lost_and_the_day_is_that_of_an_unbroken_one(
    tmp_path: Path, case: DayCase, kills: int
) -> None:
    """Made to fail: a day killed many times against the same day entered at once."""
    moments = random.Random(kills)
    said: set[int] = set()
    broken, days = tmp_path / "broken", 0
    for number in range(kills):
        folder = broken / str(days)
        said |= set(run(folder, moments.uniform(0.0, 0.12)))
        log = log_of(folder)
        assert len(log.readings) + len(log.events) >= (max(said) + 1 if said else 0)
        if len(log.readings) + len(log.events) == LINES or number == kills - 1:
            # The day is over, or the kills are: it is ended, and held against a whole one.
            run(folder, None)
            again = log_of(folder)
            assert len(again.readings) + len(again.events) == LINES
            days, said = days + 1, set()

    day_of(tmp_path / "whole")
    whole, last = log_of(tmp_path / "whole"), log_of(broken / str(days - 1))
    assert set(last.readings) == set(whole.readings)
    assert set(last.events) == set(whole.events)
    assert reforecast(case, last).clean_at == reforecast(case, whole).clean_at
    assert reforecast(case, last).core == reforecast(case, whole).core
