"""Ends: where a part begins and where it ends, as a caliper would read it.

A part begins on the surface of its parent, so its line is followed back until
it enters the parent: a rod about its line up to its end face, a blade between
its faces, a lump as an ellipsoid.  A part that goes on where its parent ends
begins where the section leaves that of the thinner of the two at the joint: a rod
may be half as thick there as at its other end.  With a kink between them, of angle a
and radius r there, the parent ends r cos a beyond the place
where the lines cross, and the part begins r beyond it: on the end face, r sin a
off its middle.  A part ends at
the farthest place of its surface along its line; a stem under a whorl that hides its
end, where the rays begin.
"""

from dataclasses import dataclass

import numpy as np

from pourcast import units as si
from pourcast.scan.lines import Line
from pourcast.scan.sections import Section, profile, taper

_BIN = 4e-4  # m, along the line
_LEAVES = 1.18  # of the thinner section, from which it is another part; estimate
_KINKED = 0.955  # cosine of 17°, below which two parts in a row make a kink
_LEFT = 10.0  # percent of the surface at each end, left out of the taper; estimate
_SAME_END = 0.3  # of the radius, that an end may lie under the surface seen; estimate
_HIDDEN = 3.0  # of the radius, that the feet of others may hide of an end; estimate
_STEP = 1e-4  # m, of the way back


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A part as a solid that others grow on.

    Parameters
    ----------
    line : Line
    start, tip : float [m]
        Along the line.
    base, end : float [m]
        Half its section at both ends: of a rod its radius, of a blade half its thickness.
    half_width : float [m]
        Of a blade or lump.
    normal, broad : array [-], shape (3,)
        Of a blade or lump.
    kind : {"rod", "blade", "lump"}
    """

    line: Line
    start: si.Metre
    tip: si.Metre
    base: si.Metre
    end: si.Metre
    half_width: si.Metre
    normal: si.Ratios
    broad: si.Ratios
    kind: str

    def holds(self, points: si.Metres) -> si.Booleans:
        """Say which points lie inside.

        Parameters
        ----------
        points : array [m], shape (points, 3)

        Returns
        -------
        array of bool, shape (points,)
        """
        along, off = self.line.feet(points)
        length = max(self.tip - self.start, 1e-9)
        share = (along - self.start) / length
        inside = (share >= 0.0) & (share <= 1.0)
        half = self.base + (self.end - self.base) * np.clip(share, 0.0, 1.0)
        if self.kind == "rod":
            out: si.Booleans = inside & (np.linalg.norm(off, axis=1) <= half)
            return out
        thick, wide = np.abs(off @ self.normal), np.abs(off @ self.broad)
        if self.kind == "blade":
            inside &= (thick <= half) & (wide <= self.half_width)
            return inside
        round_ = (2 * share - 1) ** 2 + (thick / half) ** 2 + (wide / self.half_width) ** 2
        held: si.Booleans = round_ <= 1.0
        return held


def start_on(line: Line, parent: Body, first: si.Metre) -> si.Metre | None:
    """Return where the line of a part leaves its parent; None: it does not come near.

    Parameters
    ----------
    line : Line
    parent : Body
    first : float [m]
        A place along the line that is well outside.

    Returns
    -------
    float or None [m]
    """
    back, places = _back(line, first)
    held = np.flatnonzero(parent.holds(places))
    return float(back[held[0]]) if len(held) else None


def _back(line: Line, first: si.Metre) -> tuple[si.Metres, si.Metres]:
    """Return lengths along a line from one back to its beginning, and the places there."""
    back: si.Metres = np.arange(first, line.along[0], -_STEP)
    return back, np.stack([np.interp(back, line.along, line.place[:, k]) for k in range(3)], axis=1)


def hidden_tip(line: Line, radius: si.Metre, tip: si.Metre, children: list[Line]) -> si.Metre:
    """Return the tip of a rod whose end may lie under the feet of others.

    A part on the end face, at the angle a to the rod, begins r sin a off its middle.  Where
    the lines of two or more of them are as far off, there the rod ends.

    Parameters
    ----------
    line : Line
        Of the rod.
    radius : float [m]
        At its tip.
    tip : float [m]
        How far its surface reaches.
    children : list of Line
        Of what grows on it.

    Returns
    -------
    float [m]
        ``tip`` or farther along the line.
    """
    ends = []
    for child in children:
        _, places = _back(child, 0.4 * child.end)
        along, off = line.feet(places)
        sine = float(np.linalg.norm(np.cross(child.toward(0.0), line.toward(line.end))))
        near = np.flatnonzero(np.linalg.norm(off, axis=1) <= radius * sine)
        # What leaves at the side is as near to the middle only under the end.
        if len(near) and along[near[0]] > tip - _SAME_END * radius:
            ends.append(float(along[near[0]]))
    end = float(np.median(ends)) if len(ends) > 1 else tip
    return end if tip < end < tip + _HIDDEN * radius else tip


def crossing(first: Line, second: Line) -> tuple[si.Metre, si.Metre, si.Ratio] | None:
    """Return where two lines that make a kink come nearest to each other.

    Parameters
    ----------
    first, second : Line
        The second goes on where the first ends.

    Returns
    -------
    along_first, along_second : float [m]
    cosine : float [-]
        Between them.
    """
    d, e = first.toward(first.end), second.toward(0.0)
    cosine = float(d @ e)
    if cosine > _KINKED:
        return None
    way = second.at(0.0) - first.at(first.end)
    square = 1.0 - cosine * cosine
    a, b = float(way @ d), float(way @ e)
    return first.end + (a - cosine * b) / square, (cosine * a - b) / square, cosine


def step_between(
    before: Section, after: Section, line: Line, after_place: si.Metres, *, blade: bool
) -> si.Metre:
    """Return where along the line of the first part the second begins.

    Parameters
    ----------
    before, after : Section
    line : Line
        Of the first part.
    after_place : array [m], shape (samples, 3)
        Places on the surface of the second.
    blade : bool
        True if the wider one is a blade, which begins over a slope and not at its foot.

    Returns
    -------
    float [m]
    """
    along_after, off_after = line.feet(after_place)
    along = np.concatenate([before.along, along_after])
    radius = np.concatenate([before.radius, np.linalg.norm(off_after, axis=1)])
    border = line.end
    thin, thick = _typical(before.radius), _typical(after.radius)
    low, high = border - 6e-3 - thick, border + 6e-3 + thick
    grows = thick >= thin
    if not blade:
        thin, thick = radius_at(before, tip=True), radius_at(after, tip=False)
    edge = np.arange(low, high, _BIN)
    index = np.searchsorted(edge, along) - 1
    level = np.full(len(edge), np.nan)
    for k in np.unique(index[(index >= 0) & (index < len(edge))]):
        level[k] = np.percentile(radius[index == k], 75)
    known = np.flatnonzero(np.isfinite(level))
    if not len(known):
        return border
    limit = np.full(len(edge), 0.5 * (thin + thick))
    if not blade:
        # Farther from the joint the thinner one is thicker or thinner by its taper.
        slim, its = (before, before.along) if grows else (after, along_after)
        ends = np.percentile(its, [_LEFT, 100.0 - _LEFT])
        radii = radius_at(slim, tip=False), radius_at(slim, tip=True)
        limit = (
            _LEAVES * min(thin, thick) * np.interp(edge + 0.5 * _BIN, ends, radii) / radii[grows]
        )
    if not grows:
        known = known[::-1]
    last: si.Metre | None = None
    past = 0
    for k in known.tolist():
        if level[k] <= limit[k]:
            last, past = float(edge[k] + _BIN if grows else edge[k]), 0
        elif last is not None:
            past += 1
            if past >= 3:
                break
    return border if last is None else last


def radius_at(section: Section, *, tip: bool) -> si.Metre:
    """Return half the section of a part at its base or its tip, by the taper of its middle.

    Parameters
    ----------
    section : Section
    tip : bool

    Returns
    -------
    float [m]
    """
    usual = _typical(section.radius)
    if section.flat:
        return usual
    low, high = (float(end) for end in np.percentile(section.along, [_LEFT, 100.0 - _LEFT]))
    place, value = profile(section.along, section.radius, low, high)
    return taper(place, value, low, high, usual)[tip]


def _typical(radius: si.Metres) -> si.Metre:
    return float(np.percentile(radius, 70)) if len(radius) else 1e-4


def tip_of(section: Section, line: Line, *, half: si.Metre | None) -> si.Metre:
    """Return how far a part reaches along its line.

    Parameters
    ----------
    section : Section
    line : Line
    half : float or None [m]
        Half the section of a part that bears others at its end; their feet lie outside it.

    Returns
    -------
    float [m]
    """
    along = section.along
    if half is not None:
        inner = along[section.radius <= 1.1 * half]
        if len(inner) > 10:
            along = inner
    if not len(along):
        return line.end
    # A handful of places from a rough surface stick out; the third farthest is taken.
    return float(np.sort(along)[-min(3, len(along))])
