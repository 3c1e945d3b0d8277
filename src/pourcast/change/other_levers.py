"""Other levers: alloy, mix, a covered button, more specimens, the piece cast in two.

Two specimens are two pours of one studio: what nobody knows of metal and block is the
same for both, reading errors, like members and weather are drawn anew.  One of the two
must come out whole.

A piece cast in two is poured as two plans, and both must come out whole: the piece
without its weakest part, and that part on a button of its own, in the same flask and
from the same metal.  Offered for up to six members of one part on which nothing else is
joined.  The joint itself (solder, pin, weld) is not in the chance.
"""

import math
from collections.abc import Iterator
from dataclasses import replace

from pourcast import units as si
from pourcast.change.ask import Ask, offer, plainly_out, shown, tidy
from pourcast.change.at_hand import Specimen
from pourcast.change.edit_plan import setting
from pourcast.change.model import NO_WORK, Cost, Lever, Refused
from pourcast.change.shape_levers import counted, number_of
from pourcast.errors import SourceError
from pourcast.mould.checks import LEAST_WATER, MOST_WATER
from pourcast.piece.model import Part
from pourcast.sheet.edit import Edit
from pourcast.sheet.model import Plan
from pourcast.speech import Heat, said

MIX_STEP = 0.02  # of water to powder; half of the usual range, 0.38 to 0.42
MOST_APART = 6
"""Members that are still cast apart and joined; estimate."""

_APART = 2 * 3600.0  # s, to cast apart and to join; estimate
_AGAIN = 4 * 3600.0  # s, to prepare and invest one more; estimate


def other_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the levers of alloy, mix, top of the button and further specimens.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    for key in ask.at_hand.alloys:
        yield from _alloy(ask, key)
    for step in (MIX_STEP, -MIX_STEP):
        yield from _mix(ask, step)
    yield from _cover(ask)
    if ask.at_hand.twin:
        yield _twin(ask)
    for specimen in ask.at_hand.specimens:
        yield _specimen(ask, specimen)
    yield from _split(ask)


def _cover(ask: Ask) -> Iterator[Lever | Refused]:
    if ask.plan.piece.button.top == "covered":
        return
    yield offer(
        ask,
        "cover",
        moved="top of the button",
        act="Cover the button as soon as the metal stands",
        before="open",
        after="covered",
        unit="",
        edits=setting(("button", "top"), "covered"),
        cost=Cost(
            words="dry fibre or powder, warmed and ready beside the flask",
            risk="Anything damp throws metal: what covers it must be bone dry.",
        ),
    )


def _alloy(ask: Ask, key: str) -> Iterator[Lever | Refused]:
    book, charge = ask.ready.book, ask.plan.charge
    try:
        other = book.alloy(key)
    except SourceError:
        return
    if other.key == ask.ready.alloy.key:
        return
    over = charge.pour_temperature - ask.ready.alloy["liquidus"].si
    usual = other["pour"]
    to = min(max(other["liquidus"].si + over, usual.si_low), usual.si_high)
    heat = tidy(si.from_si(to, "degC"), 0)
    edits: list[Edit] = [*setting(("metal", "alloy"), key)]
    edits += setting(("metal", "pour_temperature_C"), heat)
    if charge.on_hand is not None:
        edits += setting(("metal", "on_hand_g"), None)
    if charge.returns is not None:
        edits += setting(("metal", "returns_g"), None)
    yield offer(
        ask,
        "alloy",
        moved="alloy",
        act=said(
            "Cast it in {metal}, poured at {heat}",
            metal=other.name,
            heat=Heat(si.to_si(heat, "degC")),
        ),
        before=ask.ready.alloy.name,
        after=other.name,
        unit="",
        edits=edits,
        cost=Cost(
            words="other metal, and another colour",
            risk=other.flag or "",
        ),
    )


