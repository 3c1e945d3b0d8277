"""Gauges: what a low gauge makes of the chance, worked out behind the page of a kiln day.

The page says at once that the gauge is low and what to do.  The two chances take some seconds;
the page asks again by itself and has them then.
"""

import threading
from enum import Enum

from pourcast import units as si
from pourcast.app.behind import Behind
from pourcast.day.case import DayCase
from pourcast.day.fill_now import FillNow, fill_now

_MOST_KEPT = 32  # answers; a gauge is read some times a day


class Waits(Enum):
    """Why there is no answer."""

    AT_WORK = "at work"
    FAILED = "failed"


class Gauges:
    """Answers by day and by what the gauge shows."""

    def __init__(self) -> None:
        self._behind = Behind("gauges")
        self._found: dict[tuple[str, si.Pascal], FillNow | Waits] = {}
        self._door = threading.Lock()

    def known(self, pour_id: str, case: DayCase, shown: si.Pascal) -> FillNow | Waits:
        """Return the chances, or why they are not there.

        Parameters
        ----------
        pour_id : str
        case : DayCase
            Of a plan that is poured with a pump.
        shown : float [Pa]
            By the gauge, below the air outside.
        """
        key = (pour_id, shown)
        with self._door:
            if key in self._found:
                return self._found[key]
            while len(self._found) >= _MOST_KEPT:
                self._found.pop(next(iter(self._found)))
            self._found[key] = Waits.AT_WORK
        self._behind.do(lambda: self._work_out(key, case))
        return Waits.AT_WORK

    def _work_out(self, key: tuple[str, si.Pascal], case: DayCase) -> None:
        found: FillNow | Waits = Waits.FAILED
        try:
            found = fill_now(case, key[1])
        finally:
            # Where it fails the fault goes on to the log, and the page says so.
            with self._door:
                self._found[key] = found
