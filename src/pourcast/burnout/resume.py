"""Resume: the steps of a plan that are left, from where the kiln stands by its log.

A day never runs as planned.  What counts is which step of the plan the kiln is
in, and how much of its hold is served:

1. A step is reached when the log comes within `NEAR` of its temperature.
2. From then on its hold runs, by the clock.
3. A step ends when its hold is over, or when the log leaves it towards the next
   temperature by more than `NEAR`: the caster has turned on.
4. What is left is the rest of that hold, and then the steps that follow.  How fast the
   kiln gets there is the matter of who takes them (`pourcast.day.futures`).

Left out: an hour far under the temperature of a hold counts in full once the hold
was reached.  That errs to a block that is less dry and less clean than planned;
the heat in the block itself is worked out from the log and not from this.
"""

from pourcast.burnout.curves import SAME, steps_of
from pourcast.burnout.model import NEAR, Curve, KilnStep


def left_over(curve: Curve, log: Curve) -> tuple[KilnStep, ...]:
    """Return the steps of a plan that are still to be done.

    Parameters
    ----------
    curve : Curve
        As planned.
    log : Curve
        From the same beginning.

    Returns
    -------
    tuple of KilnStep
        The first has the hold that is left; empty where the plan is over.
    """
    steps = steps_of(curve)
    before = float(curve.temperature[0])
    place, reached = 0, -1.0
    for time, read in zip(log.time.tolist(), log.temperature.tolist(), strict=True):
        while place < len(steps):
            step = steps[place]
            if reached < 0.0:
                if not _is_reached(read, step.temperature, before):
                    break
                reached = time
            over = time - reached >= step.hold - SAME
            if not over and not _turned_on(steps, place, read):
                break
            # What the hold ran over is no part of the next one.
            before, reached, place = step.temperature, -1.0, place + 1
    if place == len(steps):
        return ()
    now = steps[place]
    served = 0.0 if reached < 0.0 else float(log.time[-1]) - reached
    ramp = next((step.ramp for step in steps[place:] if step.ramp is not None), None)
    return (
        KilnStep(temperature=now.temperature, ramp=ramp, hold=now.hold - served),
        *steps[place + 1 :],
    )


def _is_reached(read: float, goal: float, before: float) -> bool:
    if abs(goal - before) <= SAME:
        return abs(read - goal) <= NEAR
    return read >= goal - NEAR if goal > before else read <= goal + NEAR


def _turned_on(steps: tuple[KilnStep, ...], place: int, read: float) -> bool:
    """Return whether a reading has left a hold towards the next step."""
    if place + 1 == len(steps):
        return False
    here, following = steps[place].temperature, steps[place + 1].temperature
    return read > here + NEAR if following > here else read < here - NEAR
