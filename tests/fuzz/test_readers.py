"""Whatever is read: a result or an error of ours that says what to change, nothing else.

The quick run takes a thousandth of a million inputs, the long one all of them; the
pages have a fuzzer of their own in tests/app/fuzz and their share here.  That nothing but
a named error comes out is our own rule; the way of damage is that of Miller, Fredriksen
and So (1990).
"""

import signal
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from pourcast.errors import PourcastError
from tests.fuzz.readers import Reader, readers
from tests.fuzz.spoil import spoiled

NAMES = (
    *("measure", "typed line", "flask", "kiln log", "pull-down", "sheet", "edit"),
    *("corrections", "export of a book", "scan", "photograph"),
)
QUICK = 500
"""Of a full share one in so many; at least twenty."""

STUCK = 30.0
"""Seconds of processor after which one input counts as stuck; bars are a hundred times lower."""


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Reader]:
    """Return the readers by name."""
    return {each.name: each for each in readers(tmp_path_factory.mktemp("fuzz"))}


@contextmanager
def _not_stuck() -> Iterator[None]:
    def stop(*_: object) -> None:
        raise TimeoutError("stuck")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, STUCK)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
        signal.signal(signal.SIGVTALRM, before)


def _try(reader: Reader, numbers: range) -> tuple[int, int]:
    """Return how many inputs were taken and how many refused."""
    taken = refused = 0
    for number in numbers:
        content = spoiled(reader.seeds, number)
        try:
            with _not_stuck(), warnings.catch_warnings():
                warnings.simplefilter("error")
                reader.call(content)
            taken += 1
        except PourcastError as fault:
            refused += 1
            wordless = not str(fault).strip()
            if wordless:
                raise AssertionError(
                    f"{reader.name} {number} was refused without a word"
                ) from fault
        except Exception as fault:
            raise AssertionError(
                f"{reader.name} {number}: {fault!r} of {content[:400]!r}"
            ) from fault
    return taken, refused


def test_every_reader_is_named(known: dict[str, Reader]) -> None:
    assert tuple(known) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_good_input_is_taken(known: dict[str, Reader], name: str) -> None:
    """A fuzzer whose seeds are refused tries nothing but the door."""
    for seed in known[name].seeds:
        known[name].call(seed)


@pytest.mark.parametrize("name", NAMES)
def test_spoiled_input_is_taken_or_refused(known: dict[str, Reader], name: str) -> None:
    reader = known[name]

    taken, refused = _try(reader, range(max(20, reader.share // QUICK)))

    assert refused, "no damage reached the reader" if taken else "nothing was tried"


@pytest.mark.long
@pytest.mark.parametrize("name", NAMES)
def test_a_million_spoiled_inputs(known: dict[str, Reader], name: str) -> None:
    """All of a reader's share of the million, other numbers than in the quick run."""
    reader = known[name]

    taken, refused = _try(reader, range(1_000_000, 1_000_000 + reader.share))

    assert taken + refused == reader.share
    assert refused
