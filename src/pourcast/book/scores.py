"""Scores: how well did the chances match what happened?

N forecasts gave the chances p of something that then came (y = 1) or did not
(y = 0).

Brier score, 0 is perfect and 0.25 is what "half and half" gets:

    B = 1/N · Σ (p - y)²                                                       (1)

This is half the sum that was first proposed, which counts "comes" and "does not
come" each, and runs from 0 to 2.

Logarithmic score, 0 is perfect and 0.693 is what "half and half" gets:

    L = -1/N · Σ ln q,   q = (n p + ½) / (n + 1) of what happened              (2)

n pours were followed for the forecast.  n pours without a miss do not make a
certainty: without the halves one miss would make the score infinite.

The forecasts are sorted into classes k by their chance.  With N_k in a class,
mean chance p_k, share that came o_k, and the share of all that came, o,

    reliability  R = 1/N · Σ N_k (p_k - o_k)²       0 is best                  (3)
    resolution   S = 1/N · Σ N_k (o_k - o)²         more is better             (4)
    uncertainty  U = o (1 - o)                      not ours to change         (5)

    B = R - S + U + W                                                          (6)

W is what the chances differ within a class; it is 0 where all of a class are
alike.  Skill against the base rate, 1 is perfect, 0 is no better than to say o
each time, below 0 is worse:

    skill = 1 - B / U                                                          (7)

Left out: parts of one pour share its metal and its flask, so they are no
independent trials and the interval of a class is too narrow; o is taken from the
same forecasts, which makes the skill a little too low.

Source: Brier (1950), Mon. Weather Rev. 78, 1, for the sum of (1); Good (1952),
J. R. Stat. Soc. B 14, 107, for the logarithm; Krichevsky and Trofimov (1981),
IEEE Trans. Inf. Theory 27, 199, for the halves; Murphy (1973), J. Appl. Meteorol.
12, 595, for (3) to (6); Stephenson, Coelho and Jolliffe (2008), Weather Forecast.
23, 752, for W; Wilson (1927), J. Am. Stat. Assoc. 22, 209, for the interval.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from pourcast.errors import InputError

EDGES: tuple[float, ...] = (0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 0.95, 1.0)
"""Classes of chance, narrower where most chances lie; own choice."""

ONE_SIGMA_10 = 1.2815515655446004
"""Standard deviations that leave 10 in 100 on each side of a normal distribution."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One forecast and what happened.

    Parameters
    ----------
    chance : float
        0 to 1.
    draws : int
        Pours that were followed for it; 1 or more.
    came : bool
    times : int
        How many forecasts said and saw just this; 1 or more.
    """

    chance: float
    draws: int
    came: bool
    times: int = 1

    def __post_init__(self) -> None:
        if not 0.0 <= self.chance <= 1.0:
            raise InputError("chance", self.chance, "", "0 to 1")
        if self.draws < 1:
            raise InputError("draws", self.draws, "", "1 or more")
        if self.times < 1:
            raise InputError("times", self.times, "", "1 or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChanceClass:
    """Forecasts of like chance, and how many of them came.

    Parameters
    ----------
    low, high : float
        The class holds low, and high only if it is the last.
    forecasts, came : int
    mean_chance : float
    share_came : float
    share_low, share_high : float
        80 % interval of the share, by Wilson.
    """

    low: float
    high: float
    forecasts: int
    came: int
    mean_chance: float
    share_came: float
    share_low: float
    share_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Scores:
    """All scores of some forecasts; lower is better for the first two.

    Parameters
    ----------
    forecasts : int
    brier, logarithmic : float
    base_rate : float
        Share that came.
    reliability, resolution, uncertainty, within_classes : float
        Terms of (6).
    skill : float or None
        Against the base rate; None: all came, or none.
    classes : tuple of ChanceClass
        Those that hold forecasts.
    """

    forecasts: int
    brier: float
    logarithmic: float
    base_rate: float
    reliability: float
    resolution: float
    uncertainty: float
    within_classes: float
    skill: float | None
    classes: tuple[ChanceClass, ...]


def brier(trials: Sequence[Trial]) -> float:
    """Return the Brier score, by (1).

    Examples
    --------
    >>> round(brier([Trial(chance=0.7, draws=100, came=False)]), 12)
    0.49
    """
    _refuse_none(trials)
    return _mean((trial.times, (trial.chance - trial.came) ** 2) for trial in trials)


def logarithmic(trials: Sequence[Trial]) -> float:
    """Return the logarithmic score in natural units, by (2).

    Examples
    --------
    >>> round(logarithmic([Trial(chance=0.5, draws=100, came=False)]), 3)
    0.693
    """
    _refuse_none(trials)
    return -_mean((trial.times, math.log(_held(trial))) for trial in trials)


def score(trials: Sequence[Trial], edges: Sequence[float] = EDGES) -> Scores:
    """Return all scores of some forecasts.

    Parameters
    ----------
    trials : sequence of Trial
        At least one.
    edges : sequence of float
        Limits of the classes of chance, rising from 0 to 1.

    Raises
    ------
    InputError
        If there is no forecast, or the edges do not rise from 0 to 1.
    """
    _refuse_none(trials)
    rising = all(low < high for low, high in pairwise(edges))
    if len(edges) < 2 or edges[0] != 0.0 or edges[-1] != 1.0 or not rising:
        raise InputError("edges", tuple(edges), "", "rising from 0 to 1")
    held: list[list[Trial]] = [[] for _ in edges[1:]]
    for trial in trials:
        held[_class_of(trial.chance, edges)].append(trial)
    classes = tuple(
        _class(low, high, inside)
        for low, high, inside in zip(edges, edges[1:], held, strict=False)
        if inside
    )
    base = _share_came(trials)
    found = brier(trials)
    reliability = _mean(
        (each.forecasts, (each.mean_chance - each.share_came) ** 2) for each in classes
    )
    resolution = _mean((each.forecasts, (each.share_came - base) ** 2) for each in classes)
    uncertainty = base * (1.0 - base)
    return Scores(
        forecasts=_count(trials),
        brier=found,
        logarithmic=logarithmic(trials),
        base_rate=base,
        reliability=reliability,
        resolution=resolution,
        uncertainty=uncertainty,
        within_classes=_within([inside for inside in held if inside]),
        skill=None if uncertainty == 0.0 else 1.0 - found / uncertainty,
        classes=classes,
    )


def interval(came: int, forecasts: int, sigma: float = ONE_SIGMA_10) -> tuple[float, float]:
    """Return the Wilson interval of a share.

    Parameters
    ----------
    came, forecasts : int
    sigma : float
        Standard deviations on each side; the default makes it an 80 % interval.

    Examples
    --------
    >>> [round(end, 3) for end in interval(0, 10, 1.959964)]
    [0.0, 0.278]
    """
    share = came / forecasts
    square = sigma * sigma
    width = sigma * math.sqrt(share * (1.0 - share) / forecasts + square / (4.0 * forecasts**2))
    middle = share + square / (2.0 * forecasts)
    scale = 1.0 + square / forecasts
    # The ends of all and of none are exact; rounding may leave them just outside.
    low = 0.0 if came == 0 else (middle - width) / scale
    high = 1.0 if came == forecasts else (middle + width) / scale
    return low, high


def _held(trial: Trial) -> float:
    chance = trial.chance if trial.came else 1.0 - trial.chance
    return (trial.draws * chance + 0.5) / (trial.draws + 1.0)


def _class_of(chance: float, edges: Sequence[float]) -> int:
    for number, high in enumerate(edges[1:-1]):
        if chance < high:
            return number
    return len(edges) - 2


def _class(low: float, high: float, inside: Sequence[Trial]) -> ChanceClass:
    came = sum(trial.times for trial in inside if trial.came)
    forecasts = _count(inside)
    share_low, share_high = interval(came, forecasts)
    return ChanceClass(
        low=low,
        high=high,
        forecasts=forecasts,
        came=came,
        mean_chance=_mean((trial.times, trial.chance) for trial in inside),
        share_came=came / forecasts,
        share_low=share_low,
        share_high=share_high,
    )


def _within(held: Sequence[Sequence[Trial]]) -> float:
    """Return W of (6): variance of the chances in a class less twice their tie to what came."""
    terms: list[tuple[int, float]] = []
    for inside in held:
        mean = _mean((trial.times, trial.chance) for trial in inside)
        share = _share_came(inside)
        for trial in inside:
            off = trial.chance - mean
            terms.append((trial.times, off * off - 2.0 * off * (trial.came - share)))
    return _mean(terms)


def _count(trials: Sequence[Trial]) -> int:
    return sum(trial.times for trial in trials)


def _share_came(trials: Sequence[Trial]) -> float:
    return sum(trial.times for trial in trials if trial.came) / _count(trials)


def _mean(terms: Iterable[tuple[int, float]]) -> float:
    """Return the mean of values that each count so many times."""
    held = tuple(terms)
    return math.fsum(times * value for times, value in held) / sum(times for times, _ in held)


def _refuse_none(trials: Sequence[Trial]) -> None:
    if not trials:
        raise InputError("forecasts with an outcome", 0, "", "1 or more")
