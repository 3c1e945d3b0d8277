"""Measure: place, length, width and thickness of each part.

First all sections and tips, then the beginnings, parents before their children,
since a part begins on the surface of its parent.  The width of a blade is that
which gives its volume, so lobes and the round of a leaf are kept as area.

Uncertainties are estimates: half a cell at each end of a length, and what the
spread of the readings leaves of a thickness, never under 1.5 %.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.piece.model import Shape
from pourcast.piece.solids import flat_taper_volume
from pourcast.scan.ends import Body, crossing, hidden_tip, radius_at, start_on, step_between, tip_of
from pourcast.scan.lines import Line, centred
from pourcast.scan.model import Cells, Field, ScannedPart, Walls
from pourcast.scan.parts import Gathered, Owners
from pourcast.scan.sections import (
    Section,
    lump_across,
    profile,
    section_of,
    shape_of,
    taper,
    tube_girth,
)
from pourcast.scan.unseen import section_error

_PLACES = 33  # of the middle line that is handed on
_LEAST_SAMPLES = 6  # on the surface of a part; fewer tell nothing
_EDGE = 5e-4  # m, left out at each end of a section
_LEAST_ERROR = 0.015  # of a thickness; estimate
_SLENDER = 0.3  # radius over length up to which a part can make a kink; estimate
_FOOT_ERROR = 0.1  # of the parent's section, where a part leaves it; estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class _Taken:
    """What one part has on its surface and in its cells."""

    section: Section
    place: si.Metres
    line: Line
    flat: bool
    unseen: si.Ratio
    cell_along: si.Metres
    cell_volume: si.CubicMetres


def measured_parts(
    parts: list[Gathered], owned: Owners, cells: Cells, field: Field, walls: Walls
) -> list[ScannedPart | None]:
    """Return each part with its measures; None where too little of it is seen.

    Parameters
    ----------
    parts : list of Gathered
    owned : Owners
    cells : Cells
    field : Field
    walls : Walls

    Returns
    -------
    list of ScannedPart or None
        Parents are numbers of ``parts``; volumes are nan until all parts are known.
    """
    taken = [_take(k, part, owned, cells, field, walls) for k, part in enumerate(parts)]
    serial = {part.parent: k for k, part in enumerate(parts) if part.serial}
    bearing = {part.parent for part in parts}
    bodies: list[Body | None] = []
    out: list[ScannedPart | None] = []
    for k, part in enumerate(parts):
        own = taken[k]
        if own is None:
            # Its children are measured from its own parent.
            bodies.append(bodies[part.parent] if part.parent >= 0 else None)
            out.append(None)
            continue
        parent = bodies[part.parent] if part.parent >= 0 else None
        before = taken[part.parent] if part.parent >= 0 else None
        start = _start(part, own, before, parent)
        after = taken[serial[k]] if k in serial else None
        tip = _tip(own, after, bears=k in bearing)
        if after is None and _slender(own):
            children = [t.line for p, t in zip(parts, taken, strict=True) if t and p.parent == k]
            tip = hidden_tip(own.line, radius_at(own.section, tip=True), tip, children)
        if tip <= start + 0.5 * field.cell:
            start = min(start, tip - 0.5 * field.cell)
        found, body = _measure(own, start, tip, parent, bears=k in bearing, field=field)
        bodies.append(body)
        out.append(replace(found, parent=part.parent))
    return out


def _take(
    k: int, part: Gathered, owned: Owners, cells: Cells, field: Field, walls: Walls
) -> _Taken | None:
    samples = np.flatnonzero(owned.sample == k)
    if len(samples) < _LEAST_SAMPLES:
        return None
    place = walls.place[samples]
    mine = np.flatnonzero(owned.cell == k)
    line = part.line
    section = section_of(place, walls.way[samples], line, thin=2 * field.cell)
    half = float(np.median(section.radius))
    if not (section.flat or part.flat) and half < _SLENDER * line.end:
        line = centred(line, place, edge=half)
        section = section_of(place, walls.way[samples], line, thin=2 * field.cell)
    along, _ = line.feet(field.origin + field.cell * (cells.place[mine] + 0.5))
    return _Taken(
        section=section,
        place=place,
        line=line,
        flat=part.flat,
        unseen=float(walls.closed[samples].mean()),
        cell_along=along,
        cell_volume=cells.share[mine] * field.cell**3,
    )


def _start(part: Gathered, own: _Taken, before: _Taken | None, parent: Body | None) -> si.Metre:
    line = own.line
    least = float(np.percentile(own.section.along, 1.0))
    if parent is None or before is None:
        return float(np.sort(own.section.along)[min(2, len(own.section.along) - 1)])
    if part.serial:
        knee = _knee(before, own)
        if knee is not None:
            return knee[1] + radius_at(before.section, tip=True)
        border = _border(before, own)
        along, _ = line.feet(before.line.at(border)[None])
        return float(along[0])
    found = start_on(line, parent, 0.4 * line.end)
    if found is not None:
        return found
    # The line passes the parent by: the part begins where its surface begins.
    return least


def _knee(before: _Taken, after: _Taken) -> tuple[si.Metre, si.Metre, si.Ratio] | None:
    """Return where two rods in a row make a kink; None: they do not."""
    if not (_slender(before) and _slender(after)):
        return None
    return crossing(before.line, after.line)


def _slender(part: _Taken) -> bool:
    # Flat by its pieces: a neighbour that touches it makes one place of its surface broad.
    return not part.flat and bool(np.median(part.section.radius) <= _SLENDER * part.line.end)


def _lumpish(part: _Taken) -> bool:
    return not part.section.flat and bool(
        np.median(part.section.radius) > _SLENDER / 2 * part.line.end
    )


def _border(before: _Taken, after: _Taken) -> si.Metre:
    one, two = before.section, after.section
    if _lumpish(before) and _lumpish(after):
        # Two lumps in a row have no section in common; the first ends where its surface does.
        return tip_of(one, before.line, half=None)
    wider = two if np.median(two.radius) > np.median(one.radius) else one
    return step_between(one, two, before.line, after.place, blade=wider.flat)


def _tip(own: _Taken, after: _Taken | None, *, bears: bool) -> si.Metre:
    if after is not None:
        knee = _knee(own, after)
        if knee is not None:
            return knee[0] + knee[2] * radius_at(own.section, tip=True)
        return _border(own, after)
    half = float(np.median(own.section.radius)) if bears and not own.section.flat else None
    return tip_of(own.section, own.line, half=half)


def _measure(
    own: _Taken, start: si.Metre, tip: si.Metre, parent: Body | None, *, bears: bool, field: Field
) -> tuple[ScannedPart, Body]:
    cell = field.cell
    length = tip - start
    own = replace(own, section=_within(own, start, tip, thin=2 * cell))
    section = own.section
    inside = (own.cell_along > start - cell) & (own.cell_along < tip + cell)
    seen = float(own.cell_volume[inside].sum())
    solid = seen / max(length * section.wide * section.deep, 1e-18)
    shape = shape_of(section, start, tip, solid=solid, bears=bears)
    width, thickness = _across(own, shape, start, tip, seen)
    places = np.linspace(start, tip, _PLACES)
    line = np.stack([np.interp(places, own.line.along, own.line.place[:, k]) for k in range(3)], 1)
    base = 2 * parent.base if parent is not None else max(width)
    if parent is not None and parent.kind == "rod":
        base = 2 * parent.end
    read = np.isfinite(section.way)
    spread = section.way[read] - section.wall
    noise = 1.4826 * float(np.median(np.abs(spread))) if read.any() else section.wall
    thick = 0.5 * sum(thickness)
    part = ScannedPart(
        name="",
        parent=-1,
        shape=shape,
        line=line,
        length=length,
        width=width,
        thickness=thickness,
        across=section.broad,
        widest=section.wide,
        volume=math.nan,
        seen_volume=seen,
        length_error=math.hypot(cell / math.sqrt(2), _FOOT_ERROR * base),
        thickness_error=math.hypot(
            _LEAST_ERROR * thick, min(noise, thick) / math.sqrt(max(int(read.sum()), 1))
        ),
        walls_read=float(read.mean()),
        hollow=section.hollow and shape == "blade",
        unseen=own.unseen,
        section_error=section_error(
            shape, own.unseen, min(*width, *thickness), cell, by_winding=field.by_winding
        ),
    )
    return part, _body(own, part, start, tip)


def _within(own: _Taken, start: si.Metre, tip: si.Metre, *, thin: si.Metre) -> Section:
    """Return the section by what lies between both ends alone."""
    margin = min(_EDGE, 0.1 * (tip - start))
    section = own.section
    inside = (section.along > start + margin) & (section.along < tip - margin)
    if inside.sum() < _LEAST_SAMPLES:
        return section
    return section_of(own.place[inside], section.way[inside], own.line, thin=thin)


def _across(
    own: _Taken, shape: Shape, start: si.Metre, tip: si.Metre, seen: si.CubicMetre
) -> tuple[tuple[si.Metre, si.Metre], tuple[si.Metre, si.Metre]]:
    """Return width and thickness at base and tip."""
    section = own.section
    if shape == "lump":
        wide, deep = lump_across(section)
        return (wide, wide), (deep, deep)
    if shape == "rod":
        whole = 2 * float(np.median(section.radius))
        # The round of the tip, and the foot on the parent, are no part of the taper.
        margin = min(0.5 * whole, 0.25 * (tip - start))
        place, value = profile(section.along, 2 * section.radius, start + margin, tip - margin)
        pair = taper(place, value, start, tip, whole)
        return pair, pair
    length = max(tip - start, 1e-9)
    if section.hollow:
        girth = tube_girth(section)
        return (girth, girth), (section.wall, section.wall)
    place, value = profile(section.along, section.way, start, tip)
    thin = taper(place, value, start, tip, section.wall)
    many = max(4, min(40, round(length / 1e-3)))
    edge = np.linspace(start, tip, many + 1)
    area = np.histogram(own.cell_along, edge, weights=own.cell_volume)[0] * many / length
    middle = 0.5 * (edge[1:] + edge[:-1])
    at = (middle - start) / length
    across = area / (thin[0] + (thin[1] - thin[0]) * at)
    slope, level = np.polyfit(at, across, 1)
    least = 0.05 * max(float(across.max()), section.wall)
    pair = (max(float(level), least), max(float(level + slope), least))
    held = flat_taper_volume(length, pair, thin)
    scale = seen / held if held > 0.0 and seen > 0.0 else 1.0
    return (pair[0] * scale, pair[1] * scale), thin


def _body(own: _Taken, part: ScannedPart, start: si.Metre, tip: si.Metre) -> Body:
    section = own.section
    if part.hollow:
        half = float(np.median(section.radius))
        base, end, kind = half, half, "rod"
    else:
        base, end, kind = 0.5 * part.thickness[0], 0.5 * part.thickness[1], part.shape
    return Body(
        line=own.line,
        start=start,
        tip=tip,
        base=base,
        end=end,
        half_width=0.5 * max(part.widest, *part.width)
        if part.shape == "lump"
        else 0.5 * part.widest,
        normal=section.narrow,
        broad=section.broad,
        kind=kind,
    )
