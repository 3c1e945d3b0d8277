"""Memory: what was worked out stays at hand, and two that ask the same wait for one answer."""

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from pourcast import __version__
from pourcast.forecast.model import Calibration, Forecast
from pourcast.forecast.whole import Ends
from pourcast.kernels import HASH
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

_MOST_FORECASTS = 48  # kept in memory; own choice
_MOST_PLANS = 64  # the same


class Asked(NamedTuple):
    """What a forecast is of.

    Parameters
    ----------
    text_sha256 : str
        Of the piece file.
    draws, seed : int
    calibration : Calibration or None
    """

    text_sha256: str
    draws: int
    seed: int
    calibration: Calibration | None

    def digest(self) -> str:
        """Return a hash of all of it, and of the program that answers."""
        return hashlib.sha256(repr((*self, __version__, HASH)).encode()).hexdigest()


class Poured(NamedTuple):
    """A forecast, and how each of its pours ends."""

    forecast: Forecast
    ends: Ends


@lru_cache(maxsize=_MOST_PLANS)
def plan_of(text: str) -> Plan:
    """Return the plan of a piece file; one page asks for the same one many times.

    Raises
    ------
    SheetError
    """
    return read_plan(text)


class Memory:
    """The forecasts that were asked for last."""

    def __init__(self) -> None:
        self._known: OrderedDict[Asked, Poured] = OrderedDict()
        self._working: dict[Asked, threading.Lock] = {}
        self._lock = threading.Lock()

    def of(self, asked: Asked, make: Callable[[], Poured]) -> Poured:
        """Return what is known of something, or make it; two that ask the same wait for one."""
        with self._lock:
            working = self._working.setdefault(asked, threading.Lock())
        with working:
            known = self._find(asked)
            if known is None:
                known = make()
                self._remember(asked, known)
        with self._lock:
            self._working.pop(asked, None)
        return known

    def holds(self, asked: Asked) -> bool:
        """Return whether something is known."""
        return self._find(asked) is not None

    def _find(self, asked: Asked) -> Poured | None:
        with self._lock:
            known = self._known.get(asked)
            if known is not None:
                self._known.move_to_end(asked)
            return known

    def _remember(self, asked: Asked, made: Poured) -> None:
        with self._lock:
            self._known[asked] = made
            while len(self._known) > _MOST_FORECASTS:
                self._known.popitem(last=False)
