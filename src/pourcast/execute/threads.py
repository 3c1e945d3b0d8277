"""Threads: the work is shared out among threads of this process.

The kernels run without the interpreter lock, so they share the cores; what is plain
Python between them runs one thread at a time.
"""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from itertools import islice

from pourcast.errors import InputError
from pourcast.execute.model import AHEAD, Cancel, Executor, Result, Shared, Task


class Threads:
    """An executor of threads; with one, the work is done in the caller's own.

    Parameters
    ----------
    workers : int
        1 or more.

    Raises
    ------
    InputError
        If there is none.
    """

    def __init__(self, workers: int = 1) -> None:
        if workers < 1:
            raise InputError("workers", workers, "", "1 or more")
        self._workers = workers

    @property
    def workers(self) -> int:
        """How many tasks are done at once."""
        return self._workers

    @property
    def threads_here(self) -> int:
        """How many threads one piece of work may use that is done in this process."""
        return self._workers

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
        work, shared, tasks, cancel
            As for `pourcast.execute.Executor.map`.

        Raises
        ------
        CancelledError
            If the work was called off.
        """
        if self._workers == 1:
            for task in tasks:
                if cancel:
                    cancel.heed()
                yield work(shared, task)
            return
        left = iter(tasks)
        pool = ThreadPoolExecutor(self._workers)
        try:
            under_way: deque[Future[Result]] = deque()
            while True:
                if cancel:
                    cancel.heed()
                room = AHEAD * self._workers - len(under_way)
                under_way.extend(pool.submit(work, shared, task) for task in islice(left, room))
                if not under_way:
                    return
                yield under_way.popleft().result()
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def shared_out(executor: Executor | None, threads: int) -> tuple[Executor, int, int]:
    """Return who does the work, and how many threads it may use.

    Parameters
    ----------
    executor : Executor or None
        None: one piece of work after another, each on ``threads``.
    threads : int
        Where there is no executor.

    Returns
    -------
    Executor
    int
        Threads of what is done here, before or after the work is shared out.
    int
        Threads of each piece of work: one, where several are done at once.
    """
    if executor is None:
        return Threads(1), threads, threads
    here = executor.threads_here
    return executor, here, here if executor.workers == 1 else 1
