"""Rates: how often one device may ask, so that none takes the program for itself."""

import threading
import time
from collections import OrderedDict
from collections.abc import Callable

_MOST_KNOWN = 2000  # devices and addresses remembered


class Rates:
    """A bucket for each device that fills at a rate and empties by one a request.

    Parameters
    ----------
    most : int
        Requests at once.
    per_second : float
        That come back.
    clock : callable
        Seconds that only go forward.
    """

    def __init__(
        self,
        *,
        most: int,
        per_second: float,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._most = most
        self._per_second = per_second
        self._clock = clock
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._lock = threading.Lock()

    def takes(self, who: str) -> bool:
        """Return whether a request of a device is let in, and count it."""
        with self._lock:
            now = self._clock()
            left, since = self._left.pop(who, (float(self._most), now))
            left = min(float(self._most), left + (now - since) * self._per_second)
            let_in = left >= 1.0
            self._left[who] = (left - 1.0 if let_in else left, now)
            while len(self._left) > _MOST_KNOWN:
                self._left.popitem(last=False)
            return let_in
