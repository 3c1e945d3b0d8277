"""Pours: how a lever ends at the draws of the plan as it stands."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pourcast import units as si
from pourcast.change.ends import first_of, without
from pourcast.change.ground import Ground
from pourcast.change.model import Change, Lever, Refused
from pourcast.change.paired import cause_shares, from_all_draws, moved_by, paired_gain, part_moves
from pourcast.change.same_pours import ends_like
from pourcast.change.stops import new_stops, stops_of, watches_of
from pourcast.errors import InputError, SheetError, SourceError
from pourcast.forecast.burn_again import same_burnout
from pourcast.forecast.whole import (
    Ends,
    Layout,
    extended,
    joined,
    lay_out,
    pour_ends,
    quick_findings,
)
from pourcast.sheet.model import Plan

LUCK = 1_000_003
"""Added to the seed for the reading errors, like members and weather of a second pour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Poured:
    """One or more levers, poured at the first draws of the ground.

    Parameters
    ----------
    levers : tuple of Lever
    plan : Plan
        With all of them.
    layout : Layout
    ends : Ends or None
        None: not poured yet.
    beside : Layout or None
        Of the second plan of the lever.
    others : Ends or None
        Of the second plan.
    added : tuple of str
        Parts of wax that the plan did not have; whether they fill does not count.
    mends, reveals, eases, rights : tuple of str
        As in `Change`.
    frees : bool
        A STOP of mould or melt goes by it, as far as they tell before the pour.
    judged : bool
        Whether a whole forecast was asked for what it mends and makes.
    """

    levers: tuple[Lever, ...]
    plan: Plan
    layout: Layout
    ends: Ends | None = None
    beside: Layout | None = None
    others: Ends | None = None
    added: tuple[str, ...] = ()
    mends: tuple[str, ...] = ()
    reveals: tuple[str, ...] = ()
    eases: tuple[str, ...] = ()
    rights: tuple[str, ...] = ()
    frees: bool = False
    judged: bool = False

    @property
    def answers(self) -> bool:
        """Whether it answers what is plainly wrong before anything is poured."""
        return any(lever.plainly for lever in self.levers) and bool(self.rights or self.frees)

    @property
    def alone(self) -> Ends:
        """How the first plan ends."""
        assert self.ends is not None
        return self.ends

    @property
    def whole(self) -> si.Booleans:
        """In which draws all that the lever counts is whole, shape (draws,)."""
        if self.others is None:
            return self.alone.whole
        if self.levers[0].counted == "any":
            return self.alone.whole | self.others.whole
        return self.alone.whole & self.others.whole


def poured(
    ground: Ground,
    levers: tuple[Lever, ...],
    plan: Plan,
    *,
    draws: int,
    known: Sequence[Layout] = (),
) -> Poured | Refused:
    """Return how levers end at the first draws, or why they are not offered.

    Parameters
    ----------
    ground, levers, plan, draws, known
        As for `laid`.

    Returns
    -------
    Poured or Refused
    """
    made = laid(ground, levers, plan, draws=draws, known=known)
    if isinstance(made, Refused):
        return made
    try:
        return grown(ground, made, draws)
    except (InputError, SheetError, SourceError) as fault:
        return Refused(lever=levers[0], reason=str(fault))


def laid(
    ground: Ground,
    levers: tuple[Lever, ...],
    plan: Plan,
    *,
    draws: int,
    known: Sequence[Layout] = (),
) -> Poured | Refused:
    """Return levers laid out for the first draws and not poured, or why they are not offered.

    Parameters
    ----------
    ground : Ground
    levers : tuple of Lever
    plan : Plan
        With all of them.
    draws : int
        Of those of the ground.
    known : sequence of Layout
        Of other plans at the same draws, whose burnout may be the same.

    Returns
    -------
    Poured or Refused
    """
    try:
        layout = _laid(ground, plan, draws, known=known)
        told = quick_findings(layout)
        stops, watches = stops_of(told), watches_of(told)
        new = new_stops(stops, ground.stops)
        if new:
            return Refused(lever=levers[0], reason=new[0])
        second = levers[0].second
        beside = None
        if second is not None:
            beside = _laid(ground, second, draws, luck=ground.layout.ready.seed + LUCK)
        names = ground.ends.part_names
        added = tuple(name for name in layout.ready.network.part_names if name not in names)
        # Another original has parts of its own; wax that is added has not.
        all_there = set(names) <= set(layout.ready.network.part_names)
        still = stops | watches
        return Poured(
            levers=levers,
            plan=plan,
            layout=layout,
            beside=beside,
            added=added if all_there else (),
            rights=tuple(
                text
                for key, text in ground.before[1].items()
                if key not in still and any(lever.plainly for lever in levers)
            ),
            frees=any(key not in stops for key in ground.before[0]),
        )
    except (InputError, SheetError, SourceError) as fault:
        return Refused(lever=levers[0], reason=str(fault))


