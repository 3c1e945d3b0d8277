"""Pouring: two clocks that meet, and how long each act may wait for the next.

The flask leaves the kiln when its core is at heat and the cavity clean; the metal is
ready a little before.  Backwards from there comes the lighting of the furnace,
forwards pour, vacuum and quench:

    lit = out - ahead - melt                                                 (1)

How long a flask may be out of the kiln stands in `pourcast.day.flask_out`, how long
metal may wait in `pourcast.day.metal`.

Left out: metal that is not ready in time.  The flask waits for it in the kiln.
"""

import itertools
from dataclasses import dataclass
from typing import Literal

from pourcast import units as si
from pourcast.day.flask_out import FOLLOWED, FlaskOut
from pourcast.day.metal import MeltClock
from pourcast.day.model import DayForecast
from pourcast.errors import InputError
from pourcast.materials import Value

PourStep = Literal["light", "molten", "out", "pour", "hold", "quench"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PourLengths:
    """How long the acts take; the records of the run sheet.

    Parameters
    ----------
    furnace : Value
        From lighting to metal at its heat, where its own log does not say.
    ahead : Value
        By which the metal is ready before the flask leaves the kiln.
    carrying : Value
        From the kiln to the pour.
    hold : Value
        Of the vacuum.
    quench : Value
        From the pour; low and high are the ends of the window.
    """

    furnace: Value
    ahead: Value
    carrying: Value
    hold: Value
    quench: Value


@dataclass(frozen=True, slots=True, kw_only=True)
class PourAct:
    """One act of the pour, with its window; times from the start of the day.

    Parameters
    ----------
    step : str
    opens, shuts : float [s]
        ``shuts`` is the end of the window; the same moment where there is none.
    """

    step: PourStep
    opens: si.Second
    shuts: si.Second


def countdown(
    out_at: si.Second,
    melt: MeltClock,
    flask: FlaskOut,
    lengths: PourLengths,
    *,
    quench: tuple[si.Second, si.Second] | None = None,
    poured_at: si.Second | None = None,
) -> tuple[PourAct, ...]:
    """Return the acts of the pour in their order, equation (1).

    Parameters
    ----------
    out_at : float [s]
        When the flask is to leave the kiln, from the start of the day.
    melt : MeltClock
    flask : FlaskOut
    lengths : PourLengths
    quench : pair of float or None [s]
        From the pour, by the freezing; None: what the trade takes.
    poured_at : float or None [s]
        When it was poured, if it was.

    Returns
    -------
    tuple of PourAct
    """
    ahead, carrying = lengths.ahead, lengths.carrying
    longest = min(
        (each for each in (flask.on_bench, flask.on_plate) if each is not None), default=FOLLOWED
    )
    pour = out_at + carrying.si if poured_at is None else poured_at
    opens, shuts = (lengths.quench.si_low, lengths.quench.si_high) if quench is None else quench
    molten = out_at - ahead.si
    return (
        PourAct(step="light", opens=molten - melt.time, shuts=out_at - ahead.si_low - melt.time),
        PourAct(step="molten", opens=molten, shuts=out_at),
        PourAct(step="out", opens=out_at, shuts=out_at),
        PourAct(step="pour", opens=pour, shuts=out_at + max(longest, carrying.si)),
        PourAct(step="hold", opens=pour + lengths.hold.si_low, shuts=pour + lengths.hold.si_high),
        PourAct(step="quench", opens=pour + opens, shuts=pour + shuts),
    )


def out_at(forecast: DayForecast) -> si.Second:
    """Return when the flask is to leave the kiln: as planned, or once it is clean and at heat.

    Parameters
    ----------
    forecast : DayForecast

    Returns
    -------
    float [s]
        From the start of the day.
    """
    hours = (forecast.clean_at.p50, forecast.ready_at.p50)
    return max([forecast.pour_at, *(hour for hour in hours if hour is not None)])


@dataclass(frozen=True, slots=True, kw_only=True)
class Queued:
    """One flask of a queue; times from the start of the day.

    Parameters
    ----------
    lit, molten, out : float [s]
        When its furnace is lit, its metal ready, and it leaves the kiln.
    flask_waits : float [s]
        In the kiln, after it was ready.
    """

    lit: si.Second
    molten: si.Second
    out: si.Second
    flask_waits: si.Second


TURN_ROUND = 900.0
"""s, from one flask out of the kiln to the furnace lit again: pour, skim, charge; estimate."""


MOST_TRIED = 6
"""Flasks of which every order is tried, 720 of them; more go as they are ready; own choice."""


def order_of_pours(
    ready_at: tuple[si.Second, ...],
    melts: tuple[si.Second, ...],
    *,
    ahead: si.Second,
    turn_round: si.Second,
) -> tuple[int, ...]:
    """Return the order of pours from one furnace in which the flasks wait least in all.

    The first charge melts while its flask is still in the kiln, so that a long melt costs
    nothing there; behind another it does.

    Parameters
    ----------
    ready_at, melts : tuple of float [s]
        As `queue` takes them.
    ahead, turn_round : float [s]
        As `queue` takes them.

    Returns
    -------
    tuple of int
        Places in ``ready_at``, the first to be poured first; of like orders the one in
        which they are ready.
    """
    as_ready = sorted(range(len(ready_at)), key=lambda place: (ready_at[place], place))
    if len(as_ready) > MOST_TRIED:
        return tuple(as_ready)

    def waits(order: tuple[int, ...]) -> float:
        made = queue(
            tuple(ready_at[place] for place in order),
            tuple(melts[place] for place in order),
            ahead=ahead,
            turn_round=turn_round,
        )
        return round(sum(each.flask_waits for each in made), 3)

    # The first of like ones is kept: permutations begin with the order of the hours.
    return min(itertools.permutations(as_ready), key=waits)


def queue(
    ready_at: tuple[si.Second, ...],
    melts: tuple[si.Second, ...],
    *,
    ahead: si.Second,
    turn_round: si.Second,
) -> tuple[Queued, ...]:
    """Return when each of several flasks is poured from one furnace, in the order given.

    Parameters
    ----------
    ready_at : tuple of float [s]
        When each flask is ready in the kiln.
    melts : tuple of float [s]
        What the charge of each takes.
    ahead : float [s]
        By which metal is ready before its flask leaves.
    turn_round : float [s]
        From one flask out of the kiln to the furnace lit again.

    Returns
    -------
    tuple of Queued

    Raises
    ------
    InputError
        If there is not one melt for each flask.
    """
    if len(ready_at) != len(melts):
        raise InputError("melts of the queue", len(melts), "", f"one for each of {len(ready_at)}")
    found: list[Queued] = []
    for flask, melt in zip(ready_at, melts, strict=True):
        lit = flask - ahead - melt
        if found:
            lit = max(lit, found[-1].out + turn_round)
        molten = lit + melt
        out = max(flask, molten + ahead)
        found.append(Queued(lit=lit, molten=molten, out=out, flask_waits=out - flask))
    return tuple(found)
