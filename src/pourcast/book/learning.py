"""Learning: what does the book hold to learn from?

A pour counts if its plan was kept before the outcome was known, as for the scores.  It counts
as it was poured: under the vacuum that the gauge showed.
After a reset only what was entered later counts.
"""

from dataclasses import dataclass

import sqlalchemy as sa

from pourcast.book.as_poured import as_poured, gauges_at_the_pour, taken_as_poured
from pourcast.book.calibrations import last_reset
from pourcast.book.castings import castings_of
from pourcast.book.history import kept_before
from pourcast.book.model import KeptPlan, Outcome, PartOutcome
from pourcast.book.outcomes import load_outcomes
from pourcast.book.plans import load_plan
from pourcast.book.pour_days import load_pours
from pourcast.book.store import Book
from pourcast.book.words import SURE
from pourcast.errors import PourcastError
from pourcast.learn.fan import FAN
from pourcast.learn.model import Measured, PartSeen, PourSeen
from pourcast.sheet import read_plan
from pourcast.sheet.model import Plan

READ_WITHIN = 0.1
"""By which a share that was judged by eye may be off, and a length by what is left; estimate."""

MISSING_BELOW = 0.25
"""A part of which nothing is there had metal in less than this share of it; estimate:
the last of it breaks off with the mould."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToLearnFrom:
    """What counts, and what does not.

    Parameters
    ----------
    pours : tuple of PourSeen
    measured : tuple of Measured
    left_out : tuple of str
        A sentence for each entry that does not count.
    changed : tuple of str
        A sentence for each pour that counts, but not as it was planned.
    """

    pours: tuple[PourSeen, ...] = ()
    measured: tuple[Measured, ...] = ()
    left_out: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()


NOTHING = ToLearnFrom()


def to_learn_from(book: Book) -> ToLearnFrom:
    """Return what a book holds to learn from, the oldest first."""
    since = last_reset(book)
    pours: list[PourSeen] = []
    left_out: list[str] = []
    changed: list[str] = []
    sheets: dict[str, Plan] = {}
    with book.reading() as connection:
        rows = load_pours(connection, sa.true())
        told = load_outcomes(connection, [row.id for row in rows])
        shown = gauges_at_the_pour(connection, list(told))
        for row in rows:
            entries = told.get(row.id)
            if not entries:
                continue
            kept = load_plan(connection, row.plan_id)
            name = f"{kept.piece_name}, poured {row.day}"
            if since is not None and entries[0].created <= since:
                continue
            if not kept_before(kept.created, entries[0].created, min(e.seen for e in entries)):
                left_out.append(f"{name}: its plan was kept after the outcome was known.")
                continue
            try:
                plan = sheets.get(kept.sheet) or read_plan(kept.sheet, file=kept.file_name)
            except PourcastError as fault:
                left_out.append(f"{name}: its sheet cannot be read any more ({fault}).")
                continue
            sheets[kept.sheet] = plan
            poured = as_poured(plan, shown.get(row.id))
            seen = pour_seen(name, poured, kept, entries[-1])
            if seen.parts:
                pours.append(seen)
                if poured != plan:
                    changed.append(taken_as_poured(name, plan, poured))
            else:
                left_out.append(f"{name}: no part of it was looked at.")
    measured: list[Measured] = []
    for test in castings_of(book):
        if since is None or test.created > since:
            measured += [Measured(**each) for each in test.result.get("measured", [])]
    return ToLearnFrom(
        pours=tuple(pours),
        measured=tuple(measured),
        left_out=tuple(left_out),
        changed=tuple(changed),
    )


def pour_seen(name: str, plan: Plan, kept: KeptPlan, outcome: Outcome) -> PourSeen:
    """Return an outcome as it can be learnt from; parts that were not seen are left out.

    Parameters
    ----------
    name : str
    plan : Plan
        What the sheet of ``kept`` says, as it was poured.
    kept : KeptPlan
    outcome : Outcome
        The entry that counts.
    """
    counts = {part.name: part.count for part in kept.parts}
    lengths = {part.name: 1000.0 * part.length for part in plan.piece.parts}
    parts = (
        part_seen(part, counts[part.part], lengths[part.part])
        for part in outcome.parts
        if part.state != "not seen" and part.part in lengths
    )
    return PourSeen(
        name=name,
        plan=plan,
        parts=tuple(parts),
        sure=SURE[outcome.sure],
        is_test=plan.piece.name.startswith(FAN),
    )


def part_seen(told: PartOutcome, count: int, length_mm: float) -> PartSeen:
    """Return how a part came out, as a range of what is there.

    Parameters
    ----------
    told : PartOutcome
        Not "not seen".
    count : int
        Members in all.
    length_mm : float
        Of one member.
    """
    if told.state == "filled":
        return PartSeen(name=told.part, full=True)
    half = None
    if told.members_short is not None and count > 1:
        half = count - told.members_short >= 0.5 * count
    low, high = 0.0, 1.0
    share = told.filled_share
    if share is None and told.short_by_mm is not None and count == 1:
        share = max(0.0, 1.0 - told.short_by_mm / length_mm)
    if share is not None:
        # In twentieths, so that entries alike to the eye are one ending.
        low = max(0.0, round(20.0 * (share - READ_WITHIN)) / 20.0)
        high = min(1.0, round(20.0 * (share + READ_WITHIN)) / 20.0)
    elif told.state == "missing" and told.members_short is None:
        high = MISSING_BELOW
    return PartSeen(
        name=told.part,
        full=False,
        half_of_members=half if share is None else None,
        low=low,
        high=high,
    )
