"""Same pours: in which draws does a change leave the pour as it was?

More air in the kiln and a longer hold touch a pour by the char that they leave alone, and
most draws have none of it either way.  A draw whose passages, metal, block and stream are
the same to the last bit ends as that of the plan as it stands, and is not poured again.
"""

from dataclasses import fields, replace

import numpy as np

from pourcast import units as si
from pourcast.forecast.case_some import RECORDS, draws_of
from pourcast.forecast.whole import Ends, Layout, joined, pour_ends
from pourcast.piece.model import Network
from pourcast.pour.model import PourCase


def ends_like(
    layout: Layout, like: Layout, known: Ends, *, start: int = 0, stop: int, threads: int = 1
) -> Ends:
    """Return how some draws of a layout end, with what is the same as in another taken over.

    Parameters
    ----------
    layout : Layout
    like : Layout
        Of another plan at the same draws.
    known : Ends
        Of that plan; draws that it has not are poured.
    start, stop : int
        The draws from ``start`` up to, without it, ``stop``.
    threads : int

    Returns
    -------
    Ends
    """
    reach = min(stop, known.full.shape[0], like.laid)
    if reach <= start or not same_passages(layout.ready.network, like.ready.network):
        return pour_ends(layout, start=start, stop=stop, threads=threads)
    other = np.flatnonzero(~same_draws(layout.case, like.case, reach)[start:]) + start
    ends = _part(known, start, reach)
    if other.size:
        made = pour_some(layout, other, threads=threads)
        full, cause, share = ends.full.copy(), ends.cause.copy(), ends.share.copy()
        places = other - start
        full[places], cause[places], share[places] = made.full, made.cause, made.share
        ends = replace(ends, full=full, cause=cause, share=share)
    if reach == stop:
        return ends
    return joined(ends, pour_ends(layout, start=reach, stop=stop, threads=threads))


def pour_some(layout: Layout, which: si.Integers, *, threads: int = 1) -> Ends:
    """Return how chosen draws of a layout end, in the order in which they are named.

    Parameters
    ----------
    layout : Layout
    which : array of int, shape (chosen,)
        Draws that are laid out.
    threads : int

    Returns
    -------
    Ends
    """
    case = draws_of(layout.case, which)
    return pour_ends(replace(layout, case=case, laid=which.size), threads=threads)


def same_passages(one: Network, other: Network) -> bool:
    """Return whether two networks are the same to the last bit.

    Parameters
    ----------
    one, other : Network
    """
    return all(_same(getattr(one, field.name), getattr(other, field.name)) for field in fields(one))


def same_draws(one: PourCase, other: PourCase, draws: int) -> si.Booleans:
    """Return in which of the first draws two cases are the same, shape (draws,).

    Parameters
    ----------
    one, other : PourCase
    draws : int
    """
    same = np.ones(draws, dtype=bool)
    for mine, theirs in zip(_values(one), _values(other), strict=True):
        if isinstance(mine, np.ndarray) and isinstance(theirs, np.ndarray):
            if mine.shape[1:] != theirs.shape[1:]:
                return np.zeros(draws, dtype=bool)
            alike = mine[:draws] == theirs[:draws]
            same &= alike.reshape(draws, -1).all(axis=1)
        elif not _same(mine, theirs):
            return np.zeros(draws, dtype=bool)
    return same


def _values(case: PourCase) -> list[object]:
    """Return all values of a case; records within it are taken apart."""
    made: list[object] = []
    for field in fields(case):
        value = getattr(case, field.name)
        if field.name in RECORDS:
            made += [getattr(value, inner.name) for inner in fields(value)]
        else:
            made.append(value)
    return made


def _same(one: object, other: object) -> bool:
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        numbers = one.dtype.kind == "f"
        return bool(np.array_equal(one, other, equal_nan=numbers))
    return type(one) is type(other) and bool(one == other)


def _part(ends: Ends, start: int, stop: int) -> Ends:
    return replace(
        ends,
        full=ends.full[start:stop],
        cause=ends.cause[start:stop],
        share=ends.share[start:stop],
    )
