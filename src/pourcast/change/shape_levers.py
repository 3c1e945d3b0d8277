"""Shape levers: coats, vents, tilt and the flask.

Steps and limits.  A coat grows by 0.1 mm, two layers of wax or lacquer, to 0.2 mm in
all: beyond that fine detail is gone (estimate).  A vent is a wax wire of 1 mm; 0.8 to
1.5 mm is usual (common practice, no source).  It leads to the pump where there is
one, else to the open face, which the metal does not reach; three minutes of work each
(estimate).  Only parts that gas stops in at least 2 pours of 100 are vented.  A
piece leans by 10° more or less, to 30° at most (common practice, no source).
"""

import math
from collections.abc import Iterator

from pourcast import units as si
from pourcast.change.ask import Ask, offer, shown, tidy
from pourcast.change.edit_plan import setting
from pourcast.change.model import Cost, Lever, Refused
from pourcast.change.vent_levers import blind_vent_levers
from pourcast.gating.shape import tips_of
from pourcast.mould.model import Flask
from pourcast.mould.vents import ways_out
from pourcast.pour.model import GAS
from pourcast.sheet.edit import Edit

COAT_STEP = 0.1e-3  # m, see above
MOST_COAT = 0.2e-3  # m, see above
VENT_DIAMETER = 1.0e-3  # m, see above
OFTEN = 0.02  # share of the pours, see above
TILT_STEP = 10.0  # degrees, see above
MOST_TILT = 30.0  # degrees, see above
MOST_PARTS = 4
"""Parts that a coat or a vent is offered for, the weakest first."""

_THIN = 1.5e-3  # m; what the alloy records call very thin
_SHORTEST_VENT = 5e-3  # m
_SMALL = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COAT_EACH = 60.0  # s a member, with a brush; estimate
_VENT_EACH = 180.0  # s, see above


def shape_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the levers of coat, vent, tilt and flask.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    for name in _short_parts(ask):
        yield from _coat(ask, name)
    for name in _gas_parts(ask):
        yield from _vent(ask, name)
    yield from blind_vent_levers(ask)
    for step in (TILT_STEP, -TILT_STEP):
        yield from _tilt(ask, step)
    for flask in ask.at_hand.flasks:
        yield from _flask(ask, flask)


def number_of(ask: Ask, name: str) -> int:
    """Return how many members a part has in all.

    Parameters
    ----------
    ask : Ask
    name : str
    """
    network = ask.ready.network
    return int((network.member_part == network.part_names.index(name)).sum())


def _short_parts(ask: Ask) -> list[str]:
    """Return the thin parts that come short, the weakest first."""
    chances = {name: float(ask.ends.part(name).mean()) for name in ask.ends.part_names}
    thin = {part.name for part in ask.ready.measures.parts if part.thinnest < _THIN}
    weak = [name for name, chance in chances.items() if chance < 1.0 and name in thin]
    return sorted(weak, key=lambda name: chances[name])[:MOST_PARTS]


def _gas_parts(ask: Ask) -> list[str]:
    ends = ask.ends
    stopped = (~ends.full) & (ends.cause == GAS)
    shares = {
        name: float(stopped[:, ends.member_part == number].any(axis=1).mean())
        for number, name in enumerate(ends.part_names)
    }
    often = [name for name, share in shares.items() if share >= OFTEN]
    return sorted(often, key=lambda name: -shares[name])[:MOST_PARTS]


def _coat(ask: Ask, name: str) -> Iterator[Lever | Refused]:
    part = next(part for part in ask.plan.piece.parts if part.name == name)
    to = min(part.coat + COAT_STEP, MOST_COAT)
    if to - part.coat < 0.25 * COAT_STEP:
        return
    count = number_of(ask, name)
    written = tidy(si.from_si(to, "mm"))
    more = shown(si.from_si(to - part.coat, "mm"), 2)
    yield offer(
        ask,
        "coat",
        moved=f"coat on “{name}”",
        act=f"{more} mm more wax on “{name}”",
        before=shown(si.from_si(part.coat, "mm"), 3),
        after=shown(written, 3),
        unit="mm",
        edits=setting(("part", name, "coat_mm"), written),
        part=name,
        cost=Cost(
            time=_COAT_EACH * count,
            words=f"{counted(count, 'part')} to coat by hand and to let dry",
            risk="A thick coat may bridge narrow gaps.",
            detail=f"Detail finer than {more} mm goes.",
        ),
    )


