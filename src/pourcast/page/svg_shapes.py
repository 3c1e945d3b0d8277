"""How a piece looks from the front and a little above: shapes from a network.

The reader looks level along +y, then from above by the angle e.  A point of the
flask (x, y, z) stands on the sheet at

    right = x,   up = z cos e + y sin e                                     (1)

and lies away from the reader by

    depth = y cos e - z sin e                                               (2)

Shapes are laid down in the order of depth, the farthest first.  Left out:
perspective, and parts that run through each other; where two cross, the one
whose middle is nearer covers the other.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.forecast.model import Forecast
from pourcast.piece.model import RECTANGLE, ROUND, Network

ELEVATION: si.Radian = math.radians(20.0)
"""From above; a choice of looks."""

CLASSES: tuple[tuple[float, str, str], ...] = (
    (0.975, "c1", "98 to 100"),
    (0.945, "c2", "95 to 97"),
    (0.845, "c3", "85 to 94"),
    (0.595, "c4", "60 to 84"),
    (0.0, "c5", "under 60"),
)
"""Least chance, name and words of each shade; the bounds are those of whole counts in 100."""

MOST_SHAPES = 3000
"""Over this, neighbours of one member and one shade are drawn as one."""

_CORNERS = np.array([[1.0, 1.0], [1.0, -1.0], [-1.0, -1.0], [-1.0, 1.0]])
_ANGLES = np.linspace(0.0, 2 * math.pi, 16, endpoint=False)
_ROUND = np.stack([np.cos(_ANGLES), np.sin(_ANGLES)], axis=1)

_HAIR = 0.3  # thinnest line on the sheet, in its own units
_ROUND_CAP_TO = 0.7  # a rod stouter than this for its length has a flat end


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """From the flask to the sheet.

    Parameters
    ----------
    scale : float [1/m]
        Units of the sheet for a metre.
    top : float [m]
        Height that stands at 0 of the sheet.
    elevation : float [rad]
        How far from above the reader looks.
    """

    scale: float
    top: si.Metre
    elevation: si.Radian = ELEVATION

    def flat(self, points: si.Metres) -> si.Ratios:
        """Return places on the sheet, right and down, shape (..., 2); see (1).

        Parameters
        ----------
        points : array [m], shape (..., 3)
        """
        cosine, sine = math.cos(self.elevation), math.sin(self.elevation)
        up = points[..., 2] * cosine + points[..., 1] * sine
        start = self.top * cosine
        return np.stack([points[..., 0], start - up], axis=-1) * self.scale


def depth(points: si.Metres) -> si.Metres:
    """Return how far points lie from the reader [m]; see (2)."""
    return points[..., 1] * math.cos(ELEVATION) - points[..., 2] * math.sin(ELEVATION)


def shade(chance: si.Ratio) -> str:
    """Return the class of the shade for a chance [-]."""
    return next(name for least, name, _ in CLASSES if chance >= least or least == 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Segments of one member that are drawn as one; usually one segment."""

    first: int
    last: int
    shade: str


def runs(network: Network, chance: si.Ratios, most: int = MOST_SHAPES) -> list[Run]:
    """Return what is drawn: each segment, or short runs of them if there are many.

    Parameters
    ----------
    network : Network
    chance : array [-], shape (segments,)
    most : int
        Segments up to which each is drawn by itself.
    """
    count = len(network.start)
    longest = math.ceil(count / most)
    made: list[Run] = []
    for k in range(count):
        name = shade(float(chance[k]))
        if made and longest > 1:
            before = made[-1]
            joined = (
                network.end[before.last] == network.start[k]
                and network.member[before.last] == network.member[k]
                and before.shade == name
                and k - before.first < longest
            )
            if joined:
                made[-1] = Run(first=before.first, last=k, shade=name)
                continue
        made.append(Run(first=k, last=k, shade=name))
    return made


def shapes(forecast: Forecast, view: View) -> str:
    """Return the piece as SVG, the farthest shape first, each of class "seg"."""
    network = forecast.network
    drawn = runs(network, forecast.segment_chance)
    middles = np.array(
        [(network.start_position[r.first] + network.end_position[r.last]) / 2 for r in drawn]
    ).reshape(-1, 3)
    order = np.argsort(-depth(middles), kind="stable")
    return "".join(
        f'<path class="seg {drawn[k].shade}" d="{_path(network, drawn[k], view)}"/>' for k in order
    )


def silhouette(forecast: Forecast, view: View, most: int = 600) -> str:
    """Return the piece as one SVG path without shades.

    Parameters
    ----------
    forecast : Forecast
    view : View
    most : int
        As in `runs`.
    """
    return outline(forecast.network, view, most)


