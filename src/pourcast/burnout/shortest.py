"""Shortest: which curve keeps every limit in the least time?

The temperatures of the usual curve stay; its ramps and holds move on a grid
(`pourcast.burnout.spans`), never under what the trade takes at the least.  What
a curve comes to is asked of a function that is handed in.

How it goes stands in `pourcast.burnout.shrink`.  Last, each span of the answer is
asked for one grid shorter: the limits that this breaks are what rules it.

Left out: other temperatures than the usual ones.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.burnout.margins import NOT_SEARCHED, USUAL_LEAST, Margins, broken
from pourcast.burnout.model import KilnStep
from pourcast.burnout.shrink import Search, first_good, replaced, shrink
from pourcast.burnout.spans import Rungs, ladders
from pourcast.errors import InputError

GRID = 900.0
"""s, a quarter of an hour: finer than a hand keeps a curve; estimate."""

MOST_CURVES = 200
"""Curves that may be asked for; our own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What keeps one span of the curve from being shorter.

    Parameters
    ----------
    step : int
        Counted from 1.
    part : {"ramp", "hold"}
    limits : tuple of str
        In words.
    """

    step: int
    part: Literal["ramp", "hold"]
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortest:
    """The shortest curve found, beside the usual one.

    Parameters
    ----------
    steps, usual : tuple of KilnStep
        The same where no curve keeps the limits.
    time, usual_time : float [s]
    gained : float [s]
        Usual less shortest; below 0 where the usual curve breaks a limit.
    margins, usual_margins : Margins
        What each comes to.
    broken, usual_broken : tuple of str
        Limits that each breaks, in words; of the shortest, empty where one was found.
    rules : tuple of Rule
        For every span that takes time; empty where no curve keeps the limits.
    curves : int
        That were asked for.
    whole : bool
        Whether the search came to its end before `MOST_CURVES` or what was given.
    """

    steps: tuple[KilnStep, ...]
    usual: tuple[KilnStep, ...]
    time: si.Second
    usual_time: si.Second
    gained: si.Second
    margins: Margins
    usual_margins: Margins
    broken: tuple[str, ...]
    usual_broken: tuple[str, ...]
    rules: tuple[Rule, ...]
    curves: int
    whole: bool


def shortest(
    usual: Sequence[KilnStep],
    least: Sequence[KilnStep],
    evaluate: Callable[[tuple[KilnStep, ...]], Margins],
    allowed: Margins,
    *,
    start: si.Kelvin,
    fastest: si.KelvinPerSecond,
    grid: si.Second = GRID,
    most_curves: int = MOST_CURVES,
    progress: Callable[[int, int, si.Second], None] | None = None,
) -> Shortest:
    """Return the shortest curve that keeps the limits, beside the usual one.

    Parameters
    ----------
    usual : sequence of KilnStep
        For a flask of this size.
    least : sequence of KilnStep
        To the same temperatures, with the shortest holds and steepest ramps that
        are ever advised.
    evaluate : callable
        Gives the `Margins` of steps.
    allowed : Margins
        The most that each may come to.
    start : float [K]
    fastest : float [K/s]
        Of a step without a ramp.
    grid : float [s]
        > 0.
    most_curves : int
        That the search may ask for, 2 or more; what rules its answer takes at most
        one more for each ramp and hold.
    progress : callable or None
        Is told curves asked for, the most that will be, and the least time [s] of
        those that kept the limits, or that of the usual curve.

    Returns
    -------
    Shortest

    Raises
    ------
    InputError
        If the steps do not fit together, or a margin is not a number.
    """
    if most_curves < 2:
        raise InputError("most curves", most_curves, "", "2 or more")
    rungs = ladders(usual, least, start=start, fastest=fastest, grid=grid)
    search = Search(
        ladders=rungs, evaluate=evaluate, allowed=allowed, most=most_curves, progress=progress
    )
    plain = (0,) * len(rungs.usual)
    usual_broken = search.ask(plain)
    good = first_good(search)
    if good is not None:
        shrink(search, good)
    here: Rungs = plain
    rules: tuple[Rule, ...] = ()
    while search.best is not None:
        here = search.best
        rules = _rules(search, here)
        # A curve that was taken to be bad may turn out good when it is asked for.
        if search.best == here or not search.whole:
            break
    return Shortest(
        steps=rungs.steps(here),
        usual=rungs.steps(plain),
        time=rungs.time(here),
        usual_time=rungs.time(plain),
        gained=rungs.time(plain) - rungs.time(here),
        margins=search.asked[here],
        usual_margins=search.asked[plain],
        broken=broken(search.asked[here], allowed),
        usual_broken=usual_broken,
        rules=rules,
        curves=len(search.asked),
        whole=search.whole,
    )


def _rules(search: Search, here: Rungs) -> tuple[Rule, ...]:
    """Return for each span what keeps it from being one grid shorter."""
    rules = []
    for place, span in enumerate(search.ladders.spans(here)):
        if span <= 0.0:
            continue
        limits: tuple[str, ...] = (USUAL_LEAST,)
        if here[place] < search.ladders.lowest[place]:
            limits = search.ask(replaced(here, place, here[place] + 1)) or (NOT_SEARCHED,)
        part: Literal["ramp", "hold"] = "ramp" if place % 2 == 0 else "hold"
        rules.append(Rule(step=place // 2 + 1, part=part, limits=limits))
    return tuple(rules)
