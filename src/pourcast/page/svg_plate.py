"""The plate: the piece in its flask as it hangs at the pour, shaded by chance.

Drawn to scale from the network.  Darker is surer.  Numbers lead to the table
of parts, and a round glass shows the weakest part larger.
"""

import math

import numpy as np
from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.findings import in_100_draws
from pourcast.forecast.model import Forecast
from pourcast.page import svg_labels
from pourcast.page.figures import clean, millimetres, number
from pourcast.page.svg_shapes import CLASSES, ELEVATION, View, depth, hull, ring, shapes

GLASS = 3
"""How many times the round glass magnifies."""

_ACROSS = 76.0  # units of the sheet for the inside of the flask, unless it is tall
_TALLEST = 150.0  # units of the sheet for its height
_GLASS_RADIUS = 13.0
_MARGIN = 15.0  # beside the flask, for the numbers
_NARROWEST = 54.0  # half of the sheet; a narrower one would draw its words too large
_LEAN = math.sin(ELEVATION)  # a level circle is so much flatter on the sheet
_LEVEL = (np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0]))


def plate(forecast: Forecast) -> Markup:
    """Return the plate as SVG."""
    flask, button = forecast.plan.flask, forecast.plan.piece.button
    scale = min(_ACROSS / flask.inside_diameter, _TALLEST / flask.height)
    view = View(scale=scale, top=button.height)
    radius = flask.inside_diameter / 2 * scale
    wall = max(flask.wall_thickness * scale, 1.5)
    bottom = flask.height * math.cos(ELEVATION) * scale
    middles, ends = _places(forecast, view)

    side = max(radius + wall + 6.0, float(np.abs(ends[:, 0]).max(initial=0.0)) + 4.0)
    low = -radius * _LEAN
    foot = max(bottom + radius * _LEAN, float(ends[:, 1].max(initial=0.0)))
    away = depth((forecast.network.start_position + forecast.network.end_position) / 2)
    spots = svg_labels.spots_of_parts(forecast.network, middles, away)
    weak = _weakest(forecast)
    focus = (float(ends[weak, 0]), float(ends[weak, 1]))
    spots[int(forecast.network.member_part[forecast.network.member[weak]]) + 1] = [focus]
    marks = svg_labels.leaders(spots, side, low + 6.0, foot)

    lines = [np.linspace(leader.spot, leader.place, 12) for leader in marks]
    turns = np.linspace(0.0, 2 * math.pi, 12)
    around = np.array(focus) + np.stack([np.cos(turns), np.sin(turns)], axis=1) * (
        _GLASS_RADIUS / GLASS
    )
    room = np.concatenate([middles, ends, around, *lines])
    # Room for the line of words under the glass is kept free at the bottom.
    glass = svg_labels.empty_place(room, _GLASS_RADIUS, radius, radius * _LEAN, bottom - 1.0, focus)
    under = foot + wall + 6.0
    if glass is None:
        glass = (math.copysign(0.5 * radius, focus[0]), under + 10.0 + _GLASS_RADIUS)
    last = max(
        under + 8.0,
        glass[1] + _GLASS_RADIUS + 7.0,
        *(leader.place[1] + 4.0 for leader in marks),
    )
    drawn = (
        _flask(radius, wall, bottom, flask.wall)
        + _cup(forecast, view)
        + f'<g class="piece" id="the-piece">{shapes(forecast, view)}</g>'
        + _glass(focus, glass)
        + "".join(_leader(leader) for leader in marks)
        + _inside(radius, under, flask.inside_diameter)
    )
    half, head = max(side + _MARGIN - 6.0, _NARROWEST), low - wall - 2.0
    return Markup(
        f'<svg class="plate" viewBox="{-half:.1f} {head:.1f} {2 * half:.1f} {last - head:.1f}" '
        f'role="img" aria-labelledby="plate-t plate-d">{_words(forecast, weak)}{drawn}</svg>'
    )


def legend() -> Markup:
    """Return the list of shades with their numbers."""
    rows = "".join(
        f'<li><svg viewBox="0 0 80 20" preserveAspectRatio="none" aria-hidden="true">'
        f'<rect class="{name}" x="1.5" y="2" width="77" height="16"/></svg>{words}</li>'
        for _, name, words in CLASSES
    )
    return Markup(
        f'<ul class="legend" aria-label="Shades: chance in 100 that metal reaches the spot">'
        f"{rows}</ul>"
    )


def _places(forecast: Forecast, view: View) -> tuple[si.Ratios, si.Ratios]:
    network = forecast.network
    middles = view.flat((network.start_position + network.end_position) / 2)
    return middles, view.flat(network.end_position)


def _weakest(forecast: Forecast) -> int:
    """Return the segment that metal reaches least often; of equals the nearest."""
    chance = np.round(forecast.segment_chance, 3)
    return int(np.lexsort((depth(forecast.network.end_position), chance))[0])


def _words(forecast: Forecast, weak: int) -> Markup:
    network = forecast.network
    name = clean(network.part_names[int(network.member_part[network.member[weak]])])
    chance = in_100_draws(float(forecast.segment_chance[weak]))
    return Markup(
        '<title id="plate-t">{} in its flask, cup up, as it hangs at the pour</title>'
        '<desc id="plate-d">Each spot is shaded by the chance that metal reaches it. Palest is '
        "{}, {} in 100. The table of parts gives the same figures.</desc>"
    ).format(clean(forecast.plan.piece.name), name, chance)


