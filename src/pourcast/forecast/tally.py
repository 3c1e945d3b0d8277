"""Tally: what many pours come to, added up block by block, so that none need be kept.

Chances, outcomes and causes are counts, and exact.  Percentiles are read from a
`pourcast.forecast.sketch`, to 0.012 %.  A rank correlation is the mean of those of the
blocks, weighted by their draws: in a block of 1000 it is exact, and the mean is off from
that of all draws by about 1/1000.  The fifths of a value are those within each block.

Blocks are added in their order, so that the last bit of a mean is always the same.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.forecast.chances import (
    Members,
    outcomes,
    parted,
    rank_correlation,
    segment_chance,
    widest,
)
from pourcast.forecast.model import Outcomes, PartForecast
from pourcast.forecast.sketch import Sketch, merged, sketch, spread_of
from pourcast.materials.draws import ArrayInSI
from pourcast.piece.model import Measures, Network
from pourcast.pour.model import CAUSES, Cause, PourResult


@dataclass(frozen=True, slots=True, kw_only=True)
class PartTally:
    """Counts of one part.

    Parameters
    ----------
    whole : int
        Draws in which every member is full.
    full : array of int, shape (members of the part,)
        Draws in which each is full.
    causes : array of int, shape (7,)
        Members that are short, by the code of what stops them.
    share, fill_time : Sketch
    """

    whole: int
    full: si.Integers
    causes: si.Integers
    share: Sketch
    fill_time: Sketch


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What some pours come to.

    Parameters
    ----------
    draws : int
    ends : array of int, shape (4,)
        Draws that end whole, with short tips, with short parts, lost.
    segments : array of int, shape (segments,)
        Draws in which metal reaches the end of each.
    cold_shut : int
        Draws in which two cold streams meet.
    parts : tuple of PartTally
    ranked : dict of str to float [-]
        Rank correlation of each unknown with the share filled, times the draws.
    fifths : dict of str to array of int, shape (2, 5)
        Draws that are whole, and draws, in each fifth by an unknown.
    """

    draws: int
    ends: si.Integers
    segments: si.Integers
    cold_shut: int
    parts: tuple[PartTally, ...]
    ranked: dict[str, si.Ratio]
    fifths: dict[str, si.Integers]


def tally(
    network: Network, result: PourResult, ends: Members, drawn: dict[str, ArrayInSI]
) -> Tally:
    """Return what the pours of one block come to.

    Parameters
    ----------
    network : Network
    result : PourResult
    ends : Members
    drawn : dict of str to array [SI], shape (draws,)
        Of the unknowns that are ranked.
    """
    draws = ends.full.shape[0]
    how = outcomes(network, ends)
    shares = np.array([how.whole, how.short_tips, how.short_parts, how.lost])
    whole = np.asarray(ends.full.all(axis=1))
    filled = ends.share.mean(axis=1)
    length = np.asarray(np.bincount(network.member, weights=network.length), dtype=float)
    return Tally(
        draws=draws,
        ends=_count(shares, draws),
        segments=_count(segment_chance(result), draws),
        cold_shut=int(result.cold_shut.any(axis=1).sum()),
        parts=tuple(
            _part(ends, np.flatnonzero(network.member_part == part), length)
            for part in range(len(network.part_names))
        ),
        ranked={name: draws * rank_correlation(values, filled) for name, values in drawn.items()},
        fifths={
            name: np.array([[fifth.sum(), fifth.size] for fifth in parted(whole, values)]).T
            for name, values in drawn.items()
        },
    )


def _part(ends: Members, own: si.Integers, length: si.Metres) -> PartTally:
    full = ends.full[:, own]
    whole = full.all(axis=1)
    weight = length[own]
    share = 1.0 - (1.0 - ends.share[:, own]) @ weight / weight.sum()
    times = ends.full_at[:, own][whole]
    times = times[~np.isnan(times).any(axis=1)]
    return PartTally(
        whole=int(whole.sum()),
        full=full.sum(axis=0),
        causes=np.bincount(ends.cause[:, own][~full], minlength=len(CAUSES) + 1),
        share=sketch(np.clip(share, 0.0, 1.0)),
        fill_time=sketch(times.max(axis=1) if times.size else np.empty(0)),
    )


def _count(shares: si.Ratios, draws: int) -> si.Integers:
    """Return the counts that shares of the draws came from."""
    return np.rint(np.asarray(shares) * draws).astype(np.int64)


def added(one: Tally, other: Tally) -> Tally:
    """Return what the pours of two tallies of one plan come to together.

    Parameters
    ----------
    one, other : Tally
    """
    return Tally(
        draws=one.draws + other.draws,
        ends=one.ends + other.ends,
        segments=one.segments + other.segments,
        cold_shut=one.cold_shut + other.cold_shut,
        parts=tuple(
            PartTally(
                whole=mine.whole + theirs.whole,
                full=mine.full + theirs.full,
                causes=mine.causes + theirs.causes,
                share=merged(mine.share, theirs.share),
                fill_time=merged(mine.fill_time, theirs.fill_time),
            )
            for mine, theirs in zip(one.parts, other.parts, strict=True)
        ),
        ranked={name: size + other.ranked[name] for name, size in one.ranked.items()},
        fifths={name: counts + other.fifths[name] for name, counts in one.fifths.items()},
    )


def outcomes_of(told: Tally) -> Outcomes:
    """Return how the pours end, as shares that add up to 1.

    Parameters
    ----------
    told : Tally
    """
    whole, tips, parts, lost = (told.ends / told.draws).tolist()
    return Outcomes(whole=whole, short_tips=tips, short_parts=parts, lost=lost)


def parts_of(told: Tally, network: Network, measures: Measures) -> tuple[PartForecast, ...]:
    """Return how each part comes out, in the order of the piece.

    Parameters
    ----------
    told : Tally
    network : Network
    measures : Measures
    """
    thinnest = {part.name: part.thinnest for part in measures.parts}
    found = []
    for name, part in zip(network.part_names, told.parts, strict=True):
        share = spread_of(part.share)
        assert share is not None  # every draw has one
        known = part.causes[1:]
        causes: dict[Cause, float] = {
            cause: float(count / known.sum())
            for cause, count in zip(CAUSES, known.tolist(), strict=True)
            if count
        }
        found.append(
            PartForecast(
                name=name,
                count=part.full.size,
                thinnest=thinnest[name],
                chance_full=part.whole / told.draws,
                chance_weakest=float(part.full.min() / told.draws),
                share=share,
                cause=_commonest(causes),
                causes=causes,
                fill_time=spread_of(part.fill_time),
            )
        )
    return tuple(found)


def _commonest(causes: dict[Cause, float]) -> Cause | None:
    if not causes:
        return None
    worst: Cause = max(causes, key=causes.__getitem__)
    return worst


def interval_of(told: Tally, strongest: str | None) -> tuple[si.Ratio, si.Ratio]:
    """Return how low and how high the chance of the whole piece could be [-].

    Parameters
    ----------
    told : Tally
    strongest : str or None
        Unknown that matters most.

    Returns
    -------
    low, high : float [-]
        As `pourcast.forecast.chances.chance_interval` has them.
    """
    fifths = None
    if strongest is not None:
        whole, draws = told.fifths[strongest]
        fifths = (whole / np.maximum(draws, 1)).tolist()
    return widest(float(told.ends[0] / told.draws), told.draws, fifths)
