"""Shrink: how is the shortest curve searched for?

1. From the usual curve, or where that breaks a limit from one that is longer
   throughout, all spans shrink together as far as the limits let them.
2. Then each span alone, the one with the most to give first.
3. Then one span is made longer by 1, 2 or 4 grids, and all others shrink again;
   what takes less time in all is kept, until no such change does (pattern search,
   Hooke and Jeeves 1961, J. ACM 8, 212).

A curve that is shorter in every span than one that broke a limit is taken to break
it too and is not asked for; no curve is ever taken to be good without being asked.
So a wrong guess can cost minutes, never a limit.  Once as many curves have been asked
for as may be, every other one counts as bad, and the search ends by itself.

Left out: curves that only several longer spans at once would open.  How near the
answer comes to the best curve of the grid, the tests say.
"""

import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from pourcast import units as si
from pourcast.burnout.margins import Margins, broken
from pourcast.burnout.model import KilnStep
from pourcast.burnout.spans import Ladders, Rungs

LONGER = (0.25, 0.5, 1.0, 2.0)
"""Shares by which all spans grow where the usual curve breaks a limit; our own choice."""

_KICKS = (1, 2, 4)  # grids by which one span is made longer
_HALVINGS = 6  # of the common shrinking, to 1/64 of it


@dataclass(slots=True, kw_only=True)
class Search:
    """What a search knows so far.

    Parameters
    ----------
    ladders : Ladders
    evaluate : callable
        Gives the `Margins` of steps.
    allowed : Margins
    most : int
        Curves that may be asked for.
    progress : callable or None
        As for `pourcast.burnout.shortest.shortest`.
    asked : dict of Rungs to Margins
    bad : list of Rungs
        Of those asked for, the ones that break a limit.
    best : Rungs or None
        Shortest of those asked for that keep the limits.
    whole : bool
        Whether no curve was left out because enough had been asked for.
    """

    ladders: Ladders
    evaluate: Callable[[tuple[KilnStep, ...]], Margins]
    allowed: Margins
    most: int
    progress: Callable[[int, int, si.Second], None] | None
    asked: dict[Rungs, Margins] = field(default_factory=dict)
    bad: list[Rungs] = field(default_factory=list)
    best: Rungs | None = None
    whole: bool = True

    def ask(self, rungs: Rungs) -> tuple[str, ...]:
        """Return the limits that a curve breaks.

        Parameters
        ----------
        rungs : Rungs

        Returns
        -------
        tuple of str
        """
        if rungs not in self.asked:
            self.asked[rungs] = self.evaluate(self.ladders.steps(rungs))
            if broken(self.asked[rungs], self.allowed):
                self.bad.append(rungs)
            elif self.best is None or self.time(rungs) < self.time(self.best):
                self.best = rungs
            if self.progress is not None:
                done = len(self.asked)
                shown = (0,) * len(rungs) if self.best is None else self.best
                self.progress(done, max(done, self.most), self.time(shown))
        return broken(self.asked[rungs], self.allowed)

    def is_good(self, rungs: Rungs) -> bool:
        """Return whether a curve keeps the limits; asked only where that is open.

        Parameters
        ----------
        rungs : Rungs

        Returns
        -------
        bool
        """
        if rungs not in self.asked:
            shorter = (
                all(own >= other for own, other in zip(rungs, bad, strict=True)) for bad in self.bad
            )
            if any(shorter):
                return False
            if len(self.asked) >= self.most:
                self.whole = False
                return False
        return not self.ask(rungs)

    def time(self, rungs: Rungs) -> si.Second:
        """Return how long a curve takes.

        Parameters
        ----------
        rungs : Rungs

        Returns
        -------
        float [s]
        """
        return self.ladders.time(rungs)


def first_good(search: Search) -> Rungs | None:
    """Return the usual curve, or the first longer one that keeps the limits.

    Parameters
    ----------
    search : Search

    Returns
    -------
    Rungs or None
        None: not even the longest of them does.
    """
    plain = (0,) * len(search.ladders.usual)
    for rungs in (plain, *(search.ladders.longer(share) for share in LONGER)):
        if search.is_good(rungs):
            return rungs
    return None


def shrink(search: Search, good: Rungs) -> None:
    """Search for shorter curves; the best is kept in ``search``.

    Parameters
    ----------
    search : Search
    good : Rungs
        That keep the limits.
    """
    here = _swept(search, _shrunk(search, good), frozenset())
    better = True
    while better:
        better = False
        for kicked in _kicks(search, here):
            place = next(at for at, rung in enumerate(kicked) if rung != here[at])
            if not search.is_good(kicked):
                continue
            tried = _swept(search, kicked, frozenset({place}))
            if search.time(tried) < search.time(here) - 1e-6:
                here, better = tried, True
                break


def _kicks(search: Search, here: Rungs) -> Iterator[Rungs]:
    for kick, place in itertools.product(_KICKS, range(len(here))):
        if search.ladders.usual[place] > 0.0:
            yield replaced(here, place, here[place] - kick)


def _shrunk(search: Search, good: Rungs) -> Rungs:
    """Return the curve with all spans shrunk together as far as the limits let them."""
    lowest = search.ladders.lowest
    low, high = 0, 2**_HALVINGS
    best = good
    while high - low > 1:
        share = (low + high) // 2
        tried = tuple(
            own + (end - own) * share // 2**_HALVINGS for own, end in zip(good, lowest, strict=True)
        )
        if search.is_good(tried):
            low, best = share, tried
        else:
            high = share
    return best


def _swept(search: Search, here: Rungs, fixed: frozenset[int]) -> Rungs:
    """Return the curve with each span shrunk alone, the one with most to give first."""
    lowest = search.ladders.lowest
    open_ = [place for place in range(len(here)) if place not in fixed]
    open_.sort(key=lambda place: here[place] - lowest[place])
    for place in open_:
        good, bad = here[place], lowest[place] + 1
        jump = 1
        while bad - good > 1:
            tried = good + min(jump, bad - good - 1)
            if search.is_good(replaced(here, place, tried)):
                good, jump = tried, 2 * jump
            else:
                bad, jump = tried, 1
        here = replaced(here, place, good)
    return here


def replaced(rungs: Rungs, place: int, rung: int) -> Rungs:
    """Return rungs with one of them replaced.

    Parameters
    ----------
    rungs : Rungs
    place, rung : int

    Returns
    -------
    Rungs
    """
    return (*rungs[:place], rung, *rungs[place + 1 :])
