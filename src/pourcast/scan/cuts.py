"""Cuts: where along a strand one part ends and the next begins.

Along a strand the logarithm of the width is taken as one straight line, or as
two with a step between them.  A step of `JUMP` or more is a cut: stalk to leaf,
stalk to bud.  A taper is a slope, not a step.  The thin side of a step must be
nearly as long as it is wide, else it is the round of a lump.

A waist is a cut too, see `pourcast.scan.waists`, and so is a kink, see
`pourcast.scan.kinks`.  Where one body of the file ends and the next begins there is
a cut, unless both run straight on with one section.

The last pieces of a rounded end are thinner, and no part.  The limits are our
own choice, tried on a few drawn plants (estimate).
"""

import math

import numpy as np

from pourcast import units as si
from pourcast.scan.kinks import limbs
from pourcast.scan.model import Pieces
from pourcast.scan.slices import FLAT, Slices
from pourcast.scan.steps import LEAST, filled, smoothed, step_of
from pourcast.scan.strands import Strand
from pourcast.scan.waists import neck, waist

JUMP = 1.45
"""Ratio of widths that makes a cut."""

_EVEN = 1.25  # ratio of the section at the border of two bodies to the usual one
_ROUNDED = 3  # pieces at an end that may be thinner without being a part
_ALIKE = 1.25  # ratio of sections that go on over the border of two bodies
_STRAIGHT = 0.97  # cosine of 14°, within which two bodies go straight on
_WALL_JUMP = 1.3  # ratio of thickness that makes a cut
_STOUT = 2.2  # length over width, under which a body is not cut
_ROD = 3.0  # length over width, under which two bodies are never one rod
_LONG = 0.9  # of its width, that the thin side of a step must be long
_BASE = 0.5  # of the width of a lump, in which it is round at its base
_CLEAR_FOOT = 2.5  # of its width; a longer foot no wider than the next part is a part itself
_SHRED = 0.55  # bands; a cell is half a band, and no section is told smaller than a cell
_LONG_SHREDS = 1.5  # of the width of the part; estimate
_SAME_SHEET = 1.5  # ratio of thickness of two blades that are one


def cut(
    strand: Strand,
    pieces: Pieces,
    slices: Slices,
    forks: si.Booleans,
    *,
    hidden: si.Metre = 0.0,
    passed: int = 0,
) -> list[list[int]]:
    """Return the parts of a strand, each as its pieces in their order.

    Parameters
    ----------
    strand : Strand
    pieces : Pieces
    slices : Slices
    forks : array of bool, shape (pieces,)
        Pieces whose section holds the foot of another part.
    hidden : float [m]
        Half the section of what it grows on.
    passed : int
        Bands between its first piece and the place that it leaves, where it was not yet apart.

    Returns
    -------
    list of lists of int
    """
    line = np.array(strand.pieces)
    parts: list[si.Integers] = []
    shreds: list[tuple[int, si.Integers]] = []
    for whole in _bodies(line, pieces, slices):
        many = _shreds(whole, pieces, slices) if hidden > 0.0 or whole[0] != line[0] else 0
        body = whole[many:]
        shreds.append((int(body[0]), whole[:many]))
        wide = _typical(slices.wide[body])
        stout = len(body) * pieces.step < _STOUT * wide and not is_flat(body.tolist(), slices)
        if stout and pieces.shell.max() > 0:
            # A stout body of its own is one lump, whatever its ends look like.
            parts.append(body)
            continue
        off = passed > 1 and whole[0] == line[0]
        for limb in limbs(body, pieces, slices, forks, clear_foot=off):
            last = limb[-1] == body[-1]
            parts += _split(limb, pieces, slices, forks, last=last, depth=0)
    made = _joined([list(map(int, part)) for part in parts], pieces, slices)
    made = _rounded(made, pieces, slices)
    for first, some in shreds:
        part = next(part for part in made if first in part)
        part[part.index(first) : part.index(first)] = some.tolist()
    return _with_foot(made, max(0.0, hidden - passed * pieces.step), pieces, slices)


