"""Picture: three views of what was found, to be held beside the original.

Front, side and top, all to one scale.  Each part has its colour, its number and
its name; colours follow the golden angle round the wheel at one lightness, and
the numbers say the same as they do.
"""

import math
from html import escape

import numpy as np

from pourcast import units as si
from pourcast.scan.model import Scanned, ScannedPart

_VIEWS = (("from the front", (0, 2)), ("from the side", (1, 2)), ("from above", (0, 1)))
_TALL = 560.0  # units of the picture
_ROOM = 30.0
_ROW = 15.0
_GOLDEN = 137.508  # degrees


def check_picture(scanned: Scanned) -> str:
    """Return three views of the parts as SVG.

    Parameters
    ----------
    scanned : Scanned

    Returns
    -------
    str
    """
    lines = [part.line for part in scanned.parts]
    low = np.min([line.min(axis=0) for line in lines], axis=0) - 3e-3
    high = np.max([line.max(axis=0) for line in lines], axis=0) + 3e-3
    size = high - low
    scale = _TALL / float(size.max())
    body, left = [], _ROOM
    for title, (across, up) in _VIEWS:
        body.append(_text(left, 20.0, title))
        body += [
            _shape(part, k, scale, left, low, high, across, up)
            for k, part in enumerate(scanned.parts)
        ]
        body += [
            _number(part, k, scale, left, low, high, across, up)
            for k, part in enumerate(scanned.parts)
        ]
        left += float(size[across]) * scale + _ROOM
    bar = 10e-3 * scale
    body.append(
        f'<path d="M {_ROOM:.1f} {_TALL + 52:.1f} h {bar:.1f}" stroke="#222" stroke-width="3"/>'
    )
    body.append(_text(_ROOM + bar + 8, _TALL + 56, "10 mm"))
    columns = max(1, int((left - _ROOM) // 250))
    rows = math.ceil(len(scanned.parts) / columns)
    for k, part in enumerate(scanned.parts):
        x = _ROOM + 250.0 * (k // rows)
        y = _TALL + 80.0 + _ROW * (k % rows)
        body.append(
            f'<rect x="{x:.1f}" y="{y - 9:.1f}" width="10" height="10" fill="{_colour(k)}"/>'
        )
        body.append(_text(x + 15, y, f"{k + 1} {part.name}: {_said(part)}"))
    wide, tall = max(left, 400.0), _TALL + 100.0 + _ROW * rows
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide:.0f} {tall:.0f}" '
        f'width="{wide:.0f}" height="{tall:.0f}" font-family="sans-serif" font-size="12">\n'
        f"<title>What was found in the scan</title>\n"
        f'<rect width="100%" height="100%" fill="#fff"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def _said(part: ScannedPart) -> str:
    length = f"{1e3 * part.length:.1f}"
    thick = f"{1e3 * sum(part.thickness) / 2:.2f}"
    if part.shape == "rod":
        return f"{length} long, {thick} across"
    return f"{length} x {1e3 * part.widest:.1f} x {thick} mm"


def _colour(k: int) -> str:
    return f"hsl({(k * _GOLDEN) % 360:.0f} 62% 42%)"


def _flat(
    points: si.Metres,
    scale: si.Ratio,
    left: si.Ratio,
    low: si.Metres,
    high: si.Metres,
    across: int,
    up: int,
) -> si.Ratios:
    return np.stack(
        [
            left + scale * (points[:, across] - low[across]),
            _ROOM + scale * (high[up] - points[:, up]),
        ],
        axis=1,
    )


def _shape(
    part: ScannedPart,
    k: int,
    scale: si.Ratio,
    left: si.Ratio,
    low: si.Metres,
    high: si.Metres,
    across: int,
    up: int,
) -> str:
    """Return the outline of a part as this view sees it: its line with half its width both ways."""
    share = np.linspace(0.0, 1.0, len(part.line))
    width = part.width[0] + (part.width[1] - part.width[0]) * share
    if part.shape == "lump":
        width = width * np.sqrt(np.clip(1 - (2 * share - 1) ** 2, 0.02, 1.0))
    heading = np.gradient(part.line, axis=0)
    view = np.zeros(3)
    view[3 - across - up] = 1.0
    side = np.cross(heading, view)
    side /= np.maximum(np.linalg.norm(side, axis=1), 1e-12)[:, None]
    if part.shape != "rod":
        # A blade shows its edge where its broad way points at the eye.
        seen = np.abs(part.across @ side.T)
        width = np.maximum(width * seen, min(part.thickness))
    half = 0.5 * width[:, None] * side
    outline = np.concatenate([part.line + half, (part.line - half)[::-1]])
    points = _flat(outline, scale, left, low, high, across, up)
    path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    return (
        f'<polygon points="{path}" fill="{_colour(k)}" fill-opacity="0.75" stroke="#222" '
        'stroke-width="0.6"/>'
    )


def _number(
    part: ScannedPart,
    k: int,
    scale: si.Ratio,
    left: si.Ratio,
    low: si.Metres,
    high: si.Metres,
    across: int,
    up: int,
) -> str:
    middle = part.line[[2 * len(part.line) // 3]]
    ((x, y),) = _flat(middle, scale, left, low, high, across, up)
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="11" paint-order="stroke" stroke="#fff" '
        f'stroke-width="3">{k + 1}</text>'
    )


def _text(x: si.Ratio, y: si.Ratio, text: str) -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" fill="#222">{escape(text)}</text>'
