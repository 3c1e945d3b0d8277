"""Rank: which change buys most, and which two or three together.

In three passes, so that the first rows are there at once:

1. the plan as it stands and every lever at the first quarter of the draws; between what
   pushes the metal and the other levers the plan at all draws, because how it ends says
   which others there are,
2. at half of the draws and at all those that are not left behind (`pourcast.change.race`);
   what would make a STOP that the plan does not have is refused, with its text,
3. pairs and triples of the best levers.

The row of a lever that is left behind says over how many draws it was worked out, and its
standard error is that of these.  What stands in which place, and what counts as luck, say
`pourcast.change.places` and `pourcast.change.family`.

Common random numbers: all plans are poured with the same draws (`forecast.whole`).
"""

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from pourcast.change.ask import Ask
from pourcast.change.at_hand import AtHand
from pourcast.change.combine import combinations
from pourcast.change.curve_levers import curve_levers
from pourcast.change.ground import Ground, at_all_draws, first_draws, ground_of
from pourcast.change.judge import judged, look_for_mending, looked_into
from pourcast.change.levers import levers_by_ends
from pourcast.change.model import NOISE, Lever, Ranking, Refused, TrialPour
from pourcast.change.paired import paired_gain
from pourcast.change.places import table
from pourcast.change.pours import Poured, grown, poured
from pourcast.change.proposals import levers_of_proposals
from pourcast.change.push_levers import push_levers
from pourcast.change.race import going_on, looks
from pourcast.change.trial import trial_pour
from pourcast.execute import Executor, shared_out
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
    executor: Executor | None = None,
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
    executor : Executor, optional
        Who pours the levers, one each; left out: one after another, each on ``threads``.
        The result is the same for any.

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
        executor=executor,
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
    executor: Executor | None = None,
) -> Iterator[Ranking]:
    """Yield what to change first as it grows; the last one is complete.

    Parameters
    ----------
    plan, calibration, text, at_hand, proposals, draws, rng, threads, most, executor
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
    hands, here, inner = shared_out(executor, threads)
    ground = ground_of(plan, calibration, draws, rng, stop=first_draws(draws), threads=here)
    yield _ranking(ground, [], [])
    hand = at_hand or AtHand()
    ask = Ask(plan=plan, text=text, ready=ground.layout.ready, ends=ground.ends, at_hand=hand)
    refused: list[Refused] = []
    made: list[Poured] = []
    pushes = _own(push_levers(ask), proposals)
    yield from _at_first_draws(ground, pushes, made, refused, hands, inner)
    # What else is worth a try hangs on how all draws end.
    ground = at_all_draws(ground)
    others = itertools.chain(
        _own(levers_by_ends(replace(ask, ends=ground.ends)), proposals),
        levers_of_proposals(plan, text, proposals),
    )
    yield from _at_first_draws(ground, others, made, refused, hands, inner)
    ground = looked_into(ground)
    if any(key.startswith("burnout/") for key in ground.stops):
        yield from _at_first_draws(ground, curve_levers(ask), made, refused, hands, inner)
    yield from _at_more_draws(ground, made, refused, hands, inner)
    look_for_mending(ground, made, refused)
    combined, looked_at = combinations(ground, made, text, most)
    yield replace(
        _ranking(ground, made, refused),
        combinations=combined,
        looked_at=looked_at,
        complete=True,
        trials=_trials(ground, made, hand),
    )


def _own(
    levers: Iterable[Lever | Refused], proposals: Sequence[Proposal]
) -> Iterator[Lever | Refused]:
    """Yield our own levers but those that a proposal makes in its own way."""
    theirs = {(proposal.kind, proposal.part) for proposal in proposals}
    for each in levers:
        lever = each if isinstance(each, Lever) else each.lever
        if (lever.kind, lever.part) not in theirs:
            yield each


def _at_first_draws(
    ground: Ground, levers: Iterable[Lever | Refused], made: list[Poured], refused: list[Refused],
    hands: Executor, inner: int,
) -> Iterator[Ranking]:  # fmt: skip
    """Pour the first draws of each lever; put it into one of the lists."""
    for tried in hands.map(_screened, replace(ground, threads=inner), levers):
        if isinstance(tried, Refused):
            refused.append(tried)
            continue
        made.append(tried)
        yield _ranking(ground, made, refused)


def _screened(ground: Ground, lever: Lever | Refused) -> Poured | Refused:
    if isinstance(lever, Refused):
        return lever
    return poured(ground, (lever,), lever.plan, draws=first_draws(ground.layout.draws))


def _further(ground: Ground, asked: tuple[Poured, int]) -> Poured | Refused:
    """Return a lever at more draws; at all of them it is looked into as well."""
    tried, draws = asked
    more = grown(ground, tried, draws)
    return more if draws < ground.layout.draws else _judged(ground, more)


def _at_more_draws(
    ground: Ground, made: list[Poured], refused: list[Refused], hands: Executor, inner: int
) -> Iterator[Ranking]:
    """Pour more draws, the most promising first; change the lists in place."""
    every = ground.layout.draws
    for draws in looks(every):
        chosen = going_on(ground, made, draws)
        asked = [(tried, draws) for tried in chosen]
        further = hands.map(_further, replace(ground, threads=inner), asked)
        for tried, more in zip(chosen, further, strict=True):
            at = next(number for number, one in enumerate(made) if one is tried)
            if isinstance(more, Refused):
                del made[at]
                refused.append(more)
                continue
            made[at] = more
            yield _ranking(ground, made, refused)


def _judged(ground: Ground, full: Poured) -> Poured | Refused:
    """Return levers that may be offered; those that buy nothing are not looked into."""
    gain, error = paired_gain(ground.ends.whole, full.whole)
    return full if gain <= NOISE * error else judged(ground, full)


def _ranking(ground: Ground, made: list[Poured], refused: list[Refused]) -> Ranking:
    return Ranking(
        plan=ground.layout.plan,
        chance=float(ground.ends.whole.mean()),
        changes=table(ground, made),
        refused=tuple(refused),
        draws=ground.layout.draws,
        seed=ground.layout.ready.seed,
        stops=tuple(ground.stops.values()),
    )


def _trials(ground: Ground, made: list[Poured], hand: AtHand) -> tuple[TrialPour, ...]:
    """Return what a trial pour of each other specimen would teach, the best teacher first."""
    actions = [one.whole for one in made if one.whole.size == ground.layout.draws]
    told = [
        trial_pour(ground, specimen, [ground.ends.whole, *actions]) for specimen in hand.specimens
    ]
    return tuple(sorted(told, key=lambda each: each.without - each.with_trial))
