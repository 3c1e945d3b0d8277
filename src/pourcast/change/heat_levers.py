"""Heat levers: flask and metal at the pour, and the hours and the air of the burnout.

Steps and limits.  A flask is turned by 50 °C and metal by 30 °C: about three times what
their thermometers may be wrong (`pour` values); less could not be told on the day.
They stay within what the alloy's record calls usual, over all its sections; a move of
less than half a step is not worth offering.  What stands out of the usual (a flask: of
that for the thinnest section) goes to the usual value at once.  Holds grow by 2 h, a
usual difference between two casters (common practice, no source); air doubles, from a
vent that is half open to one that is open (estimate).
"""

from collections.abc import Iterator, Sequence

from pourcast import units as si
from pourcast.burnout.model import KilnStep
from pourcast.change.ask import Ask, moved_to, offer, plainly_out, shown, tidy
from pourcast.change.edit_plan import setting
from pourcast.change.model import NO_WORK, Cost, Lever, Refused
from pourcast.forecast.burn import casting_temperature
from pourcast.forecast.prepare import by_the_curve
from pourcast.mould.flask_heat import usual_flask_temperature, usual_for_any
from pourcast.sheet.edit import Edit
from pourcast.speech import Heat, Step, said

FLASK_STEP = 50.0  # K, see above
POUR_STEP = 30.0  # K, see above
HOLD_STEP = 2.0 * 3600.0  # s, see above
_WORTH = 0.5  # of a step, see above
_SAME = 20.0  # K; a curve that ends so near to the flask at the pour is meant to end at it
_MOST_AIR = 30.0 / 3600.0  # 1/s, upper end of a vented kiln; estimate
LONG_SOAK = 1800.0
"""s of work that two hours more at the kiln ask for: two readings; estimate."""


def heat_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the levers of heat, time and air.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    for step in (FLASK_STEP, -FLASK_STEP):
        yield from _flask(ask, step)
    for step in (POUR_STEP, -POUR_STEP):
        yield from _pour(ask, step)
    yield from _top(ask)
    yield from _hold(ask)
    yield from _air(ask)


def _flask(ask: Ask, step: si.Kelvin) -> Iterator[Lever | Refused]:
    plan, alloy = ask.plan, ask.ready.alloy
    steps = plan.kiln.steps
    usual = usual_flask_temperature(alloy, ask.ready.measures.thinnest)
    now = casting_temperature(plan, ask.ready)
    low, high = usual_for_any(alloy)
    to = moved_to(now, step, (usual.si_low, usual.si, usual.si_high))
    to = min(max(to, low), high)
    if abs(to - now) < _WORTH * FLASK_STEP or (to - now) * step <= 0.0:
        return
    written = tidy(si.from_si(to, "degC"), 0)
    edits: list[Edit] = []
    if not by_the_curve(plan):
        edits += setting(("flask", "temperature_C"), written)
    if step < 0.0 and now > _hard_stop(ask):
        edits += _under_the_stop(ask)
    # A curve that comes down after its top comes down to the flask of the pour.
    if steps and (_comes_down(steps) or abs(steps[-1].temperature - now) <= _SAME):
        edits += setting(("kiln", "step", len(steps) - 1, "to_C"), written)
    warmer = step > 0.0
    yield offer(
        ask,
        "flask temperature",
        moved="flask at the pour",
        act=said(
            "Flask {step} {way}, at {heat}",
            step=Step(abs(to - now), kelvins=False),
            way="hotter" if warmer else "cooler",
            heat=Heat(si.to_si(written, "degC")),
        ),
        before=shown(si.from_si(now, "degC")),
        after=shown(written),
        unit="°C",
        edits=edits,
        cost=Cost(
            words=f"{NO_WORK}; the kiln ends elsewhere",
            risk="A hotter block is weaker and gives more gas." if warmer else "",
            detail="A hotter mould reacts more: skin less bright." if warmer else "",
        ),
        plainly=plainly_out(now, FLASK_STEP, low, high),
    )


def _comes_down(steps: Sequence[KilnStep]) -> bool:
    return steps[-1].temperature < max(step.temperature for step in steps)


