"""Run the slow studies file by file, and put their rows into docs/checks.md.

``make check-long`` runs it.  A run takes hours; one that was broken off goes on where
it stood, for what came out of each file is kept under out/check-long as long as no
source changes.  Of a study that fails or breaks off, the rows that it did not come to stay
in the book and are marked as those of an earlier run.  Files may be named:
``python tools/check_long.py tests/learn``.
"""

import hashlib
import json
import os
import subprocess
import sys
import time
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.outside.record import TABLE_FILE, Row, read_rows  # noqa: E402
from tests.outside.write_checks import write_checks  # noqa: E402

KEPT = ROOT / "out" / "check-long"
_SOURCES = (".py", ".toml", ".json", ".sql", ".j2")
_NO_TESTS = 5  # what pytest says where none was chosen


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What came out of the slow studies of one file.

    Parameters
    ----------
    file : str
    sources : str
        Digest of everything that it may rest on.
    passed : bool
    seconds : float [s]
    said : str
        Last line of the run: how many passed.
    rows : list of dict
        As `tests.outside.record.Row` takes them.
    """

    file: str
    sources: str
    passed: bool
    seconds: float
    said: str
    rows: list[dict[str, Any]]


def digest() -> str:
    """Return a digest of the sources of the program and of its tests."""
    told = hashlib.sha256()
    for folder in ("src", "tests", "examples"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix in _SOURCES and path.is_file():
                told.update(path.relative_to(ROOT).as_posix().encode())
                told.update(path.read_bytes())
    return told.hexdigest()


def long_files(named: list[str]) -> list[str]:
    """Return the test files that hold slow studies, of those named or of all."""
    found = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "--collect-only", "-m", "long", *named],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if found.returncode not in (0, _NO_TESTS):
        raise SystemExit(found.stdout + found.stderr)
    files = [line.partition("::")[0] for line in found.stdout.splitlines() if "::" in line]
    return sorted(set(files))


def study(file: str, sources: str) -> Done:
    """Run the slow studies of one file and keep what came out."""
    (ROOT / TABLE_FILE).unlink(missing_ok=True)
    began = time.monotonic()
    workers = os.environ.get("WORKERS", "auto")
    ran = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-n", workers, "-m", "long", file],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    if ran.returncode:
        print(ran.stdout, flush=True)
    done = Done(
        file=file,
        sources=sources,
        passed=ran.returncode == 0,
        seconds=round(time.monotonic() - began, 1),
        said=(ran.stdout.strip().splitlines() or [f"ended with {ran.returncode}, without a word"])[
            -1
        ],
        rows=[asdict(row) for row in read_rows(ROOT / TABLE_FILE)]
        if (ROOT / TABLE_FILE).exists()
        else [],
    )
    _place(file).parent.mkdir(parents=True, exist_ok=True)
    _place(file).write_text(json.dumps(asdict(done), ensure_ascii=False), encoding="utf-8")
    return done


def kept(file: str, sources: str) -> Done | None:
    """Return what an earlier run of the same sources found, where it passed."""
    if not _place(file).exists():
        return None
    done = Done(**json.loads(_place(file).read_text(encoding="utf-8")))
    return done if done.passed and done.sources == sources else None


def _place(file: str) -> Path:
    return KEPT / (file.removesuffix(".py").replace("/", "-") + ".json")


def main(named: list[str]) -> int:
    """Run what is not done yet; return 0 where all passed."""
    sources = digest()
    files = long_files(named)
    failed = []
    for file in files:
        done = kept(file, sources) or study(file, sources)
        print(f"{file}: {done.said}", flush=True)
        if not done.passed:
            failed.append(file)
        rows = [Row(**row) for row in done.rows]
        write_checks(ROOT, rows, slow=True, files={file}, whole=done.passed)
    print(f"{len(files) - len(failed)} of {len(files)} files of slow studies passed.")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
