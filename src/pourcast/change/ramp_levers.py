"""Ramp levers: a slower way up, where a curve heats faster than the trade does.

Steam and uneven heat load the block by how fast it is heated.  Each step up that is faster
than the usual ramp of a flask of that size, or as fast as the kiln can, is slowed to it;
what starts under 300 °C to the ramp for there, whatever it ends at, because the block has
one ramp a step.  What a usual ramp does not take away is no matter of the way up.

Offered by `pourcast.change.judge` alone where it takes a STOP or WATCH of the burnout away.
A lever of its own beside it, to slow only until 300 °C, would need a step more, at which
nothing is held; the hours told are those of the whole step.

Source: common practice, the records "ramp_below_250" and "ramp_above_300".
"""

from collections.abc import Iterator

from pourcast import units as si
from pourcast.burnout.usual import DRYING, STEEPER_FROM, usual_steps
from pourcast.change.ask import Ask, offer, shown, tidy
from pourcast.change.edit_plan import setting
from pourcast.change.heat_levers import LONG_SOAK
from pourcast.change.model import Cost, Lever, Refused
from pourcast.sheet.edit import Edit
from pourcast.speech import Ramp, joined, said

_FASTER = 1.1  # times the usual; less a dial does not hold; estimate
_COLD = 293.15  # K, 20 °C, where the curve starts; estimate


def ramp_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the slower way up of a curve that is faster than usual.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    kiln = ask.plan.kiln
    if kiln.volume is None:
        return
    limits = ask.ready.book.investment["limits"]
    usual = usual_steps(limits, ask.plan.flask.inside_diameter, DRYING, plant=None)
    slow, steep = usual[0].ramp, usual[2].ramp
    assert slow is not None  # every usual step has a ramp
    assert steep is not None
    edits: list[Edit] = []
    was, to, rates, hours, here = [], [], [], 0.0, _COLD
    for place, step in enumerate(kiln.steps):
        limit = slow if here < STEEPER_FROM else steep
        fast = step.ramp
        if step.temperature > here and (fast is None or fast > _FASTER * limit):
            written = tidy(si.from_si(limit, "K/h"), 0)
            edits += setting(("kiln", "step", place, "ramp_C_per_h"), written)
            was.append("as fast as the kiln can" if fast is None else _rate(fast))
            to.append(shown(written))
            rates.append(said("{rate}", rate=Ramp(si.to_si(written, "C/h"), per=" per hour")))
            if fast is not None:
                hours += (step.temperature - here) * (1.0 / limit - 1.0 / fast)
        here = step.temperature
    if not edits:
        return
    later = shown(si.from_si(hours, "h"), 2)
    yield offer(
        ask,
        "ramp",
        moved="heating between the holds",
        act=said(
            "Heat the kiln by {rates} on the way up, no faster",
            rates=joined(" and ", tuple(dict.fromkeys(rates))),
        ),
        before=" and ".join(dict.fromkeys(was)),
        after=" and ".join(dict.fromkeys(to)),
        unit="°C per h",
        edits=edits,
        cost=Cost(
            time=LONG_SOAK,
            words=f"{later} h of kiln more, and that much later at the pour"
            if hours
            else "hours of kiln, and that much later at the pour",
        ),
    )


def _rate(ramp: si.KelvinPerSecond) -> str:
    return shown(si.from_si(ramp, "K/h"))
