"""When does each act of the mixing fall, and do the usual acts fit?

Limits are habits of the trade: finish at 8 to 8.5 min, say some, at 7, says
another; leave it untouched for 30 min; open it after 2 h; to the kiln at once, or
kept damp.
"""

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding, Level, in_100
from pourcast.mould.clock import USUAL_TEMPERATURE, USUAL_WATER
from pourcast.mould.model import Mix, MixClock
from pourcast.speech import Heat, Step, said

LATE_FROM = 0.1
"""Share of draws in which the acts are late from which it is a WATCH; estimate."""

LATE_STOP = 0.5
"""The same for a STOP; estimate."""

IDLE = 60.0
"""Longest that the slurry is left alone before it is due to be still [s]; estimate."""

_TRADE = "common practice, no source"


def clock_findings(clock: MixClock, mix: Mix) -> tuple[Finding, ...]:
    """Return the clock of the mixing, and whether the acts fit.

    Parameters
    ----------
    clock : MixClock
    mix : Mix
        That it came from.

    Returns
    -------
    tuple of Finding
    """
    return (_acts(clock), _fits(clock), *_shifted(clock, mix), _bench(clock))


def _acts(clock: MixClock) -> Finding:
    return Finding(
        stage="mould",
        key="mix-clock",
        level="GOOD",
        text=(
            f"From the first powder: mixed by {_span(clock.mixed)}, air out of the bowl by "
            f"{_span(clock.debubbled)}, poured by {_span(clock.poured)}, air out of the flask by "
            f"{_span(clock.done)}; still from {_span(clock.still_by)}; the shine goes at "
            f"{_span(clock.gloss_off)} min."
        ),
        value=_middle(clock.done),
        limit=_middle(clock.still_by),
        unit="min",
        source=f"{_TRADE}; 10 to 90 of 100 draws",
        kind="common practice",
    )


def _fits(clock: MixClock) -> Finding:
    room = _middle(clock.still_by - clock.done)
    level: Level = "GOOD"
    if clock.late > LATE_STOP:
        level = "STOP"
    elif clock.late > LATE_FROM:
        level = "WATCH"
    if level == "GOOD":
        text = f"The usual acts leave {room:.1f} min before the slurry must be still."
        if 60.0 * room > IDLE:
            text += (
                " Keep it moving gently until then: slurry that is put down early parts from its "
                "water and leaves streaks."
            )
    else:
        text = (
            f"The usual acts run past the time to be still in {in_100(clock.late)} of 100 "
            "draws. A slurry that is moved while it sets turns grainy and weak. Use colder water, "
            "mix less at a time, or shorten the vacuum in the bowl. Time a small mix to gloss-off "
            "first."
        )
    return Finding(
        stage="mould",
        key="mix-room",
        level=level,
        text=text,
        value=100.0 * clock.late,
        limit=100.0 * (LATE_STOP if level == "STOP" else LATE_FROM),
        unit="% of draws",
        source=f"{_TRADE}: done at 8 to 8.5 min, says one, at 7, says another",
        kind="common practice",
    )


def _shifted(clock: MixClock, mix: Mix) -> tuple[Finding, ...]:
    if abs(clock.shift) < 15.0:
        return ()
    way = "shorter" if clock.shift < 0.0 else "longer"
    return (
        Finding(
            stage="mould",
            key="work-time-shift",
            level="WATCH",
            text=said(
                "At {heat} and {water} parts of water the work time is {shift} min {way} than at "
                "{usual} and {usual_water}.",
                heat=Heat(mix.temperature),
                water=f"{100.0 * mix.water_to_powder:.0f}",
                shift=f"{abs(clock.shift) / 60.0:.1f}",
                way=way,
                usual=Heat(USUAL_TEMPERATURE),
                usual_water=f"{100.0 * USUAL_WATER:.0f}",
            ),
            value=clock.shift / 60.0,
            unit="min",
            source=said("1 min for {step}, and a power of the water to powder", step=Step(5.0)),
            kind="estimate",
        ),
    )


def _bench(clock: MixClock) -> Finding:
    low, high = np.quantile(clock.hard_set, (0.1, 0.9)) / 60.0
    return Finding(
        stage="mould",
        key="block-set",
        level="WATCH",
        text=(
            f"Do not touch the flask until it is hard, {low:.0f} to {high:.0f} min and 30 min at "
            f"least; open the gate after about {_middle(clock.open_at) / 60.0:.1f} h. Then into "
            "the kiln, or kept damp in a bag or wet cloth: a block that dried for two days lost "
            "its end. Practice disagrees: one textbook rule, as reported, wants it bone dry."
        ),
        value=_middle(clock.open_at) / 60.0,
        unit="h",
        source=_TRADE,
        kind="common practice",
    )


def _middle(time: si.Seconds) -> si.Ratio:
    return float(np.median(time)) / 60.0


def _span(time: si.Seconds) -> str:
    low, high = np.quantile(time, (0.1, 0.9)) / 60.0
    return f"{low:.1f} to {high:.1f}"
