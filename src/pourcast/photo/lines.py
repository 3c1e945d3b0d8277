"""Lines: how deep does each place of a stick lie, by its line in another picture?

One picture tells two of three coordinates of each place along a stick.  The depth is
taken for

    d(s) = fork + (tip - fork) s + 4 bow s (1 - s),   s from 0 to 1              (1)

and its three numbers are found by least squares: laid out on the bench and seen by the
other camera, the line must run through the middle line that is seen there, wherever that
stands clear, and end at its tip.  The fork lies on the line of the parent.  What the two
miss each other by counts as distances in pixels, large ones less (soft L1), since an end
may be hidden or belong to something else.

Left out: a stick that is bent twice.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from scipy.optimize import least_squares

from pourcast import units as si
from pourcast.photo.bench import as_seen, in_picture, on_bench, shown
from pourcast.photo.lean import middle_of_lump, true_span
from pourcast.photo.model import Depth, Pixel, Pixels, Stick, View
from pourcast.photo.nearest import nearest
from pourcast.photo.space import flat_places

NOT_ONE = 1.0e-3
"""By how much two sticks lie beside each other that are not one [m]; seeds 0 to 31."""

_BACK = 0.2  # of its length, that a stick is carried back beyond its fork
_PLACES = 31  # along the line that is laid out, with what is before its fork
_FIRST = 5  # of them, the fork
_TAIL = 6  # of them, that tell where it points at its end
_UNIT = 1e-3  # m, so that the numbers are near 1
_SEEN = 20  # along the line that is seen
_LINE = 1.5  # pixels that a middle line may be off; estimate
_TIP = 3.0  # pixels that a tip may be off; estimate
_FORK = 0.3e-3  # m that a fork may lie off the line of its parent; estimate
_HIDDEN = 1.5e-3  # m between two ends, from which they are not held together; estimate
_BOW = 0.06  # of its length, that a stick is bowed; 20 degrees are 0.04; estimate

Other = tuple[View, Stick, si.Radian]
"""Another view, the stick there, and the turn of that view [rad]."""


def fork_depth(
    host: si.Metres, view: View, stick: Stick, turn: si.Radian, camera: si.Metre | None
) -> si.Metre:
    """Return how deep the fork of a stick lies on the line of its parent.

    Parameters
    ----------
    host : array [m], shape (places, 3)
        Line of the parent on the bench.
    view : View
    stick : Stick
    turn : float [rad]
        Of the view.
    camera : float or None [m]

    Returns
    -------
    float [m]
        Away from the camera.
    """
    flat = shown(view, host, turn, camera)
    deep = as_seen(host, turn)[:, 1]
    place = flat_places(view, stick, stick.along[:1])
    (k,), (share,), _ = nearest(place, flat)
    return float(deep[k] + share * (deep[k + 1] - deep[k]))


def by_line(
    view: View,
    stick: Stick,
    turn: si.Radian,
    others: Sequence[Other],
    host: si.Metres | None,
    camera: si.Metre | None,
    same: int,
) -> Depth:
    """Return the depth along a stick that other views show as well.

    Parameters
    ----------
    view : View
        That is read.
    stick : Stick
    turn : float [rad]
        Of the view.
    others : sequence of View, Stick and float [rad]
        The same stick in other views, and the turn of each.
    host : array [m], shape (places, 3), or None
        Line of its parent on the bench; None: not known.
    camera : float or None [m]
    same : int
        Number of the stick in the other view.

    Returns
    -------
    Depth
    """
    share = np.linspace(-_BACK, 1.0, _PLACES)
    flat = _on(flat_places(view, stick, np.maximum(share, 0.0) * float(stick.along[-1])), share)
    long = max(float(np.hypot(*(flat[-1] - flat[_FIRST]))), 1e-3)
    seen = [_clear(other) for _, other, _ in others]

    def depth(numbers: si.Ratios) -> Depth:
        fork, tip, bow = (float(x) * _UNIT for x in numbers)
        return Depth(fork=fork, tip=tip, low=tip, high=tip, same=same, bow=bow)

    def misses(numbers: si.Ratios, held: Sequence[bool]) -> si.Ratios:
        bench = on_bench(view, flat, depth(numbers).along(share), turn, camera)
        way = (bench[-1] - bench[-_TAIL]) / max(
            float(np.linalg.norm(bench[-1] - bench[-_TAIL])), 1e-12
        )
        most = max(long, _UNIT * abs(float(numbers[1] - numbers[0])))
        past = 0.0 if host is None else _past(bench, host)
        out = [np.array([_UNIT * numbers[2] / (_BOW * most), past / _FORK])]
        own = _end(stick, way, turn) / float(stick.along[-1])
        for (second, other, towards), places, tied in zip(others, seen, held, strict=True):
            laid = in_picture(second, bench, towards, camera)
            out.append(_beside(laid[_FIRST:], places) / _LINE)
            tip = np.array([np.interp(own, share, laid[:, k]) for k in (0, 1)])
            out.append(tied * (tip - place_at(other, _end(other, way, towards))) / _TIP)
        return np.concatenate(out)

    fork = 0.0 if host is None else fork_depth(host, view, stick, turn, camera)
    start = np.array([fork, _tip_depth(view, stick, turn, others[0], camera), 0.0]) / _UNIT
    held = [True] * len(others)
    best = least_squares(misses, start, loss="soft_l1", max_nfev=60, args=(held,))
    size = others[0][0].scale.size
    off, apart = _missed(misses(best.x, held), seen)
    tied = [size * each <= _HIDDEN for each in apart]
    if not all(tied):
        # An end that is another is hidden there, or runs into something.
        best = least_squares(misses, best.x, loss="soft_l1", max_nfev=60, args=(tied,))
        off, _ = _missed(misses(best.x, tied), seen)
        _, apart = _missed(misses(best.x, held), seen)
    return replace(depth(best.x), off=size * max(off), apart=size * min(apart))


def _missed(rest: si.Ratios, seen: Sequence[Pixels]) -> tuple[tuple[Pixel, ...], tuple[Pixel, ...]]:
    """Return what four of five places of each line stay under, and how far the ends are apart."""
    off, apart, at = [], [], 2
    for places in seen:
        line, end = rest[at : at + len(places)], rest[at + len(places) : at + len(places) + 2]
        at += len(places) + 2
        off.append(_LINE * float(np.quantile(np.abs(line), 0.8)) if len(line) else 0.0)
        apart.append(_TIP * float(np.hypot(*end)))
    return tuple(off), tuple(apart)


def beside(line: Pixels, stick: Stick) -> tuple[Pixel, Pixel]:
    """Return how far the clear places of a stick lie beside a line, and its tip from its end.

    Parameters
    ----------
    line : array [px], shape (places, 2)
    stick : Stick
        Of the same picture.

    Returns
    -------
    off, apart : float [px]
        What four of five places stay under; between the two tips.
    """
    places = _clear(stick)
    off = float(np.quantile(np.abs(_beside(line, places)), 0.8)) if len(places) else 0.0
    return off, float(np.hypot(*(line[-1] - stick.line[-1])))


def _on(flat: si.Metres, share: si.Ratios) -> si.Metres:
    """Carry the places before the fork back, straight."""
    ahead = int(np.searchsorted(share, 0.0, side="right"))
    way = (flat[ahead + 1] - flat[ahead]) / (share[ahead + 1] - share[ahead])
    return np.where(share[:, None] < 0.0, flat[ahead] + (share - share[ahead])[:, None] * way, flat)


def _end(stick: Stick, way: si.Ratios, turn: si.Radian) -> Pixel:
    """Return where along a stick its end lies: the middle of a lump, or of a square cut."""
    middle = middle_of_lump(stick)
    if middle is not None:
        return middle
    if not stick.sections or stick.joined >= 0:
        return float(stick.along[-1])
    lean = math.asin(min(1.0, abs(float(as_seen(way, turn)[1]))))
    return true_span(stick, len(stick.sections) - 1, lean)[1]


def place_at(stick: Stick, along: Pixel) -> Pixels:
    """Return the place of a picture that lies so far along a stick.

    Parameters
    ----------
    stick : Stick
    along : float [px]

    Returns
    -------
    array [px], shape (2,)
    """
    return np.array([np.interp(along, stick.along, stick.line[:, k]) for k in (0, 1)])


def _tip_depth(
    view: View, stick: Stick, turn: si.Radian, other: Other, camera: si.Metre | None
) -> si.Metre:
    """Return the depth of the tip at which the other view shows it least far from its own."""
    second, there, way = other
    deep = np.linspace(-60e-3, 60e-3, 241)
    flat = flat_places(view, stick, stick.along[-1:])
    bench = on_bench(view, flat, deep[:, None], turn, camera)[:, 0]
    off = np.abs(in_picture(second, bench, way, camera)[:, 0] - there.line[-1, 0])
    return float(deep[int(off.argmin())])


def _past(line: si.Metres, host: si.Metres) -> si.Metre:
    """Return how far the first part of a line passes its parent by."""
    first = line[: _FIRST + _PLACES // 3]
    apart = first[:, None] - host[None]
    k, n = np.unravel_index(int((apart**2).sum(axis=2).argmin()), apart.shape[:2])
    square = np.cross(_way(first, int(k)), _way(host, int(n)))
    size = float(np.linalg.norm(square))
    if size < 0.1:
        return float(np.linalg.norm(apart[k, n]))
    return float(apart[k, n] @ square) / size


def _way(line: si.Metres, k: int) -> si.Ratios:
    way = line[min(k + 1, len(line) - 1)] - line[max(k - 1, 0)]
    return np.asarray(way / max(float(np.linalg.norm(way)), 1e-12))


def _clear(stick: Stick) -> Pixels:
    """Return places of the middle line where it stands clear."""
    # A lump leans on its line; its outline tells less of it.
    end = max((s.end for s in stick.sections if s.shape != "lump"), default=stick.along[-1])
    use = np.flatnonzero(np.isfinite(stick.width) & (stick.along <= end))
    if use.size > _SEEN:
        use = use[np.linspace(0, use.size - 1, _SEEN).astype(int)]
    return np.asarray(stick.line[use])


def _beside(line: Pixels, places: Pixels) -> Pixels:
    """Return how far places lie beside a line."""
    k, _, off = nearest(places, line)
    step = np.diff(line, axis=0)[k]
    way = step / np.maximum(np.hypot(*step.T), 1e-9)[:, None]
    return np.asarray(off[:, 0] * way[:, 1] - off[:, 1] * way[:, 0])