def _flask(radius: float, wall: float, bottom: float, kind: str) -> str:
    outer, flat = radius + wall, radius * _LEAN
    rim = outer * _LEAN
    block = (
        f"M{-radius:.1f},0A{radius:.1f},{flat:.1f} 0 0 0 {radius:.1f},0V{bottom:.1f}"
        f"A{radius:.1f},{flat:.1f} 0 0 1 {-radius:.1f},{bottom:.1f}Z"
    )
    steel = (
        f"M{-outer:.1f},0H{-radius:.1f}V{bottom:.1f}A{radius:.1f},{flat:.1f} 0 0 0 "
        f"{radius:.1f},{bottom:.1f}V0H{outer:.1f}V{bottom:.1f}A{outer:.1f},{rim:.1f} 0 0 1 "
        f"{-outer:.1f},{bottom:.1f}Z"
    )
    return (
        f'<path class="block" d="{block}"/><path class="wall" d="{steel}"/>'
        f"{_holes(radius, wall, bottom) if kind == 'perforated' else ''}"
        f'<ellipse class="mouth" rx="{radius:.1f}" ry="{flat:.1f}"/>'
        f'<ellipse class="lip" rx="{outer:.1f}" ry="{rim:.1f}"/>'
    )


def _holes(radius: float, wall: float, bottom: float) -> str:
    rows = max(3, round(bottom / 17.5))
    return "".join(
        f'<rect class="hole" x="{edge - 0.2:.1f}" y="{bottom * (row + 0.7) / rows:.1f}" '
        f'width="{wall + 0.4:.1f}" height="5"/>'
        for row in range(rows)
        for edge in (-radius - wall, radius)
    )


def _cup(forecast: Forecast, view: View) -> str:
    button = forecast.plan.piece.button
    rim, gate = (
        ring(np.array([0.0, 0.0, height]), _LEVEL[0] * wide / 2, _LEVEL[1] * wide / 2, 0)
        for height, wide in ((button.height, button.diameter), (0.0, button.gate_diameter))
    )
    outline = "L".join(f"{x:.2f},{y:.2f}" for x, y in hull(view.flat(np.concatenate([rim, gate]))))
    pool = button.diameter / 2 * view.scale
    return (
        f'<path class="cup" d="M{outline}Z"/>'
        f'<ellipse class="pool" rx="{pool:.1f}" ry="{pool * _LEAN:.1f}"/>'
    )


def _leader(leader: svg_labels.Leader) -> str:
    (x, y), (right, down) = leader.spot, leader.place
    sign = 1 if right > 0 else -1
    return (
        f'<path class="leader" d="M{x:.1f},{y:.1f}L{right - sign:.1f},{down:.1f}"/>'
        f'<circle class="spot" cx="{x:.1f}" cy="{y:.1f}" r="0.7"/>'
        f'<text class="num" x="{right + sign:.1f}" y="{down + 1.6:.1f}" '
        f'text-anchor="{"start" if sign > 0 else "end"}">{leader.number}</text>'
    )


def _glass(focus: tuple[float, float], middle: tuple[float, float]) -> str:
    (x, y), (right, down), r = focus, middle, _GLASS_RADIUS
    small = r / GLASS
    reach = math.hypot(right - x, down - y)
    joint = ""
    if reach > r + small:
        along = ((right - x) / reach, (down - y) / reach)
        joint = (
            f'<path class="leader" d="M{x + along[0] * small:.1f},{y + along[1] * small:.1f}'
            f'L{right - along[0] * r:.1f},{down - along[1] * r:.1f}"/>'
        )
    words_down = down + r + 4.4
    shift = f"{right - x * GLASS:.2f},{down - y * GLASS:.2f}"
    return (
        f'<clipPath id="round"><circle cx="{right:.1f}" cy="{down:.1f}" r="{r}"/></clipPath>'
        f'<circle class="leader" cx="{x:.1f}" cy="{y:.1f}" r="{small:.1f}"/>{joint}'
        f'<circle class="lens" cx="{right:.1f}" cy="{down:.1f}" r="{r}"/>'
        f'<g clip-path="url(#round)"><use href="#the-piece" '
        f'transform="translate({shift}) scale({GLASS})"/></g>'
        f'<circle class="leader" cx="{right:.1f}" cy="{down:.1f}" r="{r}"/>'
        f'<text class="times" x="{right:.1f}" y="{words_down:.1f}" text-anchor="middle">'
        f"{number(GLASS)} times as large</text>"
    )


def _inside(radius: float, down: float, diameter: si.Metre) -> str:
    return (
        f'<g class="dim"><path d="M{-radius:.1f},{down:.1f}H{radius:.1f}'
        f'M{-radius:.1f},{down - 1.6:.1f}v3.2M{radius:.1f},{down - 1.6:.1f}v3.2"/>'
        f'<text x="0" y="{down + 5.4:.1f}" text-anchor="middle">'
        f"{escape(millimetres(diameter))} inside</text></g>"
    )
