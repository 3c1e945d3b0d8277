"""Behind: work that goes on behind the pages, and ends with the program."""

import logging
import queue
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

log = logging.getLogger(__name__)


class Quiet:
    """Lets work behind the pages wait while somebody waits for a first answer."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._waiting = 0

    @contextmanager
    def broken(self) -> Iterator[None]:
        """Hold: somebody waits for an answer."""
        with self._changed:
            self._waiting += 1
        try:
            yield
        finally:
            with self._changed:
                self._waiting -= 1
                self._changed.notify_all()

    def wait(self, most: float) -> bool:
        """Wait until nobody waits for an answer, but no longer than ``most`` seconds.

        Returns
        -------
        bool
            Whether it is quiet.
        """
        until = time.monotonic() + most
        with self._changed:
            while self._waiting:
                left = until - time.monotonic()
                if left <= 0.0 or not self._changed.wait(left):
                    return not self._waiting
            return True


class Behind:
    """Does one piece of work after another in a thread that never holds up the end.

    Parameters
    ----------
    name : str
        Of the thread.
    """

    def __init__(self, name: str) -> None:
        self._asked: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
        threading.Thread(target=self._run, name=name, daemon=True).start()

    def do(self, work: Callable[[], None]) -> None:
        """Have something done after what was asked for before."""
        self._asked.put(work)

    def _run(self) -> None:
        while True:
            work = self._asked.get()
            try:
                work()
            except Exception:
                # The next work must still be done; the page says that this one failed.
                log.exception("work behind a page failed")
