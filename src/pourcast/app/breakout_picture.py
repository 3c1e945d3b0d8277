"""The piece on its button, in ink, with a number for each part that leads to its row.

It is not shaded by the forecast: what was expected must not lead the eye.
"""

from dataclasses import fields, replace
from functools import lru_cache

import numpy as np
from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.app.words import say
from pourcast.page.figures import clean
from pourcast.page.svg_labels import Leader, leaders, spots_of_parts
from pourcast.page.svg_shapes import View, depth, outline
from pourcast.piece.model import Network
from pourcast.piece.network import build
from pourcast.sheet.model import Plan

_HIGH, _SIDE = 150.0, 54.0  # of the sheet: height, and half of the width of the piece
_MOST = 900  # shapes
_ROOM = 12.0  # beside the piece, for the numbers
_OF_SEGMENT = ("start", "end", "start_position", "end_position", "section", "length", "width")
_OF_SEGMENT_TOO = ("thickness", "member", "is_joint", "across")


@lru_cache(maxsize=64)
def numbered(plan: Plan) -> Markup:
    """Return the piece with its parts numbered from 1, in the order of the piece file.

    Parameters
    ----------
    plan : Plan
    """
    network, button = build(plan.piece), plan.piece.button
    ends = np.concatenate([network.start_position, network.end_position])
    tip = button.height - float(ends[:, 2].min())
    reach = max(float(np.abs(ends[:, 0]).max()), button.diameter / 2)
    scale = min(_HIGH / tip, _SIDE / reach)
    view = View(scale=scale, top=button.height, elevation=0.0)
    middles = _upright((network.start_position + network.end_position) / 2, view)
    spots = spots_of_parts(network, middles, depth(network.end_position))
    side = reach * scale + 6.0
    marks = leaders(spots, side, -tip * scale + 2.0, -2.0)
    parts = "".join(
        f'<g class="part"><g id="p-{number}">{outline(_only(network, number), view, _MOST)}</g>'
        f'<use class="in" href="#p-{number}"/></g>'
        for number in range(len(network.part_names))
    )
    rim, gate = button.diameter / 2 * scale, button.gate_diameter / 2 * scale
    foot = button.height * scale
    name = escape(say("breakout.picture", name=clean(plan.piece.name)))
    half = side + _ROOM
    return Markup(
        f'<svg class="numbered" viewBox="{-half:.1f} {-tip * scale - 4:.1f} {2 * half:.1f} '
        f'{tip * scale + 8:.1f}" role="group" aria-label="{name}">'
        f'<path class="cup" d="M{-rim:.1f},0H{rim:.1f}L{gate:.1f},{-foot:.1f}H{-gate:.1f}Z"/>'
        f'<g transform="scale(1,-1)">{parts}</g>'
        + "".join(_mark(mark, network.part_names[mark.number - 1]) for mark in marks)
        + "</svg>"
    )


def _upright(points: si.Metres, view: View) -> si.Ratios:
    """Return places on the sheet of a piece that stands on its button, (right, down)."""
    hanging = view.flat(points)
    return np.asarray(hanging * np.array([1.0, -1.0]))


def _only(network: Network, part: int) -> Network:
    """Return the segments of one part alone, for drawing."""
    kept = network.member_part[network.member] == part
    arrays = {
        each.name: getattr(network, each.name)[kept]
        for each in fields(network)
        if each.name in (*_OF_SEGMENT, *_OF_SEGMENT_TOO) and getattr(network, each.name) is not None
    }
    return replace(network, **arrays)


def _mark(mark: Leader, name: str) -> str:
    (x, y), (right, down) = mark.spot, mark.place
    sign = 1 if right > 0 else -1
    label = escape(say("breakout.to_part", number=mark.number, name=clean(name)))
    return (
        f'<a href="#part-{mark.number - 1}" aria-label="{label}">'
        f'<path class="leader" d="M{x:.1f},{y:.1f}L{right - sign:.1f},{down:.1f}"/>'
        f'<circle class="spot" cx="{x:.1f}" cy="{y:.1f}" r="0.9"/>'
        f'<text class="num" x="{right + sign:.1f}" y="{down + 1.8:.1f}" '
        f'text-anchor="{"start" if sign > 0 else "end"}">{mark.number}</text></a>'
    )
