"""Chances: from how every draw ends to what a hundred pours would give.

A member counts as full from 95 % of its length on (`full_share`, a convention):
a tip that is short by less is within what is chased.  A part is full when
every member is; the piece is whole when every part is.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.forecast.model import Outcomes, PartForecast, Spread
from pourcast.materials.draws import ArrayInSI
from pourcast.piece.model import Measures, Network
from pourcast.pour.model import CAUSES, FULL, Cause, PourResult

MOST_SHORT_TIPS = 3  # members; a convention of the page
_HALF = 0.5
_WHOLE_SEGMENT = 1.0 - 1e-6
FIFTHS = 5
_TEN, _FIFTY, _NINETY = 10.0, 50.0, 90.0
_ONE_SIDED_90 = 1.281_55  # normal quantile of 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Members:
    """How each member ends, draw by draw.

    Parameters
    ----------
    share : array [-], shape (draws, members)
        Of its length that metal reached.
    full : array of bool, shape (draws, members)
    cause : array of int, shape (draws, members)
        Of its first part that did not fill.
    full_at : array [s], shape (draws, members)
        When it was full; not a number where it was not.
    """

    share: si.Ratios
    full: si.Booleans
    cause: si.Integers
    full_at: si.Seconds


def members(network: Network, result: PourResult, full_share: si.Ratio) -> Members:
    """Return how each member ends.

    Parameters
    ----------
    network : Network
    result : PourResult
    full_share : float [-]

    Returns
    -------
    Members
    """
    draws = result.filled.shape[0]
    count = network.member_part.size
    share = np.zeros((draws, count))
    cause = np.zeros((draws, count), dtype=np.int64)
    full_at = np.full((draws, count), np.nan)
    for member in range(count):
        own = np.flatnonzero(network.member == member)
        length = network.length[own]
        share[:, member] = _filled_share(result.filled[:, own], length)
        short = result.cause[:, own] != FULL
        first = short.argmax(axis=1)
        cause[:, member] = np.where(
            short.any(axis=1), result.cause[np.arange(draws), own[first]], FULL
        )
        full_at[:, member] = result.fill_time[:, own].max(axis=1)
    return Members(share=share, full=share >= full_share, cause=cause, full_at=full_at)


def part_forecasts(network: Network, measures: Measures, ends: Members) -> tuple[PartForecast, ...]:
    """Return how each part comes out, in the order of the piece.

    Parameters
    ----------
    network : Network
    measures : Measures
    ends : Members

    Returns
    -------
    tuple of PartForecast
    """
    length = _member_length(network)
    thinnest = {part.name: part.thinnest for part in measures.parts}
    found = []
    for number, name in enumerate(network.part_names):
        own = np.flatnonzero(network.member_part == number)
        full = ends.full[:, own]
        share = _filled_share(ends.share[:, own], length[own])
        causes = _causes(ends.cause[:, own][~full])
        whole = full.all(axis=1)
        times = ends.full_at[:, own][whole]
        times = times[~np.isnan(times).any(axis=1)].max(axis=1) if times.size else times
        found.append(
            PartForecast(
                name=name,
                count=own.size,
                thinnest=thinnest[name],
                chance_full=float(whole.mean()),
                chance_weakest=float(full.mean(axis=0).min()),
                share=spread(share),
                cause=_commonest(causes),
                causes=causes,
                fill_time=spread(times) if times.size else None,
            )
        )
    return tuple(found)


def _member_length(network: Network) -> si.Metres:
    return np.asarray(np.bincount(network.member, weights=network.length), dtype=float)


def _filled_share(filled: si.Ratios, length: si.Metres) -> si.Ratios:
    # From what is missing, so that what is full has a share of 1 exactly; the sum
    # of what is missing can lie a rounding over 1.
    return np.asarray(np.clip(1.0 - (1.0 - filled) @ length / length.sum(), 0.0, 1.0))


def _causes(codes: si.Integers) -> dict[Cause, float]:
    if codes.size == 0:
        return {}
    counts = np.bincount(codes, minlength=len(CAUSES) + 1)[1:]
    total = counts.sum()
    if total == 0:
        return {}
    return {
        cause: float(count / total)
        for cause, count in zip(CAUSES, counts.tolist(), strict=True)
        if count
    }


def _commonest(causes: dict[Cause, float]) -> Cause | None:
    if not causes:
        return None
    worst: Cause = max(causes, key=causes.__getitem__)
    return worst


def spread(values: ArrayInSI) -> Spread:
    """Return the 10th, 50th and 90th percentile of draws.

    Parameters
    ----------
    values : array [SI], shape (draws,)
    """
    low, middle, high = np.percentile(values, [_TEN, _FIFTY, _NINETY]).tolist()
    return Spread(p10=low, p50=middle, p90=high)


def outcomes(network: Network, ends: Members) -> Outcomes:
    """Return how the draws end, as shares that add up to 1.

    Parameters
    ----------
    network : Network
    ends : Members

    Returns
    -------
    Outcomes
    """
    length = _member_length(network)
    filled = ends.share @ length / length.sum()
    short = (~ends.full).sum(axis=1)
    worst = np.where(ends.full, 1.0, ends.share).min(axis=1)
    whole = short == 0
    lost = ~whole & (filled < _HALF)
    tips = ~whole & ~lost & (short <= MOST_SHORT_TIPS) & (worst >= _HALF)
    return Outcomes(
        whole=float(whole.mean()),
        short_tips=float(tips.mean()),
        short_parts=float((~whole & ~lost & ~tips).mean()),
        lost=float(lost.mean()),
    )


def segment_chance(result: PourResult) -> si.Ratios:
    """Return the chance that metal reaches the end of each segment [-].

    Parameters
    ----------
    result : PourResult

    Returns
    -------
    array [-], shape (segments,)
    """
    return np.asarray((result.filled >= _WHOLE_SEGMENT).mean(axis=0))


def rank_correlation(first: ArrayInSI, second: ArrayInSI) -> si.Ratio:
    """Return Spearman's rank correlation; 0 where one of the two does not vary [-].

    Parameters
    ----------
    first, second : array [SI], shape (draws,)

    Returns
    -------
    float [-]
        -1 to 1; equal values share their mean rank.
    """
    ranks = [_ranks(values) for values in (first, second)]
    spreads = [rank - rank.mean() for rank in ranks]
    size = float(np.sqrt((spreads[0] ** 2).sum() * (spreads[1] ** 2).sum()))
    return float((spreads[0] * spreads[1]).sum() / size) if size > 0.0 else 0.0


def _ranks(values: si.Floats) -> si.Floats:
    _, place, count = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(count)
    return np.asarray((last - 0.5 * (count - 1))[place.reshape(values.shape)])


def chance_interval(whole: si.Booleans, strongest: ArrayInSI | None) -> tuple[si.Ratio, si.Ratio]:
    """Return how low and how high the chance could be [-].

    Two things are looked at, and the wider is told: the number of draws alone
    (Wilson's interval, 80 %), and the value that matters most: the draws are
    parted by it into fifths, and the lowest and highest chance of a fifth is what
    the chance would be if that value were known to lie there.

    Parameters
    ----------
    whole : array of bool, shape (draws,)
    strongest : array or None [SI], shape (draws,)
        Draws of the value that matters most.

    Returns
    -------
    low, high : float [-]

    Notes
    -----
    Source: Wilson (1927), J. Am. Stat. Assoc. 22, 209.
    """
    fifths = None
    if strongest is not None and whole.size >= 10 * FIFTHS:
        fifths = [float(fifth.mean()) for fifth in parted(whole, strongest)]
    return widest(float(whole.mean()), whole.size, fifths)


def parted(whole: si.Booleans, value: ArrayInSI) -> list[si.Booleans]:
    """Return the draws in fifths by a value, from its lowest to its highest.

    Parameters
    ----------
    whole : array of bool, shape (draws,)
    value : array [SI], shape (draws,)

    Returns
    -------
    list of array of bool
    """
    return np.array_split(whole[np.argsort(value, kind="stable")], FIFTHS)


def widest(
    chance: si.Ratio, draws: int, fifths: list[si.Ratio] | None
) -> tuple[si.Ratio, si.Ratio]:
    """Return the wider of Wilson's interval and the chances of fifths, with the chance in it [-].

    Parameters
    ----------
    chance : float [-]
    draws : int
    fifths : list of float or None [-]
        Left aside where the draws are too few for them.

    Returns
    -------
    low, high : float [-]
    """
    low, high = _wilson(chance, draws, _ONE_SIDED_90)
    if fifths is not None and draws >= 10 * FIFTHS:
        low, high = min(low, *fifths), max(high, *fifths)
    return min(low, chance), max(high, chance)


def _wilson(chance: float, draws: int, quantile: float) -> tuple[float, float]:
    """Return Wilson's interval of a share seen in some draws, within 0 to 1."""
    square = quantile**2
    middle = (chance + square / (2 * draws)) / (1 + square / draws)
    half = quantile / (1 + square / draws)
    half *= math.sqrt(chance * (1 - chance) / draws + square / (4 * draws**2))
    return max(middle - half, 0.0), min(middle + half, 1.0)
