"""Day next: what is to be done next, and when, in one line."""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.app.day_room import DayNow
from pourcast.app.words import say
from pourcast.burnout.places import place_told
from pourcast.page.figures import degrees
from pourcast.page.words_day import clock
from pourcast.page.words_pour_day import STEPS
from pourcast.speech import Speech

LATE = 900.0
"""s, for which an act that is due still stands as the next one; own choice."""

_BEND = 20.0 / 3600.0
"""K/s, change of the slope of a plan that counts as a corner of it; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextAct:
    """The next act.

    Parameters
    ----------
    at : float [s]
        Since 1970.
    text : str
    key : str
        Of its cautions: a step of the pour, or "kiln".
    """

    at: si.Second
    text: str
    key: str


def next_acts(day: DayNow, now: si.Second) -> tuple[NextAct, ...]:
    """Return what is to be done, the next thing first.

    Parameters
    ----------
    day : DayNow
    now : float [s]
        Since 1970.
    """
    found = [*_turns(day), *_corners(day), *_pour(day)]
    due = [act for act in found if act.at >= now - LATE]
    return tuple(sorted(due, key=lambda act: act.at))


def _turns(day: DayNow) -> list[NextAct]:
    start = day.forecast.start
    return [
        NextAct(
            at=start + turn.time,
            text=say("day.turn_to", setting=place_told(turn.setting)),
            key="kiln",
        )
        for turn in day.forecast.turns
    ]


def _corners(day: DayNow) -> list[NextAct]:
    """Return the corners of the plan, for a kiln that a controller turns."""
    if day.plan.kiln.control == "hand":
        return []
    curve = day.forecast.curve
    slope = np.diff(curve.temperature) / np.maximum(np.diff(curve.time), 1.0)
    corners = np.flatnonzero(np.abs(np.diff(slope)) > _BEND) + 1
    return [
        NextAct(
            at=day.forecast.start + float(curve.time[place]),
            text=_corner(float(slope[place]), float(curve.temperature[place]), day.plan.speech),
            key="kiln",
        )
        for place in corners.tolist()
        if curve.time[place] >= day.forecast.known_until
    ]


def _corner(slope: float, here: si.Kelvin, speech: Speech) -> str:
    told = degrees(here, speech)
    if abs(slope) < _BEND:
        return say("day.hold_at", temperature=told)
    return say("day.rise_from" if slope > 0.0 else "day.fall_from", temperature=told)


def _pour(day: DayNow) -> list[NextAct]:
    done = {event.act for event in day.log.events}
    names = {
        "light": "lit",
        "molten": "molten",
        "out": "out",
        "pour": "poured",
        "quench": "quenched",
    }
    return [
        NextAct(at=day.forecast.start + act.opens, text=_upper(STEPS[act.step]), key=act.step)
        for act in day.acts
        if names.get(act.step) not in done
    ]


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def expected(day: DayNow, now: si.Second) -> si.Kelvin:
    """Return what the kiln should read now [K].

    Parameters
    ----------
    day : DayNow
    now : float [s]
        Since 1970.
    """
    curve = day.forecast.curve
    return float(np.interp(now - day.forecast.start, curve.time, curve.temperature))


def minutes_told(at: si.Second, now: si.Second) -> str:
    """Return how far off a moment is, such as "in 25 minutes".

    Parameters
    ----------
    at, now : float [s]
        Since 1970.
    """
    minutes = round((at - now) / 60.0)
    if minutes <= -1:
        return say("day.overdue", minutes=-minutes)
    if minutes < 1:
        return say("day.due")
    if minutes < 90:
        return say("day.in_minutes", minutes=minutes)
    return say("day.in_hours", hours=minutes // 60, minutes=f"{minutes % 60:02d}")


def at_clock(day: DayNow, at: si.Second) -> str:
    """Return what the clock on the wall says then."""
    return clock(day.zone, at)
