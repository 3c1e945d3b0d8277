"""Threads: results in the order of the tasks, few under way, called off when asked.

House rules; no outside number belongs to them.
"""

import threading
from collections.abc import Iterator

import pytest

from pourcast.errors import InputError
from pourcast.execute import Cancel, CancelledError, Threads
from pourcast.execute.model import AHEAD
from tests.execute.works import refused, told, uneven


@pytest.mark.parametrize("workers", [1, 2, 5])
def test_results_come_in_the_order_of_the_tasks(workers: int) -> None:
    assert list(Threads(workers).map(uneven, "", range(40))) == list(range(40))


@pytest.mark.parametrize("workers", [1, 3])
def test_no_tasks_give_no_results(workers: int) -> None:
    assert list(Threads(workers).map(told, "", [])) == []


def test_tasks_are_taken_only_as_there_is_room() -> None:
    """A million tasks need no list: few are taken before the first result is asked for."""
    taken = []

    def tasks() -> Iterator[int]:
        for task in range(1_000_000):
            taken.append(task)
            yield task

    results = Threads(2).map(told, "", tasks())
    for _ in range(10):
        next(results)
    results.close()  # type: ignore[attr-defined]

    assert len(taken) <= 10 + 2 * AHEAD


@pytest.mark.parametrize("workers", [1, 2])
def test_a_fault_of_the_work_is_raised_at_its_place(workers: int) -> None:
    results = Threads(workers).map(refused, 3, range(10))

    assert [next(results) for _ in range(3)] == [0, 1, 2]
    with pytest.raises(InputError, match="density is -1"):
        next(results)


@pytest.mark.parametrize("workers", [1, 2])
def test_work_that_is_called_off_ends_with_what_was_given_whole(workers: int) -> None:
    cancel = Cancel()
    given = []
    before = set(threading.enumerate())

    def go_on() -> None:
        for result in Threads(workers).map(uneven, "", range(100), cancel=cancel):
            given.append(result)
            if result == 7:
                cancel.call_off()

    with pytest.raises(CancelledError):
        go_on()

    assert given == list(range(8))
    # Not all threads of this process: other tests of the same worker have left some.
    begun = set(threading.enumerate()) - before
    for thread in begun:
        thread.join(10.0)
    assert not any(thread.is_alive() for thread in begun)


def test_no_workers_are_refused() -> None:
    with pytest.raises(InputError, match="workers is 0"):
        Threads(0)