def _pour(ask: Ask, step: si.Kelvin) -> Iterator[Lever | Refused]:
    usual = ask.ready.alloy["pour"]
    now = ask.plan.charge.pour_temperature
    to = moved_to(now, step, (usual.si_low, usual.si, usual.si_high))
    to = min(max(to, usual.si_low), usual.si_high)
    if abs(to - now) < _WORTH * POUR_STEP or (to - now) * step <= 0.0:
        return
    written = tidy(si.from_si(to, "degC"), 0)
    hotter = step > 0.0
    yield offer(
        ask,
        "pour temperature",
        moved="metal in the pot",
        act=said(
            "Metal {step} {way}, at {heat}",
            step=Step(abs(to - now), kelvins=False),
            way="hotter" if hotter else "cooler",
            heat=Heat(si.to_si(written, "degC")),
        ),
        before=shown(si.from_si(now, "degC")),
        after=shown(written),
        unit="°C",
        edits=setting(("metal", "pour_temperature_C"), written),
        cost=Cost(
            words="a few minutes more at the furnace" if hotter else NO_WORK,
            time=300.0 if hotter else 0.0,
            risk="Hot metal takes up gas and shrinks more." if hotter else "",
        ),
        plainly=plainly_out(now, POUR_STEP, usual.si_low, usual.si_high),
    )


def _top(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield a cooler top of a curve that goes over the hard stop."""
    usual = ask.ready.book.investment["limits"]["burnout_peak_default"]
    steps = ask.plan.kiln.steps
    edits = _under_the_stop(ask)
    if ask.plan.kiln.volume is None or not edits:
        return
    yield offer(
        ask,
        "top",
        moved="top of the burnout",
        act=said("Burn at {usual} at the most", usual=Heat(usual.si)),
        before=shown(si.from_si(max(step.temperature for step in steps), "degC")),
        after=shown(usual.value),
        unit="°C",
        edits=edits,
        cost=Cost(words=f"{NO_WORK}; the kiln goes less high"),
        plainly=True,
    )


def _under_the_stop(ask: Ask) -> list[Edit]:
    """Return the edits that bring each step over the hard stop down to the usual top."""
    usual = ask.ready.book.investment["limits"]["burnout_peak_default"]
    return [
        edit
        for place, step in enumerate(ask.plan.kiln.steps)
        if step.temperature > _hard_stop(ask)
        for edit in setting(("kiln", "step", place, "to_C"), tidy(usual.value, 0))
    ]


def _hard_stop(ask: Ask) -> si.Kelvin:
    return ask.ready.book.investment["limits"]["burnout_peak_hard_stop"].si


def _hold(ask: Ask) -> Iterator[Lever | Refused]:
    plan = ask.plan
    if plan.kiln.volume is None or not plan.kiln.steps:
        return
    place = max(
        range(len(plan.kiln.steps)),
        key=lambda at: (plan.kiln.steps[at].temperature, plan.kiln.steps[at].hold),
    )
    hottest = plan.kiln.steps[place]
    to = hottest.hold + HOLD_STEP
    heat = Heat(hottest.temperature)
    yield offer(
        ask,
        "burnout",
        moved=said("hold at {heat}", heat=heat),
        act=said(
            "Hold the burn at {heat} {hours} h longer",
            heat=heat,
            hours=shown(HOLD_STEP / 3600.0),
        ),
        before=shown(si.from_si(hottest.hold, "h")),
        after=shown(si.from_si(to, "h")),
        unit="h",
        edits=setting(("kiln", "step", place, "hold_h"), tidy(si.from_si(to, "h"))),
        cost=Cost(
            time=LONG_SOAK,
            words="two hours later at the pour, and their current",
            risk="",
        ),
    )


def _air(ask: Ask) -> Iterator[Lever | Refused]:
    kiln = ask.plan.kiln
    if kiln.volume is None or kiln.air_changes is None:
        return
    to = min(2.0 * kiln.air_changes, _MOST_AIR)
    if to < 1.25 * kiln.air_changes:
        return
    yield offer(
        ask,
        "air",
        moved="air changes of the kiln",
        act="Open the vent of the kiln for twice the air",
        before=shown(si.from_si(kiln.air_changes, "1/h")),
        after=shown(si.from_si(to, "1/h")),
        unit="per h",
        edits=setting(("kiln", "air_changes_per_h"), tidy(si.from_si(to, "1/h"))),
        cost=Cost(
            words="more current, and more fume in the room",
            risk="More fume leaves the kiln: outdoors or under extraction.",
        ),
    )
