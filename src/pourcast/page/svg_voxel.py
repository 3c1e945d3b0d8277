"""Pictures of the freezing in cells: the block in section, and how places cool."""

import math

import numpy as np
from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.freeze.fields import Section, VoxelFields
from pourcast.page.figures import axis_marks, clean, degrees, number, with_unit
from pourcast.speech import CELSIUS, Speech

STEPS = 10
"""Colours; classes h0 to h9 of the style."""

COLDEST, HOTTEST = 300.0, 1100.0
"""°C at the ends of the scale."""

MOST_CELLS = 64
"""Cells across a picture; finer fields are thinned, so that a page stays small."""

MOST_CURVES = 6

_WIDE = 186.0
_MINUTE = 60.0


def sections(fields: VoxelFields, speech: Speech = CELSIUS) -> Markup:
    """Return the block cut through its axis at each time that was kept."""
    kept = fields.sections
    if not kept:
        return Markup('<p class="small">It was stopped before the first picture.</p>')
    drawn, spoken = [], []
    foot = 0.0
    for place, section in enumerate(kept):
        field = _thinned(section)
        high = _WIDE * field.shape[0] / field.shape[1]
        left, top = (place % 2) * (_WIDE + 28.0), (place // 2) * (high + 34.0)
        foot = max(foot, top + high + 34.0)
        name = with_unit(section.time / _MINUTE, "min", 2)
        known = section.temperature[np.isfinite(section.temperature)]
        ends = [degrees(float(end), speech) for end in (known.min(), known.max())]
        spoken.append(f"{name}: {ends[0]} to {ends[1]}")
        drawn.append(
            f'<g transform="translate({left:.0f},{top + 20:.0f})"><text class="t2" '
            f'x="{_WIDE / 2:.0f}" y="-6" text-anchor="middle">{name}</text>'
            f"{_cells(field, high)}</g>"
        )
    label = escape("The block in section after the pour. " + "; ".join(spoken))
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {foot + 40:.0f}" role="img" aria-label="{label}">'
        f"{''.join(drawn)}{_legend(foot, speech)}</svg>"
    )


def _thinned(section: Section) -> si.Kelvins:
    """Return a field with the button up, rows down the page, at most `MOST_CELLS` wide."""
    every = max(1, math.ceil(section.temperature.shape[0] / MOST_CELLS))
    return np.asarray(section.temperature[::every, ::every].T[::-1])


def _cells(field: si.Kelvins, high: float) -> str:
    rows, columns = field.shape
    share = (field - si.ZERO_CELSIUS - COLDEST) / (HOTTEST - COLDEST)
    inside = np.isfinite(share)
    shade = np.clip((np.where(inside, share, 0.0) * STEPS).astype(np.int64), 0, STEPS - 1)
    shade[~inside] = -1
    made = []
    for row in range(rows):
        start = 0
        for column in range(1, columns + 1):
            if column < columns and shade[row, column] == shade[row, start]:
                continue
            if shade[row, start] >= 0:
                left, wide = _WIDE * start / columns, _WIDE * (column - start) / columns
                made.append(
                    f'<rect class="h{shade[row, start]}" x="{left:.1f}" '
                    f'y="{high * row / rows:.1f}" width="{wide + 0.2:.1f}" '
                    f'height="{high / rows + 0.2:.1f}"/>'
                )
            start = column
    return "".join(made)


def _legend(y: float, speech: Speech) -> str:
    wide = 400.0 / STEPS
    boxes = "".join(
        f'<rect class="h{k}" x="{k * wide:.1f}" y="{y:.0f}" width="{wide:.1f}" height="10"/>'
        for k in range(STEPS)
    )
    ends = "".join(
        f'<text class="t2" x="{400.0 * share:.0f}" y="{y + 26:.0f}" text-anchor="{side}">'
        f"{speech.figure(si.to_si(COLDEST + (HOTTEST - COLDEST) * share, 'degC'))}{unit}</text>"
        for share, side, unit in (
            (0.0, "start", ""),
            (0.5, "middle", ""),
            (1.0, "end", f" {speech.unit}"),
        )
    )
    return boxes + ends


def cooling(fields: VoxelFields, speech: Speech = CELSIUS) -> Markup:
    """Return how the button, the parts and the wall cool."""
    left, right, top, foot = 46.0, 300.0, 16.0, 200.0
    last = max(float(fields.times[-1]), 1.0) if fields.times.size else 1.0
    curves = fields.curves[:MOST_CURVES]
    if not curves:
        return Markup("")

    def x(time: float) -> float:
        return left + (right - left) * math.sqrt(max(time, 0.0) / last)

    def y(kelvin: float) -> float:
        return foot - (foot - top) * (kelvin - si.ZERO_CELSIUS) / 1200.0

    drawn, spoken = [], []
    looks = ("l1", "eml", "l2", "thin", "l1 dash", "l2 dash")
    low = foot + 30.0
    for place, (curve, look) in enumerate(zip(curves, looks, strict=False)):
        every = max(1, curve.temperature.size // 120)
        pairs = zip(
            fields.times[::every].tolist(), curve.temperature[::every].tolist(), strict=True
        )
        path = "M" + "L".join(f"{x(t):.1f},{y(k):.1f}" for t, k in pairs)
        drawn.append(f'<path class="{look}" d="{path}"/>')
        row = top + 12.0 + 24.0 * place
        drawn.append(
            f'<path class="{look}" d="M310,{row - 5:.0f}h18"/>'
            f'<text class="t2" x="334" y="{row:.0f}">{escape(clean(curve.name)[:10])}</text>'
        )
        spoken.append(
            f"{clean(curve.name)} ends at {degrees(float(curve.temperature[-1]), speech)}"
        )
    grid = "".join(
        f'<path class="gr" d="M{left},{y(heat):.1f}H{right}"/>'
        f'<text class="t2" x="{left - 6}" y="{y(heat) + 4:.1f}" text-anchor="end">'
        f"{told}</text>"
        for heat, told in axis_marks(si.to_si(1200.0, "degC"), speech)
    )
    ticks = "".join(
        f'<text class="t2" x="{x(share * last):.0f}" y="{foot + 18}" text-anchor="middle">'
        f"{number(share * last / _MINUTE, 2)}</text>"
        for share in (0.0, 0.1, 0.4, 1.0)
    )
    label = escape("How places cool after the pour. " + "; ".join(spoken))
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {low + 8:.0f}" role="img" aria-label="{label}">{grid}'
        f'<path class="ax" d="M{left},{foot}H{right}"/>{ticks}'
        f'<text class="t2" x="8" y="12">{speech.unit} over minutes, the first ones drawn wider'
        "</text>"
        f"{''.join(drawn)}</svg>"
    )
