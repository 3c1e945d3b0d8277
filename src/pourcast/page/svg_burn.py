"""Pictures of the burnout: heat over the day, and what is left of water and char.

Neither says more than the words and numbers beside it.
"""

import math
from collections.abc import Callable

from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.forecast.model import BurnoutForecast
from pourcast.page import words_burn as said
from pourcast.page.figures import axis_marks
from pourcast.speech import CELSIUS, Speech

_Along = Callable[[float], float]

LEFT, RIGHT, TOP, FOOT = 46.0, 392.0, 20.0, 200.0
"""Edges of the drawing of heat, in the units of the picture."""

_SHARE_TOP, _SHARE_FOOT = 246.0, 316.0
_STEPS_OF_HOURS = (1, 2, 3, 4, 6, 12, 24)
_MOST_TICKS = 8


def heat_over_the_day(
    burnout: BurnoutForecast,
    *,
    top: si.Kelvin,
    stop: si.Kelvin,
    start: si.Second | None = None,
    speech: Speech = CELSIUS,
) -> Markup:
    """Return kiln, wall and core over the day, with the limits drawn in.

    Below it stand the free water and the char that are left.

    Parameters
    ----------
    burnout : BurnoutForecast
    top, stop : float [K]
        Usual top of a burnout, and the heat that stops it while char is there.
    start : float or None [s]
        Time of day at which the block goes in.
    speech : Speech
    """
    last = float(burnout.time[-1])
    most = max(float(burnout.kiln.max()), float(burnout.wall.max()), stop)
    high = 100.0 * math.ceil(si.from_si(most, "degC") / 100.0 + 0.2)

    def x(time: float) -> float:
        return LEFT + (RIGHT - LEFT) * time / last

    def y(temperature: float) -> float:
        return FOOT - (FOOT - TOP) * si.from_si(temperature, "degC") / high

    hours = _hours(last)
    grid = "".join(
        f'<path class="gr" d="M{LEFT},{y(heat):.1f}H{RIGHT}"/>'
        f'<text class="t2" x="{LEFT - 6}" y="{y(heat) + 4:.1f}" '
        f'text-anchor="end">{told}</text>'
        for heat, told in axis_marks(si.to_si(high, "degC"), speech)
    )
    limits = "".join(
        f'<path class="{look}" d="M{LEFT},{y(limit):.1f}H{RIGHT}"/>'
        for limit, look in ((top, "limit"), (stop, "limit hard"))
    )
    ticks = "".join(
        f'<path class="ax" d="M{x(h * 3600.0):.1f},{FOOT}v5"/>'
        f'<text class="t2" x="{x(h * 3600.0):.1f}" y="{FOOT + 18}" text-anchor="middle">'
        f"{_hour_mark(h, start)}</text>"
        for h in hours
    )
    band = (
        f'<path class="band" d="{_strip(burnout.time, burnout.core[0], burnout.core[2], x, y)}"/>'
    )
    lines = "".join(
        f'<path class="{look}" d="{_line(burnout.time, values, x, y)}"/>'
        for values, look in (
            (burnout.kiln, "l2"),
            (burnout.wall[1], "thin"),
            (burnout.core[1], "l1 dash"),
        )
    )
    clean_band, marks = _clean_band(burnout, x), _marks(burnout, x, start)
    shares = _shares(burnout, x)
    names = (
        f'<text class="t2" x="{LEFT}" y="{TOP - 8}">'
        f"{speech.unit}: kiln, wall (thin), core (broken line)</text>"
        f'<text class="te" x="{RIGHT}" y="{y(stop) - 4:.1f}" text-anchor="end">'
        f"{speech.figure(stop)} stops</text>"
    )
    spoken = escape(f"{said.answer(burnout, start)} {said.heat(burnout, speech)}")
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {_SHARE_FOOT + 22:.0f}" role="img" '
        f'aria-label="Heat over the day. {spoken}">{grid}{clean_band}{band}{limits}{lines}'
        f"{ticks}{marks}"
        f'<path class="ax" d="M{LEFT},{FOOT}H{RIGHT}"/>{names}{shares}</svg>'
    )


