"""Forecasts on a page: a first answer from few draws, then the whole while it is shown.

Two texts that are held against each other are always poured with the same draws
and the same seed, so that their difference is that of the plans.  The first
draws of the whole are those of the first answer.
"""

import threading
from collections import OrderedDict
from typing import NamedTuple

from pourcast.app.behind import Behind, Quiet
from pourcast.app.studio import Studio
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import DRAWS

FIRST_DRAWS = 40
"""Draws of the first answer; own choice: a third of a second for 400 segments."""

_LONGEST_WAIT = 5.0  # s that the whole waits for the first answers of others
_MOST_ENDED = 200  # refinements whose end is remembered


class Pair(NamedTuple):
    """A plan and the one that is kept, poured with the same draws.

    Parameters
    ----------
    now, was : Forecast
        One and the same where nothing is turned.
    refined : bool
        Whether these are all draws.
    """

    now: Forecast
    was: Forecast
    refined: bool


class Refining(NamedTuple):
    """What one page waits for."""

    now: str
    was: str


class Forecasts:
    """Works out what the pages of a studio show.

    Parameters
    ----------
    studio : Studio
    quiet : Quiet
        Broken while a first answer is made.
    """

    def __init__(self, studio: Studio, quiet: Quiet | None = None) -> None:
        self._studio = studio
        self._quiet = quiet or Quiet()
        # One at a time; a first answer never waits for one.
        self._behind = Behind("refine")
        self._lock = threading.Lock()
        self._wanted: dict[tuple[str, str], Refining] = {}
        self._busy: set[Refining] = set()
        self._ended: OrderedDict[Refining, bool] = OrderedDict()

    def pair(self, now: str, was: str) -> Pair:
        """Return the best answer that there is at once.

        Raises
        ------
        PourcastError
            If a text has faults, or cannot be poured.
        """
        refined = self.is_refined(now, was)
        draws = DRAWS if refined else FIRST_DRAWS
        with self._quiet.broken():
            shown = self._studio.forecast(now, draws=draws)
            kept = shown if was == now else self._studio.forecast(was, draws=draws)
        return Pair(shown, kept, refined)

    def is_refined(self, now: str, was: str) -> bool:
        """Return whether all draws of both texts are in memory."""
        return all(self._studio.is_known(text, draws=DRAWS) for text in {now, was})

    def refine(self, session: str, piece_id: str, now: str, was: str) -> None:
        """Work out all draws of a page behind it; what the same page asked before is dropped."""
        asked = Refining(now, was)
        there = self.is_refined(now, was)
        with self._lock:
            self._wanted[session, piece_id] = asked
            if there:
                self._end(asked, whole=True)
            elif asked not in self._busy and self._ended.get(asked) is not False:
                self._ended.pop(asked, None)
                self._busy.add(asked)
                self._behind.do(lambda: self._work(asked))

    def has_ended(self, now: str, was: str) -> bool | None:
        """Return whether the whole of a page is there; False: it failed; None: not yet."""
        with self._lock:
            return self._ended.get(Refining(now, was))

    def _work(self, asked: Refining) -> None:
        whole = False
        try:
            for text in (asked.now, asked.was):
                with self._lock:
                    dropped = asked not in self._wanted.values()
                if dropped:
                    # A newer turn of the knob has made this one pointless.
                    break
                self._quiet.wait(_LONGEST_WAIT)
                self._studio.forecast(text, draws=DRAWS)
            whole = True
        finally:
            with self._lock:
                self._busy.discard(asked)
                self._end(asked, whole=whole)

    def _end(self, asked: Refining, *, whole: bool) -> None:
        self._ended[asked] = whole
        while len(self._ended) > _MOST_ENDED:
            self._ended.popitem(last=False)
