"""View: one photograph, from its bytes to sticks with their parts."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.photo.ground import cut_out, dark_pieces, flattened
from pourcast.photo.load import load
from pourcast.photo.model import Pixel, ScaleGiven, Stick, View
from pourcast.photo.scale import find_scale
from pourcast.photo.skeleton import skeleton
from pourcast.photo.split import split
from pourcast.photo.sticks import sticks
from pourcast.photo.strokes import strokes

_STEP = 0.8  # a part narrower than this times the one before has a step to it


def read_view(content: bytes, given: ScaleGiven, foot: tuple[Pixel, Pixel] | None = None) -> View:
    """Return what one photograph shows.

    Parameters
    ----------
    content : bytes
        Of a JPEG, PNG or WebP file.
    given : Mark, TwoPoints or PerPixel
    foot : pair of float [px] or None
        Column and row in the file; None: the lowest place of the original.

    Returns
    -------
    View

    Raises
    ------
    InputError
        If the file, the mark or the original cannot be read.
    """
    pixels, reduced = load(content)
    light = flattened(pixels)
    pieces, contrast = dark_pieces(light)
    scale, mark = find_scale(given, light, pieces, reduced)
    seen = cut_out(light, pieces, mark, contrast, reduced)
    if foot is None:
        row, column = np.nonzero(seen.inside)
        low = row > row.max() - 3
        at = float(column[low].mean()), float(row.max())
    else:
        at = (foot[0] + 0.5) / reduced - 0.5, (foot[1] + 0.5) / reduced - 0.5
        _require_below(at[1], np.flatnonzero(seen.inside.any(axis=1)), reduced)
    bones = skeleton(seen.inside)
    found, crossed = strokes(bones, at) if bones.branches else ((), ())
    lines = sticks(light, bones, found)
    if not lines:
        hint = "A ball or a plate is measured faster with a caliper; its piece file has one part."
        raise InputError("original", "one compact shape", "", "longer than it is wide", hint)
    base = lines[0].line[0]
    return View(
        scale=scale,
        foot=(float(base[0]), float(base[1])),
        sticks=in_order(_ended([replace(stick, sections=split(stick)) for stick in lines])),
        crossings=tuple((float(bones.place[n][0]), float(bones.place[n][1])) for n in crossed),
        silhouette=seen,
    )


def _require_below(row: Pixel, rows: si.Integers, reduced: int) -> None:
    """Refuse a foot in the upper half: up is up in the picture, and the button is below."""
    middle = 0.5 * float(rows[0] + rows[-1])
    if row < middle:
        raise InputError(
            "foot of the original",
            f"{(row + 0.5) * reduced - 0.5:.0f}",
            "px from the top",
            f"in its lower half, {(middle + 0.5) * reduced - 0.5:.0f} px or more",
            "Turn the picture so that the original stands on its foot.",
        )


def _ended(sticks: Sequence[Stick]) -> tuple[Stick, ...]:
    """End a part where others leave it, and let what goes on from there be one of them.

    Beside a fork no width can be read, so the cut between a stem and the ray
    that goes on from it is not sure to a few widths.  A part that begins at the
    end of its parent, of half width R, at the angle a, has its fork R cos a
    before that end.
    """
    made = list(sticks)
    index = 0
    while index < len(made):
        stick = made[index]
        for k in range(len(stick.sections) - 1):
            here, onward = stick.sections[k], stick.sections[k + 1]
            if here.shape == "lump" or onward.width[0] > _STEP * here.width[1]:
                continue
            half = 0.5 * here.width[1]
            ends = [
                child.fork + half * _cosine(child)
                for child in made
                if child.parent == index and abs(child.on_parent - here.end) < 5.0 * half
            ]
            cut = float(np.median(ends)) if ends else 0.0
            if here.start < cut < onward.end:
                _cut(made, index, k, cut, half)
                break
        index += 1
    return tuple(made)


def _cut(made: list[Stick], index: int, k: int, cut: Pixel, half: Pixel) -> None:
    """Make two sticks of one: what goes on from its end, and what is before it."""
    stick = made[index]
    new = len(made)
    shift = cut - half
    place = [np.interp(shift, stick.along, stick.line[:, axis]) for axis in (0, 1)]
    after = stick.along > cut
    onward = [
        replace(s, start=max(s.start, cut) - shift, end=s.end - shift)
        for s in stick.sections[k + 1 :]
    ]
    made.append(
        replace(
            stick,
            parent=index,
            line=np.concatenate([[place], stick.line[after]]),
            along=np.concatenate([[0.0], stick.along[after] - shift]),
            width=np.concatenate([[np.nan], stick.width[after]]),
            fork=shift,
            on_parent=cut,
            hidden=half,
            sections=tuple(onward),
        )
    )
    keep = stick.along <= cut
    end = [np.interp(cut, stick.along, stick.line[:, axis]) for axis in (0, 1)]
    made[index] = replace(
        stick,
        line=np.concatenate([stick.line[keep], [end]]),
        along=np.concatenate([stick.along[keep], [cut]]),
        width=np.concatenate([stick.width[keep], [np.nan]]),
        sections=(*stick.sections[:k], replace(stick.sections[k], end=cut)),
        joined=-1,
    )
    for number, child in enumerate(made[:new]):
        if child.parent == index and child.fork > cut + half:
            made[number] = replace(
                child, parent=new, fork=child.fork - shift, on_parent=child.on_parent - shift
            )
        if child.joined == index:
            made[number] = replace(made[number], joined=-1 if child.parent == index else index)


def _cosine(child: Stick) -> si.Ratio:
    if child.hidden <= 0.0:
        return 1.0
    return max(-1.0, min(1.0, (child.on_parent - child.fork) / max(child.hidden, 1e-9)))


def in_order(sticks: Sequence[Stick]) -> tuple[Stick, ...]:
    """Return the sticks with each parent before its children.

    Parameters
    ----------
    sticks : sequence of Stick

    Returns
    -------
    tuple of Stick
    """
    depth = [0] * len(sticks)
    for start in range(len(sticks)):
        number, steps = start, 0
        while sticks[number].parent >= 0 and steps <= len(sticks):
            number, steps = sticks[number].parent, steps + 1
        depth[start] = steps
    order = sorted(range(len(sticks)), key=lambda n: (depth[n], n))
    now = {old: new for new, old in enumerate(order)} | {-1: -1}
    return tuple(
        replace(sticks[n], parent=now[sticks[n].parent], joined=now[sticks[n].joined])
        for n in order
    )
