"""Curve levers: the usual kiln curve in the place of one that stops the burnout.

A curve may be too short in several holds and too steep in several ramps at once; one longer
hold or slower ramp does not mend that.  What the trade gives a flask of this size does, or
says that the hours are not what stops it.

Offered by `pourcast.change.judge` alone where it takes a STOP or WATCH of the burnout away.
Source: common practice, no source; see `pourcast.burnout.usual`.
"""

from collections.abc import Iterator

from pourcast import units as si
from pourcast.change.ask import Ask, offer, shown, tidy
from pourcast.change.edit_plan import setting
from pourcast.change.heat_levers import LONG_SOAK
from pourcast.change.model import Cost, Lever, Refused
from pourcast.forecast.burn import planned_curve, steps_as_usual, usual_curve
from pourcast.sheet.edit import Edit

_LONGER = 0.25  # h by which a curve is longer before it is told as that; estimate


def curve_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the usual curve in the place of that of the plan.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    kiln = ask.plan.kiln
    if kiln.volume is None or not kiln.steps:
        return
    usual = steps_as_usual(ask.plan, ask.ready)
    curves = planned_curve(ask.plan, ask.ready), usual_curve(ask.plan, ask.ready)
    before, after = (si.from_si(float(curve.time[-1]), "h") for curve in curves)
    edits: list[Edit] = []
    for place, step in enumerate(usual):
        row = {"to_C": tidy(si.from_si(step.temperature, "degC"), 0)}
        if step.ramp is not None:
            row["ramp_C_per_h"] = tidy(si.from_si(step.ramp, "K/h"), 0)
        row["hold_h"] = tidy(si.from_si(step.hold, "h"), 2)
        if place >= len(kiln.steps):
            edits.append(Edit(path=("kiln", "step"), value=row))
            continue
        for key, value in row.items():
            edits += setting(("kiln", "step", place, key), value)
    for place in reversed(range(len(usual), len(kiln.steps))):
        edits.append(Edit(path=("kiln", "step", place), value=None))
    words = "the kiln turned by another curve"
    if after - before > _LONGER:
        more = shown(after - before, 2)
        words = f"{more} h of kiln more, and that much later at the pour"
    yield offer(
        ask,
        "curve",
        moved="curve of the kiln",
        act="Burn by the usual curve for a flask of this size",
        before=shown(before, 3),
        after=shown(after, 3),
        unit="h",
        edits=edits,
        cost=Cost(time=LONG_SOAK, words=words),
    )
