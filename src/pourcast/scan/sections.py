"""Sections: how a part looks across its middle line.

A rod is read as a circle about its line: twice the median distance of its
surface.  A blade is as thick as the median way through it, and as wide as its
cells say once they are divided by that: along the curve, for a bowed one.  A
lump is read as a caliper reads it, from side to side.

A tube is a sheet that is rolled up: its wall is its thickness and its girth,
along the middle of the wall, its width.
"""

import math
from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.piece.model import Shape
from pourcast.scan.lines import Line
from pourcast.scan.slices import round_by_surface

FLAT = 2.4
"""Width over thickness from which a part is a blade; estimate."""

_BULGE = 1.22  # middle over ends, from which a part is a lump; estimate
_LUMP = 4.0  # length over width up to which it may be one; estimate
_HOLLOW = 0.42  # wall over diameter under which a round part is a tube; estimate
_ACROSS = 0.7  # of its diameter, that a ray through a rod is long; estimate
_SOLID = 0.25  # of the rays, that go across a rough rod and not across a tube; estimate
_ROUND = 1.7  # larger over smaller way across up to which a tube is round
_ROUND_LUMP = 1.12  # the same, under which a lump has one diameter
_BIN = 5e-4  # m, of a profile along a part
_LEAST_TAPER = 0.06  # a smaller change from end to end is not told from none; estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part across its line.

    Parameters
    ----------
    along : array [m], shape (samples,)
        Of its places on the surface.
    off : array [m], shape (samples, 3)
        From the line.
    way : array [m], shape (samples,)
        Through the wall.
    broad, narrow : array [-], shape (3,)
        Directions of the larger and the smaller way across.
    wide, deep : float [m]
        As a caliper reads.
    wall : float [m]
        Median way through.
    """

    along: si.Metres
    off: si.Metres
    way: si.Metres
    broad: si.Ratios
    narrow: si.Ratios
    wide: si.Metre
    deep: si.Metre
    wall: si.Metre

    @property
    def flat(self) -> bool:
        """Whether it is a blade."""
        return self.wide > FLAT * self.wall and not self.hollow

    @property
    def hollow(self) -> bool:
        """Whether it is a tube."""
        return self.wall < _HOLLOW * self.deep and self.wide < _ROUND * self.deep

    @property
    def radius(self) -> si.Metres:
        """Distance of each place of the surface from the line."""
        out: si.Metres = np.linalg.norm(self.off, axis=1)
        return out


def section_of(place: si.Metres, way: si.Metres, line: Line, *, thin: si.Metre = 0.0) -> Section:
    """Return how a part looks across its line.

    Parameters
    ----------
    place : array [m], shape (samples, 3)
    way : array [m], shape (samples,)
    line : Line
    thin : float [m]
        Of a rod thinner than this the surface tells the wall, where many rays end in its folds.

    Returns
    -------
    Section
    """
    along, off = line.feet(place)
    core = (along > 0.1 * line.end) & (along < 0.9 * line.end)
    if core.sum() < 12:
        core = np.ones(len(along), dtype=bool)
    heading = line.toward(0.5 * line.end)
    across = off[core] - (off[core] @ heading)[:, None] * heading
    values, vectors = np.linalg.eigh(across.T @ across + 1e-18 * np.eye(3))
    broad, narrow = vectors[:, 2], vectors[:, 1]
    if abs(float(values[1])) < 1e-17 or abs(float(narrow @ heading)) > 0.5:
        narrow = np.cross(heading, broad)
    read = way[core & np.isfinite(way)] if np.isfinite(way[core]).any() else way[np.isfinite(way)]
    wide, deep = _range(off @ broad), _range(off[core] @ narrow)
    wall = float(np.median(read)) if len(read) else deep
    spread = np.sqrt(np.maximum(values[1:], 0.0) / core.sum())
    rod = float(round_by_surface(spread[None])[0])
    if math.sqrt(8.0) * spread[1] < thin and (read > _ACROSS * rod).sum() > _SOLID * len(read):
        wall = max(wall, rod)
    return Section(
        along=along,
        off=off,
        way=way,
        broad=broad,
        narrow=narrow,
        wide=wide,
        deep=deep,
        wall=wall,
    )


def _range(values: si.Metres) -> si.Metre:
    low, high = np.percentile(values, [0.1, 99.9])
    return float(high - low)


def shape_of(
    section: Section, start: si.Metre, tip: si.Metre, *, solid: si.Ratio, bears: bool
) -> Shape:
    """Return the shape of a part.

    Parameters
    ----------
    section : Section
    start, tip : float [m]
        Ends along its line.
    solid : float [-]
        Its volume over that of the box about it.
    bears : bool
        Whether parts grow on it.

    Returns
    -------
    {"rod", "blade", "lump"}
    """
    if section.hollow or section.flat:
        return "blade"
    length = tip - start
    if length > _LUMP * section.wide:
        return "rod"
    place, middle = profile(section.along, section.radius, start, tip, bins=9)
    if len(place) >= 5:
        ends = 0.5 * (middle[0] + middle[-1])
        inner = float(np.median(middle[len(middle) // 3 : -(len(middle) // 3)]))
        if inner > _BULGE * ends and min(middle[1], middle[-2]) < 1.02 * inner:
            return "lump"
    if not bears and length < 2.0 * section.wide and solid < 0.66:
        return "lump"
    return "rod"


def profile(
    along: si.Metres, value: si.Metres, start: si.Metre, tip: si.Metre, *, bins: int | None = None
) -> tuple[si.Metres, si.Metres]:
    """Return the median of a value along a part.

    Parameters
    ----------
    along, value : array [m], shape (samples,)
    start, tip : float [m]
    bins : int or None
        None: one for each half millimetre.

    Returns
    -------
    place, middle : array [m], shape (bins that hold enough,)
    """
    good = np.isfinite(value) & (along >= start) & (along <= tip)
    along, value = along[good], value[good]
    many = bins or max(3, min(60, round((tip - start) / _BIN)))
    edge = np.linspace(start, tip, many + 1)
    index = np.clip(np.searchsorted(edge, along, side="right") - 1, 0, many - 1)
    order = np.lexsort((value, index))
    index, value = index[order], value[order]
    first = np.searchsorted(index, np.arange(many))
    size = np.searchsorted(index, np.arange(many), side="right") - first
    has = size >= 3
    middle = (
        value[np.minimum(first + size // 2, max(len(value) - 1, 0))] if len(value) else edge[:0]
    )
    return (0.5 * (edge[1:] + edge[:-1]))[has], middle[has] if len(value) else middle


def taper(
    place: si.Metres, value: si.Metres, start: si.Metre, tip: si.Metre, whole: si.Metre
) -> tuple[si.Metre, si.Metre]:
    """Return the value at base and tip by a straight line through the middle of its profile.

    Parameters
    ----------
    place, value : array [m], shape (bins,)
    start, tip : float [m]
    whole : float [m]
        The value of the part as a whole, where there are too few bins.

    Returns
    -------
    pair of float [m]
    """
    if len(place) < 4 or tip - start <= 0.0:
        return whole, whole
    # Slope by the median of slopes from half to half: a fork or a ragged end does not pull it.
    half = len(place) // 2
    run = place[half:][:, None] - place[:half][None]
    slopes = (value[half:][:, None] - value[:half][None]) / run
    slope = float(np.median(slopes))
    level = float(np.median(value - slope * place))
    base, end = level + slope * start, level + slope * tip
    mean = 0.5 * (base + end)
    if abs(end - base) < _LEAST_TAPER * mean:
        return mean, mean
    least = 0.05 * max(base, end)
    return max(base, least), max(end, least)


def tube_girth(section: Section) -> si.Metre:
    """Return the girth of a tube along the middle of its wall.

    Parameters
    ----------
    section : Section

    Returns
    -------
    float [m]
    """
    outer = 2.0 * float(np.percentile(section.radius, 75))
    return math.pi * max(outer - section.wall, 0.5 * outer)


def lump_across(section: Section) -> tuple[si.Metre, si.Metre]:
    """Return the larger and the smaller way across a lump; alike if it is round.

    Parameters
    ----------
    section : Section

    Returns
    -------
    wide, deep : float [m]
    """
    wide, deep = _range(section.off @ section.broad), _range(section.off @ section.narrow)
    if wide < _ROUND_LUMP * deep:
        wide = deep = math.sqrt(wide * deep)
    return wide, deep
