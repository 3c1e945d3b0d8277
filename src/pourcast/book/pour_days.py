"""Pour days: has it been poured, and on which day?

The row of a pour is written when its block goes into the kiln, often on the evening
before, and is kept for good.  So its day is that of the kiln.  The day of the pour is

1. the one that was entered last, if one was;
2. else that of the act "poured" of its kiln day, by the calendar of this machine;
3. else that of its row: of the kiln, or the one that was named where there was no kiln day.

A kiln day that was begun by mistake is no pour at all: its beginning was taken back.

A block that went into the kiln is in the kiln until an act, an entered day or an outcome says
that it was poured.  No time makes a pour of it: a day of which nothing was said for a week may
have been poured, or stand cold in the kiln with the block whole, and only the caster knows.
"""

from collections.abc import Iterable
from datetime import date, datetime
from typing import Any, NamedTuple

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import Pour, PourStage
from pourcast.book.store import new_id
from pourcast.book.words import BEGAN
from pourcast.errors import InputError

WHAT = "day of the pour"
_POURED = ("poured", "quenched")


def standing() -> sa.ColumnElement[bool]:
    """Return that an act was not taken back, for a question about acts."""
    events = tables.events.alias().c
    back = sa.select(events.takes_back).where(events.takes_back.is_not(None))
    return tables.events.c.id.not_in(back)


def load_pours(connection: Connection, which: sa.ColumnElement[bool]) -> tuple[Pour, ...]:
    """Return pours as they stand, the earliest day first.

    Parameters
    ----------
    connection : Connection
    which : condition
        On the table ``pours`` alone.
    """
    pours = tables.pours
    held = tables.told(pours, who=True)
    rows = connection.execute(sa.select(*held).where(which)).mappings().all()
    ids = sa.select(pours.c.id).where(which)
    acts, days = _acts(connection, ids), _entered(connection, ids)
    outcomes = tables.outcomes.c
    seen = connection.execute(sa.select(outcomes.pour_id).where(outcomes.pour_id.in_(ids)))
    done = {*seen.scalars(), *days}
    made = (
        _as_it_stands(row, acts.get(row["id"], _NO_ACTS), days.get(row["id"]), row["id"] in done)
        for row in rows
    )
    return tuple(sorted(made, key=lambda pour: (pour.day, pour.created, pour.id)))


def require_day(day: date, *, at: datetime, lit: date | None = None) -> None:
    """Refuse a day on which nothing can have been poured.

    Parameters
    ----------
    day : date
    at : datetime
        Now, with its zone.
    lit : date or None
        When the kiln was lit; None: there was no kiln day.

    Raises
    ------
    InputError
        If it is to come, or before the kiln was lit.
    """
    today = at.astimezone().date()
    if day > today:
        raise InputError(
            WHAT, day, "", f"{today}, which is today, or earlier", "Enter it once it is poured."
        )
    if lit is not None and day < lit:
        must = f"{lit}, when the kiln was lit, or later"
        raise InputError(WHAT, day, "", must, "Give the day on which the metal was poured.")


def enter_day(connection: Connection, pour: Pour, day: date, *, at: datetime) -> None:
    """Put the day of a pour down; what was entered before stays and counts no more.

    Parameters
    ----------
    connection : Connection
    pour : Pour
    day : date
    at : datetime
        Now, with its zone.

    Raises
    ------
    InputError
        If it is to come, before the kiln was lit or after the break-out.
    """
    require_day(day, at=at, lit=pour.lit)
    seen = _seen(connection, pour.id)
    if seen is not None and day > seen:
        must = f"{seen}, the day of the break-out, or earlier"
        raise InputError(WHAT, day, "", must, "Put the day of the break-out right first.")
    put_day(connection, pour, day, at=at)


def put_day(connection: Connection, pour: Pour, day: date, *, at: datetime) -> None:
    """Put down the day of a pour that was looked at already.

    Parameters
    ----------
    connection : Connection
    pour : Pour
    day : date
    at : datetime
        Now, with its zone.
    """
    table = tables.pour_days
    asked = sa.select(sa.func.max(table.c.revision)).where(table.c.pour_id == pour.id)
    row = {
        "id": new_id(),
        "pour_id": pour.id,
        "revision": (connection.execute(asked).scalar() or 0) + 1,
        "day": day,
        "created": at,
    }
    connection.execute(table.insert(), row)


class _Acts(NamedTuple):
    """What the acts of a kiln day say of its pour."""

    began: bool
    stands: bool
    ended: bool
    poured: datetime | None


_NO_ACTS = _Acts(began=False, stands=False, ended=False, poured=None)


def _acts(connection: Connection, ids: "sa.Select[tuple[str]]") -> dict[str, _Acts]:
    events = tables.events.c
    asked = sa.select(events.pour_id, events.id, events.act, events.at, events.takes_back).where(
        events.pour_id.in_(ids), events.act.in_((BEGAN, *_POURED, "taken back"))
    )
    rows = connection.execute(asked.order_by(events.at, events.created, events.id)).all()
    back = {row.takes_back for row in rows}
    made: dict[str, _Acts] = {}
    for row in rows:
        before = made.get(row.pour_id, _NO_ACTS)
        stands = row.id not in back
        made[row.pour_id] = _Acts(
            began=before.began or row.act == BEGAN,
            stands=before.stands or (stands and row.act == BEGAN),
            ended=before.ended or (stands and row.act in _POURED),
            poured=row.at if stands and row.act == "poured" else before.poured,
        )
    return made


def _entered(connection: Connection, ids: "sa.Select[tuple[str]]") -> dict[str, tuple[date, int]]:
    """Return the day of each pour that was entered last, and how often one was."""
    table = tables.pour_days.c
    asked = sa.select(table.pour_id, table.day, table.revision).where(table.pour_id.in_(ids))
    # The last of a pour stays.
    rows: Iterable[Any] = connection.execute(asked.order_by(table.pour_id, table.revision))
    return {row.pour_id: (row.day, row.revision) for row in rows}


def _seen(connection: Connection, pour_id: str) -> date | None:
    """Return the day of the break-out by the entry that counts."""
    table = tables.outcomes.c
    asked = sa.select(table.seen).where(table.pour_id == pour_id)
    found: date | None = connection.execute(asked.order_by(table.revision.desc())).scalars().first()
    return found


def _as_it_stands(row: Any, acts: _Acts, entered: tuple[date, int] | None, done: bool) -> Pour:
    stage: PourStage = "poured"
    if acts.began and not (acts.ended or done):
        stage = "in kiln" if acts.stands else "by mistake"
    day, times = entered or (row["day"], 0)
    if entered is None and acts.poured is not None:
        # The kiln was lit by the calendar of the caster, which may be another than here.
        day = max(day, acts.poured.astimezone().date())
    lit = row["day"] if acts.began else None
    return Pour(**{**row, "day": day}, lit=lit, stage=stage, days_entered=times)
