"""What many tests of pages and commands ask for is worked out once in a process, and briefly.

A test of a page or of a command asks what is said of an answer, and most of them ask for the
same piece, draws and seed.  The stages are pure, so the same call gives the same answer: here
it is remembered by all that goes in, the threads among it.  Whether a second call does give
the same is asked in tests/forecast and tests/execute, where nothing is remembered.  What a
page or a command does not say a number for is made of few draws: a day is followed with 48
particles in the place of 96, as in tests/day, and what to change first is poured 8 times in
the place of 400, which else went on behind each page of a piece until long after its test.
The pages pour each piece 60 times at most.  A new book is a copy of an empty one: the steps
that lead to its form are tried in tests/book.

A test that needs all as it is takes ``anew``.
"""

import itertools
import threading
from collections.abc import Callable, Iterator
from functools import cache, lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from sqlalchemy import Engine

from pourcast.app import day_room
from pourcast.book import migrate
from pourcast.book.store import FILE, open_book
from pourcast.change import rank
from pourcast.day import case
from pourcast.forecast import solve

_MOST = 24
"""Answers of a kind that are kept: those of one file of tests."""

PARTICLES = 48
POURS = 8
DRAWS = 60


def remembered(function: Callable[..., Any]) -> Callable[..., Any]:
    """Return a function that gives again what it gave for the same arguments.

    What cannot be held against what was asked before, such as a curve, is worked out.
    """
    known = lru_cache(maxsize=_MOST)(function)

    def asked(*given: Any, **named: Any) -> Any:
        try:
            hash((given, tuple(named.values())))
        except TypeError:
            return function(*given, **named)
        return known(*given, **named)

    return asked


class Rows:
    """Rows of a ranking, each worked out when it is asked for first."""

    def __init__(self, made: Iterator[Any]) -> None:
        self._made = made
        self._there: list[Any] = []
        self._fault: Exception | None = None
        self._lock = threading.Lock()

    def __iter__(self) -> Iterator[Any]:
        for place in itertools.count():
            with self._lock:
                if self._fault is not None:
                    raise self._fault
                if place == len(self._there):
                    try:
                        self._there.append(next(self._made))
                    except StopIteration:
                        return
                    except Exception as fault:
                        self._fault = fault
                        raise
            yield self._there[place]


@cache
def _empty_book() -> bytes:
    with TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        patch.setattr(migrate, "upgrade", _plain["upgrade"])
        open_book(Path(folder), address="here").close()
        return (Path(folder) / FILE).read_bytes()


def _copied(engine: Engine, folder: Path, **named: Any) -> Path | None:
    file = folder / FILE
    if engine.dialect.name != "sqlite" or file.stat().st_size > 0:
        made: Path | None = _plain["upgrade"](engine, folder, **named)
        return made
    engine.dispose()
    file.write_bytes(_empty_book())
    return None


_plain: dict[str, Any] = {
    "upgrade": migrate.upgrade,
    "forecast": solve._forecast,
    "day": case.day_case,
    "rows": rank.rankings,
}
_forecast = remembered(solve._forecast)
_day = remembered(case.day_case)
_rows = remembered(lambda *given, **named: Rows(_plain["rows"](*given, **named)))


def _few_particles(*given: Any, **named: Any) -> Any:
    return _day(*given, **{"particles": PARTICLES, **named})


def _few_pours(*given: Any, **named: Any) -> Iterator[Any]:
    yield from _rows(*given, **{"draws": POURS, **named})


def _few_draws(plan: Any, calibration: Any, draws: int, *more: Any, **named: Any) -> Any:
    return _forecast(plan, calibration, min(draws, DRAWS), *more, **named)


_PLACES: tuple[tuple[Any, str, Any, Any], ...] = (
    (migrate, "upgrade", _copied, _plain["upgrade"]),
    (solve, "_forecast", _forecast, _plain["forecast"]),
    (case, "day_case", _few_particles, _plain["day"]),
    (day_room, "day_case", _few_particles, _plain["day"]),
    (rank, "rankings", _few_pours, _plain["rows"]),
)
"""Where a function stands, the one of this file, and the one that it stands for."""


@pytest.fixture(autouse=True, scope="module")
def worked_out_once() -> Iterator[None]:
    """Let a test take what another one has worked out."""
    with pytest.MonkeyPatch.context() as patch:
        for where, name, here, _ in _PLACES:
            patch.setattr(where, name, here)
        yield


@pytest.fixture(autouse=True, scope="module")
def few_draws(worked_out_once: None) -> Iterator[None]:
    """Let a page say what is said of 60 pours."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(solve, "_forecast", _few_draws)
        yield


@pytest.fixture
def anew(worked_out_once: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a test work out all by itself, as the program does."""
    for where, name, _, plain in _PLACES:
        monkeypatch.setattr(where, name, plain)
