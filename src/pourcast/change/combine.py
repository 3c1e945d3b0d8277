"""Combine: which two or three levers together buy most?

With K levers there are K(K-1)/2 pairs and
K(K-1)(K-2)/6 triples, each a run of its own.  A surrogate that needs no run sorts
them: a member is taken as full in a draw where it is full under any of the levers
alone; the piece is whole where all its members are.  The best `POURED` of each number
are then poured at the draws of the first pass, and the best of these at all.  The
surrogate is no bound: levers that only help together stay unseen, and so may the best
of all.  The tests hold the search against pouring every combination on small cases.
"""

import itertools
from collections.abc import Sequence

import numpy as np

from pourcast import units as si
from pourcast.change.edit_plan import changed, in_turn
from pourcast.change.ends import first_of
from pourcast.change.ground import Ground, first_draws
from pourcast.change.judge import judged
from pourcast.change.levers import go_together
from pourcast.change.model import NOISE, Change, Refused
from pourcast.change.paired import paired_gain
from pourcast.change.pours import Poured, change_of, grown, poured
from pourcast.errors import InputError, SheetError

MOST_COMBINED = 6
"""Levers, the best of each kind and part, that are put together."""

POURED = 4
"""Pairs, and triples, that are poured at the draws of the first pass."""

MOST_FULL = 2
"""Of these, the best, that are poured at all draws."""


def combinations(
    ground: Ground, made: list[Poured], text: str | None, most: int
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
    most : int
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
    for count in range(2, most + 1):
        tried = [
            one
            for group in _most_promising(helps[:MOST_COMBINED], count)
            if isinstance(one := together(ground, group, text), Poured)
        ]
        looked_at += len(tried)
        tried.sort(key=lambda one: -one.whole.mean())
        for one in tried[:MOST_FULL]:
            full = grown(ground, one, ground.layout.draws)
            gain, error = paired_gain(best.whole, full.whole)
            if gain <= NOISE * error:
                continue
            told = judged(ground, full)
            if isinstance(told, Poured):
                found.append(change_of(ground, told))
                best = told
                break
    return tuple(found), looked_at


def _gain(ground: Ground, made: Poured) -> si.Ratio:
    """Return what a lever buys over the draws that it has [-]."""
    return paired_gain(first_of(ground.ends, made.whole.size).whole, made.whole)[0]


def _most_promising(helps: list[Poured], count: int) -> list[tuple[Poured, ...]]:
    groups = [
        group
        for group in itertools.combinations(helps, count)
        if all(go_together(a.levers[0], b.levers[0]) for a, b in itertools.combinations(group, 2))
    ]
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
    """Return some levers in one plan, poured at the draws of the first pass.

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
    return poured(
        ground,
        levers,
        plan,
        draws=first_draws(ground.layout.draws),
        known=[one.layout for one in group],
    )
