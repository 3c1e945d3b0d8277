"""Outcome parts: how each part came out, checked against its plan, kept and read back.

A part that is not told counts as filled, since most are.
"""

from collections.abc import Mapping, Sequence

import sqlalchemy as sa
from sqlalchemy import Connection

from pourcast.book import tables
from pourcast.book.model import KeptPlan, PartOutcome
from pourcast.errors import InputError


def complete(plan: KeptPlan, told: list[PartOutcome]) -> list[PartOutcome]:
    """Return an outcome of every part of a plan, in its order.

    Raises
    ------
    InputError
        If a part is not one of the plan, is told twice or cannot have come out so.
    """
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


def insert_parts(connection: Connection, outcome_id: str, told: list[PartOutcome]) -> None:
    """Keep the parts of an outcome."""
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


def load_parts(
    connection: Connection, outcome_ids: Sequence[str]
) -> dict[str, tuple[PartOutcome, ...]]:
    """Return the parts of each of some outcomes, in the order of their plan."""
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
