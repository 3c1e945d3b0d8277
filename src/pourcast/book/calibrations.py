"""Calibrations: what was learnt, and which of it holds now.

Each act (learnt, off, on, reset) is a row of its own and nothing is rewritten; the
last acts decide what holds.
"""

import json
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from typing import Any

import sqlalchemy as sa

from pourcast import __version__
from pourcast.book import tables
from pourcast.book.castings import as_text
from pourcast.book.store import Book, new_id, retried
from pourcast.errors import InputError
from pourcast.forecast.model import Calibration, Override
from pourcast.learn.model import Learnt

SHORT_ID = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One row of what was done with what was learnt."""

    id: str
    created: datetime
    act: str
    name: str
    version: str
    document: dict[str, Any]


def keep_learnt(book: Book, learnt: Learnt, *, at: datetime) -> Act:
    """Keep what was learnt, and return the row; the calibration is named after it."""
    held = learnt.calibration
    made = new_id()
    name = "nothing learnt"
    if held is not None:
        name = f"{held.name} ({made[:SHORT_ID]})"
    document = {
        "overrides": [asdict(each) for each in held.overrides] if held else [],
        "values": [asdict(each) for each in learnt.values],
        "outcomes": learnt.outcomes,
        "tests": learnt.tests,
        "draws": learnt.draws,
        "effective": learnt.effective,
        "first_effective": learnt.first_effective,
        "rounds": learnt.rounds,
        "odd": learnt.odd,
        "against": [asdict(each) for each in learnt.against],
    }
    return _keep(book, "learnt", name, document, at, made)


def keep_act(book: Book, act: str, *, at: datetime) -> Act:
    """Switch what was learnt off or on, or reset it, and return the row.

    Raises
    ------
    InputError
        If the act is another.
    """
    if act not in ("off", "on", "reset"):
        raise InputError("act", act, "", "off, on or reset")
    return _keep(book, act, act, {}, at, new_id())


def acts(book: Book) -> tuple[Act, ...]:
    """Return all that was done with what was learnt, the oldest first."""
    table = tables.calibrations
    asked = sa.select(*tables.told(table)).order_by(table.c.created, table.c.id)
    with book.reading() as connection:
        return tuple(
            Act(**{**row, "document": json.loads(row["document"])})
            for row in connection.execute(asked).mappings()
        )


def holds(book: Book) -> tuple[Act | None, bool]:
    """Return what was learnt last, after the last reset, and whether it is switched on."""
    latest, switched_on = None, True
    for each in acts(book):
        if each.act == "learnt":
            latest = each
        elif each.act == "reset":
            latest = None
        else:
            switched_on = each.act == "on"
    return latest, switched_on


def active_calibration(book: Book) -> Calibration | None:
    """Return the calibration that forecasts of this studio take; None: none."""
    latest, switched_on = holds(book)
    if latest is None or not switched_on or not latest.document["overrides"]:
        return None
    return calibration_of(latest)


def calibration_of(act: Act) -> Calibration:
    """Return the calibration of a row in which something was learnt."""
    overrides = tuple(Override(**each) for each in act.document["overrides"])
    return Calibration(
        name=act.name, overrides=tuple(replace(each, source=act.name) for each in overrides)
    )


def last_reset(book: Book) -> datetime | None:
    """Return when what was learnt was reset last; None: never."""
    return max((each.created for each in acts(book) if each.act == "reset"), default=None)


@retried
def _keep(
    book: Book, act: str, name: str, document: dict[str, Any], at: datetime, made: str
) -> Act:
    row = {
        "id": made,
        "created": at,
        "act": act,
        "name": name,
        "version": __version__,
        "document": as_text(document),
    }
    with book.writing() as connection:
        connection.execute(tables.calibrations.insert(), row)
    return next(each for each in acts(book) if each.id == made)
