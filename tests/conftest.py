"""What every test run does: numpy errors raise, no clock, outside numbers are kept."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import settings

from tests.outside.record import (
    TABLE_FILE,
    Row,
    kept_rows,
    read_rows,
    rows_come_from,
    write_rows,
)
from tests.outside.write_checks import write_checks

# A busy machine is no fault of the code, so no example has a time limit.
settings.register_profile("pourcast", deadline=None)
settings.load_profile("pourcast")

WRITE = "POURCAST_WRITE_TABLE"
"""Set by make: this run makes the rows of the quick tests in docs/checks.json anew."""

_from_workers: list[dict[str, Any]] = []


@pytest.fixture(autouse=True)
def numpy_errors_raise() -> Iterator[None]:
    """Turn a division by zero, an overflow and a nan into an error where it is born."""
    with np.errstate(divide="raise", over="raise", invalid="raise"):
        yield


@pytest.fixture(autouse=True)
def rows_know_their_test(request: pytest.FixtureRequest) -> None:
    """Tell the rows of outside numbers which file makes them, and whether a slow test of it."""
    file = request.node.path.relative_to(request.config.rootpath).as_posix()
    rows_come_from(file, slow=request.node.get_closest_marker("long") is not None)


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any, error: object | None) -> None:
    """Take over the rows of a worker of pytest-xdist when it ends."""
    del error
    _from_workers.extend(getattr(node, "workeroutput", {}).get("outside_rows", []))


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write the rows of this run; a worker hands them to the main process instead."""
    if hasattr(session.config, "workeroutput"):
        session.config.workeroutput["outside_rows"] = kept_rows()
        return
    rows = [Row(**kept) for kept in [*kept_rows(), *_from_workers]]
    if not rows:
        return
    root = Path(session.config.rootpath)
    write_rows(root / TABLE_FILE, rows)
    if WRITE in os.environ:
        write_checks(root, read_rows(root / TABLE_FILE), slow=False)