def grown(ground: Ground, made: Poured, draws: int) -> Poured:
    """Return levers poured at more draws; those that are there are not poured again.

    Parameters
    ----------
    ground : Ground
    made : Poured
    draws : int

    Returns
    -------
    Poured
    """
    threads = ground.threads
    layout = extended(made.layout, draws, like=ground.layout, threads=threads)
    beside = extended(made.beside, draws, threads=threads) if made.beside else None
    return replace(
        made,
        layout=layout,
        beside=beside,
        ends=without(_more(layout, made.ends, draws, threads, ground), made.added),
        others=_more(beside, made.others, draws, threads) if beside else None,
    )


def _more(
    layout: Layout, before: Ends | None, draws: int, threads: int, ground: Ground | None = None
) -> Ends:
    start = before.full.shape[0] if before else 0
    if before and start >= draws:
        return before
    if ground is None:
        more = pour_ends(layout, start=start, stop=draws, threads=threads)
    else:
        more = ends_like(
            layout, ground.layout, ground.ends, start=start, stop=draws, threads=threads
        )
    if before is None:
        return more
    gone = tuple(name for name in more.part_names if name not in before.part_names)
    return joined(before, without(more, gone))


def _laid(
    ground: Ground,
    plan: Plan,
    draws: int,
    *,
    luck: int | None = None,
    known: Sequence[Layout] = (),
) -> Layout:
    base = ground.layout
    like = None
    if luck is None:
        # What is burnt already with the other plan's block and kiln is not burnt again.
        there = (each for each in known if each.laid >= draws and same_burnout(each.plan, plan))
        like = next(there, base)
    return lay_out(
        plan,
        ground.calibration,
        base.draws,
        base.ready.seed,
        luck=luck,
        like=like,
        stop=draws,
        threads=ground.threads,
    )


def change_of(ground: Ground, made: Poured) -> Change:
    """Return what levers buy, held against the same draws of the plan as it stands.

    The gain is over the draws that the levers have; it is told from the chance of the plan at
    all draws, so that the plan has one chance in every row.

    Parameters
    ----------
    ground : Ground
    made : Poured

    Returns
    -------
    Change
    """
    draws = made.whole.size
    stands = float(ground.ends.whole.mean())
    base = first_of(ground.ends, draws)
    gain, error = paired_gain(base.whole, made.whole)
    more = made.layout.ready.metal.metal - ground.layout.ready.metal.metal
    levers = made.levers
    if levers[0].second is None:
        # The account weighs all but the metal in vents, which their lever tells.
        levers = tuple(
            replace(
                lever,
                cost=replace(
                    lever.cost,
                    metal=(lever.cost.metal if lever.kind == "vent" else 0.0)
                    + (more if lever is levers[0] else 0.0),
                ),
            )
            for lever in levers
        )
    same = levers[0].counted == "one"
    return Change(
        levers=levers,
        chance_before=stands,
        chance_after=moved_by(stands, gain),
        gain=gain,
        standard_error=error,
        draws=draws,
        parts=from_all_draws(part_moves(base, made.alone), ground.ends) if same else (),
        causes=cause_shares(made.alone) if same else {},
        mends=made.mends,
        reveals=made.reveals,
        eases=made.eases,
        rights=made.rights,
    )
