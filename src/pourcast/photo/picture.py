"""Picture: what was read, drawn over the photograph, so that the eye can check it.

One SVG, the photograph small inside it and evened in its light.  Each part has
its middle line and its outline in the colour of its shape and its name beside
it; a dash pattern says the same as the colour.  Nothing in it is fetched from
elsewhere.
"""

import base64
import io
from html import escape

import numpy as np
from PIL import Image

from pourcast import units as si
from pourcast.photo.model import PhotoPart, Pixel, Reading, Section, Stick, View

_SIDE = 900  # pixels of the photograph inside, along its longer side
_INK = {"rod": "#0072b2", "blade": "#009e73", "lump": "#d55e00"}
_DASH = {"rod": "none", "blade": "8 4", "lump": "2 3"}
_SAID = {"rod": "round", "blade": "flat", "lump": "lump"}
_LEGEND = 46.0


def check_picture(reading: Reading, *, view: int = 0) -> str:
    """Return an SVG of one photograph with the parts drawn over it.

    Parameters
    ----------
    reading : Reading
    view : int
        Which photograph; a part is named on the one that it was read from.

    Returns
    -------
    str
    """
    seen = reading.views[view]
    light = seen.silhouette.light
    small = max(1, -(-max(light.shape) // _SIDE))
    rows, columns = (side // small for side in light.shape)
    scale = 1.0 / small
    parts = _lines(seen, reading.parts, view, scale)
    title = escape(f"{reading.name}: photograph {view + 1} with what was read from it")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {columns} {rows + _LEGEND:.0f}" '
        f'width="{columns}" height="{rows + _LEGEND:.0f}" font-family="sans-serif" '
        f'font-size="13" role="img"><title>{title}</title>'
        f'<rect width="100%" height="100%" fill="#fff"/>'
        f'<image width="{columns}" height="{rows}" href="{_photograph(light, small)}"/>'
        f"{_mark(seen, scale)}{parts}{_legend(rows)}</svg>\n"
    )


def _photograph(light: si.Ratios, small: int) -> str:
    rows, columns = (side // small * small for side in light.shape)
    tiles = light[:rows, :columns].reshape(rows // small, small, columns // small, small)
    grey = np.clip(235.0 * tiles.mean(axis=(1, 3)), 0, 255).astype(np.uint8)
    out = io.BytesIO()
    Image.fromarray(grey).save(out, "JPEG", quality=70)
    return "data:image/jpeg;base64," + base64.b64encode(out.getvalue()).decode("ascii")


def _lines(view: View, parts: tuple[PhotoPart, ...], number: int, scale: si.Ratio) -> str:
    named = {(part.stick, part.section): part for part in parts if part.view == number}
    drawn, words = [], []
    for index, stick in enumerate(view.sticks):
        for k, section in enumerate(stick.sections):
            part = named.get((index, k))
            shape = part.shape if part is not None else section.shape
            ink, dash = _INK[shape], _DASH[shape]
            middle, left, right = _edges(stick, section)
            drawn.append(
                f'<path d="{_path(middle, scale)}" fill="none" stroke="{ink}" stroke-width="2" '
                f'stroke-dasharray="{dash}"/>'
                f'<path d="{_path(left, scale)}{_path(right, scale)}" fill="none" '
                f'stroke="{ink}" stroke-width="1"/>'
            )
            if part is not None:
                x, y = middle[len(middle) // 2] * scale
                away = 0.5 * max(section.width) * scale + 5.0
                said = f"{part.name} {1e3 * part.length:.1f} mm"
                words.append(
                    f'<text x="{x + away:.1f}" y="{y + 4.0:.1f}" fill="#000" stroke="#fff" '
                    f'stroke-width="3" paint-order="stroke">{escape(said)}</text>'
                )
    crosses = "".join(
        f'<circle cx="{x * scale:.1f}" cy="{y * scale:.1f}" r="9" fill="none" stroke="#cc79a7" '
        'stroke-width="3"/>'
        for x, y in view.crossings
    )
    return "".join(drawn) + crosses + "".join(words)


def _edges(stick: Stick, section: Section) -> tuple[si.Ratios, si.Ratios, si.Ratios]:
    """Middle line and both edges of a section, in pixels."""
    along = np.linspace(section.start, section.end, 25)
    x = np.interp(along, stick.along, stick.line[:, 0])
    y = np.interp(along, stick.along, stick.line[:, 1])
    middle = np.column_stack([x, y])
    way = np.gradient(middle, axis=0)
    way /= np.maximum(np.hypot(*way.T), 1e-9)[:, None]
    square = np.column_stack([-way[:, 1], way[:, 0]])
    share = np.linspace(0.0, 1.0, len(along))
    if section.shape == "lump":
        half = 0.5 * section.width[0] * np.sqrt(np.maximum(0.0, 1.0 - (1.9 * share - 0.9) ** 2))
    else:
        half = 0.5 * (section.width[0] + (section.width[1] - section.width[0]) * share)
    return middle, middle + half[:, None] * square, middle - half[:, None] * square


def _path(points: si.Ratios, scale: si.Ratio) -> str:
    return "M" + "L".join(f"{x * scale:.1f} {y * scale:.1f}" for x, y in points)


def _mark(view: View, scale: si.Ratio) -> str:
    if view.scale.mark is None:
        return ""
    (x1, y1), (x2, y2) = view.scale.mark
    return (
        f'<path d="M{x1 * scale:.1f} {y1 * scale:.1f}L{x2 * scale:.1f} {y2 * scale:.1f}" '
        'stroke="#e69f00" stroke-width="3"/>'
        f"{_tick(x1 * scale, y1 * scale)}{_tick(x2 * scale, y2 * scale)}"
    )


def _tick(x: Pixel, y: Pixel) -> str:
    return f'<path d="M{x:.1f} {y - 8:.1f}V{y + 8:.1f}" stroke="#e69f00" stroke-width="3"/>'


def _legend(rows: int) -> str:
    made = []
    for k, (shape, ink) in enumerate(_INK.items()):
        x, y = 12 + 92 * k, rows + 26
        made.append(
            f'<path d="M{x} {y}h30" stroke="{ink}" stroke-width="3" '
            f'stroke-dasharray="{_DASH[shape]}"/><text x="{x + 36}" y="{y + 4}">'
            f"{_SAID[shape]}</text>"
        )
    made.append(
        f'<path d="M288 {rows + 26}h30" stroke="#e69f00" stroke-width="3"/>'
        f'<text x="324" y="{rows + 30}">scale</text>'
    )
    return "".join(made)
