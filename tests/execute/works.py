"""Pieces of work that tests give out, and an executor that does them in another order."""

import os
import random
import time
from collections.abc import Callable, Iterable, Iterator

from pourcast.errors import InputError
from pourcast.execute import Cancel
from pourcast.execute.model import Result, Shared, Task


def told(shared: str, task: int) -> tuple[str, int, int]:
    """Return what went in, and by which process it was done."""
    return shared, task, os.getpid()


def uneven(shared: str, task: int) -> int:
    """Return the task; those that come first take longest."""
    del shared
    time.sleep(0.03 if task % 5 == 0 else 0.001)
    return task


def slow(shared: str, task: int) -> tuple[int, int]:
    """Return the task and the process, after a while."""
    del shared
    time.sleep(0.05)
    return task, os.getpid()


def refused(shared: int, task: int) -> int:
    """Return the task; one of them is refused."""
    if task == shared:
        raise InputError("density", -1, "kg/m³", "greater than 0", "Weigh it again.")
    return task


def deadly(shared: None, task: int) -> int:
    """Return the task; one kills whoever does it."""
    del shared
    if task == 1:
        os.kill(os.getpid(), 9)
    return task


class Shuffled:
    """An executor that does all tasks first, in an order of its own."""

    workers = 3
    threads_here = 1

    def __init__(self, seed: int) -> None:
        self._seed = seed
        self.order: list[int] = []

    def map(
        self,
        work: Callable[[Shared, Task], Result],
        shared: Shared,
        tasks: Iterable[Task],
        *,
        cancel: Cancel | None = None,
    ) -> Iterator[Result]:
        """Yield the results in the order of the tasks."""
        del cancel
        listed = list(tasks)
        self.order = list(range(len(listed)))
        random.Random(self._seed).shuffle(self.order)
        done = {place: work(shared, listed[place]) for place in self.order}
        yield from (done[place] for place in range(len(listed)))
