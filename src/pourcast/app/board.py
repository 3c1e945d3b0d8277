"""Board: the picture of a piece as it stands on its button on the shelf."""

import zlib
from functools import lru_cache

from markupsafe import Markup, escape

from pourcast import units as si
from pourcast.app.words import say
from pourcast.page.figures import clean
from pourcast.page.svg_shapes import View, outline
from pourcast.piece.model import Button
from pourcast.piece.network import build
from pourcast.sheet.model import Plan

_WIDE, _HIGH = 160.0, 172.0  # of the sheet, in its own units
_FILL = 0.94  # of it that a piece takes at most
_MOST = 320  # shapes; enough for a picture of this size
_SIDE = 150.0  # of the sheet that a piece may take from side to side
_FOOT = 0.0


@lru_cache(maxsize=256)
def standing(plan: Plan) -> Markup:
    """Return a piece upright on its button, as large as the board lets it stand.

    Parameters
    ----------
    plan : Plan
    """
    network, button = build(plan.piece), plan.piece.button
    tip = button.height - float(
        min(network.start_position[:, 2].min(), network.end_position[:, 2].min())
    )
    side = max(
        float(abs(network.start_position[:, 0]).max()),
        float(abs(network.end_position[:, 0]).max()),
        button.diameter / 2,
    )
    high = max(tip, button.height)
    scale = _FILL * min(_HIGH / high, _SIDE / (2 * side))
    view = View(scale=scale, top=button.height, elevation=0.0)
    # The same shape twice: a stout line round all of it, then paper and fine lines over it.
    mark = f"o{zlib.crc32(repr(plan.piece).encode()):08x}"
    name = escape(say("shelf.picture", name=clean(plan.piece.name)))
    return Markup(
        f'<svg viewBox="{-_WIDE / 2:g} {-_HIGH:g} {_WIDE:g} {_HIGH + 2:g}" '
        f'preserveAspectRatio="xMidYMax meet" role="img" aria-label="{name}">'
        f'<g class="obj"><g id="{mark}"><path d="{_cup(button, scale)}"/>'
        f'<g transform="scale(1,-1)">{outline(network, view, _MOST)}</g></g>'
        f'<use class="in" href="#{mark}"/></g></svg>'
    )


def _cup(button: Button, scale: float) -> str:
    rim, gate = button.diameter / 2 * scale, button.gate_diameter / 2 * scale
    up = _up(button.height, scale)
    return f"M{-rim:.1f},{_FOOT:g}H{rim:.1f}L{gate:.1f},{up:.1f}H{-gate:.1f}Z"


def _up(height: si.Metre, scale: float) -> float:
    return -height * scale
