"""Rank: which change buys most, and which two or three together.

In three passes, so that the first rows are there at once:

1. every lever at the first quarter of the draws,
2. every lever that is not plainly of harm at all draws, the most promising first; what
   would make a STOP that the plan does not have is refused, with its text,
3. pairs and triples of the best levers.

Common random numbers: all plans are poured with the same draws (`forecast.whole`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.change.ask import Ask
from pourcast.change.at_hand import AtHand
from pourcast.change.combine import combinations
from pourcast.change.judge import every_stop, judged
from pourcast.change.levers import levers_of
from pourcast.change.model import NOISE, Change, Lever, Ranking, Refused, TrialPour
from pourcast.change.paired import paired_gain
from pourcast.change.pours import (
    Ground,
    Poured,
    change_of,
    first_draws,
    first_of,
    ground_of,
    grown,
    poured,
)
from pourcast.change.proposals import levers_of_proposals
from pourcast.change.trial import trial_pour
from pourcast.forecast.model import Calibration
from pourcast.gating.model import Proposal
from pourcast.sheet.model import Plan

DRAWS = 400


def rank(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    text: str | None = None,
    at_hand: AtHand | None = None,
    proposals: Sequence[Proposal] = (),
    draws: int = DRAWS,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
    most: int = 3,
) -> Ranking:
    """Return what to change first.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration, optional
        What a studio has learnt.
    text : str, optional
        The piece file of the plan.  With it a change is read again from the edited
        text; proposals that add a part need it.
    at_hand : AtHand, optional
        What the caster has.
    proposals : sequence of Proposal
        Of `pourcast.gating`; they take the place of a vent or a lean of our own.
    draws : int
        Pours to follow for each change.
    rng : numpy.random.Generator or int
        A generator gives its seed once; a number is the seed.
    threads : int
        The result is the same for any number.
    most : int
        Levers to put together at most; 1 to 3.

    Returns
    -------
    Ranking

    Raises
    ------
    InputError
        If a value of the plan is outside its limits.
    """
    *_, last = rankings(
        plan,
        calibration,
        text=text,
        at_hand=at_hand,
        proposals=proposals,
        draws=draws,
        rng=rng,
        threads=threads,
        most=most,
    )
    return last


def rankings(
    plan: Plan,
    calibration: Calibration | None = None,
    *,
    text: str | None = None,
    at_hand: AtHand | None = None,
    proposals: Sequence[Proposal] = (),
    draws: int = DRAWS,
    rng: np.random.Generator | int = 0,
    threads: int = 1,
    most: int = 3,
) -> Iterator[Ranking]:
    """Yield what to change first as it grows; the last one is complete.

    Parameters
    ----------
    plan, calibration, text, at_hand, proposals, draws, rng, threads, most
        As for `rank`.

    Yields
    ------
    Ranking
        The first has the chance of the plan alone, the next one more change each.

    Raises
    ------
    InputError
        If a value of the plan is outside its limits.
    """
    ground = ground_of(plan, calibration, draws, rng, threads=threads)
    yield _ranking(ground, [], [])
    hand = at_hand or AtHand()
    ask = Ask(plan=plan, text=text, ready=ground.layout.ready, ends=ground.ends, at_hand=hand)
    refused: list[Refused] = []
    made: list[Poured] = []
    for lever in (*_own(ask, proposals), *levers_of_proposals(plan, text, proposals)):
        tried = lever if isinstance(lever, Refused) else _screened(ground, lever)
        if isinstance(tried, Refused):
            refused.append(tried)
            continue
        made.append(tried)
        yield _ranking(ground, made, refused)
    ground = replace(ground, stops=every_stop(ground, plan))
    yield from _at_all_draws(ground, made, refused)
    combined, looked_at = combinations(ground, made, text, most)
    yield replace(
        _ranking(ground, made, refused),
        combinations=combined,
        looked_at=looked_at,
        complete=True,
        trial=_trial(ground, made, hand),
    )


def _own(ask: Ask, proposals: Sequence[Proposal]) -> list[Lever | Refused]:
    """Return our own levers but those that a proposal makes in its own way."""
    theirs = {(proposal.kind, proposal.part) for proposal in proposals}
    levers = [(each if isinstance(each, Lever) else each.lever, each) for each in levers_of(ask)]
    return [each for lever, each in levers if (lever.kind, lever.part) not in theirs]


def _screened(ground: Ground, lever: Lever) -> Poured | Refused:
    return poured(ground, (lever,), lever.plan, draws=first_draws(ground))


def _at_all_draws(ground: Ground, made: list[Poured], refused: list[Refused]) -> Iterator[Ranking]:
    """Pour the rest of the draws, the most promising first; change the lists in place."""
    for tried in sorted(made, key=lambda one: -_promise(ground, one)):
        if _promise(ground, tried) < 0.0:
            continue
        made.remove(tried)
        full = _judged(ground, grown(ground, tried, ground.layout.draws))
        if isinstance(full, Refused):
            refused.append(full)
            continue
        made.append(full)
        yield _ranking(ground, made, refused)


def _promise(ground: Ground, tried: Poured) -> si.Ratio:
    """Return the most that a change may be worth, by the draws so far [-]."""
    base = first_of(ground.ends, tried.whole.size)
    gain, error = paired_gain(base.whole, tried.whole)
    return gain + NOISE * error


def _judged(ground: Ground, full: Poured) -> Poured | Refused:
    """Return levers that may be offered; those that buy nothing are not looked into."""
    gain, error = paired_gain(ground.ends.whole, full.whole)
    return full if gain <= NOISE * error else judged(ground, full)


def order(change: Change) -> tuple[bool, si.Ratio, si.Second]:
    """Return the place of a change: gains beyond the noise first, then by gain, then by time.

    Parameters
    ----------
    change : Change

    Returns
    -------
    tuple of bool, float [-] and float [s]
    """
    sure = change.gain > 0.0 and change.beyond_noise
    return not sure, -change.gain, change.cost.time


def _ranking(ground: Ground, made: list[Poured], refused: list[Refused]) -> Ranking:
    changes = sorted((change_of(ground, one) for one in made), key=order)
    return Ranking(
        plan=ground.layout.plan,
        chance=float(ground.ends.whole.mean()),
        changes=tuple(changes),
        refused=tuple(refused),
        draws=ground.layout.draws,
        seed=ground.layout.ready.seed,
    )


def _trial(ground: Ground, made: list[Poured], hand: AtHand) -> TrialPour | None:
    actions = [one.whole for one in made if one.whole.size == ground.layout.draws]
    for specimen in hand.specimens:
        return trial_pour(ground, specimen, [ground.ends.whole, *actions])
    return None
