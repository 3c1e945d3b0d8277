"""Ask: what the levers are made from, and how one is put together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Annotated, TypeAlias

from pourcast import units as si
from pourcast.change.at_hand import AtHand
from pourcast.change.edit_plan import changed
from pourcast.change.model import Cost, Lever, LeverKind, Refused
from pourcast.errors import InputError, SheetError
from pourcast.findings import figures
from pourcast.forecast.prepare import Prepared
from pourcast.forecast.whole import Ends
from pourcast.sheet.edit import Edit
from pourcast.sheet.model import Plan
from pourcast.sheet.takes import InUnitOfKey

OfLever: TypeAlias = Annotated[float, si.Unit("SI unit of the lever")]


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
    plainly: bool = False,
) -> Lever | Refused:
    """Return a lever, or why the changed piece file cannot be read.

    Parameters
    ----------
    ask : Ask
    kind, moved, act, before, after, unit, edits, cost, part, plainly
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
        plainly=plainly,
    )
    try:
        return replace(lever, plan=changed(ask.plan, edits, ask.text))
    except (InputError, SheetError) as fault:
        return Refused(lever=lever, reason=str(fault))


def moved_to(now: OfLever, step: OfLever, usual: tuple[OfLever, OfLever, OfLever]) -> OfLever:
    """Return where a lever moves a value: by its step, or back into what is usual.

    What stands out of the usual goes to the usual value at once, if that is farther than a
    step; nobody creeps back to it by steps that could hardly be told on the day.

    Parameters
    ----------
    now : float [SI unit of the lever]
    step : float [SI unit of the lever]
        With its sign.
    usual : tuple of three float [SI unit of the lever]
        Least, usual value and most.

    Returns
    -------
    float [SI unit of the lever]
    """
    least, middle, most = usual
    outside = not least <= now <= most
    way = math.copysign(1.0, step)
    return middle if outside and (middle - now) * way > abs(step) else now + step


def plainly_out(now: OfLever, step: OfLever, least: OfLever, most: OfLever) -> bool:
    """Return whether a value stands out of what is usual by more than a step of its lever.

    Less is for the findings to tell: a thermometer or a scale is not that sure.

    Parameters
    ----------
    now, step, least, most : float [SI unit of the lever]
        ``step`` without a sign.
    """
    return now < least - step or now > most + step


def shown(value: InUnitOfKey, digits: int = 4) -> str:
    """Return a number as a caster writes it: without trailing noughts or an exponent.

    Parameters
    ----------
    value : float [unit of the key]
    digits : int
        Figures that count.

    Examples
    --------
    >>> shown(650.0), shown(0.1 + 0.05), shown(0.42), shown(107.3, 2)
    ('650', '0.15', '0.42', '107')
    """
    return figures(value, digits)


def tidy(value: InUnitOfKey, places: int = 3) -> InUnitOfKey:
    """Return a number without the rounding of its conversion [unit of the key].

    Parameters
    ----------
    value : float [unit of the key]
    places : int
        After the point.
    """
    return round(value, places)
