"""Cluster: the work is shared out among workers on many machines, by dask.distributed.

The scheduler is named by its address; "local" starts one here, with one worker process
for each core.  A worker that is lost takes nothing with it: its tasks are given to
another.  A task whose workers are lost again and again is tried anew a few times, and
then the work ends with an error.

No name or order of the scheduler reaches an answer: each task gets a name of its own,
the results are taken in the order of the tasks, and a fault of the work is a value.

A scheduler runs whatever it is sent, for whoever reaches its port.  Keep it within a
network of your own, or behind its certificates.
"""

import importlib
import os
import pickle
import time
import uuid
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from operator import length_hint
from types import TracebackType
from typing import Any, Self

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.execute.carry import End, done_all, taken
from pourcast.execute.model import AHEAD, Cancel, ExecuteError, Result, Shared, Task

LOCAL = "local"

TRIES = 3
"""How often a task is given out anew whose workers were lost as often as the scheduler lets."""

LEFT_ALONE = 60.0
"""Seconds without any worker after which the work ends; workers that start anew take less."""

MANY = 32
"""Workers from which on several tasks go out together."""

MOST_PACKED = 16

_LOOK = 0.2  # s, how often a switch is looked at while a result is waited for
_ERRORS_ONLY = 40  # level of the logs of Python: a lost worker is no error, it is made good
_ANSWER = "15s"  # in which a scheduler must answer


class Cluster:
    """An executor of worker processes; use it as a context, so that it is put away again.

    Parameters
    ----------
    address : str
        Of a scheduler, such as "tcp://10.0.0.5:8786"; "local": one is started here.
    workers : int, optional
        Of a local one; left out: one for each core.

    Raises
    ------
    ExecuteError
        If dask.distributed is not installed, or no scheduler answers.
    """

    def __init__(self, address: str = LOCAL, workers: int | None = None) -> None:
        if workers is not None and workers < 1:
            raise InputError("workers", workers, "", "1 or more")
        try:
            distributed: Any = importlib.import_module("distributed")
        except ImportError:
            raise ExecuteError(
                "a cluster needs dask.distributed, which is not installed: "
                "pip install 'pourcast[cluster]'"
            ) from None
        self._distributed = distributed
        self._own: Any = None
        self._client: Any = None
        try:
            if address == LOCAL:
                self._own = distributed.LocalCluster(
                    n_workers=workers or os.cpu_count() or 1,
                    threads_per_worker=1,
                    processes=True,
                    dashboard_address="127.0.0.1:0",
                    memory_limit=0,
                    silence_logs=_ERRORS_ONLY,
                )
            self._client = distributed.Client(
                self._own or address, set_as_default=False, timeout=_ANSWER
            )
        except (OSError, ValueError, RuntimeError) as fault:
            self.close()
            raise ExecuteError(
                f"no scheduler answers at {address!r}: {fault}. It is started with "
                "`dask scheduler`, its workers with `dask worker ADDRESS`"
            ) from None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the scheduler; one that was started here ends with its workers."""
        if self._client is not None:
            self._client.close()
        if self._own is not None:
            self._own.close()

    @property
    def workers(self) -> int:
        """How many tasks are done at once, as things stand."""
        threads: dict[str, int] = self._client.nthreads()
        return max(1, sum(threads.values()))

    @property
    def threads_here(self) -> int:
        """How many threads one piece of work may use that is done in this process."""
        return os.cpu_count() or 1

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
        ExecuteError
            If a worker runs another release, or a task loses every worker it is given to.
        """
        run = uuid.uuid4().hex
        workers = self.workers
        # As a task of its own the scheduler knows how to make it again on another worker.
        held = self._client.submit(_thawed, pickle.dumps(shared), key=f"shared-{run}", pure=False)
        left = enumerate(_packs(tasks, workers))
        under_way: deque[tuple[_Given, Any]] = deque()
        room, taken_since = AHEAD * workers, 0
        try:
            while True:
                if cancel:
                    cancel.heed()
                for place, pack in islice(left, max(0, room - len(under_way))):
                    given = _Given(run=run, place=place, work=work, held=held, pack=pack)
                    under_way.append((given, self._give(given, 0)))
                if not under_way:
                    return
                given, future = under_way.popleft()
                for end in self._ends(given, future, cancel):
                    yield taken(end)
                taken_since += 1
                if taken_since >= room:
                    room, taken_since = AHEAD * self.workers, 0
        finally:
            self._client.cancel([future for _, future in under_way] + [held])

    def _give(self, given: "_Given", once_more: int) -> Any:
        name = f"task-{given.run}-{given.place}-{once_more}"
        return self._client.submit(
            done_all, given.work, given.held, given.pack, key=name, pure=False
        )

    def _ends(self, given: "_Given", future: Any, cancel: Cancel | None) -> list[End[Any]]:
        """Return the ends of one pack, given out anew where its workers were lost."""
        for once_more in range(1, TRIES + 1):
            try:
                return self._waited_for(future, cancel)
            except self._distributed.scheduler.KilledWorker:
                future = self._give(given, once_more)
        try:
            return self._waited_for(future, cancel)
        except self._distributed.scheduler.KilledWorker:
            raise ExecuteError(
                f"task {given.place + 1} lost every worker it was given to; look at the memory of "
                "the workers"
            ) from None

    def _waited_for(self, future: Any, cancel: Cancel | None) -> list[End[Any]]:
        seen = looked = time.monotonic()
        while True:
            if cancel:
                cancel.heed()
            try:
                return self._result(future, _LOOK)
            except (TimeoutError, UnboundLocalError):
                # It may have come in the moment in which waiting ended; dask.distributed (its
                # issue 8514, open in 2026) at times ends such a wait with the other of the two.
                if future.done():
                    return self._result(future, None)
            now = time.monotonic()
            if now - looked > LEFT_ALONE / 10.0:
                looked = now
                seen = now if self._client.nthreads() else seen
                if now - seen > LEFT_ALONE:
                    raise ExecuteError(
                        f"the scheduler has had no worker for {LEFT_ALONE:.0f} s; start some and "
                        "give the same command again"
                    )

    def _result(self, future: Any, timeout: si.Second | None) -> list[End[Any]]:
        try:
            ends: list[End[Any]] = future.result(timeout=timeout)
        except self._distributed.client.FutureCancelledError:
            raise ExecuteError("the scheduler is gone, and the tasks with it") from None
        return ends


@dataclass(frozen=True, slots=True, kw_only=True)
class _Given:
    """Some tasks that go out together, with all that is needed to give them out again."""

    run: str
    place: int
    work: Any
    held: Any
    pack: list[Any]


def _packs(tasks: Iterable[Any], workers: int) -> Iterator[list[Any]]:
    """Yield the tasks in packs: one each for few workers, more where a scheduler would choke."""
    each = 1
    if workers >= MANY:
        each = min(MOST_PACKED, max(1, length_hint(tasks) // (workers * AHEAD * AHEAD)))
    left = iter(tasks)
    while pack := list(islice(left, each)):
        yield pack


def _thawed(frozen: bytes) -> Any:
    return pickle.loads(frozen)
