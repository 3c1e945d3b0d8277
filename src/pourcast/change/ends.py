"""Ends: the ends of fewer draws, or of fewer parts."""

from dataclasses import replace

import numpy as np

from pourcast.forecast.whole import Ends


def without(ends: Ends, names: tuple[str, ...]) -> Ends:
    """Return the ends without some parts.

    Parameters
    ----------
    ends : Ends
    names : tuple of str
        Those that are not there are of no matter.
    """
    kept = [name for name in ends.part_names if name not in names]
    if len(kept) == len(ends.part_names):
        return ends
    places = [ends.part_names.index(name) for name in kept]
    own = np.isin(ends.member_part, places)
    return replace(
        ends,
        full=ends.full[:, own],
        cause=ends.cause[:, own],
        member_part=np.searchsorted(places, ends.member_part[own]),
        part_names=tuple(kept),
    )


def first_of(ends: Ends, draws: int) -> Ends:
    """Return the ends of the first draws.

    Parameters
    ----------
    ends : Ends
    draws : int
    """
    return replace(ends, full=ends.full[:draws], cause=ends.cause[:draws], share=ends.share[:draws])
