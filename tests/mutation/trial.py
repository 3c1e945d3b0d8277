"""One mutant tried: do the tests go red?

The tests run in a process that is split off from this one, in which the libraries are
loaded already and the package is not, so that a trial costs its tests and no more.
"""

import os
import select
import signal
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

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
    began = time.monotonic()
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        _run_and_leave(root, files, writer, limit)
    os.close(writer)
    said = b""
    # Ten times the limit by the clock: a machine may be busy, but a sleeper is stopped too.
    while select.select([reader], [], [], max(0.0, began + 10 * limit - time.monotonic()))[0]:
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
        return Outcome(end=STOPPED, seconds=seconds, first="")
    # Of a file with slow tests only no test is taken: it says nothing, and not that all is wrong.
    green = os.WEXITSTATUS(status) in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED)
    return Outcome(end=GREEN if green else RED, seconds=seconds, first=said.decode())


def _run_and_leave(root: Path, files: Sequence[str], writer: int, limit: float) -> None:
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
        noted = _First()
        options = ["-x", "-q", "--tb=no", "-m", "not long", "-p", "no:cacheprovider"]
        options += ["-p", "no:xdist", "-p", "no:schemathesis", "--hypothesis-seed=0"]
        # Hypothesis is loaded already, and nothing of it needs to be rewritten.
        options += ["-W", "ignore::pytest.PytestAssertRewriteWarning", f"--rootdir={root}"]
        code = int(pytest.main([*options, *files], plugins=[noted]))
        os.write(writer, noted.name.encode())
    finally:
        os._exit(code)
