"""Pictures in the rows of the day: bench, mix, fill times, and rulers.

None of them says more than the words and numbers beside it.
"""

import math

import numpy as np
from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.forecast.model import Forecast, PartForecast
from pourcast.page import words as said
from pourcast.page.figures import clean, grams, millimetres, number, seconds
from pourcast.page.svg_shapes import View, silhouette
from pourcast.page.usual import Chosen

MOST_ROWS = 12
"""Parts in the picture of fill times; the slowest are kept."""


def bench(forecast: Forecast) -> Markup:
    """Return the piece upright on its button inside the flask, from the side."""
    flask, button = forecast.plan.flask, forecast.plan.piece.button
    mould = forecast.mould
    scale = min(168.0 / flask.inside_diameter, 230.0 / flask.height)
    radius, high = flask.inside_diameter / 2 * scale, flask.height * scale
    floor, middle = 18.0 + high, 200.0
    tip = floor - mould.depth * scale
    reach = forecast.measures.reach * scale
    shut = radius + 4.0
    steel = (
        f"M{middle - shut:.1f},18V{floor:.1f}M{middle - radius:.1f},18V{floor:.1f}"
        f"M{middle + radius:.1f},18V{floor:.1f}M{middle + shut:.1f},18V{floor:.1f}"
    )
    cup = (
        f"M{middle - button.diameter / 2 * scale:.1f},{floor:.1f}"
        f"H{middle + button.diameter / 2 * scale:.1f}"
        f"L{middle + button.gate_diameter / 2 * scale:.1f},{floor - button.height * scale:.1f}"
        f"H{middle - button.gate_diameter / 2 * scale:.1f}Z"
    )
    level = View(scale=scale, top=button.height, elevation=0.0)
    outline = silhouette(forecast, level)
    beside = _heights_of_reach(forecast, floor, scale)
    side = millimetres(abs(mould.wall_gap)) + (" past it" if mould.wall_gap < 0.0 else "")
    over = millimetres(abs(mould.far_cover)) + (" over" if mould.far_cover >= 0.0 else " too tall")
    gap = (
        f"M{middle + reach:.1f},{beside:.1f}H{middle + radius:.1f}"
        f"M{middle + reach:.1f},{beside - 5:.1f}v10M{middle + radius:.1f},{beside - 5:.1f}v10"
    )
    cover = f"M{middle:.1f},18V{tip:.1f}M{middle - 5:.1f},18h10M{middle - 5:.1f},{tip:.1f}h10"
    right = middle + shut + 8.0
    above = (18 + tip) / 2 + 5.0
    if abs(above - beside - 5.0) < 20.0:
        above = beside - 15.0
    # A piece that is too tall for its flask is drawn whole.
    over_all = min(0.0, tip - 8.0)
    return Markup(
        f'<svg class="pic" viewBox="0 {over_all:.0f} 400 {floor + 30 - over_all:.0f}" '
        f'role="img" aria-label="The piece upright on its button inside the flask. '
        f'{escape(said.bench(forecast))}"><rect class="sandf" x="{middle - radius:.1f}" y="18" '
        f'width="{2 * radius:.1f}" height="{high:.1f}"/><path class="ax" d="{steel}"/>'
        f'<path class="inkf" d="{cup}"/><g '
        f'transform="translate({middle:.1f},{floor:.1f}) scale(1,-1)">{outline}</g>'
        f'<path class="ax" d="M70,{floor:.1f}H330"/><text class="t2" x="70" y="{floor + 18:.0f}">'
        f'bench</text><path class="eml" d="{gap}"/><path class="eml" d="{cover}"/>'
        f'<text class="te" x="{right:.0f}" y="{beside + 5:.0f}">{side}</text>'
        f'<text class="te" x="{right:.0f}" y="{above:.0f}">{over}</text>'
        f'<text class="t2" x="{middle - shut - 8:.0f}" y="60" text-anchor="end">'
        f"{escape(flask.wall)}</text>"
        f'<text class="t2" x="{middle - shut - 8:.0f}" y="77" text-anchor="end">wall</text></svg>'
    )


def _heights_of_reach(forecast: Forecast, floor: float, scale: float) -> float:
    """Return where, down the picture, the piece reaches farthest from the axis."""
    network = forecast.network
    far = np.hypot(network.end_position[:, 0], network.end_position[:, 1])
    height = float(network.end_position[int(np.argmax(far)), 2])
    return floor - (forecast.plan.piece.button.height - height) * scale


def mix(forecast: Forecast) -> Markup:
    """Return powder and water as two bars on one scale of weight."""
    mould = forecast.mould
    most = max(mould.powder, mould.water)
    rows = [("powder", mould.powder, "inkf"), ("water", mould.water, "hol")]
    bars = "".join(
        f'<text x="72" y="{34 + 44 * k}" text-anchor="end">{name}</text>'
        f'<rect class="{look}" x="84" y="{18 + 44 * k}" width="{220 * mass / most:.1f}" '
        f'height="22"/><text x="{92 + 220 * mass / most:.1f}" y="{34 + 44 * k}">'
        f"{grams(mass)}</text>"
        for k, (name, mass, look) in enumerate(rows)
    )
    label = f"By weight: {grams(mould.powder)} of powder, {grams(mould.water)} of water"
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 100" role="img" aria-label="{label}">{bars}</svg>'
    )


