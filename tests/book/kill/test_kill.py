"""The program dies at any moment, and nothing that it said was kept is lost.

The writer is killed with SIGKILL, which it cannot catch.  That is the death of
the program, not of the machine: that a commit is flushed to the disk is shown by
the setting of the database (`tests.book.test_store`), and a disk that lies about
its flush is beyond any test here.
"""

import hashlib
import random
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pourcast.book.pictures import picture_path
from pourcast.book.store import FILE
from tests.book.kill.writer import PARTS

ROOT = Path(__file__).parents[3]


def run_and_kill(folder: Path, seconds: float) -> list[tuple[str, str]]:
    """Let the writer write for a while, kill it, and return what it said was kept."""
    writer = subprocess.Popen(
        [sys.executable, "-m", "tests.book.kill.writer", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
    )
    assert writer.stdout is not None
    first = writer.stdout.readline()
    time.sleep(seconds)
    writer.send_signal(signal.SIGKILL)
    rest, fault = writer.communicate()
    assert writer.returncode == -signal.SIGKILL, fault
    # The last line may be torn: it was being said when the end came.
    said = (first + rest).split("\n")[:-1]
    return [(table, row) for table, _, row in (line.partition(" ") for line in said)]


def faults(folder: Path, said: list[tuple[str, str]]) -> list[str]:
    """Return what of the book is damaged, lost or torn."""
    file = sqlite3.connect(folder / FILE)
    asked = file.execute
    found = [str(row) for row in asked("PRAGMA integrity_check") if row != ("ok",)]
    found += [f"torn {row}" for row in asked("PRAGMA foreign_key_check")]
    for table in ("plans", "outcomes", "notes", "photographs"):
        there = {row[0] for row in asked(f"SELECT id FROM {table}")}
        found += [
            f"lost {table} {row}" for named, row in said if named == table and row not in there
        ]
    for table, key in (("plan_parts", "plan_id"), ("outcome_parts", "outcome_id")):
        counts = asked(f"SELECT {key}, count(*) FROM {table} GROUP BY {key}").fetchall()
        found += [f"torn {table} {row}" for row in counts if row[1] != PARTS]
        heads = asked(f"SELECT count(*) FROM {table.partition('_')[0]}s").fetchone()[0]
        found += [f"{heads} heads, {len(counts)} with {table}"] if heads != len(counts) else []
    pours = asked("SELECT count(*) FROM pours WHERE id NOT IN (SELECT pour_id FROM outcomes)")
    found += [f"{count} pours without their outcome" for (count,) in pours if count]
    for sha256, kind in asked("SELECT sha256, kind FROM photographs"):
        path = picture_path(folder, sha256, kind)
        if not path.is_file() or hashlib.sha256(path.read_bytes()).hexdigest() != sha256:
            found.append(f"photograph {path.name} is gone or torn")
    file.close()
    return found


@pytest.mark.parametrize("kills", [10, pytest.param(200, marks=pytest.mark.long)])
def test_nothing_that_was_kept_is_lost(tmp_path: Path, kills: int) -> None:
    """One book through all kills, so that each writer begins with what the last left."""
    moments = random.Random(kills)
    said: list[tuple[str, str]] = []
    for _ in range(kills):
        now = run_and_kill(tmp_path, moments.uniform(0.0, 0.15))
        said += now
        assert faults(tmp_path, now) == []
    assert faults(tmp_path, said) == []
    assert len(said) > kills
