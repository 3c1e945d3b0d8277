"""One mutant tried: do the tests go red?

The tests run in a process that is split off from this one, in which the libraries are
loaded already and the package is not, so that a trial costs its tests and no more.
"""

import json
import os
import select
import signal
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.mutation.plain import stand_in
from tests.mutation.reach import noted

RED, GREEN, STOPPED = "red", "green", "stopped"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How a run of tests ended: RED, GREEN or STOPPED, after how long, and the first red one."""

    end: str
    seconds: float
    first: str


class _First:
    """Notes the first test that fails."""

    def __init__(self) -> None:
        self.name = ""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and not self.name:
            self.name = report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed and not self.name:
            self.name = report.nodeid


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach(Outcome):
    """How one test file ended, and what it reached as `tests.mutation.reach` notes it."""

    reached: list[str]


def looked_through(root: Path, file: str, *, limit: float) -> Reach:
    """Return how one test file ends, and what it reaches; arguments as for `tried`."""

    def work() -> tuple[int, list[str]]:
        with noted(root / "src" / "pourcast") as reached:
            code, first = _run_tests(root, [file])
        return code, [first, *sorted(reached)]

    outcome, said = _split_off(root, work, limit)
    return Reach(end=outcome.end, seconds=outcome.seconds, first=outcome.first, reached=said[1:])


def tried(root: Path, files: Sequence[str], *, limit: float) -> Outcome:
    """Return how the tests end in a copy of the repository.

    Parameters
    ----------
    root : Path
        The copy; the tests run in it and see its package.
    files : sequence of str
        Test files, under ``root``; the first failure ends the run.
    limit : float
        Seconds of processor time after which the run is stopped [s].
    """

    def work() -> tuple[int, list[str]]:
        code, first = _run_tests(root, files)
        return code, [first]

    return _split_off(root, work, limit)[0]


def _split_off(
    root: Path, work: Callable[[], tuple[int, list[str]]], limit: float
) -> tuple[Outcome, list[str]]:
    """Return how work ends in a process of its own, and the texts that it gave back."""
    began = time.monotonic()
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        _work_and_leave(root, work, writer, limit)
    os.close(writer)
    said = b""
    # By the clock a hundred times the limit: a machine may be busy, but a sleeper is stopped too.
    while select.select([reader], [], [], max(0.0, began + 100 * limit - time.monotonic()))[0]:
        piece = os.read(reader, 4096)
        if not piece:
            break
        said += piece
    else:
        os.kill(child, signal.SIGKILL)
    os.close(reader)
    _, status, used = os.wait4(child, 0)
    seconds = used.ru_utime + used.ru_stime
    if os.WIFSIGNALED(status):
        return Outcome(end=STOPPED, seconds=seconds, first=""), []
    # Of a file with slow tests only no test is taken: it says nothing, and not that all is wrong.
    green = os.WEXITSTATUS(status) in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED)
    texts = json.loads(said or b'[""]')
    return Outcome(end=GREEN if green else RED, seconds=seconds, first=texts[0]), texts


def _work_and_leave(
    root: Path, work: Callable[[], tuple[int, list[str]]], writer: int, limit: float
) -> None:
    import resource  # not on every system, and needed by the run only

    code = 70
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (round(limit), round(limit) + 1))
        os.chdir(root)
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        sys.path[:0] = [str(root), str(root / "src")]
        for name in [*sys.modules]:
            if name.partition(".")[0] in ("tests", "pourcast"):
                del sys.modules[name]
        stand_in()
        code, texts = work()
        with os.fdopen(writer, "w") as out:
            json.dump(texts, out)
    finally:
        os._exit(code)


def _run_tests(root: Path, files: Sequence[str]) -> tuple[int, str]:
    """Return how pytest ends here, and the first test that failed."""
    first = _First()
    options = ["-x", "-q", "--tb=no", "-m", "not long", "-p", "no:cacheprovider"]
    options += ["-p", "no:xdist", "-p", "no:schemathesis", "--hypothesis-seed=0"]
    # Hypothesis is loaded already, and nothing of it needs to be rewritten.
    options += ["-W", "ignore::pytest.PytestAssertRewriteWarning", f"--rootdir={root}"]
    return int(pytest.main([*options, *files], plugins=[first])), first.name
