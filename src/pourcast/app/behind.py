"""Behind: work that goes on behind the pages, and ends with the program."""

import logging
import queue
import threading
from collections.abc import Callable

log = logging.getLogger(__name__)


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
