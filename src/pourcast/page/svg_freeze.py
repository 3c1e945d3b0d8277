"""Pictures of freezing and quench: when each part is solid, and the window for water."""

import math

from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.forecast.model import FreezeForecast, Spread
from pourcast.freeze.checks import HALF
from pourcast.page.figures import clean, number, seconds
from pourcast.page.words_freeze import quench_spread
from pourcast.speech import CELSIUS, Speech

MOST_ROWS = 10
"""Parts in the picture; the slowest are kept."""

_LEFT, _RIGHT = 132.0, 300.0
_MINUTE = 60.0


def when_solid(freeze: FreezeForecast) -> Markup:
    """Return when each part and the cup are solid, early to late, on a scale by tenfold steps.

    Parameters
    ----------
    freeze : FreezeForecast
    """
    short = {spot.part for spot in freeze.spots if spot.chance >= HALF}
    rows: list[tuple[str, Spread, str]] = [
        (f"{place} {clean(part.name)}", part.solid, "bad" if part.name in short else "")
        for place, part in enumerate(freeze.parts, start=1)
        if part.solid is not None
    ]
    rows = sorted(rows, key=lambda row: row[1].p50)[-MOST_ROWS:]
    if freeze.button_solid is not None:
        rows.append(("cup", freeze.button_solid, ""))
    if not rows:
        return Markup('<p class="small">No metal was followed to its end.</p>')
    least = min(row[1].p10 for row in rows)
    most = max(row[1].p90 for row in rows)
    bottom = 10.0 ** math.floor(math.log10(max(least, 1e-3)))

    def x(time: float) -> float:
        share = math.log(max(time, bottom) / bottom) / math.log(most / bottom)
        return _LEFT + (_RIGHT - _LEFT) * share

    drawn, spoken = [], []
    for row, (name, solid, look) in enumerate(rows):
        y = 34 + 30 * row
        shown = name if len(name) <= 15 else name[:14] + "…"
        ink = "eml" if look else "l1"
        at = x(solid.p50)
        drawn.append(
            f'<text x="{_LEFT - 8}" y="{y + 5}" text-anchor="end">{escape(shown)}</text>'
            f'<rect class="band" x="{x(solid.p10):.1f}" y="{y - 8}" '
            f'width="{max(x(solid.p90) - x(solid.p10), 1.5):.1f}" height="16"/>'
            f'<path class="{ink}" d="M{_LEFT},{y}H{at:.1f}M{at:.1f},{y - 8}v16"/>'
            f'<text class="{"te" if look else "t2"}" x="{x(solid.p90) + 8:.1f}" y="{y + 5}">'
            f"{seconds(solid.p50)}</text>"
        )
        spoken.append(
            f"{name} {number(solid.p10, 2)} to {seconds(solid.p90)}, usually {seconds(solid.p50)}"
        )
    foot = 34 + 30 * len(rows)
    label = escape("When each part is solid after the pour began: " + "; ".join(spoken))
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {foot + 4}" role="img" aria-label="{label}">'
        f'<text class="t2" x="8" y="16">solid, from the pour on: early, usual, late</text>'
        f"{''.join(drawn)}</svg>"
    )


def quench_window(freeze: FreezeForecast, speech: Speech = CELSIUS) -> Markup:
    """Return the minutes after the pour in which the quench lies.

    Parameters
    ----------
    freeze : FreezeForecast
    """
    first, last = freeze.quench_from.p90, freeze.quench_to.p50
    if first is None or last is None or last <= first:
        return Markup('<p class="small">No window for the quench can be drawn.</p>')
    end = min(max(1.35 * last, 1.2 * (freeze.quench_to.p90 or 0.0)), 2.2 * last)

    def x(time: si.Second) -> float:
        return 8.0 + 384.0 * time / end

    a, b = x(first), x(last)
    label = escape(f"Window for the quench. {quench_spread(freeze, speech)}")
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 92" role="img" aria-label="{label}">'
        f'<text x="{a:.1f}" y="18">water, once it is dark</text>'
        f'<text class="t2" x="392" y="18" text-anchor="end">powder clings</text>'
        f'<rect class="band" x="8" y="28" width="384" height="22"/>'
        f'<rect class="inkf" x="{a:.1f}" y="28" width="{b - a:.1f}" height="22"/>'
        f'<text class="t2" x="8" y="72">pour</text>'
        f'<text class="t2" x="{max(a, 60.0):.1f}" y="72" text-anchor="middle">'
        f"{_minutes(first)}</text>"
        f'<text class="t2" x="{b:.1f}" y="72" text-anchor="middle">{_minutes(last)} min</text>'
        "</svg>"
    )


def _minutes(time: si.Second) -> str:
    return number(time / _MINUTE, 2)
