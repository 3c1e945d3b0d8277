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

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import KeptPlan, Outcome
from pourcast.book.outcomes import came
from pourcast.book.scores import Trial
from pourcast.book.store import Book

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
    midnight = datetime.combine(seen + timedelta(days=1), time(), tzinfo=UTC)
    return created < first_entered and created < midnight + _LATEST_ZONE


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
        Trial(chance=part.chance_full, draws=plan.draws, came=states[part.name] == "filled")
        for part in plan.parts
        if states.get(part.name, "not seen") != "not seen"
    )


def whole_trial_of(plan: KeptPlan, revisions: Sequence[Outcome]) -> Trial | None:
    """Return the trial of the whole piece; None: too late, or not all of it was seen."""
    if not revisions or not _before(plan.created, revisions):
        return None
    word = came(revisions[-1].parts)
    if word == "not seen":
        return None
    return Trial(chance=plan.chance_whole, draws=plan.draws, came=word == "whole")


def history(book: Book) -> History:
    """Return all trials of a book, the oldest pour first."""
    with book.reading() as connection:
        heads = _heads(connection)
        states = _states(connection)
    parts: _Tally = Counter()
    wholes: _Tally = Counter()
    too_late = 0
    for head in heads:
        if not kept_before(head.created, head.first_entered, head.seen):
            too_late += 1
            continue
        seen = states.get(head.outcome_id, [])
        for state, chance in seen:
            if state != "not seen":
                parts[chance, head.draws, state == "filled"] += 1
        words = {state for state, _ in seen}
        short = bool(words & {"short", "missing"})
        if short or "not seen" not in words:
            wholes[head.chance_whole, head.draws, not short] += 1
    return History(parts=_trials(parts), wholes=_trials(wholes), too_late=too_late)


_Tally = Counter[tuple[float, int, bool]]


def _trials(tally: _Tally) -> tuple[Trial, ...]:
    return tuple(
        Trial(chance=chance, draws=draws, came=whole, times=times)
        for (chance, draws, whole), times in tally.items()
    )


def _before(created: datetime, revisions: Sequence[Outcome]) -> bool:
    seen = min(each.seen for each in revisions)
    return kept_before(created, revisions[0].created, seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Head:
    outcome_id: str
    created: datetime
    first_entered: datetime
    seen: date
    chance_whole: float
    draws: int


def _heads(connection: Connection) -> list[_Head]:
    """Return one line for each pour that has an outcome, with its latest revision."""
    entered, pours, plans = tables.outcomes, tables.pours, tables.plans
    asked = (
        sa.select(
            entered.c.pour_id,
            entered.c.id,
            entered.c.seen,
            entered.c.created.label("entered"),
            plans.c.created,
            plans.c.chance_whole,
            plans.c.draws,
        )
        .join(pours, pours.c.id == entered.c.pour_id)
        .join(plans, plans.c.id == pours.c.plan_id)
        .order_by(pours.c.day, entered.c.pour_id, entered.c.revision)
    )
    made: dict[str, _Head] = {}
    for row in connection.execute(asked):
        before = made.get(row.pour_id)
        made[row.pour_id] = _Head(
            outcome_id=row.id,
            created=row.created,
            first_entered=before.first_entered if before else row.entered,
            seen=min(before.seen, row.seen) if before else row.seen,
            chance_whole=row.chance_whole,
            draws=row.draws,
        )
    return list(made.values())


def _states(connection: Connection) -> dict[str, list[tuple[str, float]]]:
    """Return state and chance of each part of each outcome."""
    told, entered = tables.outcome_parts, tables.outcomes
    pours, parts = tables.pours, tables.plan_parts
    asked = (
        sa.select(told.c.outcome_id, told.c.state, parts.c.chance_full)
        .join(entered, entered.c.id == told.c.outcome_id)
        .join(pours, pours.c.id == entered.c.pour_id)
        .join(parts, (parts.c.plan_id == pours.c.plan_id) & (parts.c.name == told.c.part))
    )
    made: dict[str, list[tuple[str, float]]] = {}
    for outcome_id, state, chance in connection.execute(asked):
        made.setdefault(outcome_id, []).append((state, chance))
    return made
