"""Many: chances of more pours than fit in memory, block by block, on any executor.

Blocks have `BLOCK` draws, the last one what is left.  The first block has the seed of the
forecast, so its draws are those of a forecast of `BLOCK`; each later block has a seed of
its own, made from that seed and its number.  So no draw hangs on how many draws there
are, on who follows it or on how the blocks are shared out.

What the caster weighs out is settled by the first block and is the same in all.  The
first is followed once, for the whole forecast, and counted there; only what decides the
chances is worked out for the later ones: values, burnout and pour.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from pourcast.burnout.model import Curve
from pourcast.errors import InputError
from pourcast.execute import Cancel, Executor
from pourcast.findings import Finding
from pourcast.forecast import checks
from pourcast.forecast.burn import burn_as_planned
from pourcast.forecast.chances import Members, members
from pourcast.forecast.model import Calibration, Forecast
from pourcast.forecast.prepare import Prepared, case_of, prepare
from pourcast.forecast.tally import Tally, added, interval_of, outcomes_of, parts_of, tally
from pourcast.melt.model import MetalAccount
from pourcast.pour.model import PourResult, Steps
from pourcast.pour.solve import solve as solve_pour
from pourcast.sheet.model import Plan

BLOCK = 1000
"""Draws of a block."""

MOST_DRAWS = 10_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What all blocks of a forecast have in common.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration or None
    draws, seed : int
    metal : MetalAccount
        Of the first block.
    ranked : tuple of str
        Short names of the unknowns that are ranked.
    steps : Steps or None
    curve : Curve or None
    """

    plan: Plan
    calibration: Calibration | None
    draws: int
    seed: int
    metal: MetalAccount
    ranked: tuple[str, ...]
    steps: Steps | None
    curve: Curve | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstBlock:
    """The pours of the first block, ready to be counted.

    Parameters
    ----------
    ready : Prepared
    result : PourResult
    ends : Members
    """

    ready: Prepared
    result: PourResult
    ends: Members


def seed_of_block(seed: int, block: int) -> int:
    """Return the seed of a block; that of the first is the seed itself.

    Parameters
    ----------
    seed, block : int
    """
    if block == 0:
        return seed
    return int(np.random.SeedSequence([seed, block]).generate_state(1, np.uint64)[0])


def follow(work: Work, block: int) -> Tally:
    """Return what the pours of one block come to.

    Parameters
    ----------
    work : Work
    block : int
        From 0; the first as well, where nobody has followed it yet.
    """
    draws = min(BLOCK, work.draws - block * BLOCK)
    ready = prepare(work.plan, work.calibration, draws, seed_of_block(work.seed, block))
    ready = replace(ready, metal=work.metal)
    burnt = burn_as_planned(work.plan, ready, work.curve)
    case = case_of(work.plan, ready, burnt[1] if burnt else None)
    result = solve_pour(ready.poured, case, steps=work.steps)
    ends = members(ready.network, result, ready.book.pour["full_share"].si)
    ranked = {name: ready.drawn[name] for name in work.ranked}
    return tally(ready.network, result, ends, ranked)


def follow_all(
    work: Work,
    first: Tally,
    executor: Executor,
    cancel: Cancel | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Tally:
    """Return what all pours come to.

    Parameters
    ----------
    work : Work
    first : Tally
        Of the first block, which is not followed again.
    executor : Executor
        The result is the same for any.
    cancel : Cancel, optional
    progress : callable, optional
        Is told how many draws are counted, and of how many.

    Raises
    ------
    CancelledError
        If the work was called off.
    """
    told = first
    if progress:
        progress(told.draws, work.draws)
    blocks = range(1, -(-work.draws // BLOCK))
    for one in executor.map(follow, work, blocks, cancel=cancel):
        told = added(told, one)
        if progress:
            progress(told.draws, work.draws)
    return told


def require_draws(draws: int) -> None:
    """Raise `InputError` where there are too few or too many draws, before any is followed.

    Parameters
    ----------
    draws : int
    """
    if not 1 <= draws <= MOST_DRAWS:
        raise InputError("draws", draws, "", f"1 to {MOST_DRAWS}")


def said_of_blocks(draws: int) -> Finding:
    """Return what is told of all pours and what of the first block.

    Parameters
    ----------
    draws : int
    """
    return Finding(
        stage="forecast",
        key="counted-in-blocks",
        level="GOOD",
        text=(
            f"Chances, causes and what they rest on are those of {draws} pours. What to weigh "
            "out, the hours of the burnout, freezing, finishing and the other findings are those "
            f"of the first {BLOCK}."
        ),
        source="blocks of draws that are counted and not kept",
        kind="computed",
    )


def counted(
    first: Forecast,
    block: FirstBlock,
    draws: int,
    hands: Executor,
    *,
    steps: Steps | None,
    curve: Curve | None,
    cancel: Cancel | None,
    progress: Callable[[int, int], None] | None,
) -> Forecast:
    """Return a forecast with the chances of all draws in the place of those of its first block.

    Parameters
    ----------
    first : Forecast
        Of the first block.
    block : FirstBlock
    draws : int
        In all.
    hands : Executor
        The result is the same for any.
    steps : Steps or None
    curve : Curve or None
    cancel : Cancel or None
    progress : callable or None

    Raises
    ------
    CancelledError
        If the work was called off.
    """
    ready = block.ready
    names = {value.key: name for name, value in ready.values.items()}
    work = Work(
        plan=first.plan,
        calibration=first.learnt,
        draws=draws,
        seed=first.seed,
        metal=first.metal,
        ranked=tuple(names[unknown.key] for unknown in first.unknowns),
        steps=steps,
        curve=curve,
    )
    ranked = {name: ready.drawn[name] for name in work.ranked}
    counts = tally(ready.network, block.result, block.ends, ranked)
    told = follow_all(work, counts, hands, cancel, progress)
    unknowns = sorted(
        (
            replace(known, rank_correlation=told.ranked[names[known.key]] / draws)
            for known in first.unknowns
        ),
        key=lambda known: -abs(known.rank_correlation),
    )
    low, high = interval_of(told, names[unknowns[0].key] if unknowns else None)
    how = outcomes_of(told)
    shut = None if first.cold_shut_chance is None else told.cold_shut / draws
    burnt = first.burnout is not None
    own = checks.findings(how, tuple(unknowns), shut, first.learnt, burnt=burnt)
    return replace(
        first,
        chance_all=how.whole,
        chance_low=low,
        chance_high=high,
        outcomes=how,
        parts=parts_of(told, first.network, first.measures),
        segment_chance=told.segments / draws,
        unknowns=tuple(unknowns),
        findings=(
            *(finding for finding in first.findings if finding.stage != "forecast"),
            *own,
            said_of_blocks(draws),
        ),
        draws=draws,
        cold_shut_chance=shut,
    )
