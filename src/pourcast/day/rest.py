"""Rest: which steps of the plan are still to be done, by what the kiln has done?

As in `pourcast.burnout.resume` the log is laid over the plan: a step is reached
within `NEAR` of its temperature.  Two things are asked more of a day that goes on:

1. A hold is served only while the kiln is not colder than `COLDER` under it.  What a
   power cut or an open door took is held longer.
2. A hand swings about a hold.  The kiln has left it for the next step when most of the
   hold is served and it is more than `SWING` on the way, or when it is half way there.
   Half way down counts only where the dial was turned down: else it is a cold spell.
3. What is left of the way to a hold is way and not hold, and where the kiln came to it
   between two readings it is taken to have gone on as planned after the first of them: at
   60 K/h 15 K are a quarter of an hour, and a day that kept to its plan was told so much
   early or late in each hold.

Left out: that a colder hour does a part of the work; what it did to the block is
worked out from the log itself, and this only says how the caster goes on.
"""

from collections.abc import Sequence
from dataclasses import replace

from pourcast import units as si
from pourcast.burnout.curves import SAME
from pourcast.burnout.model import NEAR, KilnStep

COLDER = 30.0
"""K under a hold, past which its time does not count; estimate."""

SWING = 30.0
"""K, by which a kiln that is turned by hand still swings about a hold; estimate.  A made-up
kiln held by whole places swings by 17 K, and at 15 K lost two hours of a hold of twelve."""

MOST = 0.75
"""Share of a hold after which a falling kiln has left it; estimate."""


WAIT = 3.0 * 3600.0
"""s, past the end of the plan, in which a late day is still followed; our own choice."""


def rest_of_plan(
    steps: Sequence[KilnStep],
    start: si.Kelvin,
    time: si.Seconds,
    temperature: si.Kelvins,
    turned_down: Sequence[si.Second] = (),
) -> tuple[KilnStep, ...]:
    """Return the steps of a plan that are still to be done.

    Parameters
    ----------
    steps : sequence of KilnStep
        Each with its ramp said.
    start : float [K]
        Of the plan.
    time : array [s], shape (readings,)
        Rising, from the start.
    temperature : array [K], shape (readings,)
    turned_down : sequence of float [s]
        When the dial was set lower.

    Returns
    -------
    tuple of KilnStep
        The first has the hold that is left; empty where the plan is over.
    """
    place, before = 0, start
    reached = -1.0
    served, last = 0.0, float(time[0])
    seen = (last, float(temperature[0]))
    for now, read in zip(time.tolist(), temperature.tolist(), strict=True):
        while place < len(steps):
            step = steps[place]
            if reached < 0.0:
                if not _is_reached(read, step.temperature, before):
                    break
                reached, last = now, now
                served = now - _arrived(step, before, seen, (now, read))
            if read > step.temperature - COLDER:
                served += now - last
            last = now
            if served < step.hold - SAME and not _has_left(
                steps, place, read, served, any(reached <= turn <= now for turn in turned_down)
            ):
                break
            before, reached, place = step.temperature, -1.0, place + 1
        last, seen = now, (now, read)
    if place == len(steps):
        return ()
    step = steps[place]
    ramp = next((each.ramp for each in steps[place:] if each.ramp is not None), None)
    left = step.hold - (max(served, 0.0) if reached >= 0.0 else 0.0)
    return (
        KilnStep(temperature=step.temperature, ramp=ramp, hold=max(left, 0.0)),
        *steps[place + 1 :],
    )


def waiting(steps: tuple[KilnStep, ...]) -> tuple[KilnStep, ...]:
    """Return steps whose last hold goes on for `WAIT`, as a flask waits in the kiln.

    Parameters
    ----------
    steps : tuple of KilnStep

    Returns
    -------
    tuple of KilnStep
    """
    if not steps:
        return ()
    return (*steps[:-1], replace(steps[-1], hold=steps[-1].hold + WAIT))


def _arrived(
    step: KilnStep, before: float, last: tuple[float, float], now: tuple[float, float]
) -> float:
    """Return when a kiln that is near a hold comes to it, or came to it since the last reading."""
    if not step.ramp:
        return now[0]
    way = 1.0 if step.temperature > before else -1.0
    short_now, short_then = (way * (step.temperature - read) for _, read in (now, last))
    if short_now > 0.0:
        return now[0] + short_now / step.ramp
    return min(last[0] + max(short_then, 0.0) / step.ramp, now[0])


def _is_reached(read: float, goal: float, before: float) -> bool:
    if abs(goal - before) <= SAME:
        return abs(read - goal) <= NEAR
    return read >= goal - NEAR if goal > before else read <= goal + NEAR


def _has_left(
    steps: Sequence[KilnStep], place: int, read: float, served: float, turned_down: bool
) -> bool:
    """Return whether a reading has left a hold for the step after it."""
    if place + 1 == len(steps):
        return False
    here, following = steps[place].temperature, steps[place + 1].temperature
    way = 1.0 if following > here else -1.0
    gone = way * (read - here)
    mostly = served >= MOST * steps[place].hold
    if gone > SWING and mostly:
        return True
    half_way = gone > 0.5 * abs(following - here)
    return half_way and (way > 0.0 or turned_down)
