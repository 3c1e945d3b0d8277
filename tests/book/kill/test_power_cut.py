"""The power goes in the middle of a write, and nothing that was acknowledged is lost.

What a disk holds after a power cut is what was flushed, and of what was written since
any choice of sectors, in any order.  Such disks are made up here from the files as they
were when one entry was acknowledged and when the next one was: of the bytes that differ
each sector is the old one or the new one, by the throw of a coin.  The way is that of
Zheng et al., "Torturing databases for fun and profit", 11th USENIX OSDI (2014); a sector
that is itself half written, which they leave out too, is not tried.

An entry is one transaction.  The database file is written at its end, if at all, and only
after the log beside it was flushed: where the database differs the log is the new one.
"""

import random
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from pourcast.book.store import FILE
from tests.book.kill.stepper import PARTS

ROOT = Path(__file__).parents[3]
SECTOR = 512
TORN_DISKS = 4
"""Made up for each entry."""


def _copy(folder: Path) -> tuple[bytes, bytes]:
    """Return the database and its log, as they stand between two entries."""
    log = folder / f"{FILE}-wal"
    return (folder / FILE).read_bytes(), log.read_bytes() if log.exists() else b""


def _torn(old: bytes, new: bytes, chance: random.Random) -> bytes:
    """Return the old bytes with some sectors of the new ones."""
    out = bytearray(old)
    share = chance.choice((0.1, 0.5, 0.9))
    for start in range(0, len(new), SECTOR):
        piece = new[start : start + SECTOR]
        if old[start : start + SECTOR] != piece and chance.random() < share:
            # A file that grew reads as zeros where nothing arrived.
            out.extend(bytes(max(0, start + len(piece) - len(out))))
            out[start : start + len(piece)] = piece
    return bytes(out)


def _held(folder: Path, disk: tuple[bytes, bytes]) -> tuple[list[str], set[str]]:
    """Return the faults of a book on a made-up disk, and the plans that it holds."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    (folder / FILE).write_bytes(disk[0])
    if disk[1]:
        (folder / f"{FILE}-wal").write_bytes(disk[1])
    file = sqlite3.connect(folder / FILE)
    try:
        found = [str(row) for row in file.execute("PRAGMA integrity_check") if row != ("ok",)]
        found += [f"torn {row}" for row in file.execute("PRAGMA foreign_key_check")]
        counts = file.execute("SELECT plan_id, count(*) FROM plan_parts GROUP BY plan_id")
        found += [f"torn plan {row}" for row in counts if row[1] != PARTS]
        return found, {row[0] for row in file.execute("SELECT id FROM plans")}
    finally:
        file.close()


@pytest.mark.parametrize("entries", [30, pytest.param(600, marks=pytest.mark.long)])
def test_power_cut_loses_nothing_acknowledged(tmp_path: Path, entries: int) -> None:
    """The long run passes several checkpoints, which write the database itself."""
    chance = random.Random(entries)
    kept: set[str] = set()
    before: tuple[bytes, bytes] | None = None
    checkpoints = 0
    for plan in _steps(tmp_path / "book", entries):
        after = _copy(tmp_path / "book")
        if before is not None:
            checkpoints += before[0] != after[0]
            for disk in _disks(before, after, chance):
                found, there = _held(tmp_path / "disk", disk)
                assert found == []
                assert kept <= there <= kept | {plan}
        kept.add(plan)
        before = after
    assert len(kept) == entries
    assert entries < 100 or checkpoints > 1


def _steps(folder: Path, entries: int) -> Iterator[str]:
    """Yield each plan when it is acknowledged; the writer waits until the next is asked for."""
    words = [sys.executable, "-m", "tests.book.kill.stepper", str(folder)]
    with subprocess.Popen(
        words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT
    ) as writer:
        assert writer.stdin is not None
        assert writer.stdout is not None
        for _ in range(entries):
            writer.stdin.write("next\n")
            writer.stdin.flush()
            yield writer.stdout.readline().strip()


def _disks(
    before: tuple[bytes, bytes], after: tuple[bytes, bytes], chance: random.Random
) -> list[tuple[bytes, bytes]]:
    """Return made-up disks between two moments at which all was flushed."""
    if before[0] != after[0]:
        return [(_torn(before[0], after[0], chance), after[1]) for _ in range(TORN_DISKS)]
    return [(before[0], _torn(before[1], after[1], chance)) for _ in range(TORN_DISKS)]


def test_disk_that_lost_what_was_flushed_is_seen(tmp_path: Path) -> None:
    """The test can fail: on a disk that is three entries behind, three are missing."""
    disks = []
    plans = []
    for plan in _steps(tmp_path / "book", 6):
        plans.append(plan)
        disks.append(_copy(tmp_path / "book"))

    found, there = _held(tmp_path / "disk", disks[2])

    assert found == []
    assert there == set(plans[:3])
