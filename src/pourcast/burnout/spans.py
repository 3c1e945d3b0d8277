"""Spans: the hours of a kiln curve as numbers that a search can move.

A curve of n steps has 2 n spans, ramp and hold in turn.  Each stands on a ladder
that begins at the usual span, goes down by one grid at a time to the least span
that the trade takes, and up without end.  Rungs count downward: 0 is usual, 1 one
grid shorter, -1 one grid longer.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from pourcast import units as si
from pourcast.burnout.curves import SAME
from pourcast.burnout.model import KilnStep
from pourcast.errors import InputError, require_positive

Rungs = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladders:
    """Ladders of all spans of a curve.

    Parameters
    ----------
    temperature : tuple of float [K]
        Start, then where each step goes.
    usual, least : tuple of float [s]
        Ramp and hold of each step in turn.
    grid : float [s]
    """

    temperature: tuple[si.Kelvin, ...]
    usual: tuple[si.Second, ...]
    least: tuple[si.Second, ...]
    grid: si.Second

    @property
    def lowest(self) -> Rungs:
        """Rungs of the least spans."""
        pairs = zip(self.usual, self.least, strict=True)
        return tuple(math.ceil((usual - least) / self.grid - 1e-9) for usual, least in pairs)

    def spans(self, rungs: Rungs) -> tuple[si.Second, ...]:
        """Return the spans at rungs.

        Parameters
        ----------
        rungs : tuple of int

        Returns
        -------
        tuple of float [s]
        """
        every = zip(self.usual, self.least, rungs, strict=True)
        return tuple(max(usual - rung * self.grid, least) for usual, least, rung in every)

    def time(self, rungs: Rungs) -> si.Second:
        """Return how long the whole curve takes at rungs.

        Parameters
        ----------
        rungs : tuple of int

        Returns
        -------
        float [s]
        """
        return math.fsum(self.spans(rungs))

    def steps(self, rungs: Rungs) -> tuple[KilnStep, ...]:
        """Return the steps at rungs.

        Parameters
        ----------
        rungs : tuple of int

        Returns
        -------
        tuple of KilnStep
        """
        spans = self.spans(rungs)
        found = []
        for place, goal in enumerate(self.temperature[1:]):
            change = abs(goal - self.temperature[place])
            ramp = change / spans[2 * place] if change > SAME else None
            found.append(KilnStep(temperature=goal, ramp=ramp, hold=spans[2 * place + 1]))
        return tuple(found)

    def longer(self, share: si.Ratio) -> Rungs:
        """Return rungs on which every span is longer than usual by a share of it.

        Parameters
        ----------
        share : float [-]

        Returns
        -------
        tuple of int
        """
        return tuple(-math.ceil(share * usual / self.grid) for usual in self.usual)


def ladders(
    usual: Sequence[KilnStep],
    least: Sequence[KilnStep],
    *,
    start: si.Kelvin,
    fastest: si.KelvinPerSecond,
    grid: si.Second,
) -> Ladders:
    """Return the ladders between the usual and the least steps.

    Parameters
    ----------
    usual, least : sequence of KilnStep
        To the same temperatures.
    start : float [K]
    fastest : float [K/s]
        Of a step without a ramp; > 0.
    grid : float [s]
        > 0.

    Returns
    -------
    Ladders

    Raises
    ------
    InputError
        If the steps go to other temperatures, or a usual span is under its least.
    """
    require_positive("grid of the search", grid, "s")
    require_positive("fastest ramp of the kiln", fastest, "K/s")
    goals = [step.temperature for step in usual]
    if not goals:
        raise InputError("kiln steps", "none", "", "one or more")
    if len(goals) != len(least) or any(
        abs(goal - step.temperature) > SAME for goal, step in zip(goals, least, strict=True)
    ):
        raise InputError(
            "least kiln steps", len(least), "", "to the temperatures of the usual ones"
        )
    long, short = _spans(usual, start, fastest), _spans(least, start, fastest)
    for place, (most, few) in enumerate(zip(long, short, strict=True)):
        if most < few - SAME:
            part = "ramp" if place % 2 == 0 else "hold"
            shown, limit = (f"{si.from_si(value, 'h'):.3g}" for value in (most, few))
            what = f"{part} of kiln step {place // 2 + 1}"
            raise InputError(what, shown, "h", f"{limit} h or longer, the usual least")
    return Ladders(temperature=(start, *goals), usual=long, least=short, grid=grid)


def _spans(
    steps: Sequence[KilnStep], start: si.Kelvin, fastest: si.KelvinPerSecond
) -> tuple[si.Second, ...]:
    spans: list[float] = []
    here = start
    for step in steps:
        change = abs(step.temperature - here)
        spans += [change / (step.ramp or fastest) if change > SAME else 0.0, step.hold]
        here = step.temperature
    return tuple(spans)