def _mix(ask: Ask, step: si.Ratio) -> Iterator[Lever | Refused]:
    now = ask.plan.mix.water_to_powder
    to = min(max(now + step, LEAST_WATER), MOST_WATER)
    if abs(to - now) < 0.5 * MIX_STEP or (to - now) * step <= 0.0:
        return
    wetter = step > 0.0
    yield offer(
        ask,
        "mix",
        moved="water to powder",
        act=f"Mix the slurry {'wetter' if wetter else 'stiffer'}, {shown(100.0 * to, 3)} of water "
        "to 100 of powder",
        before=shown(now, 3),
        after=shown(to, 3),
        unit="",
        edits=setting(("investment", "water_to_powder"), tidy(to)),
        cost=Cost(
            words=NO_WORK,
            risk="A wet mix is weak." if wetter else "A stiff slurry bends thin parts.",
        ),
        plainly=plainly_out(now, MIX_STEP, LEAST_WATER, MOST_WATER),
    )


def _twin(ask: Ask) -> Lever:
    return Lever(
        kind="two",
        moved="specimens cast",
        act="Cast two alike and keep the better one",
        before="1",
        after="2",
        unit="flasks",
        edits=(),
        plan=ask.plan,
        second=ask.plan,
        counted="any",
        cost=Cost(
            time=_AGAIN,
            metal=ask.ready.metal.metal,
            words="a second original, flask and charge",
        ),
    )


def _specimen(ask: Ask, specimen: Specimen) -> Lever:
    return Lever(
        kind="specimen",
        moved="original",
        act=f"Cast “{specimen.name}” instead",
        before=ask.plan.piece.name,
        after=specimen.name,
        unit="",
        edits=(),
        plan=specimen.plan,
        cost=Cost(words="this original waits"),
    )


def _split(ask: Ask) -> Iterator[Lever]:
    piece = ask.plan.piece
    chances = {name: float(ask.ends.part(name).mean()) for name in ask.ends.part_names}
    weak = [part for part in piece.parts if part.parent != "button" and chances[part.name] < 1.0]
    if not weak:
        return
    part = min(weak, key=lambda each: chances[each.name])
    count = number_of(ask, part.name)
    gone = _grown_on(piece.parts, part.name)
    left = tuple(each for each in piece.parts if each.name not in gone)
    if count > MOST_APART or any(each.tip_on for each in piece.parts):
        return
    yield Lever(
        kind="split",
        moved="pieces that it is cast in",
        act=f"Cast “{part.name}” apart and join it afterwards",
        before="1",
        after="2",
        unit="castings",
        edits=(),
        part=part.name,
        plan=_of_parts(ask.plan, left),
        second=_of_parts(ask.plan, _alone(piece.parts, part, count, gone)),
        counted="both",
        cost=Cost(
            time=_APART,
            metal=ask.ready.metal.button_metal,
            words=f"a second button, {counted(count, 'joint')} to solder or pin and to chase",
            detail="A seam at each joint.",
        ),
    )


def _grown_on(parts: tuple[Part, ...], name: str) -> set[str]:
    """Return a part with all that grows on it; parents stand before their children."""
    found = {name}
    for part in parts:
        if part.parent in found:
            found.add(part.name)
    return found


def _alone(parts: tuple[Part, ...], part: Part, count: int, gone: set[str]) -> tuple[Part, ...]:
    """Return a part on the button itself, with what grows on it."""
    base = replace(
        part,
        parent="button",
        count=count,
        position=(1.0, 1.0),
        turn_step=2.0 * math.pi / count,
    )
    return (base, *(each for each in parts if each.name in gone and each is not part))


def _of_parts(plan: Plan, parts: tuple[Part, ...]) -> Plan:
    names = {part.name for part in parts}
    vents = tuple(vent for vent in plan.piece.vents if vent.part in names)
    piece = replace(plan.piece, parts=parts, vents=vents, displaced_volume=None, weighed_mass=None)
    return replace(plan, piece=piece)
