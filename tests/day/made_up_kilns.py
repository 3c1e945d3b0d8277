"""Kilns that nobody built, each of its own: for studies of the advice."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.burnout.kiln import Body
from pourcast.day.model import DayEvent, DayLog, DayReading
from pourcast.day.simulated import SimulatedKiln, made_up_kiln, moved_on


def some_kiln(rng: np.random.Generator) -> SimulatedKiln:
    """Return a kiln about the made-up one; every width is our own choice.

    Heating as a whole and loss 20 %, each place of the dial 8 %, never falling; three of
    ten without bricks, the others with an exchange of 40 % and a share of 30 %; 0.5, 1 or
    2 K of noise.
    """
    base = made_up_kiln()
    places = base.body.settings.size
    heating = base.body.heating * rng.lognormal(0.0, 0.2)
    heating = heating * np.append(1.0, rng.lognormal(0.0, 0.08, places - 1))
    body = Body(
        loss=base.body.loss * rng.lognormal(0.0, 0.2),
        glow=0.0,
        settings=base.body.settings,
        heating=np.maximum.accumulate(heating),
        room=base.body.room,
    )
    bricks = 0.0 if rng.random() < 0.3 else base.exchange * rng.lognormal(0.0, 0.4)
    share = base.share * rng.lognormal(0.0, 0.3)
    noise = float(rng.choice([0.5, 1.0, 2.0]))
    return replace(base, body=body, exchange=bricks, share=share, noise=noise)


def highest_known(kiln: SimulatedKiln, load: float, top: si.Kelvin, hours: float) -> si.Kelvin:
    """Return how hot one who knows all, with a dial without places, has it after a while.

    The plan is straight to the top in half an hour less; behind it a quarter more is done.

    Parameters
    ----------
    kiln : SimulatedKiln
    load : float
        Of the block from the first hour to the fifth [K/s].
    top : float [K]
    hours : float
    """
    air = bricks = kiln.body.room
    ramp = (top - air) / (hours - 0.5) / 60.0
    most, highest = float(kiln.body.heating[-1]), air
    for minute in range(round(hours * 60.0)):
        pull = load if 60 < minute < 300 else 0.0
        goal = min(kiln.body.room + ramp * (minute + 1), top)
        wanted = min(goal, air + 1.25 * ramp) - air
        to_bricks = kiln.exchange * (air - bricks)
        lost = kiln.body.loss * (air - kiln.body.room) + to_bricks
        air += min(max(wanted, -60.0 * (lost + pull)), 60.0 * (most - lost - pull))
        bricks += 60.0 * kiln.share * to_bricks
        highest = max(highest, air)
    return highest


def hand_turned(
    kiln: SimulatedKiln,
    advise: Callable[[DayLog], si.Ratio],
    *,
    start: si.Second,
    length: si.Second,
    every: si.Second,
    rng: np.random.Generator,
    load: Callable[[si.Second], si.KelvinPerSecond] | None = None,
) -> tuple[DayLog, si.Kelvins]:
    """Return a day turned by hand: what was read and done, and the true air.

    Parameters
    ----------
    kiln : SimulatedKiln
    advise : callable
        Gives the setting from the log so far, at each look.
    start : float [s]
        Since 1970.
    length, every : float [s]
        Of the day, and between two looks.
    rng : numpy.random.Generator
    load : callable or None
        Pull of the block [K/s] at a time of the day.

    Returns
    -------
    log : DayLog
    air : array [K], shape (minutes,)
        At each minute of the day.
    """
    air = bricks = kiln.body.room
    log = DayLog(start=start)
    true = [air]
    setting = 0.0
    minute = 60.0
    for number in range(round(length / minute)):
        now = number * minute
        if now % every == 0.0:
            read = air + kiln.noise * float(rng.standard_normal())
            reading = DayReading(place="kiln", at=start + now, temperature=read)
            log = DayLog(start=start, readings=(*log.readings, reading), events=log.events)
            wanted = advise(log)
            if wanted != setting or not log.events:
                setting = wanted
                turn = DayEvent(act="turned", at=start + now, setting=setting)
                log = DayLog(start=start, readings=log.readings, events=(*log.events, turn))
        pull = 0.0 if load is None else load(now)
        air, bricks = moved_on(kiln, air, bricks, setting, minute, pull)
        true.append(air)
    return log, np.array(true)
