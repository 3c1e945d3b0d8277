"""Ground: the plan as it stands, poured; first at some of the draws, then at all.

Each draw stands by itself, so pouring in two lots gives what pouring in one gives.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from pourcast.change.stops import stops_of, watches_of
from pourcast.forecast.model import Calibration
from pourcast.forecast.whole import (
    Ends,
    Layout,
    extended,
    joined,
    lay_out,
    pour_ends,
    quick_findings,
)
from pourcast.sheet.model import Plan

SCREEN = 4
"""The first pass takes one draw in so many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The plan as it stands, poured.

    Parameters
    ----------
    layout : Layout
    ends : Ends
        Of the draws that are laid out.
    calibration : Calibration or None
    threads : int
    stops : dict of str to str
        What stops the plan as it stands: key of a finding, and its text.
    watches : dict of str to str
        What warns of its burnout; empty until it is looked into.
    before : pair of dict of str to str
        What stops and what warns before anything is poured, of mould and melt.
    """

    layout: Layout
    ends: Ends
    calibration: Calibration | None
    threads: int
    stops: dict[str, str]
    watches: dict[str, str] = field(default_factory=dict)
    before: tuple[dict[str, str], dict[str, str]] = field(default_factory=lambda: ({}, {}))


def ground_of(
    plan: Plan,
    calibration: Calibration | None,
    draws: int,
    rng: np.random.Generator | int,
    *,
    stop: int | None = None,
    threads: int,
) -> Ground:
    """Return the plan as it stands, poured.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration or None
    draws : int
    rng : numpy.random.Generator or int
    stop : int, optional
        Draws to pour for now, from the first on; None: all.
    threads : int

    Raises
    ------
    InputError
        If a value is outside its limits.
    """
    layout = lay_out(plan, calibration, draws, rng, stop=stop, threads=threads)
    told = quick_findings(layout)
    before = stops_of(told), watches_of(told)
    return Ground(
        layout=layout,
        ends=pour_ends(layout, threads=threads),
        calibration=calibration,
        threads=threads,
        stops=before[0],
        before=before,
    )


def at_all_draws(ground: Ground) -> Ground:
    """Return the plan as it stands, poured at all draws; none is poured twice.

    Parameters
    ----------
    ground : Ground
    """
    done, every = ground.layout.laid, ground.layout.draws
    if done == every:
        return ground
    layout = extended(ground.layout, every, threads=ground.threads)
    more = pour_ends(layout, start=done, threads=ground.threads)
    return replace(ground, layout=layout, ends=joined(ground.ends, more))


def first_draws(draws: int) -> int:
    """Return how many draws the first pass takes.

    Parameters
    ----------
    draws : int
        In all.
    """
    return max(1, draws // SCREEN)