def _shreds(line: si.Integers, pieces: Pieces, slices: Slices) -> int:
    """Return how many pieces at the foot are what other bodies have left of it.

    They hold less than a cell across, so that their section tells nothing, and the next
    piece of the same body is far thicker.
    """
    thin = slices.wide[line] <= _SHRED * pieces.step
    many = int(np.argmin(thin)) if not thin.all() else 0
    if not many or pieces.shell[line[many]] != pieces.shell[line[0]]:
        return 0
    whole = _typical(slices.wide[line[many:]])
    return many if many * pieces.step <= _LONG_SHREDS * whole else 0


def _bodies(line: si.Integers, pieces: Pieces, slices: Slices) -> list[si.Integers]:
    """Cut a strand where the body of the file changes, unless the section does not."""
    ends = np.flatnonzero(np.diff(pieces.shell[line])) + 1
    first, *others = np.split(line, ends)
    made = [first]
    for here in others:
        before = made[-1]
        ratio = _typical(slices.wide[here]) / _typical(slices.wide[before])
        walls = _typical(slices.through[here]) / _typical(slices.through[before])
        alike = 1 / _ALIKE < ratio < _ALIKE and 1 / _ALIKE < walls < _ALIKE
        straight = _cosine(before[-5:-1], here[1:5], pieces) > _STRAIGHT
        even = _even(before[-4:-1], before, slices) and _even(here[1:4], here, slices)
        long = min(len(here), len(before)) * pieces.step > _ROD * _typical(slices.wide[here])
        if alike and straight and even and long:
            made[-1] = np.concatenate([before, here])
        else:
            made.append(here)
    return made


def _even(some: si.Integers, line: si.Integers, slices: Slices) -> bool:
    """Say whether some pieces have the usual section of their body."""
    ratio = _typical(slices.wide[some]) / _typical(slices.wide[line])
    return 1 / _EVEN < ratio < _EVEN


def _cosine(before: si.Integers, after: si.Integers, pieces: Pieces) -> si.Ratio:
    """Return the cosine between the ways that two runs of pieces take."""
    if len(before) < 2 or len(after) < 2:
        return 1.0
    came = pieces.middle[before[-1]] - pieces.middle[before[0]]
    goes = pieces.middle[after[-1]] - pieces.middle[after[0]]
    return float(came @ goes / max(np.linalg.norm(came) * np.linalg.norm(goes), 1e-300))


def _typical(values: si.Metres) -> si.Metre:
    good = values[np.isfinite(values)]
    return float(np.median(good)) if len(good) else 1e-9


def _split(
    line: si.Integers,
    pieces: Pieces,
    slices: Slices,
    forks: si.Booleans,
    *,
    last: bool,
    depth: int,
) -> list[si.Integers]:
    if len(line) < 2 * LEAST or depth > 4:
        return [line]
    step = pieces.step
    through = filled(slices.through[line], slices.deep[line])
    spread = slices.wide[line]
    # Under two cells the spread of the cells does not tell a width, and it tells too much where
    # a slice lies askew at a knee; of a rod the rays do.  Rays through a rough tip are too short,
    # so that whether it is a rod is asked of all that is as narrow as well.
    narrow = spread < step
    rod = (np.minimum(spread, through) < step) & (spread < FLAT * through)
    if _typical(spread[narrow]) < FLAT * _typical(through[narrow]):
        rod |= narrow
    wide = np.log(np.maximum(np.where(rod, through, spread), 1e-6))
    through = np.log(through)
    # At a fork the children lend their width; it is read across from both sides.
    clear = ~forks[line]
    if clear.sum() >= 2:
        at = np.arange(len(line))
        wide = np.interp(at, at[clear], wide[clear])
        through = np.interp(at, at[clear], through[clear])
    place = neck(line, pieces, slices, wide)
    if place is None:
        place = _jump(wide, wide, math.log(JUMP), step, last=last)
    if place is None:
        # The wall of a lump changes along it; that of a rod or a blade does so at a joint.
        slim = len(line) * step > _ROD * math.exp(float(np.median(wide)))
        place = _jump(through, wide, math.log(_WALL_JUMP if slim else 1.8), step, last=last)
    if place is None:
        place = waist(wide, through)
    if place is None:
        return [line]
    return [
        *_split(line[:place], pieces, slices, forks, last=False, depth=depth + 1),
        *_split(line[place:], pieces, slices, forks, last=last, depth=depth + 1),
    ]


