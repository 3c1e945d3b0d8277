"""Outcomes: keep what came out of the mould, part by part; nothing is erased.

A later entry of the same pour supersedes the one before, which stays.  A part
that is not named in an entry counts as filled, since most are.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import KeptPlan, Outcome, PartOutcome, Pour
from pourcast.book.plans import load_plan
from pourcast.book.store import Book, find_id, new_id, retried
from pourcast.errors import InputError


@retried
def begin_pour(book: Book, plan_id: str, *, day: date, at: datetime) -> Pour:
    """Note that a plan is poured on a day, and return the pour."""
    with book.writing() as connection:
        return _begin(connection, plan_id, day, at)


def pours_of(book: Book, plan_id: str) -> tuple[Pour, ...]:
    """Return the pours of a plan, the latest first."""
    pours = tables.pours
    asked = sa.select(*tables.told(pours, who=True)).where(pours.c.plan_id == plan_id)
    order = (pours.c.day.desc(), pours.c.created.desc(), pours.c.id)
    with book.reading() as connection:
        rows = connection.execute(asked.order_by(*order)).mappings()
        return tuple(Pour(**row) for row in rows)


def latest_pour(book: Book, plan_id: str) -> Pour | None:
    """Return the pour of a plan with the latest day; None where it was not poured yet."""
    return next(iter(pours_of(book, plan_id)), None)


def read_pour(book: Book, asked: str) -> Pour:
    """Return a pour by its id, or by the first signs of it."""
    with book.reading() as connection:
        return load_pour(connection, find_id(connection, tables.pours, asked))


def load_pour(connection: Connection, pour_id: str) -> Pour:
    """Return a pour by its whole id."""
    held = tables.told(tables.pours, who=True)
    asked = sa.select(*held).where(tables.pours.c.id == pour_id)
    return Pour(**connection.execute(asked).mappings().one())


def keep_outcome(
    book: Book,
    pour_id: str,
    parts: Iterable[PartOutcome],
    *,
    seen: date,
    at: datetime,
    sure: str = "sure",
    button: str | None = None,
    note: str = "",
) -> Outcome:
    """Keep what was seen of a pour, and return it with every part of the piece.

    Parameters
    ----------
    book : Book
    pour_id : str
    parts : iterable of PartOutcome
        Those that are left out count as filled.
    seen : date
        Day of the break-out; not before the pour.
    at : datetime
        Now, with its zone.
    sure, button : str
        Words of `pourcast.book.words`.
    note : str

    Raises
    ------
    InputError
        If a part is not one of the plan, is told twice or cannot have come out
        so, or if it was seen before it was poured.
    """
    row = {"seen": seen, "created": at, "sure": sure, "button": button, "note": note}
    told = list(parts)  # a change that is tried again reads it again

    @retried
    def keep() -> Outcome:
        with book.writing() as connection:
            pour = load_pour(connection, find_id(connection, tables.pours, pour_id))
            return _keep(connection, pour, told, row)

    return keep()


def keep_first_outcome(
    book: Book,
    plan_id: str,
    parts: Iterable[PartOutcome],
    *,
    poured: date,
    seen: date,
    at: datetime,
    sure: str = "sure",
    button: str | None = None,
    note: str = "",
) -> Outcome:
    """Keep a pour that was not noted before and what was seen of it, both or neither.

    Parameters and errors are those of `begin_pour` and `keep_outcome`.
    """
    row = {"seen": seen, "created": at, "sure": sure, "button": button, "note": note}
    told = list(parts)

    @retried
    def keep() -> Outcome:
        with book.writing() as connection:
            return _keep(connection, _begin(connection, plan_id, poured, at), told, row)

    return keep()


def revisions(book: Book, pour_id: str) -> tuple[Outcome, ...]:
    """Return all that was entered of a pour, the oldest first; the last one counts."""
    with book.reading() as connection:
        return tuple(load_outcomes(connection, [pour_id]).get(pour_id, []))


def load_outcomes(connection: Connection, pour_ids: Sequence[str]) -> dict[str, list[Outcome]]:
    """Return all revisions of each of some pours, the oldest first."""
    outcomes = tables.outcomes
    held = tables.told(outcomes, who=True)
    asked = sa.select(*held).where(outcomes.c.pour_id.in_(pour_ids))
    rows = connection.execute(asked.order_by(outcomes.c.pour_id, outcomes.c.revision)).mappings()
    heads = rows.all()
    parts = _load_parts(connection, [row["id"] for row in heads])
    made: dict[str, list[Outcome]] = {}
    for row in heads:
        before = made.setdefault(row["pour_id"], [])
        first = before[0].created if before else row["created"]
        before.append(Outcome(**row, first_created=first, parts=parts.get(row["id"], ())))
    return made


def came(parts: Iterable[PartOutcome]) -> str:
    """Return in one word how the whole piece came out.

    Returns
    -------
    str
        "missing" if a part is missing, else "short" if one is short, else "not
        seen" if one was not looked at, else "whole".

    Examples
    --------
    >>> came([PartOutcome(part="stem"), PartOutcome(part="leaf", state="short")])
    'short'
    """
    states = {part.state for part in parts}
    for state in ("missing", "short", "not seen"):
        if state in states:
            return state
    return "whole"


def _begin(connection: Connection, plan_id: str, day: date, at: datetime) -> Pour:
    plan = find_id(connection, tables.plans, plan_id)
    made = new_id()
    row = {"id": made, "plan_id": plan, "day": day, "created": at}
    connection.execute(tables.pours.insert(), row)
    return load_pour(connection, made)


def _keep(
    connection: Connection, pour: Pour, parts: list[PartOutcome], row: dict[str, object]
) -> Outcome:
    if str(row["seen"]) < str(pour.day):
        must = f"{pour.day} or later, the day of the pour"
        raise InputError("day of the break-out", row["seen"], "", must)
    told = _complete(load_plan(connection, pour.plan_id), parts)
    table = tables.outcomes
    asked = sa.select(sa.func.max(table.c.revision)).where(table.c.pour_id == pour.id)
    latest = connection.execute(asked).scalar()
    made = new_id()
    row = {**row, "id": made, "pour_id": pour.id, "revision": (latest or 0) + 1}
    connection.execute(table.insert(), row)
    _insert_parts(connection, made, told)
    return load_outcomes(connection, [pour.id])[pour.id][-1]


def _complete(plan: KeptPlan, told: list[PartOutcome]) -> list[PartOutcome]:
    by_name: Mapping[str, PartOutcome] = {part.part: part for part in told}
    if len(by_name) < len(told):
        raise InputError("parts", len(told), "", "each part told once")
    counts = {part.name: part.count for part in plan.parts}
    for part in told:
        if part.part not in counts:
            raise InputError("part", part.part, "", "one of " + ", ".join(counts))
        _refuse_impossible(part, counts[part.part])
    return [by_name.get(name, PartOutcome(part=name)) for name in counts]


def _refuse_impossible(part: PartOutcome, count: int) -> None:
    what = f"outcome of {part.part}"
    if part.members_short is not None and not 1 <= part.members_short <= count:
        raise InputError(what, part.members_short, "members", f"1 to {count}")
    measured = (part.members_short, part.filled_share, part.short_by_mm)
    if part.state in ("filled", "not seen") and any(value is not None for value in measured):
        raise InputError(what, part.state, "", "short or missing, if it is short by something")
    if part.state == "short" and part.filled_share is not None and part.filled_share >= 1.0:
        raise InputError(what, part.filled_share, "", "below 1, if it is short")
    signs = [sign for sign, _ in part.signs]
    if len(set(signs)) < len(signs):
        raise InputError(what, ", ".join(signs), "", "told once for each sign")


def _insert_parts(connection: Connection, outcome_id: str, told: list[PartOutcome]) -> None:
    rows = [
        {
            "outcome_id": outcome_id,
            "part": part.part,
            "state": part.state,
            "members_short": part.members_short,
            "filled_share": part.filled_share,
            "short_by_mm": part.short_by_mm,
            "note": part.note,
        }
        for part in told
    ]
    connection.execute(tables.outcome_parts.insert(), rows)
    signs = [
        {"outcome_id": outcome_id, "part": part.part, "sign": sign, "amount": amount}
        for part in told
        for sign, amount in part.signs
    ]
    if signs:
        connection.execute(tables.outcome_signs.insert(), signs)


def _load_parts(
    connection: Connection, outcome_ids: Sequence[str]
) -> dict[str, tuple[PartOutcome, ...]]:
    table, signs = tables.outcome_parts, tables.outcome_signs
    seen: dict[tuple[str, str], list[tuple[str, str]]] = {}
    asked = sa.select(signs).where(signs.c.outcome_id.in_(outcome_ids)).order_by(signs.c.sign)
    for row in connection.execute(asked).mappings():
        key = (row["outcome_id"], row["part"])
        seen.setdefault(key, []).append((row["sign"], row["amount"]))
    made: dict[str, list[PartOutcome]] = {}
    # In the order of the piece file, which is that of the plan.
    order = (
        sa.select(*tables.told(table), tables.plan_parts.c.number)
        .join(tables.outcomes, tables.outcomes.c.id == table.c.outcome_id)
        .join(tables.pours, tables.pours.c.id == tables.outcomes.c.pour_id)
        .join(
            tables.plan_parts,
            (tables.plan_parts.c.plan_id == tables.pours.c.plan_id)
            & (tables.plan_parts.c.name == table.c.part),
        )
        .where(table.c.outcome_id.in_(outcome_ids))
        .order_by(table.c.outcome_id, tables.plan_parts.c.number)
    )
    for row in connection.execute(order).mappings():
        values = {key: row[key] for key in row if key not in ("outcome_id", "number")}
        found = tuple(seen.get((row["outcome_id"], row["part"]), ()))
        made.setdefault(row["outcome_id"], []).append(PartOutcome(**values, signs=found))
    return {outcome: tuple(parts) for outcome, parts in made.items()}
