"""Combine: which two or three levers together buy most?

With K levers there are K(K-1)/2 pairs and
K(K-1)(K-2)/6 triples, each a run of its own.  A surrogate that needs no run sorts
them: a member is taken as full in a draw where it is full under any of the levers
alone; the piece is whole where all its members are.  The best `POURED` of each number
are then poured in the draws in which the best of fewer levers comes short: no more can be
won.  The best of these are poured in the others, where they can lose.  The surrogate is no
bound: levers that only help together stay unseen, and so may the best of all.  The tests
hold the search against pouring every combination on small cases.

One is told where it is told apart from the best of fewer, with as many pairs as there
were combinations to choose from (`pourcast.change.family`).  What wins too few draws for
that, even if it loses none, is poured no further.
"""

import itertools
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.change.edit_plan import changed, in_turn
from pourcast.change.ends import first_of, without
from pourcast.change.family import LAST_LOOK, Tally, apart, by_sign, tally
from pourcast.change.ground import Ground
from pourcast.change.judge import judged
from pourcast.change.levers import go_together
from pourcast.change.model import Change, Refused
from pourcast.change.paired import paired_gain
from pourcast.change.pours import Poured, change_of, laid
from pourcast.change.same_pours import pour_some
from pourcast.errors import InputError, SheetError
from pourcast.forecast.whole import Ends, joined

MOST_COMBINED = 6
"""Levers, the best of each kind and part, that are put together."""

POURED = 4
"""Pairs, and triples, that are poured where the best of fewer levers comes short."""

MOST_FULL = 2
"""Of these, the best, that are poured at all draws."""


def combinations(
    ground: Ground, made: list[Poured], text: str | None, up_to: int
) -> tuple[tuple[Change, ...], int]:
    """Return the best pair and triple that buy more than fewer, and how many were poured.

    Parameters
    ----------
    ground : Ground
        With every stop of the plan as it stands.
    made : list of Poured
        Single levers.
    text : str or None
        The piece file.
    up_to : int
        Levers to put together at most.

    Returns
    -------
    tuple of Change
    int
    """
    helps = [
        one
        for one in made
        if one.levers[0].edits
        and one.alone.full.shape[1] == ground.ends.full.shape[1]
        and one.others is None
        and _gain(ground, one) > 0.0
    ]
    helps.sort(key=lambda one: -_gain(ground, one))
    if not helps:
        return (), 0
    at_all = [one for one in helps if one.whole.size == ground.layout.draws]
    if not at_all:
        return (), 0
    best = at_all[0]
    found: list[Change] = []
    looked_at = 0
    counts = range(2, up_to + 1)
    groups = {count: _groups(helps[:MOST_COMBINED], count) for count in counts}
    many = sum(map(len, groups.values()))
    for count in counts:
        short = np.flatnonzero(~best.whole)
        if not _enough(short.size, many):
            break
        tried = [
            (_filled(one, short, ground.threads), one)
            for group in _most_promising(groups[count])
            if isinstance(one := together(ground, group, text), Poured)
        ]
        looked_at += len(tried)
        tried.sort(key=lambda pair: -int(pair[0].whole.sum()))
        for filled, one in tried[:MOST_FULL]:
            if not _enough(int(filled.whole.sum()), many):
                continue
            full = _with_the_others(one, short, filled, ground.threads)
            seen = tally(best.whole, full.whole, ground.layout.draws)
            if seen.gained <= seen.lost or not apart(seen, many):
                continue
            told = judged(ground, full)
            if isinstance(told, Poured):
                beside = tally(ground.ends.whole, told.whole, ground.layout.draws)
                luck = min(1.0, many * by_sign(beside) / beside.share)
                found.append(replace(change_of(ground, told), by_luck=luck))
                best = told
                break
    return tuple(found), looked_at


def _enough(gained: int, many: int) -> bool:
    """Return whether so many draws gained, and none lost, would be beyond the noise."""
    return apart(Tally(gained=gained, lost=0, share=LAST_LOOK), many)


def _filled(made: Poured, short: si.Integers, threads: int) -> Ends:
    """Return how the draws end in which the best of fewer levers comes short."""
    return without(pour_some(made.layout, short, threads=threads), made.added)


def _with_the_others(made: Poured, short: si.Integers, filled: Ends, threads: int) -> Poured:
    """Return a combination at all draws, with those that are poured already."""
    others = np.setdiff1d(np.arange(made.layout.laid), short)
    more = without(pour_some(made.layout, others, threads=threads), made.added)
    back = np.argsort(np.concatenate([short, others]))
    both = joined(filled, more)
    ends = replace(both, full=both.full[back], cause=both.cause[back], share=both.share[back])
    return replace(made, ends=ends)


def _gain(ground: Ground, made: Poured) -> si.Ratio:
    """Return what a lever buys over the draws that it has [-]."""
    return paired_gain(first_of(ground.ends, made.whole.size).whole, made.whole)[0]


def _groups(helps: list[Poured], count: int) -> list[tuple[Poured, ...]]:
    return [
        group
        for group in itertools.combinations(helps, count)
        if all(go_together(a.levers[0], b.levers[0]) for a, b in itertools.combinations(group, 2))
    ]


def _most_promising(groups: list[tuple[Poured, ...]]) -> list[tuple[Poured, ...]]:
    return sorted(groups, key=lambda group: -surrogate(group))[:POURED]


def surrogate(group: Sequence[Poured]) -> si.Ratio:
    """Return the chance if each member fills wherever one of the levers alone fills it [-].

    Parameters
    ----------
    group : sequence of Poured
        Of the same members; over the draws that all of them have.

    Returns
    -------
    float [-]
    """
    draws = min(one.alone.full.shape[0] for one in group)
    full = np.logical_or.reduce([one.alone.full[:draws] for one in group])
    return float(full.all(axis=1).mean())


def together(ground: Ground, group: Sequence[Poured], text: str | None) -> Poured | Refused:
    """Return some levers in one plan, laid out for all draws and not poured.

    Parameters
    ----------
    ground : Ground
    group : sequence of Poured
    text : str or None

    Returns
    -------
    Poured or Refused
    """
    levers = tuple(one.levers[0] for one in group)
    edits = in_turn([edit for lever in levers for edit in lever.edits])
    try:
        plan = changed(ground.layout.plan, edits, text)
    except (InputError, SheetError) as fault:
        return Refused(lever=levers[0], reason=str(fault))
    known = [one.layout for one in group]
    return laid(ground, levers, plan, draws=ground.layout.draws, known=known)