def _jump(
    values: si.Ratios, wide: si.Ratios, least: si.Ratio, step: si.Metre, *, last: bool
) -> int | None:
    """Return the place of a step that is a cut; None: there is none."""
    best = step_of(smoothed(values))
    if best is None or abs(best[1]) < least:
        return None
    place, height = best
    thin = slice(0, place) if height > 0 else slice(place, None)
    long = len(wide[thin]) * step
    if long < _LONG * math.exp(float(np.median(wide[thin]))):
        return None
    if height < 0 and last and len(wide) - place <= _ROUNDED:
        return None
    return place


def is_flat(part: list[int], slices: Slices) -> bool:
    """Say whether a part is flat.

    Parameters
    ----------
    part : list of int
        Its pieces.
    slices : Slices
    """
    return _typical(slices.wide[part]) > FLAT * _typical(slices.through[part])


def _with_foot(
    parts: list[list[int]], hidden: si.Metre, pieces: Pieces, slices: Slices
) -> list[list[int]]:
    """Put the foot to what stands on it.

    Where a part comes out of its parent beside others, its section is theirs too.  It is
    clear of them at most half the section of the parent and its own section farther on.
    Of a blade the corners of its base come first, half its width from each other's middle.
    """
    if len(parts) < 2 or hidden == 0.0:
        return parts
    foot, first = parts[0], parts[1]
    own = min(_typical(slices.wide[foot]), _typical(slices.wide[first]))
    wall = _typical(slices.through[foot]) / _typical(slices.through[first])
    if is_flat(first, slices) and wall < _SAME_SHEET:
        own = max(own, 0.5 * _typical(slices.wide[first]))
    wide = _typical(slices.wide[foot])
    slim = len(foot) * pieces.step > _CLEAR_FOOT * wide
    alike = wide < _ALIKE * _typical(slices.wide[first])
    if wide < _ALIKE * _typical(slices.through[foot]):
        # One rod and no more: the rays tell how thick it is.
        alike |= wall < _ALIKE
    if slim and alike and not is_flat(first, slices):
        # A thigh is as thick as its shin; the foot of a ray is as wide as the rays beside it.
        return parts
    longest = hidden + own
    if len(foot) * pieces.step >= longest or pieces.shell[foot[-1]] != pieces.shell[first[0]]:
        return parts
    return [foot + first, *parts[2:]]


def _rounded(parts: list[list[int]], pieces: Pieces, slices: Slices) -> list[list[int]]:
    """Put the round base of a lump to it: it grows by two steps over half of its width."""
    made = [parts[0]]
    for part in parts[1:]:
        before = made[-1]
        below = _typical(slices.wide[made[-2]]) if len(made) > 1 else math.inf
        sizes = [_typical(slices.wide[some]) for some in (before, part)]
        short = len(before) * pieces.step < _BASE * sizes[1]
        whole = pieces.shell[before[-1]] == pieces.shell[part[0]] and not is_flat(part, slices)
        if below < sizes[0] < sizes[1] and short and whole:
            made[-1] = before + part
        else:
            made.append(part)
    return made


def _joined(parts: list[list[int]], pieces: Pieces, slices: Slices) -> list[list[int]]:
    """Put together what is one blade, and what is too short to be a part."""
    made = [parts[0]]
    for part in parts[1:]:
        before = made[-1]
        wall = _typical(slices.through[part]) / _typical(slices.through[before])
        # The narrow end of a blade, as thick as the blade, is a strip of it and no rod.
        sheet = is_flat(before, slices) and 1 / _SAME_SHEET < wall < _SAME_SHEET
        short = len(part) < LEAST
        if (sheet and pieces.shell[part[0]] == pieces.shell[before[-1]]) or short:
            made[-1] = before + part
        else:
            made.append(part)
    return made
