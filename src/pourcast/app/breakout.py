"""Break-out: what a caster has ticked on the page, read as the book keeps it.

The fields of the form are ``state-3``, ``members-3`` and ``by-3`` for the third
part of the plan, ``sign-porosity`` and ``where-porosity`` for a sign, and those of
the whole piece.  What is written for a part goes through `pourcast.book.tell`, so
that page and terminal read the same words.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from pourcast.app.look import Look
from pourcast.app.reading import plain_number
from pourcast.book.model import KeptPlan, Outcome, PartChance, PartOutcome
from pourcast.book.tell import lengths_mm, read_part
from pourcast.book.words import BUTTONS, SIGN_AMOUNTS, SIGNS, STATES, SURE
from pourcast.errors import InputError

FIRST_SIGN = "porosity"
"""Asked for of every piece; the others stand folded."""

EVERYWHERE = "all"
"""Where a sign is, if it is not on one part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What the form says.

    Parameters
    ----------
    parts : tuple of PartOutcome
        All parts of the plan.
    sure : str
    button : str or None
    poured, seen : date
    note : str
    """

    parts: tuple[PartOutcome, ...]
    sure: str
    button: str | None
    poured: date
    seen: date
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A field that cannot be read, and what it must be."""

    field: str
    text: str


def read_told(
    fields: Mapping[str, str],
    plan: KeptPlan,
    look: Look,
    today: date,
    *,
    poured: date | None = None,
) -> tuple[Told | None, tuple[Fault, ...]]:
    """Return what the form says, or every fault that it has.

    Parameters
    ----------
    fields : mapping of str to str
    plan : KeptPlan
    look : Look
    today : date
        Taken where no day is written.
    poured : date or None
        Day of the pour, as the book has it; None: it has none, and today is taken.
    """
    faults: list[Fault] = []
    lengths = lengths_mm(plan)
    parts = [
        _part(fields, place, part, look, faults, lengths.get(part.name))
        for place, part in enumerate(plan.parts)
    ]
    parts = _with_signs(fields, parts, faults)
    days = {}
    for name, usual in (("poured", poured or today), ("seen", today)):
        try:
            days[name] = date.fromisoformat(fields.get(name) or usual.isoformat())
        except ValueError:
            faults.append(Fault(field=name, text=f"{fields[name][:40]} is no day"))
            days[name] = today
    sure = _word(fields, "sure", tuple(SURE), "sure", faults)
    button = _word(fields, "button", ("", *BUTTONS), "", faults)
    if faults:
        return None, tuple(faults)
    return (
        Told(
            parts=tuple(parts),
            sure=sure,
            button=button or None,
            poured=days["poured"],
            seen=days["seen"],
            note=fields.get("note", "").strip(),
        ),
        (),
    )


def fields_of(outcome: Outcome, poured: date, plan: KeptPlan) -> dict[str, str]:
    """Return the fields of an outcome that was told before, to be corrected."""
    fields = {
        "sure": outcome.sure,
        "button": outcome.button or "",
        "poured": poured.isoformat(),
        "seen": outcome.seen.isoformat(),
        "note": outcome.note,
    }
    places = {part.name: place for place, part in enumerate(plan.parts)}
    for part in outcome.parts:
        place = places[part.part]
        fields[f"state-{place}"] = part.state
        if part.members_short is not None:
            fields[f"members-{place}"] = str(part.members_short)
        if part.short_by_mm is not None:
            fields[f"by-{place}"] = f"{part.short_by_mm:g}"
        for sign, amount in part.signs:
            before = fields.get(f"where-{sign}")
            fields[f"sign-{sign}"] = amount
            fields[f"where-{sign}"] = str(place) if before is None else EVERYWHERE
    return fields


def _part(
    fields: Mapping[str, str],
    place: int,
    part: PartChance,
    look: Look,
    faults: list[Fault],
    length_mm: float | None,
) -> PartOutcome:
    state = _word(fields, f"state-{place}", tuple(STATES), "filled", faults)
    text = state
    by = plain_number(fields.get(f"by-{place}", ""), look)
    if state == "short" and by:
        text = f"short {by} {look.lengths}" if by[-1].isdigit() else f"short {by}"
    members = fields.get(f"members-{place}", "").strip()
    if state in ("short", "missing") and members not in ("", "0"):
        text += f", {members} of {part.count}"
    try:
        return read_part(text, part.name, part.count, length_mm=length_mm)
    except InputError as fault:
        faults.append(Fault(field=f"state-{place}", text=str(fault)))
        return PartOutcome(part=part.name)


def _with_signs(
    fields: Mapping[str, str], parts: Sequence[PartOutcome], faults: list[Fault]
) -> list[PartOutcome]:
    """Put each sign on its part; one that is all over goes on every part that was seen."""
    made = list(parts)
    for sign in SIGNS:
        amount = _word(fields, f"sign-{sign}", ("", *SIGN_AMOUNTS), "", faults)
        if not amount:
            continue
        where = fields.get(f"where-{sign}", EVERYWHERE)
        if where == EVERYWHERE:
            places = [place for place, part in enumerate(made) if part.state != "not seen"]
        elif where.isascii() and where.isdigit() and int(where) < len(made):
            places = [int(where)]
        else:
            faults.append(Fault(field=f"sign-{sign}", text=f"{where[:40]} is no part"))
            continue
        for place in places:
            made[place] = replace(made[place], signs=(*made[place].signs, (sign, amount)))
    return made


def _word(
    fields: Mapping[str, str], name: str, words: Sequence[str], usual: str, faults: list[Fault]
) -> str:
    word = fields.get(name, usual)
    if word in words:
        return word
    said = ", ".join(each for each in words if each)
    faults.append(Fault(field=name, text=f"{word[:40]} must be one of {said}"))
    return usual
