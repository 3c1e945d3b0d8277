"""Picture of the block in section: how hot it is inside at chosen hours.

Half of the block is drawn, from its axis to its wall, the gate down as it stands in
the kiln.  Ten steps of colour, dark for cold; the numbers say the same.
"""

import numpy as np
from markupsafe import Markup

from pourcast import units as si
from pourcast.burnout.model import Section
from pourcast.page import words_burn as said
from pourcast.page.figures import degrees
from pourcast.speech import CELSIUS, Speech

STEPS = 10
"""Colours; classes h0 to h9 of the style, even in lightness."""

HOTTEST = 800.0
"""°C at the end of the scale; the first colour begins at 0."""

_HIGH = 150.0
_GAP = 14.0


def block_in_section(
    section: Section, *, start: si.Second | None = None, speech: Speech = CELSIUS
) -> Markup:
    """Return the block at each moment of a section.

    Parameters
    ----------
    section : Section
    start : float or None [s]
        Time of day at which the block goes in.
    speech : Speech
    """
    count = section.time.size
    whole = float(section.depth[-1] + section.depth[0])
    wide = float(section.radius[-1] + section.radius[0]) * _HIGH / whole
    room = (400.0 - _GAP * (count - 1)) / count
    scale = min(1.0, room / wide)
    drawn, spoken = [], []
    for moment in range(count):
        left = moment * (room + _GAP) + 0.5 * (room - wide * scale)
        field = section.temperature[moment]
        core = float(field[field.shape[0] // 2, 0])
        wall = float(field[field.shape[0] // 2, -1])
        name = said.bare(float(section.time[moment]), start, day=False)
        spoken.append(f"{name}: core {degrees(core, speech)}, wall {degrees(wall, speech)}")
        drawn.append(
            f'<g transform="translate({left:.1f},24)">'
            f"{_cells(field, wide * scale, _HIGH * scale)}"
            f'<path class="ax" d="M0,0V{_HIGH * scale:.1f}" stroke-dasharray="6 3"/>'
            f'<text class="t2" x="{wide * scale / 2:.1f}" y="-8" text-anchor="middle">{name}</text>'
            f'<text class="t2" x="{wide * scale / 2:.1f}" y="{_HIGH * scale + 16:.1f}" '
            f'text-anchor="middle">{degrees(core, speech)} to</text>'
            f'<text class="t2" x="{wide * scale / 2:.1f}" y="{_HIGH * scale + 32:.1f}" '
            f'text-anchor="middle">{degrees(wall, speech)}</text></g>'
        )
    foot = 24.0 + _HIGH * scale + 44.0
    label = "The block in section, from axis to wall. " + "; ".join(spoken)
    return Markup(
        f'<svg class="pic" viewBox="0 0 400 {foot + 34:.0f}" role="img" aria-label="{label}">'
        f"{''.join(drawn)}{_legend(foot, speech)}</svg>"
    )


def _cells(field: si.Kelvins, wide: float, high: float) -> str:
    """Return the cells of one moment, alike neighbours of a row as one."""
    rows, columns = field.shape
    # The gate is the first row and stands down.
    shade = _shade(field)[::-1]
    made = []
    for row in range(rows):
        start = 0
        for column in range(1, columns + 1):
            if column < columns and shade[row, column] == shade[row, start]:
                continue
            left, width = wide * start / columns, wide * (column - start) / columns
            made.append(
                f'<rect class="h{shade[row, start]}" x="{left:.1f}" y="{high * row / rows:.1f}" '
                f'width="{width + 0.3:.1f}" height="{high / rows + 0.3:.1f}"/>'
            )
            start = column
    return "".join(made)


def _shade(field: si.Kelvins) -> si.Integers:
    share = (field - si.ZERO_CELSIUS) / HOTTEST
    return np.clip((share * STEPS).astype(np.int64), 0, STEPS - 1)


def _legend(y: float, speech: Speech) -> str:
    ends = [speech.figure(si.ZERO_CELSIUS + HOTTEST * share) for share in (0.0, 0.25, 0.5, 0.75)]
    hottest = speech.heat(si.ZERO_CELSIUS + HOTTEST)
    wide = 400.0 / STEPS
    boxes = "".join(
        f'<rect class="h{k}" x="{k * wide:.1f}" y="{y}" width="{wide:.1f}" height="10"/>'
        for k in range(STEPS)
    )
    marks = "".join(
        f'<text class="t2" x="{400.0 * share:.0f}" y="{y + 25}" text-anchor="{side}">{end}</text>'
        for end, share, side in zip(
            ends, (0.0, 0.25, 0.5, 0.75), ("start", *["middle"] * 3), strict=True
        )
    )
    return f'{boxes}{marks}<text class="t2" x="400" y="{y + 25}" text-anchor="end">{hottest}</text>'
