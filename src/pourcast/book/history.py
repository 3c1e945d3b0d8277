"""History: which forecasts of the book may be held against what came out.

Only a forecast that was kept before the outcome was known counts: before the
first entry of the outcome, and not after the day of the break-out.  The day has
no zone, so it ends when it has ended everywhere, at noon of the next day in
universal time.

What happened is that every member of a part filled.  A part that was not seen
counts for nothing.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from typing import NamedTuple

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.kinds import as_kept
from pourcast.book.model import KeptPlan, Outcome
from pourcast.book.outcomes import came
from pourcast.book.scores import Trial
from pourcast.book.store import Book

_SHORT = frozenset({"short", "missing"})
_UNSEEN = "not seen"
_FILLED = "filled"
_AT_ONCE = 500
"""Ids that are asked for in one go; every database takes as many."""

_LATEST_ZONE = timedelta(hours=12)  # UTC-12, the last place where a day ends


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """Forecasts and outcomes, as trials.

    Parameters
    ----------
    parts : tuple of Trial
        Of the parts of all pours; like ones are one trial that counts several times.
    wholes : tuple of Trial
        Of the pours: that every part is whole.
    too_late : int
        Pours whose plan was kept after the outcome was known; they count for nothing.
    """

    parts: tuple[Trial, ...]
    wholes: tuple[Trial, ...]
    too_late: int


def kept_before(created: datetime, first_entered: datetime, seen: date) -> bool:
    """Return whether a plan was kept before its outcome was known.

    Parameters
    ----------
    created : datetime
        When the plan was kept.
    first_entered : datetime
        When the first revision of the outcome was entered.
    seen : date
        The earliest day of the break-out that any revision tells.
    """
    return created < first_entered and created < _end_of(seen)


def _end_of(day: date) -> datetime:
    """Return when a day has ended everywhere."""
    return datetime.combine(day + timedelta(days=1), time(), tzinfo=UTC) + _LATEST_ZONE


def trials_of(plan: KeptPlan, revisions: Sequence[Outcome]) -> tuple[Trial, ...]:
    """Return the trials of the parts of one pour; none if the plan was kept too late.

    Parameters
    ----------
    plan : KeptPlan
    revisions : sequence of Outcome
        All that was entered of the pour, the oldest first; the last one counts.
    """
    if not revisions or not _before(plan.created, revisions):
        return ()
    states = {part.part: part.state for part in revisions[-1].parts}
    return tuple(
        Trial(chance=part.chance_full, draws=plan.draws, came=states[part.name] == _FILLED)
        for part in plan.parts
        if states.get(part.name, _UNSEEN) != _UNSEEN
    )


def whole_trial_of(plan: KeptPlan, revisions: Sequence[Outcome]) -> Trial | None:
    """Return the trial of the whole piece; None: too late, or not all of it was seen."""
    if not revisions or not _before(plan.created, revisions):
        return None
    word = came(revisions[-1].parts)
    if word == _UNSEEN:
        return None
    return Trial(chance=plan.chance_whole, draws=plan.draws, came=word == "whole")


def history(book: Book) -> History:
    """Return all trials of a book, the likeliest first."""
    wholes: _Tally = Counter()
    late: list[str] = []
    with book.reading() as connection:
        for head in _heads(connection):
            if head.is_late:
                late.append(head.outcome_id)
            elif head.short or not head.unseen:
                wholes[head.chance_whole, head.draws, not head.short] += 1
        parts = _parts(connection)
        for first in range(0, len(late), _AT_ONCE):
            parts.subtract(_parts(connection, late[first : first + _AT_ONCE]))
    return History(parts=_trials(parts), wholes=_trials(wholes), too_late=len(late))


def stamp(book: Book) -> tuple[int, ...]:
    """Return what is another once there is something new to count.

    Plans, pours and outcomes are only ever added to, so their numbers tell.
    """
    kept = (tables.plans, tables.pours, tables.outcomes, tables.outcome_parts)
    counts = [sa.select(sa.func.count()).select_from(table).scalar_subquery() for table in kept]
    with book.reading() as connection:
        return tuple(connection.execute(sa.select(*counts)).one())


_Tally = Counter[tuple[float, int, bool]]


def _trials(tally: _Tally) -> tuple[Trial, ...]:
    return tuple(
        Trial(chance=chance, draws=draws, came=whole, times=times)
        for (chance, draws, whole), times in sorted(tally.items(), reverse=True)
        if times
    )


def _before(created: datetime, revisions: Sequence[Outcome]) -> bool:
    seen = min(each.seen for each in revisions)
    return kept_before(created, revisions[0].created, seen)


class _Head(NamedTuple):
    """One pour that has an outcome, with its latest revision."""

    outcome_id: str
    is_late: bool
    chance_whole: float
    draws: int
    short: bool
    unseen: bool


def _heads(connection: Connection) -> list[_Head]:
    """Return one line for each pour that has an outcome.

    Days and moments are read as the text that is kept, which sorts by time: of ten thousand
    pours, to make each a moment would take longer than all the rest.
    """
    entered, pours, plans = tables.outcomes.c, tables.pours.c, tables.plans.c
    part = tables.outcome_parts.c
    seen_of = (
        sa.select(
            part.outcome_id,
            sa.func.max(sa.case((part.state.in_(_SHORT), 1), else_=0)).label("short"),
            sa.func.max(sa.case((part.state == _UNSEEN, 1), else_=0)).label("unseen"),
        )
        .group_by(part.outcome_id)
        .subquery()
    )
    asked = (
        sa.select(
            entered.pour_id,
            entered.id,
            sa.type_coerce(entered.seen, sa.Text),
            sa.type_coerce(entered.created, sa.Text),
            sa.type_coerce(plans.created, sa.Text),
            plans.chance_whole,
            plans.draws,
            seen_of.c.short,
            seen_of.c.unseen,
        )
        .join(tables.pours, pours.id == entered.pour_id)
        .join(tables.plans, plans.id == pours.plan_id)
        .join(seen_of, seen_of.c.outcome_id == entered.id, isouter=True)
        .order_by(entered.pour_id, entered.revision)
    )
    known: dict[str, tuple[str, str]] = {}
    made: dict[str, _Head] = {}
    for pour_id, outcome_id, seen, entry, created, *rest in connection.execute(asked).all():
        first_seen, first_entry = known.get(pour_id, (seen, entry))
        known[pour_id] = min(first_seen, seen), first_entry
        day, entry = known[pour_id]
        is_late = not (created < entry and created < _last_moment(day))
        chance, draws, short, unseen = rest
        made[pour_id] = _Head(outcome_id, is_late, chance, draws, bool(short), bool(unseen))
    return list(made.values())


@lru_cache(maxsize=4096)
def _last_moment(day: str) -> str:
    """Return when a day has ended everywhere, as a moment is kept."""
    return as_kept(_end_of(date.fromisoformat(day)))


def _parts(connection: Connection, outcomes: Sequence[str] | None = None) -> "_Tally":
    """Return how often each chance of a part came true, by the latest revision of each pour.

    The book itself counts: of fifty thousand parts, a few hundred lines come back.

    Parameters
    ----------
    connection : Connection
    outcomes : sequence of str, optional
        Of these alone; None: of all.
    """
    told, pours, plans, parts = tables.outcome_parts, tables.pours, tables.plans, tables.plan_parts
    entered, other = tables.outcomes, tables.outcomes.alias()
    newest = sa.select(sa.func.max(other.c.revision)).where(other.c.pour_id == entered.c.pour_id)
    came = sa.case((told.c.state == _FILLED, 1), else_=0).label("came")
    asked = (
        sa.select(parts.c.chance_full, plans.c.draws, came, sa.func.count())
        .select_from(entered)
        .join(pours, pours.c.id == entered.c.pour_id)
        .join(plans, plans.c.id == pours.c.plan_id)
        .join(told, told.c.outcome_id == entered.c.id)
        .join(parts, (parts.c.plan_id == pours.c.plan_id) & (parts.c.name == told.c.part))
        .where(told.c.state != _UNSEEN, entered.c.revision == newest.scalar_subquery())
        .group_by(parts.c.chance_full, plans.c.draws, came)
    )
    if outcomes is not None:
        asked = asked.where(entered.c.id.in_(outcomes))
    rows = connection.execute(asked).all()
    return Counter({(chance, draws, bool(came)): times for chance, draws, came, times in rows})