def _clean_band(burnout: BurnoutForecast, x: _Along) -> str:
    """Return the pale band in which it comes clean, early to late; "" where it does not."""
    clean = burnout.clean_at
    if clean.p10 is None:
        return ""
    end = clean.p90 if clean.p90 is not None else float(burnout.time[-1])
    left, right = x(clean.p10), x(end)
    return (
        f'<rect class="band" x="{left:.1f}" y="{TOP}" width="{max(right - left, 1.5):.1f}" '
        f'height="{FOOT - TOP}"/>'
    )


def _marks(burnout: BurnoutForecast, x: _Along, start: si.Second | None) -> str:
    """Return when it is dry and when it is clean, as lines with their hours."""
    drawn = ""
    clean = burnout.clean_at
    # Low in the drawing: under the lines of heat, over the axis.
    for hour, name, up in ((burnout.dry_at, "dry", 30.0), (clean, "clean", 10.0)):
        if hour.p50 is not None:
            at = x(hour.p50)
            side = "end" if at > 0.6 * RIGHT else "start"
            gap = -5.0 if side == "end" else 5.0
            drawn += (
                f'<path class="eml" d="M{at:.1f},{TOP}V{FOOT}"/>'
                f'<text class="te halo" x="{at + gap:.1f}" y="{FOOT - up}" '
                f'text-anchor="{side}">{name} {said.bare(hour.p50, start, day=False)}</text>'
            )
    return drawn


def _shares(burnout: BurnoutForecast, x: _Along) -> str:
    """Return free water and char left, each over its most."""
    most = float(burnout.char[1].max())
    drawn = (
        f'<text class="t2" x="{LEFT}" y="{_SHARE_TOP - 6}">left: water, char (broken line)</text>'
        f'<path class="ax" d="M{LEFT},{_SHARE_FOOT}H{RIGHT}"/>'
        f'<text class="t2" x="{LEFT - 6}" y="{_SHARE_TOP + 5}" text-anchor="end">all</text>'
        f'<text class="t2" x="{LEFT - 6}" y="{_SHARE_FOOT}" text-anchor="end">none</text>'
    )
    for values, most_of, look in ((burnout.water, 1.0, "l1"), (burnout.char, most, "l1 dash")):
        if most_of <= 0.0:
            continue

        def y(value: float, whole: float = most_of) -> float:
            return _SHARE_FOOT - (_SHARE_FOOT - _SHARE_TOP) * min(value / whole, 1.0)

        drawn += f'<path class="{look}" d="{_line(burnout.time, values[1], x, y)}"/>'
    return drawn


def _line(times: si.Seconds, values: si.Floats, x: _Along, y: _Along) -> str:
    pairs = zip(times.tolist(), values.tolist(), strict=True)
    return "M" + "L".join(f"{x(time):.1f},{y(value):.1f}" for time, value in pairs)


def _strip(times: si.Seconds, low: si.Floats, high: si.Floats, x: _Along, y: _Along) -> str:
    there = zip(times.tolist(), high.tolist(), strict=True)
    back = zip(times.tolist()[::-1], low.tolist()[::-1], strict=True)
    points = [f"{x(time):.1f},{y(value):.1f}" for time, value in (*there, *back)]
    return "M" + "L".join(points) + "Z"


def _hours(last: si.Second) -> list[int]:
    whole = last / 3600.0
    step = next((s for s in _STEPS_OF_HOURS if whole / s <= _MOST_TICKS), _STEPS_OF_HOURS[-1])
    return list(range(0, math.floor(whole) + 1, step))


def _hour_mark(hour: int, start: si.Second | None) -> str:
    if start is None:
        return f"{hour} h"
    minutes = round(start / 60.0) + 60 * hour
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"