def _vent(ask: Ask, name: str) -> Iterator[Lever | Refused]:
    plan, ready = ask.plan, ask.ready
    if any(vent.part == name for vent in plan.piece.vents):
        return
    vacuum = plan.assist.kind == "vacuum"
    if vacuum and plan.flask.wall == "perforated":
        where = "the wall of the flask"
    elif vacuum:
        where = "the far end, which the pump draws on"
    else:
        where = "the open face, up beside the button"
    # As long as the farthest tip needs: a thread that ends in the plaster is blind.
    tips = tips_of(ready.network, name)
    ways = ways_out(tips, plan.flask, plan.piece.button.height, to_pump=vacuum)
    length = max(float(ways.max()), _SHORTEST_VENT)
    count = number_of(ask, name)
    density = ready.alloy["density_20"].si
    table = {
        "on": name,
        "diameter_mm": si.from_si(VENT_DIAMETER, "mm"),
        "length_mm": tidy(si.from_si(length, "mm"), 1),
        "leads_to": "vacuum" if vacuum else "air",
    }
    yield offer(
        ask,
        "vent",
        moved=f"vents on “{name}”",
        act=f"Vent “{name}”",
        before="0",
        after=str(count),
        unit="wires" if count > 1 else "wire",
        edits=(Edit(path=("vent",), value=table),),
        part=name,
        cost=Cost(
            time=_VENT_EACH * count,
            metal=count * length * 0.25 * math.pi * VENT_DIAMETER**2 * density,
            words=f"{counted(count, 'wax wire')} to {where}, and {_their(count)} to clean",
            detail=f"{counted(count, 'stub').capitalize()} to chase off at the tips.",
        ),
    )


def _tilt(ask: Ask, step: si.Ratio) -> Iterator[Lever | Refused]:
    now = si.from_si(ask.plan.piece.button.tilt, "deg")
    to = min(max(now + step, -MOST_TILT), MOST_TILT)
    if abs(to - now) < 0.5 * TILT_STEP:
        return
    way = "more" if step > 0.0 else "the other way"
    yield offer(
        ask,
        "tilt",
        moved="tilt of the piece",
        act=f"Lean the piece {shown(abs(to - now), 2)}° {way}",
        before=shown(now, 3),
        after=shown(to, 3),
        unit="°",
        edits=setting(("button", "tilt_deg"), tidy(to, 1)),
        cost=Cost(time=600.0, words="the piece set on its button again"),
    )


def _flask(ask: Ask, flask: Flask) -> Iterator[Lever | Refused]:
    now = ask.plan.flask
    size = (flask.inside_diameter, flask.height, flask.wall, flask.wall_thickness)
    if size == (now.inside_diameter, now.height, now.wall, now.wall_thickness):
        return
    edits: list[Edit] = []
    for key, value in (
        ("inside_diameter_mm", tidy(si.from_si(flask.inside_diameter, "mm"))),
        ("height_mm", tidy(si.from_si(flask.height, "mm"))),
        ("wall", flask.wall),
        ("wall_mm", tidy(si.from_si(flask.wall_thickness, "mm"))),
    ):
        edits += setting(("flask", key), value)
    yield offer(
        ask,
        "flask",
        moved="flask",
        act=f"Take the {flask.wall} flask {size_of(flask)} mm",
        before=f"{now.wall}, {size_of(now)}",
        after=f"{flask.wall}, {size_of(flask)}",
        unit="mm",
        edits=edits,
        cost=Cost(words="powder and time in the kiln by its size"),
    )


def size_of(flask: Flask) -> str:
    """Return a flask as people call it: "76 × 100".

    Parameters
    ----------
    flask : Flask
    """
    sizes = (flask.inside_diameter, flask.height)
    return " × ".join(shown(si.from_si(size, "mm"), 3) for size in sizes)


def counted(count: int, what: str) -> str:
    """Return how many of a thing, small numbers as words: "nine wax wires".

    Parameters
    ----------
    count : int
    what : str
    """
    number = _SMALL[count] if count < len(_SMALL) else str(count)
    return f"{number} {what}{'' if count == 1 else 's'}"


def _their(count: int) -> str:
    return "its stub" if count == 1 else "their stubs"
