"""Corrected: what the caster has put right by hand, on parts read from photographs.

The corrections file, its keys and how a part is found again are those of a scan
(`pourcast.scan.corrections`); here is only what they do to a part of a photograph.
A part that is joined to the one that it goes on from makes that one longer.  What
grew on a part that is gone grows on its parent, and keeps the way that it points.

With d the direction of a part and u its side, v = d × u, a child at the angle a
and the turn t has

    c = d cos a + (u cos t + v sin t) sin a                                    (1)
    its side = (u cos t + v sin t) cos a - d sin a                             (2)

A size that the caster gives is as sure as a caliper, `pourcast.photo.model.CALIPER`.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.photo.grown import angles_of, bent_by
from pourcast.photo.model import CALIPER, PhotoPart, Reading
from pourcast.piece.model import NINE_OF_TEN
from pourcast.scan.model import Correction, ScannedPart, all_different

_CALIPER = CALIPER / NINE_OF_TEN  # as one standard deviation
_END = 0.98  # of its parent: a part that begins beyond goes on from it

Frame = tuple[si.Ratios, si.Ratios]


def as_scanned(parts: Sequence[PhotoPart]) -> tuple[ScannedPart, ...]:
    """Return the parts as a corrections file finds them: with place, size, shape and parent.

    Parameters
    ----------
    parts : sequence of PhotoPart

    Returns
    -------
    tuple of ScannedPart
        What no photograph shows is nan.
    """
    return tuple(
        ScannedPart(
            name=part.name,
            parent=part.parent,
            shape=part.shape,
            line=np.array([part.middle]),
            length=part.length,
            width=part.width,
            thickness=part.thickness,
            across=np.full(3, np.nan),
            widest=max(part.width),
            volume=math.nan,
            seen_volume=math.nan,
            length_error=part.length * part.length_error,
            thickness_error=min(part.thickness) * part.section_error,
            walls_read=0.0,
            hollow=False,
        )
        for part in parts
    )


def corrected(reading: Reading, chosen: Mapping[int, Correction]) -> Reading:
    """Return a reading with the corrections made.

    Parameters
    ----------
    reading : Reading
    chosen : dict of int to Correction
        What is to be put right on each part, by its number.

    Returns
    -------
    Reading
    """
    parts = list(reading.parts)
    frames = _frames(parts)
    # The first part stays: something has to hang on the button.
    gone = [k for k, c in chosen.items() if (c.drop or c.join) and k > 0]
    for k in sorted(gone, reverse=True):
        _take_out(parts, frames, k, join=chosen[k].join and not chosen[k].drop)
    number = {k: n for n, k in enumerate(k for k in range(len(parts)) if k not in gone)} | {-1: -1}
    kept = [
        replace(_put_right(parts[k], chosen.get(k)), parent=number[parts[k].parent])
        for k in number
        if k >= 0
    ]
    notes = {number[k]: note for k, note in reading.notes.items() if k in number}
    names = all_different(part.name for part in kept)
    named = tuple(replace(part, name=name) for part, name in zip(kept, names, strict=True))
    return replace(reading, parts=named, notes=notes)


def _frames(parts: Sequence[PhotoPart]) -> list[Frame]:
    """Return direction and side of each part at its base, equations (1) and (2)."""
    out: list[Frame] = []
    for part in parts:
        direction, side = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
        if part.parent >= 0:
            direction, side = bent_by(*out[part.parent], parts[part.parent].bend * part.at)
        out.append(_turned(direction, side, part.angle, part.turn))
    return out


def _turned(direction: si.Ratios, side: si.Ratios, angle: si.Radian, turn: si.Radian) -> Frame:
    out = math.cos(turn) * side + math.sin(turn) * np.cross(direction, side)
    c, s = math.cos(angle), math.sin(angle)
    return c * direction + s * out, c * out - s * direction


def _take_out(parts: list[PhotoPart], frames: list[Frame], k: int, *, join: bool) -> None:
    """Let what grows on a part grow on its parent; a joined part makes that one longer."""
    part, parent = parts[k], parts[k].parent
    host = parts[parent]
    longer = join and part.at >= _END and part.shape == host.shape
    before = host.length
    if longer:
        whole = before + part.length
        parts[parent] = replace(
            host,
            length=whole,
            longest=host.longest + part.longest,
            length_error=math.hypot(before * host.length_error, part.length * part.length_error)
            / whole,
            width=(host.width[0], part.width[1]),
            thickness=(host.thickness[0], part.thickness[1]),
            bend=host.bend + part.bend if abs(part.angle) < 0.1 else host.bend,
        )
    for n, child in enumerate(parts):
        if child.parent == k:
            at = (before + child.at * part.length) / (before + part.length) if longer else part.at
            parts[n] = _moved(child, frames[n], frames[parent], parts[parent], parent, at)
        elif child.parent == parent and longer and n != k:
            at = child.at * before / parts[parent].length
            parts[n] = _moved(child, frames[n], frames[parent], parts[parent], parent, at)


def _moved(
    child: PhotoPart, frame: Frame, base: Frame, host: PhotoPart, parent: int, at: si.Ratio
) -> PhotoPart:
    """Let a part grow on another place, and point as before."""
    direction, side = bent_by(*base, host.bend * at)
    way, own = frame
    arrives = math.cos(child.bend) * way + math.sin(child.bend) * own
    angle, turn, _, bend = angles_of(direction, side, way, arrives, abs(child.bend))
    return replace(child, parent=parent, at=at, angle=angle, turn=turn, bend=bend)


def _put_right(part: PhotoPart, correction: Correction | None) -> PhotoPart:
    if correction is None:
        return part
    measured = correction.width is not None or correction.thickness is not None
    width, thickness = correction.sizes(part.shape, part.width, part.thickness)
    if correction.length is not None:
        part = replace(
            part,
            length=correction.length,
            longest=correction.length,
            length_error=_CALIPER,
        )
    return replace(
        part,
        name=correction.name or part.name,
        material=correction.material or part.material,
        width=width,
        thickness=thickness,
        section_error=_CALIPER if measured else part.section_error,
    )
