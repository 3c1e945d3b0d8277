"""Turns: where is the dial to be set next, and when?

The rest of the day, `AHEAD` long, is put before `pourcast.burnout.dial` with the kiln
as it is now (`pourcast.day.kiln_now`).  The heat stays so far under the hard stop as the
kiln may be hotter than told (`pourcast.day.hotter`).  With each reading it is asked anew,
so that a kiln that runs hotter than told is turned down at the next check.  Over the stop
it is turned off.
"""

import numpy as np

from pourcast import units as si
from pourcast.burnout.dial import Turn, dial_plan
from pourcast.burnout.kiln_fit import KilnFit
from pourcast.burnout.log_times import as_clock
from pourcast.burnout.model import Curve
from pourcast.burnout.places import place_told, places_of
from pourcast.day.hotter import hotter_than_told
from pourcast.day.kiln_now import FADES, kiln_now
from pourcast.day.so_far import SoFar
from pourcast.errors import InputError

AHEAD = 2.0 * 3600.0
"""s, that is looked ahead; our own choice."""

EVERY = 900.0
"""s, between two looks at a kiln that is turned by hand; common practice, no source."""

WORTH = 5.0
"""K, of a turn, for a caster who stands before the kiln at each look; estimate.  It is less
than that of a plan made at the desk: the way on starts at what is read, so that a turn put
off costs no more at the next look, and is put off again.  At 15 K a ramp of 50 K/h lost
four hours of seven in this way on the made-up kiln; at 5 K, as at 8 and 3, none."""

FASTER = 0.25
"""Over the planned ramp, at which a kiln that is behind may catch up; estimate."""

_DAY = 86_400.0

PROGRAMMED = "The kiln follows its own plan."
NO_DIAL = "No setting of the dial is known yet: say what it is turned to."
OVER = "The plan of the kiln is over."
STAYS_OFF = "Leave it off until the gauge is under the stop, with the vent open."
TURN_OFF = "Turn it off now and watch the gauge: no setting is known to keep it under the stop."


def next_turns(
    known: KilnFit,
    day: SoFar,
    curve: Curve,
    start: si.Second,
    *,
    by_hand: bool,
    stop: si.Kelvin,
    ahead: si.Second,
    step: si.Ratio = 1.0,
) -> tuple[tuple[Turn, ...], str]:
    """Return the turns from the last reading on; none, with the reason, where it cannot be told.

    Parameters
    ----------
    known : KilnFit
        The kiln before today.
    day : SoFar
    curve : Curve
        The day so far, and what is wanted of it.
    start : float [s]
        Of the day, since 1970.
    by_hand : bool
    stop : float [K]
        Heat that the kiln stays under.
    ahead : float [s]
        Of the wall clock over universal time.
    step : float [-]
        From one place of the dial to the next.

    Returns
    -------
    tuple of tuple of Turn, and str
        Times from the start of the day.
    """
    if not by_hand:
        return (), PROGRAMMED
    if not np.isfinite(day.dial).any():
        return (), NO_DIAL
    now, here = float(day.time[-1]), float(day.temperature[-1])
    end = min(float(curve.time[-1]), now + AHEAD)
    if day.ended is not None or end - now < 60.0:
        return (), OVER
    clock = (start + ahead + now) % _DAY
    if here > stop:
        # Whatever the fit says would cool it as well: nothing is colder than off.
        off = Turn(time=now, clock=as_clock(clock), setting=0.0)
        return ((off,), "") if day.dial[-1] != 0.0 else ((), STAYS_OFF)
    kiln = kiln_now(day, known)
    inner = curve.time[(curve.time > now) & (curve.time < end)]
    time = np.concatenate(([now], inner, [end]))
    wanted = Curve(
        name="wanted",
        time=time - now,
        temperature=np.append(kiln.air, np.interp(time[1:], curve.time, curve.temperature)),
    )
    try:
        plan = dial_plan(
            kiln.body,
            wanted,
            places_of(float(kiln.body.settings[-1]), step).tolist(),
            every=EVERY,
            start_clock=clock,
            top=stop,
            reserve=0.0,
            worth=WORTH,
            load=(wanted.time, kiln.pull * np.exp(-wanted.time / FADES)),
            doubt=hotter_than_told(kiln),
        )
    except InputError as refused:
        return (), f"{TURN_OFF} ({refused})"
    last = float(day.dial[-1])
    found = tuple(
        Turn(time=turn.time + now, clock=turn.clock, setting=turn.setting)
        for place, turn in enumerate(plan.turns)
        # A first turn to where the dial stands already is none.
        if place or turn.setting != last
    )
    return found, "" if found else f"Leave it at {place_told(last)} until the next look."


def catching_up(planned: Curve, now: si.Second, here: si.Kelvin) -> si.Ratio:
    """Return by how much faster than planned a kiln that is behind on its ramp may go [-].

    Parameters
    ----------
    planned : Curve
    now : float [s]
    here : float [K]
        Its air.

    Returns
    -------
    float [-]
        1 to 1 + `FASTER`.
    """
    wanted, later = np.interp([now, now + AHEAD], planned.time, planned.temperature).tolist()
    if here >= wanted or later <= wanted:
        return 1.0
    return 1.0 + min((wanted - here) / (later - wanted), FASTER)
