"""What an executor is: it does one piece of work for each task and gives the results in order.

Three rules keep an answer the same for any number of workers, any order in which
they end and any of them that is lost:

1. The work is a function at the top of a file, called as ``work(shared, task)``; what
   it returns hangs on these two alone.  Chance comes from a seed in the task.
2. Results are given in the order of the tasks.
3. What was lost is done again, from the same task.

Results are given as they come, and only a few tasks for each worker are under way at
once, so that a million results need no list.

"The same" is bit for bit on machines of one kind with the same versions of Python,
numpy and numba.  Another kind of processor may round a logarithm or a fused product
otherwise in the last bit.
"""

import threading
from collections.abc import Callable, Iterable, Iterator
from typing import Protocol, TypeVar

from pourcast.errors import PourcastError

Shared = TypeVar("Shared")
Task = TypeVar("Task")
Result = TypeVar("Result")

AHEAD = 4
"""Tasks for each worker that are under way or done and not yet taken."""


class ExecuteError(PourcastError, RuntimeError):
    """Work that could not be shared out: no scheduler, no worker, or one task that kills them."""


class CancelledError(PourcastError, RuntimeError):
    """The work was called off; what had been given by then is whole."""


class Cancel:
    """A switch that calls work off, from another thread or from a signal."""

    def __init__(self) -> None:
        self._event = threading.Event()

    def call_off(self) -> None:
        """Call the work off; what is under way ends, nothing new begins."""
        self._event.set()

    @property
    def called_off(self) -> bool:
        """Whether the work was called off."""
        return self._event.is_set()

    def heed(self) -> None:
        """Raise `CancelledError` if the work was called off."""
        if self.called_off:
            raise CancelledError("called off")


class Executor(Protocol):
    """Does one piece of work for each task."""

    @property
    def workers(self) -> int:
        """How many tasks are done at once."""

    @property
    def threads_here(self) -> int:
        """How many threads one piece of work may use that is done in this process."""

    def map(
        self,
        work: Callable[[Shared, Task], Result],
        shared: Shared,
        tasks: Iterable[Task],
        *,
        cancel: Cancel | None = None,
    ) -> Iterator[Result]:
        """Yield the result of each task, in the order of the tasks.

        Parameters
        ----------
        work : callable
            A function at the top of a file.
        shared : object
            The same for all tasks; sent to a worker once.
        tasks : iterable
            Taken one after another, as there is room.
        cancel : Cancel, optional

        Raises
        ------
        CancelledError
            If the work was called off.
        ExecuteError
            If the work could not be shared out.
        """
        ...
