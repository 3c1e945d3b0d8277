"""Vent levers: a thread that ends in the plaster, made as long as its way out.

A blind vent passes next to nothing (`pourcast.mould.vents`): its wax and its stub are paid
for, and it does nothing.  It is plainly wrong, so making it longer is offered whatever the
part's chance; the gain is that of a vent.  Where its way out has changed, because the flask
or the lean did, the farthest tip counts, as for a new vent.
"""

import math
from collections.abc import Iterator

from pourcast import units as si
from pourcast.change.ask import Ask, offer, shown
from pourcast.change.edit_plan import setting
from pourcast.change.model import Cost, Lever, Refused
from pourcast.gating.shape import tips_of
from pourcast.mould.vents import SHORT_BY, ways_out

_EACH = 120.0
"""s a thread: a length of wax melted on to one that is there; estimate."""

_STEP = 0.5
"""mm, to which a thread is cut: a rule is read to that."""


def blind_vent_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield each vent that ends in the plaster, led on to where its gas can leave.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    plan, network = ask.plan, ask.ready.network
    for place, vent in enumerate(plan.piece.vents):
        to_pump = vent.leads_to == "vacuum"
        tips = tips_of(network, vent.part)
        ways = ways_out(tips, plan.flask, plan.piece.button.height, to_pump=to_pump)
        blind = int((vent.length < ways - SHORT_BY).sum())
        if not blind:
            continue
        written = _STEP * math.ceil(round(si.from_si(float(ways.max()), "mm") / _STEP, 6))
        longer = 1e-3 * written - vent.length
        where = ("wall" if plan.flask.wall == "perforated" else "far end") if to_pump else "air"
        count = len(tips)
        more = count * longer * 0.25 * math.pi * vent.diameter**2
        # Of vents that are all of one length, those that reach their end are cut anew as well.
        yield offer(
            ask,
            "vent",
            moved=f"length of the vents on “{vent.part}”",
            act=f"Lead the vent{'s' if count > 1 else ''} of “{vent.part}” on to the {where}, "
            f"{shown(written)} mm long",
            before=shown(si.from_si(vent.length, "mm")),
            after=shown(written),
            unit="mm",
            edits=setting(("vent", place, "length_mm"), written),
            part=vent.part,
            plainly=True,
            cost=Cost(
                time=_EACH * count,
                metal=more * ask.ready.alloy["density_20"].si,
                words=f"{shown(si.from_si(longer, 'mm'), 2)} mm more wax on "
                f"{'each thread' if count > 1 else 'the thread'}",
            ),
        )
