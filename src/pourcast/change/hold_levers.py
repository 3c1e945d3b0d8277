"""Hold levers: one hold more in the burnout, at a heat where the curve has none.

Char of a plant burns in hours from about 650 °C on, which is what the burnout says where
char is left.  A curve that does not stay there for an hour is offered the usual top and the
usual hours of it, put in where the curve passes that heat on its way up, or as a new top,
at the ramp of the step that it parts.  A curve that does has the hold already; its hours
are another lever (`pourcast.change.heat_levers`).

Tried, and not offered: a hold at 150 °C for the drying of the block.  On fast curves it
takes a tenth off the load on the block and what stops or warns stays; a slower way up is
what cures it (docs/change.md).

Sources: common practice, the records "hold_730" and "burnout_peak_default".
"""

from collections.abc import Iterator

from pourcast import units as si
from pourcast.burnout.usual import CHAR_BURNS_FROM
from pourcast.change.ask import Ask, offer, shown, tidy
from pourcast.change.heat_levers import LONG_SOAK
from pourcast.change.model import Cost, Lever, Refused
from pourcast.sheet.edit import Edit
from pourcast.speech import Heat, said

_ENOUGH = 3600.0  # s; less is a stop on the way, not a hold; estimate


def hold_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the hold for the char that the curve of a plan has not.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    steps = ask.plan.kiln.steps
    if ask.plan.kiln.volume is None or not steps:
        return
    if any(step.temperature >= CHAR_BURNS_FROM and step.hold >= _ENOUGH for step in steps):
        return
    limits = ask.ready.book.investment["limits"]
    at, time = limits["burnout_peak_default"], limits["hold_730"]
    hottest = max(range(len(steps)), key=lambda place: steps[place].temperature)
    # Under the hottest step it parts the way up; over it, it is a new top.
    place = next((k for k, step in enumerate(steps) if step.temperature > at.si), hottest + 1)
    ramp = steps[min(place, hottest)].ramp
    row: dict[str, object] = {"to_C": at.value, "hold_h": time.value}
    if ramp is not None:
        row["ramp_C_per_h"] = tidy(si.from_si(ramp, "K/h"))
    hours = shown(time.value)
    yield offer(
        ask,
        "hold",
        moved=said("hold at {heat}", heat=Heat(at.si)),
        act=said("Hold {hours} h at {heat} for the char", hours=hours, heat=Heat(at.si)),
        before="none",
        after=hours,
        unit="h",
        edits=(Edit(path=("kiln", "step", place), value=row),),
        cost=Cost(time=LONG_SOAK, words=f"{hours} h and the way there later at the pour"),
    )
