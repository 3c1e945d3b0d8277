"""Race: which levers get more draws?

After a quarter and after half of the draws a lever is left behind where another is told
apart from it and better, or the plan as it stands is, over the draws that both have, or
where its gain could not be beyond the noise even if every draw that still comes came whole.
The best four go on in any case, so that a second choice is known as well as the first, and
with them what brings back what is plainly out of the usual, which stands before them.

*Told apart* is `pourcast.change.family.apart` with all pairs of the table.  So the chance
that any lever is left behind one that is in truth no better is at most 0.05 for a whole
ranking, over all looks.

Sources: racing, Maron and Moore (1994), Advances in Neural Information Processing Systems 6,
59; pairs of the same draws in a race, Moore and Lee (1994), Proc. 11th Int. Conf. Machine
Learning, 190; stopping where the end is known, curtailment (all from memory).
"""

from collections.abc import Sequence

from pourcast import units as si
from pourcast.change.ends import first_of
from pourcast.change.family import LAST_LOOK, Tally, apart, pairs_of, tally
from pourcast.change.ground import Ground, first_draws
from pourcast.change.paired import paired_gain
from pourcast.change.pours import Poured

KEPT = 4
"""Levers, the most promising, that go on to all draws in any case but the last one above."""


def looks(every: int) -> tuple[int, int]:
    """Return at how many draws it is looked again who goes on.

    Parameters
    ----------
    every : int
        Draws in all.
    """
    return max(first_draws(every), every // 2), every


def going_on(ground: Ground, made: Sequence[Poured], draws: int) -> list[Poured]:
    """Return the levers that are poured up to some draws, the most promising first.

    Parameters
    ----------
    ground : Ground
        Poured at all draws.
    made : sequence of Poured
    draws : int
    """
    promising = sorted(made, key=lambda one: (-_gain(ground, one)[0], -_gain(ground, one)[1]))
    pairs = pairs_of(len(made) + 1)
    leader = promising[0] if promising else None
    return [
        one
        for place, one in enumerate(promising)
        if one.whole.size < draws
        and (
            one.answers
            or (
                could_gain(ground, one)
                and (place < KEPT or not _behind(ground, one, leader, pairs))
            )
        )
    ]


def could_gain(ground: Ground, tried: Poured) -> bool:
    """Return whether the gain of a lever could still be beyond the noise of one row.

    Parameters
    ----------
    ground : Ground
        Poured at all draws.
    tried : Poured
    """
    if ground.layout.draws != ground.ends.whole.size:
        return True
    return apart(most(ground.ends.whole, tried.whole), 1)


def most(base: si.Booleans, tried: si.Booleans) -> Tally:
    """Return the tally if every draw that is still to come came whole.

    Parameters
    ----------
    base : array of bool, shape (draws,)
        At all draws.
    tried : array of bool, shape (some,)
        At the first of them.
    """
    seen = tally(base, tried, base.size)
    left = int((~base[tried.size :]).sum())
    return Tally(gained=seen.gained + left, lost=seen.lost, share=LAST_LOOK)


def _behind(ground: Ground, tried: Poured, leader: Poured | None, pairs: int) -> bool:
    """Return whether a lever is told apart from a better one, or from the plan as it stands."""
    every = ground.layout.draws
    others = [ground.ends.whole] if leader is None else [ground.ends.whole, leader.whole]
    beside = [tally(other, tried.whole, every) for other in others]
    return any(seen.lost > seen.gained and apart(seen, pairs) for seen in beside)


def _gain(ground: Ground, made: Poured) -> tuple[si.Ratio, si.Ratio]:
    """Return what a lever buys over the draws that it has, and its standard error [-]."""
    return paired_gain(first_of(ground.ends, made.whole.size).whole, made.whole)
