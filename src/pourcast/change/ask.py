"""Ask: what the levers are made from, and how one is put together."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pourcast.change.at_hand import AtHand
from pourcast.change.edit_plan import changed
from pourcast.change.model import Cost, Lever, LeverKind, Refused
from pourcast.errors import InputError, SheetError
from pourcast.forecast.prepare import Prepared
from pourcast.forecast.whole import Ends
from pourcast.sheet.edit import Edit
from pourcast.sheet.model import Plan
from pourcast.sheet.takes import InUnitOfKey


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """The plan as it stands, and how it ends.

    Parameters
    ----------
    plan : Plan
    text : str or None
        Its piece file.
    ready : Prepared
    ends : Ends
        Of the plan as it stands.
    at_hand : AtHand
    """

    plan: Plan
    text: str | None
    ready: Prepared
    ends: Ends
    at_hand: AtHand


def offer(
    ask: Ask,
    kind: LeverKind,
    *,
    moved: str,
    act: str,
    before: str,
    after: str,
    unit: str,
    edits: Sequence[Edit],
    cost: Cost,
    part: str | None = None,
) -> Lever | Refused:
    """Return a lever, or why the changed piece file cannot be read.

    Parameters
    ----------
    ask : Ask
    kind, moved, act, before, after, unit, edits, cost, part
        As in `Lever`.
    """
    lever = Lever(
        kind=kind,
        moved=moved,
        act=act,
        before=before,
        after=after,
        unit=unit,
        edits=tuple(edits),
        plan=ask.plan,
        cost=cost,
        part=part,
    )
    try:
        return replace(lever, plan=changed(ask.plan, edits, ask.text))
    except (InputError, SheetError) as fault:
        return Refused(lever=lever, reason=str(fault))


def shown(value: InUnitOfKey, digits: int = 4) -> str:
    """Return a number as a caster writes it: no more figures than count, no trailing noughts.

    Parameters
    ----------
    value : float [unit of the key]
    digits : int
        That count.

    Examples
    --------
    >>> shown(650.0), shown(0.1 + 0.05), shown(0.42)
    ('650', '0.15', '0.42')
    """
    return f"{value:.{digits}g}"


def tidy(value: InUnitOfKey, places: int = 3) -> InUnitOfKey:
    """Return a number without the rounding of its conversion [unit of the key].

    Parameters
    ----------
    value : float [unit of the key]
    places : int
        After the point.
    """
    return round(value, places)
