"""Picture of a kiln day: the plan, the readings, the way on, and when it is dry and clean.

It says no more than the words beside it.
"""

import math
from collections.abc import Callable

import numpy as np
from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.day.model import DayForecast, Judged
from pourcast.forecast.model import Hour
from pourcast.page import words_day as said
from pourcast.page.figures import axis_marks
from pourcast.runsheet.model import Zone
from pourcast.speech import CELSIUS, Speech

_Along = Callable[[float], float]

LEFT, RIGHT, TOP, FOOT = 46.0, 392.0, 20.0, 220.0
"""Edges of the drawing, in the units of the picture."""

_STEPS_OF_HOURS = (1, 2, 3, 4, 6, 12, 24)
_MOST_TICKS = 7
_MOST_POINTS = 400


def day_so_far(
    forecast: DayForecast, zone: Zone, *, stop: si.Kelvin, speech: Speech = CELSIUS
) -> Markup:
    """Return plan, readings and the way on over the hours of the clock.

    Parameters
    ----------
    forecast : DayForecast
    zone : Zone
    stop : float [K]
        Heat that stops a burnout while char is there.
    speech : Speech
    """
    last = max(float(forecast.planned.time[-1]), float(forecast.curve.time[-1]))
    most = max(float(forecast.planned.temperature.max()), float(forecast.curve.temperature.max()))
    high = 100.0 * math.ceil(si.from_si(max(most, stop), "degC") / 100.0 + 0.2)

    def x(time: float) -> float:
        return LEFT + (RIGHT - LEFT) * min(max(time / last, 0.0), 1.0)

    def y(temperature: float) -> float:
        return FOOT - (FOOT - TOP) * si.from_si(temperature, "degC") / high

    def line(times: si.Seconds, values: si.Kelvins) -> str:
        pairs = zip(times.tolist(), values.tolist(), strict=True)
        return "M" + "L".join(f"{x(time):.1f},{y(value):.1f}" for time, value in pairs)

    grid = "".join(
        f'<path class="gr" d="M{LEFT},{y(heat):.1f}H{RIGHT}"/>'
        f'<text class="t2" x="{LEFT - 6}" y="{y(heat) + 4:.1f}" '
        f'text-anchor="end">{told}</text>'
        for heat, told in axis_marks(si.to_si(high, "degC"), speech)
    )
    ticks = "".join(
        f'<path class="ax" d="M{x(hour * 3600.0):.1f},{FOOT}v5"/>'
        f'<text class="t2" x="{x(hour * 3600.0):.1f}" y="{FOOT + 18}" text-anchor="middle">'
        f"{escape(said.clock(zone, forecast.start + hour * 3600.0))}</text>"
        for hour in _hours(last)
    )
    now = forecast.known_until
    on = forecast.curve.time >= now
    ahead = ""
    if on.sum() > 1:
        ahead = f'<path class="l1 dash" d="{line(*_thinned(forecast, on))}"/>'
    points = "".join(
        f'<circle class="{"inkf" if each.doubt is None else "hol"}" '
        f'r="{2.2 if each.doubt is None else 4}" '
        f'cx="{x(each.reading.at - forecast.start):.1f}" cy="{y(each.reading.temperature):.1f}"/>'
        for each in _shown(forecast)
    )
    marks = "".join(
        _mark(said.SHOWN[key], hour, x, number_of)
        for number_of, (key, (hour, _)) in enumerate(said.hours(forecast).items())
    )
    spoken = escape(said.answer(forecast, zone))
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {FOOT + 24:.0f}" role="img" '
        f'aria-label="The day so far. {spoken}">{grid}'
        f'<path class="limit hard" d="M{LEFT},{y(stop):.1f}H{RIGHT}"/>'
        f'<path class="l2" d="{line(forecast.planned.time, forecast.planned.temperature)}"/>'
        f'{ahead}{points}<path class="thin" d="M{x(now):.1f},{TOP}V{FOOT}"/>{marks}{ticks}'
        f'<path class="ax" d="M{LEFT},{FOOT}H{RIGHT}"/>'
        f'<text class="t2" x="{LEFT}" y="{TOP - 8}">'
        f"{speech.unit}: plan, read (dots), ahead (broken)</text>"
        f'<text class="te" x="{RIGHT}" y="{y(stop) - 4:.1f}" text-anchor="end">'
        f"{speech.figure(stop)} stops</text></svg>"
    )


def _thinned(forecast: DayForecast, on: si.Booleans) -> tuple[si.Seconds, si.Kelvins]:
    """Return the way on, with no more points than a picture can show."""
    time, temperature = forecast.curve.time[on], forecast.curve.temperature[on]
    each = max(1, time.size // _MOST_POINTS)
    kept = np.unique(np.append(np.arange(0, time.size, each), time.size - 1))
    return time[kept], temperature[kept]


def _shown(forecast: DayForecast) -> list[Judged]:
    kiln = [each for each in forecast.readings if each.reading.place != "metal"]
    each = max(1, len(kiln) // _MOST_POINTS)
    return [
        point for place, point in enumerate(kiln) if place % each == 0 or point.doubt is not None
    ]


def _mark(name: str, hour: Hour, x: _Along, place: int) -> str:
    """Return the middle of an hour as a line, and where 8 of 10 draws lie as a bar across it."""
    if hour.p50 is None:
        return ""
    at, height = x(hour.p50), FOOT - 10 - 20 * place
    side, gap = ("end", -5.0) if at > 0.6 * RIGHT else ("start", 5.0)
    low = at if hour.p10 is None else x(hour.p10)
    high = RIGHT if hour.p90 is None else x(hour.p90)
    return (
        f'<path class="eml" d="M{at:.1f},{TOP + 40}V{FOOT}"/>'
        f'<path class="eml" d="M{low:.1f},{height + 4:.1f}H{high:.1f}"/>'
        f'<text class="te halo" x="{at + gap:.1f}" y="{height:.1f}" '
        f'text-anchor="{side}">{name}</text>'
    )


def _hours(last: si.Second) -> list[int]:
    whole = last / 3600.0
    step = next((s for s in _STEPS_OF_HOURS if whole / s <= _MOST_TICKS), _STEPS_OF_HOURS[-1])
    return list(range(0, math.floor(whole) + 1, step))