def outline(network: Network, view: View, most: int = 600) -> str:
    """Return passages as one SVG path without shades.

    Parameters
    ----------
    network : Network
    view : View
    most : int
        As in `runs`.
    """
    drawn = runs(network, np.ones(len(network.start)), most)
    whole = "".join(_path(network, run, view) for run in drawn)
    return f'<path class="sil" d="{whole}"/>'


def _path(network: Network, run: Run, view: View) -> str:
    start, end = network.start_position[run.first], network.end_position[run.last]
    wide = (network.width[run.first, 0], network.width[run.last, 1])
    thick = (network.thickness[run.first, 0], network.thickness[run.last, 1])
    section = network.section[run.first]
    length = float(np.linalg.norm(end - start))
    slim = max(wide) < _ROUND_CAP_TO * length
    if section == ROUND and slim:
        return _rod(view.flat(start), view.flat(end), wide[0] * view.scale, wide[1] * view.scale)
    across = None if network.across is None else network.across[run.first]
    return _solid(start, end, wide, thick, section, view, across)


def _rod(a: si.Ratios, b: si.Ratios, wide_a: float, wide_b: float) -> str:
    """Return a tapered rod with round ends; places and widths on the sheet."""
    r, s = max(wide_a, _HAIR) / 2, max(wide_b, _HAIR) / 2
    along = b - a
    size = float(np.hypot(*along)) or 1.0
    x, y = -along[1] / size, along[0] / size
    if not (x or y):
        x = 1.0
    return (
        f"M{a[0] + r * x:.2f},{a[1] + r * y:.2f}A{r:.2f},{r:.2f} 0 0 1 "
        f"{a[0] - r * x:.2f},{a[1] - r * y:.2f}L{b[0] - s * x:.2f},{b[1] - s * y:.2f}"
        f"A{s:.2f},{s:.2f} 0 0 1 {b[0] + s * x:.2f},{b[1] + s * y:.2f}Z"
    )


def _solid(
    start: si.Metres,
    end: si.Metres,
    wide: tuple[float, float],
    thick: tuple[float, float],
    section: int,
    view: View,
    across: si.Ratios | None,
) -> str:
    """Return the outline of a blade or a slice of a lump: the hull of its two ends."""
    across, through = broadside(end - start, across)
    least = _HAIR / view.scale
    ends = [
        ring(centre, across * max(w, least) / 2, through * max(t, least) / 2, section)
        for centre, w, t in zip((start, end), wide, thick, strict=True)
    ]
    outline = hull(view.flat(np.concatenate(ends)))
    return "M" + "L".join(f"{x:.2f},{y:.2f}" for x, y in outline) + "Z"


def broadside(along: si.Metres, across: si.Ratios | None = None) -> tuple[si.Ratios, si.Ratios]:
    """Return the directions of width and thickness of a segment.

    A network that does not keep which way a blade faces has its width laid level,
    square to the segment; that of a segment that hangs straight is laid along x.

    Parameters
    ----------
    along : array [m], shape (3,)
    across : array [-] or None, shape (3,)
        Direction of the width; None: not known.

    Returns
    -------
    pair of array [-], shape (3,)
        Of length 1.
    """
    if across is None:
        across = np.array([-along[1], along[0], 0.0])
        if np.hypot(along[0], along[1]) < 1e-3 * np.linalg.norm(along) or not np.any(along):
            across = np.array([1.0, 0.0, 0.0])
    (a, b, c), (x, y, z) = along.tolist(), across.tolist()
    # By hand: a product of two small arrays takes many times as long, for each of some hundred.
    product = (b * z - c * y, c * x - a * z, a * y - b * x)
    size = math.hypot(*product)
    through = np.array(product) / size if size else np.array([0.0, 1.0, 0.0])
    return across / math.hypot(x, y, z), through


def ring(centre: si.Metres, across: si.Metres, through: si.Metres, section: int) -> si.Metres:
    """Return points round the end of a segment [m], shape (points, 3).

    Parameters
    ----------
    centre, across, through : array [m], shape (3,)
        Middle, half the width and half the thickness.
    section : int
        A RECTANGLE has its corners, others 16 points.
    """
    turns = _CORNERS if section == RECTANGLE else _ROUND
    return np.asarray(centre + turns @ np.array([across, through]))


def hull(points: si.Ratios) -> list[tuple[float, float]]:
    """Return the convex outline of points on the sheet, in order round it."""
    ordered = sorted(set(map(tuple, np.round(points, 2).tolist())))
    if len(ordered) < 3:
        return ordered
    lower, upper = _half_hull(ordered), _half_hull(ordered[::-1])
    return lower[:-1] + upper[:-1]


def _half_hull(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    kept: list[tuple[float, float]] = []
    for x, y in points:
        while len(kept) > 1:
            (ax, ay), (bx, by) = kept[-2], kept[-1]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0.0:
                break
            kept.pop()
        kept.append((x, y))
    return kept