def fill_times(forecast: Forecast) -> Markup:
    """Return when each part was full, early to late, all on one scale of time.

    Parts that were full in no pour have no time and are named in words.
    """
    numbered = [(k + 1, part) for k, part in enumerate(forecast.parts)]
    timed = [(k, part, part.fill_time) for k, part in numbered if part.fill_time is not None]
    if not timed:
        return Markup(
            '<p class="small">No part was full in any pour, so there is no fill time.</p>'
        )
    slowest = sorted(timed, key=lambda row: -row[2].p90)[:MOST_ROWS]
    kept = sorted(slowest, key=lambda row: row[0])
    step, last = _ticks(max(row[2].p90 for row in kept))
    foot = 40 + 50 * len(kept)
    bars = []
    spoken = []
    for row, (k, part, times) in enumerate(kept):
        y = 72 + 50 * row
        a, b, c = (_along(time, last) for time in (times.p10, times.p50, times.p90))
        span = f"{number(times.p10, 2)} to {seconds(times.p90)}"
        bars.append(
            f'<text x="8" y="{y - 14}">{_short(k, part)}</text>'
            f'<text class="t2" x="392" y="{y - 14}" text-anchor="end">{span}</text>'
            f'<path class="gr" d="M8,{y}H392"/><rect class="band" x="{a:.1f}" y="{y - 8}" '
            f'width="{max(c - a, 1.5):.1f}" height="16"/>'
            f'<path class="l1" d="M{b:.1f},{y - 10}v20"/>'
        )
        spoken.append(f"{clean(part.name)} {span}")
    ticks = [step * k for k in range(round(last / step) + 1)]
    axis = f"M8,{foot}H392" + "".join(f"M{_along(t, last):.1f},{foot}v6" for t in ticks)
    marks = "".join(
        f'<text class="t2" x="{_along(t, last):.1f}" y="{foot + 22}" '
        f'text-anchor="{"end" if t == ticks[-1] else "middle"}">{number(t)}</text>'
        for t in ticks
    )
    return Markup(
        '<svg class="pic" viewBox="0 0 400 {high}" role="img" aria-label="{label}">'
        '<text class="t2" x="8" y="18">seconds until full: early, usual, late</text>{drawn}</svg>'
    ).format(
        high=foot + 30,
        label="Seconds from the first metal until each part is full, early to late: "
        + "; ".join(spoken),
        drawn=Markup("".join(bars) + f'<path class="ax" d="{axis}"/>{marks}'),
    )


def untimed(forecast: Forecast) -> str:
    """Return the sentence that names parts which no fill time is drawn for; "" if none."""
    never = [clean(part.name) for part in forecast.parts if part.fill_time is None]
    if not never or len(never) == len(forecast.parts):
        return ""
    return f"Full in no pour: {', '.join(never)}."


def ruler(chosen: Chosen) -> Markup:
    """Return a ruler with the usual range as a pale band and the value as a mark."""
    if chosen.value is None or chosen.usual is None:
        return Markup("")
    low, high = chosen.usual
    room = 0.35 * (high - low)
    start, stop = min(low - room, chosen.value), max(high + room, chosen.value)

    def at(value: float) -> float:
        return 8.0 + 404.0 * (value - start) / (stop - start)

    ticks = "".join(f"M{at(start + (stop - start) * k / 20):.1f},12v5" for k in range(21))
    mark = at(chosen.value)
    return Markup(
        f'<svg class="rule-s" viewBox="0 0 420 38" aria-hidden="true">'
        f'<rect class="band" x="{at(low):.1f}" y="4" width="{at(high) - at(low):.1f}" height="8"/>'
        f'<path d="M8,12H412{ticks}"/><text x="{at(low):.1f}" y="34" text-anchor="middle">'
        f'{number(low, 4)}</text><text x="{at(high):.1f}" y="34" text-anchor="middle">'
        f'{number(high, 4)}</text><path class="now" d="M{mark - 7:.1f},-1h14l-7,13Z"/></svg>'
    )


def strength(correlation: si.Ratio) -> Markup:
    """Return a bar as long as a rank correlation is strong, 0 to 1."""
    return Markup(
        f'<svg class="strength" viewBox="0 0 100 10" preserveAspectRatio="none" '
        f'aria-hidden="true"><path d="M0,5H100"/><rect x="0" y="1" '
        f'width="{100 * abs(correlation):.1f}" height="8"/></svg>'
    )


def _along(time: si.Second, last: si.Second) -> float:
    return 8.0 + 384.0 * time / last


def _ticks(most: si.Second) -> tuple[float, float]:
    """Return a round step and the end of a scale that holds ``most``."""
    rough = max(most, 1e-6) / 4.0
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * k for k in (1.0, 2.0, 5.0, 10.0) if power * k >= rough)
    return step, step * math.ceil(most / step - 1e-9)


def _short(k: int, part: PartForecast) -> Markup:
    name = clean(part.name)
    return escape(f"{k} {name if len(name) <= 22 else name[:21] + '…'}")
