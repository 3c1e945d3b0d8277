"""Tidy: from cuts along a stick to parts, without what is too small to be one."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from pourcast.photo.fit import BASES, NEWS, fit, spread_of
from pourcast.photo.model import Pixel, Pixels, Section

_LEAST_LUMP = 1.25  # a lump is wider than what bears it by this (estimate)
_LEAF = 1.8  # a taper wider than what bears it by this is flat; estimate
_LEAST_ERROR = 0.15  # pixels, of a width; estimate
_BESIDE_TIP, _BESIDE_BASE = 0.1, 0.85  # of a lump, left out at its tip and its corner; estimate
_LEAST_PLACES = 8  # of a lump, for the fit of its base; estimate
_FARTHEST_SEAT = 0.25  # of its length, that the base of a lump may be moved; estimate
_SHORT_STUB = 1.5  # of its width, under which a swelling is no lump; estimate
_SHORT_ROOT = 6.0  # pixels, under which a first part is the foot of the next; estimate
_ROOT = 2.5  # of its width, under which a wide first part of a child is its foot; estimate


def sections(
    along: Pixels, width: Pixels, cuts: list[Pixel], *, child: bool
) -> tuple[Section, ...]:
    """Return the parts between cuts.

    Parameters
    ----------
    along, width : array [px], shape (places,)
        Widths are nan where they were taken out.
    cuts : list of float [px]
    child : bool
        True if the stick grows on another.

    Returns
    -------
    tuple of Section
    """
    made: list[Section] = []
    whole = np.isfinite(width)
    along, width = along[whole], width[whole]
    for start, end in pairwise(cuts):
        found = fit(along, width, start, end)
        begin = made[-1].end if made else cuts[0]
        if math.isnan(found.first):
            made = [*made[:-1], replace(made[-1], end=end)] if made else []
            continue
        use = (along >= start) & (along < end)
        noise = float(np.median(spread_of(width[use]))) / math.sqrt(max(1.0, NEWS * use.sum()))
        made.append(
            Section(
                shape="lump" if found.lump else "rod",
                start=begin,
                end=end,
                width=(found.first, found.last),
                error=max(noise, _LEAST_ERROR),
            )
        )
    return _named(_seated(along, width, _tidied(made, child=child)))


def _seated(along: Pixels, width: Pixels, kept: list[Section]) -> list[Section]:
    """Move the base of a lump at a tip to where its ellipse meets the rod that bears it.

    Blur fills the corner between the two, so the cut that fits best lies a pixel
    or two too low.  With d the way from the tip and a half the axis, equation (1)
    of `pourcast.photo.fit` is
    w² = W² (2 d/a - d²/a²), a line in d and d²; its corner is left out of the fit,
    and the base lies at d = a (1 + r).
    """
    if len(kept) < 2 or kept[-1].shape != "lump" or kept[-2].shape != "rod":
        return kept
    bears, lump = kept[-2:]
    length = lump.end - lump.start
    away = lump.end - along
    use = (away > _BESIDE_TIP * length) & (away < _BESIDE_BASE * length)
    if use.sum() < _LEAST_PLACES:
        return kept
    d, w = away[use], width[use]
    weight = 1.0 / (2.0 * w * spread_of(w))
    terms = np.column_stack([d, d * d]) * weight[:, None]
    (one, two), *_ = np.linalg.lstsq(terms, w * w * weight, rcond=None)
    if two >= 0.0 or one <= 0.0:
        return kept
    size = float(math.sqrt(-0.25 * one * one / two))
    ratio = min(bears.width[1] / size, BASES[-1])
    seat = float(lump.end + 0.5 * one / two * (1.0 + math.sqrt(1.0 - ratio * ratio)))
    if abs(seat - lump.start) > _FARTHEST_SEAT * length or size < bears.width[1]:
        return kept
    return [
        *kept[:-2],
        replace(bears, end=seat),
        replace(lump, start=seat, width=(size, size)),
    ]


def _tidied(made: list[Section], *, child: bool) -> list[Section]:
    """Give what is too small to be a part to the part before it, or to the one after."""
    kept: list[Section] = []
    for section in made:
        before = kept[-1] if kept else None
        length, size = section.end - section.start, max(section.width)
        if before is None or before.shape == "lump":
            kept.append(section)
            continue
        stub = section.shape == "lump" and size < _LEAST_LUMP * before.width[1]
        if (stub and length < _SHORT_STUB * size) or (section.shape == "rod" and length < size):
            kept[-1] = replace(before, end=section.end)
        else:
            kept.append(section)
    while len(kept) > 1 and _is_root(kept[0], kept[1], child):
        kept[1] = replace(kept[1], start=kept[0].start)
        del kept[0]
    return kept


def _is_root(first: Section, onward: Section, child: bool) -> bool:
    """Tell the swelling where a part leaves its parent from a part."""
    length, size = first.end - first.start, max(first.width)
    if length < min(size, _SHORT_ROOT):
        return True
    return child and onward.shape == "rod" and onward.width[0] < size and length < _ROOT * size


def _named(kept: list[Section]) -> tuple[Section, ...]:
    """Call a taper that is much wider than the taper that bears it a blade."""
    made: list[Section] = []
    for section in kept:
        bears = made[-1].width[1] if made and made[-1].shape == "rod" else 0.0
        flat = section.shape == "rod" and bears > 0.0 and sum(section.width) / 2 > _LEAF * bears
        made.append(replace(section, shape="blade") if flat else section)
    return tuple(made)
