"""Dial: which turns make a hand-turned kiln follow a curve?

The dial may be turned at checks that fall on the clock: every quarter of an hour
from 08:40 are 08:45, 09:00 and so on, and the start itself.  Of all plans that
keep the air under the top, the one is wanted that makes least

    Σ over checks of  mean (T - wanted)²  +  w² · turns                      (1)

The worth w of a turn is the miss over one check that a caster would rather bear
than turn once more.  The air between checks follows `pourcast.burnout.kiln`; at
one setting it moves one way only, so that its ends bound it.

It is found check by check (dynamic programming, Bellman 1957): of all ways that
come to the same place of the dial within `SAME_HEAT` of each other, the cheapest
goes on.  Two ways that differ by less are not told apart, which can cost a little
over the best plan; how much, the tests say.

Left out: turns between the checks, and whatever the fitted kiln does not know.
For that the air is kept a reserve under the top, and who has read the kiln today may
say for each way how far it may come out hotter than told.  Off is never refused then:
nothing is colder.
"""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from pourcast import units as si
from pourcast.burnout.curves import temperature_at
from pourcast.burnout.kiln import Body, air_of, heating_at, moved
from pourcast.burnout.log_times import as_clock
from pourcast.burnout.model import Curve
from pourcast.burnout.places import place_told
from pourcast.errors import InputError, require_between, require_finite, require_not_negative
from pourcast.speech import Heat, said

SAME_HEAT = 0.5
"""K within which two ways are one; 0.1 of what a hand reads off a gauge, estimate."""

WORTH = 15.0
"""K, the worth of a turn; estimate."""

RESERVE = 15.0
"""K under the top for what the fit does not know; estimate.  A made-up kiln of bricks with
a wet block came out up to 10 K hotter than told above 630 °C where the heat of the block
was known, and up to 46 K where it was not (tests/burnout/test_kiln_fit.py)."""

Doubt: TypeAlias = Callable[[si.Kelvins, si.Kelvins, si.Ratios, si.Second], si.Kelvins]
"""By how much the air may be hotter than told, K: from the air at a check, the air told, the
place of the dial and the time between."""

CAUTION = (
    "Read the gauge at each check. The kiln can run hotter than this plan says: turn it off "
    "when the gauge nears the top, whatever is written here. Never leave a hand-turned kiln "
    "alone on a setting that could take it over the top."
)
"""Belongs beside the turns wherever they are shown; common practice, no source."""

_PIECES = 3  # of the time between two checks, at whose ends the miss is taken
_MOST_WAYS = 4000  # kept from one check to the next


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One turn of the dial.

    Parameters
    ----------
    time : float [s]
        Since the block went in.
    clock : str
        On the wall, such as "10:40".
    setting : float [-]
    """

    time: si.Second
    clock: str
    setting: si.Ratio

    @property
    def text(self) -> str:
        """The turn in words, such as "10:40 to 3"."""
        return f"{self.clock} to {place_told(self.setting)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DialPlan:
    """Turns of the dial for a day, and what the air does under them.

    Parameters
    ----------
    turns : tuple of Turn
        The first is at the start.
    curve : Curve
        Air that results, if the kiln is as it was fitted.
    miss : float [K]
        Root mean square over the day between this air and what is wanted.
    worst : float [K]
        Largest miss.
    worst_at : float [s]
        When.
    """

    turns: tuple[Turn, ...]
    curve: Curve
    miss: si.Kelvin
    worst: si.Kelvin
    worst_at: si.Second


def dial_plan(
    body: Body,
    curve: Curve,
    settings: Sequence[si.Ratio],
    *,
    every: si.Second,
    start_clock: si.Second,
    top: si.Kelvin,
    reserve: si.Kelvin = RESERVE,
    worth: si.Kelvin = WORTH,
    load: tuple[si.Seconds, si.KelvinsPerSecond] | None = None,
    doubt: Doubt | None = None,
) -> DialPlan:
    """Return the turns that keep a kiln near a curve and under a top.

    Parameters
    ----------
    body : Body
        The kiln as fitted.
    curve : Curve
        What is wanted; its first temperature is that of the kiln at the start.
    settings : sequence of float [-]
        Places that the dial can be turned to; inside those of the body.
    every : float [s]
        Between two checks; 300 to 7200.
    start_clock : float [s]
        When the block goes in, since midnight; 0 to 86 400.
    top : float [K]
        Never over it; 760 °C while any char is there.
    reserve : float [K]
        By which the forecast air stays under the top; 0 or more.
    worth : float [K]
        Of a turn; 0 or more.  A larger one makes fewer turns.
    load : tuple of array [s] and array [K/s], or None
        Heat that the blocks take over the day, over the capacity of the kiln, at
        moments that rise; None: they are part of the kiln.
    doubt : Doubt or None
        Kept under the top beside the reserve.  None: the reserve alone.

    Returns
    -------
    DialPlan

    Raises
    ------
    InputError
        If a value is out of its limits, or no setting keeps the kiln under the top.
    """
    places = np.unique(np.asarray(settings, dtype=float))
    if places.size == 0:
        raise InputError("settings of the dial", "none", "", "one or more")
    require_between("time between checks", every, "s", 300.0, 7200.0)
    require_between("clock at the start", start_clock, "s", 0.0, 86_400.0)
    require_not_negative("reserve", reserve, "K")
    require_not_negative("worth of a turn", worth, "K")
    require_finite("top of the kiln", top, "K")
    if load is not None:
        require_finite("load of the kiln", load[1], "K/s")
    checks = _checks(float(curve.time[-1]), every, start_clock)
    cut = _cut(checks)
    pull = np.zeros(cut.size) if load is None else np.interp(cut, *load)
    chosen = _cheapest(
        body, curve, places, checks, pull, limit=top - reserve, worth=worth, doubt=doubt
    )
    turned = np.flatnonzero(np.diff(chosen, prepend=np.nan) != 0.0)
    time = np.unique(np.concatenate((cut, curve.time)))
    held = np.clip(np.searchsorted(cut, time, side="right") - 1, 0, cut.size - 1)
    dial = chosen[np.clip(np.searchsorted(checks, time, side="right") - 1, 0, chosen.size - 1)]
    air = air_of(body, time, dial, float(curve.temperature[0]), pull[held])
    off = np.abs(air - temperature_at(curve, time))
    span = np.diff(time)
    worst = int(off.argmax())
    return DialPlan(
        turns=tuple(
            Turn(
                time=float(checks[place]),
                clock=_clock(start_clock, float(checks[place])),
                setting=float(chosen[place]),
            )
            for place in turned
        ),
        curve=Curve(name="by the dial", time=time, temperature=air),
        miss=float(np.sqrt((0.5 * (off[1:] ** 2 + off[:-1] ** 2)) @ span / span.sum())),
        worst=float(off[worst]),
        worst_at=float(time[worst]),
    )


def _clock(start: float, time: float) -> str:
    day = int((start + time) // 86_400.0)
    shown = as_clock(start + time)
    return shown if day == 0 else f"{shown} (day {day + 1})"


def _checks(end: float, every: float, start_clock: float) -> si.Seconds:
    """Return the start, each check on the clock, and the end."""
    first = every - start_clock % every
    inner = np.arange(first, end, every)
    # A check that comes right after the start or before the end is none.
    inner = inner[(inner > 0.25 * every) & (inner < end - 0.25 * every)]
    return np.concatenate(([0.0], inner, [end]))


def _cut(checks: si.Seconds) -> si.Seconds:
    """Return the checks with the moments between them at which the miss is taken."""
    share = np.arange(_PIECES) / _PIECES
    inner = checks[:-1, None] + np.diff(checks)[:, None] * share
    return np.append(inner.ravel(), checks[-1])


def _cheapest(
    body: Body,
    curve: Curve,
    places: si.Ratios,
    checks: si.Seconds,
    pull: si.KelvinsPerSecond,
    *,
    limit: float,
    worth: float,
    doubt: Doubt | None,
) -> si.Ratios:
    """Return the place of the dial from each check to the next, equation (1)."""
    heating = heating_at(body, places)
    count = places.size
    air = np.array([curve.temperature[0]])
    cost, last = np.zeros(1), np.full(1, -1)
    came_from: list[si.Integers] = []
    turned_to: list[si.Integers] = []
    usual = float(np.diff(checks).max())
    for check, (begin, end) in enumerate(itertools.pairwise(checks.tolist())):
        here = before = np.repeat(air, count)
        place = np.tile(np.arange(count), air.size)
        source = np.repeat(np.arange(air.size), count)
        moves = (place != last[source]) & (last[source] >= 0)
        total = cost[source] + worth**2 * moves
        piece = (end - begin) / _PIECES
        good = np.ones(here.size, dtype=bool)
        for cut in range(1, _PIECES + 1):
            push = heating[place] - pull[check * _PIECES + cut - 1]
            here = moved(body, here, push, piece)
            if doubt is None:
                good &= here <= limit
            else:
                hotter = doubt(before, here, places[place], cut * piece)
                good &= (here + hotter <= limit) | (places[place] == 0.0)
            wanted = temperature_at(curve, np.array([begin + cut * piece]))[0]
            # A last check that is cut short weighs by its length.
            total += (here - wanted) ** 2 * (end - begin) / (_PIECES * usual)
        if not good.any():
            raise InputError(
                "settings of the dial",
                ", ".join(f"{setting:g}" for setting in places),
                "",
                said("with one that keeps the kiln under {limit}", limit=Heat(limit)),
                "Add 0, off, to the settings.",
            )
        kept = _sifted(here, place, np.where(good, total, np.inf), count)
        air, cost, last = here[kept], total[kept], place[kept]
        came_from.append(source[kept])
        turned_to.append(place[kept])
    best = int(cost.argmin())
    chosen: list[float] = []
    for sources, turned in zip(reversed(came_from), reversed(turned_to), strict=True):
        chosen.append(float(places[turned[best]]))
        best = int(sources[best])
    return np.array(chosen[::-1])


def _sifted(air: si.Kelvins, place: si.Integers, total: si.Table, count: int) -> si.Integers:
    """Return the cheapest way to each heat and place of the dial."""
    cell = np.floor(air / SAME_HEAT).astype(np.int64) * count + place
    order = np.lexsort((total, cell))
    first = np.concatenate(([True], np.diff(cell[order]) != 0))
    kept = order[first]
    kept = kept[np.isfinite(total[kept])]
    if kept.size > _MOST_WAYS:
        kept = kept[np.argsort(total[kept], kind="stable")[:_MOST_WAYS]]
    return np.asarray(kept)
