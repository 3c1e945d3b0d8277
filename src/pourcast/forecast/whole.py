"""Whole: in which draws does every part fill, and nothing beyond that.

What a change buys is asked for many plans at the same draws.  So only what decides
it is worked out: shape, values, burnout and pour; freezing, finishing and the
slurry are left to `pourcast.forecast.solve`.

Each draw stands by itself, so the first draws can be poured before the others.  Where
the burnout is that of another plan, it is taken over: `pourcast.forecast.burn_again`.

Luck.  What nobody knows of metal and block is drawn by ``seed``.  What differs from
pour to pour (reading errors, like members, weather) may be drawn by a seed of its
own, ``luck``: two pours of one studio share the first and differ in the second.
"""

from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.findings import Finding
from pourcast.forecast.before_the_pour import melt_told, mould_told
from pourcast.forecast.burn_again import burn_like
from pourcast.forecast.burn_some import Burnt, ended_all
from pourcast.forecast.case_some import draws_of
from pourcast.forecast.chances import Members, members
from pourcast.forecast.draws import section_scale
from pourcast.forecast.model import Calibration
from pourcast.forecast.prepare import Prepared, case_of, prepare
from pourcast.piece.model import Network
from pourcast.pour.model import PourCase
from pourcast.pour.solve import solve as solve_pour
from pourcast.sheet.model import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What the pours of one plan start from.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    burnt : pair of BurnoutCase and BurnoutResult, or None
        The case of all draws and the result of those that are laid out; None: the sheet
        does not say how large the kiln is.
    case : PourCase
        Of the draws that are laid out.
    draws : int
        In all.
    laid : int
        Draws that are laid out, from the first on; `extended` lays out more.
    """

    plan: Plan
    ready: Prepared
    burnt: Burnt | None
    case: PourCase
    draws: int
    laid: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """How each draw ends.

    Parameters
    ----------
    full : array of bool, shape (draws, members)
    cause : array of int, shape (draws, members)
        Of the first part of a member that did not fill.
    member_part : array of int, shape (members,)
    part_names : tuple of str
    share : array [-], shape (draws,)
        Of the length of the piece that filled.
    """

    full: si.Booleans
    cause: si.Integers
    member_part: si.Integers
    part_names: tuple[str, ...]
    share: si.Ratios

    @property
    def whole(self) -> si.Booleans:
        """In which draws every member is full, shape (draws,)."""
        return np.asarray(self.full.all(axis=1))

    def part(self, name: str) -> si.Booleans:
        """Return in which draws every member of a part is full, shape (draws,).

        Parameters
        ----------
        name : str
        """
        own = self.member_part == self.part_names.index(name)
        return np.asarray(self.full[:, own].all(axis=1))


def lay_out(
    plan: Plan,
    calibration: Calibration | None,
    draws: int,
    rng: np.random.Generator | int,
    *,
    luck: int | None = None,
    like: Layout | None = None,
    stop: int | None = None,
    threads: int = 1,
) -> Layout:
    """Return what the pours of a plan start from.

    Parameters
    ----------
    plan : Plan
    calibration : Calibration or None
    draws : int
    rng : numpy.random.Generator or int
    luck : int, optional
        Seed of what differs from pour to pour; None: that of the values.
    like : Layout, optional
        Of another plan at the same draws, luck and calibration, whose burnout is
        taken where it is the same.
    stop : int, optional
        Draws to lay out for now, from the first on; None: all.  What is weighed out is
        that of all draws either way.
    threads : int

    Returns
    -------
    Layout

    Raises
    ------
    InputError
        If a value is outside its limits.
    SourceError
        If a material is not known.
    """
    ready = _of_luck(prepare(plan, calibration, draws, rng), draws, luck)
    last = draws if stop is None else min(stop, draws)
    burnt = burn_like(
        plan,
        ready,
        like.plan if like else None,
        like.burnt if like else None,
        stop=last,
        threads=threads,
    )
    return Layout(
        plan=plan, ready=ready, burnt=burnt, case=_case(plan, ready, burnt), draws=draws, laid=last
    )


def extended(layout: Layout, stop: int, *, like: Layout | None = None, threads: int = 1) -> Layout:
    """Return a layout with more draws laid out; those that are there are not worked out again.

    Parameters
    ----------
    layout : Layout
    stop : int
    like : Layout, optional
        As for `lay_out`.
    threads : int

    Returns
    -------
    Layout
    """
    if stop <= layout.laid:
        return layout
    burnt = layout.burnt
    if burnt is not None:
        more = burn_like(
            layout.plan,
            layout.ready,
            like.plan if like else None,
            like.burnt if like else None,
            start=layout.laid,
            stop=stop,
            threads=threads,
        )
        assert more is not None  # the kiln has a size, as it had before
        burnt = (burnt[0], ended_all(burnt[1], more[1]))
    case = _case(layout.plan, layout.ready, burnt)
    return replace(layout, burnt=burnt, case=case, laid=stop)


def _case(plan: Plan, ready: Prepared, burnt: Burnt | None) -> PourCase:
    """Return what the pours start from; of those draws alone whose burnout is there."""
    if burnt is None or burnt[1].ready_at.size == ready.scale.shape[0]:
        return case_of(plan, ready, burnt[1] if burnt else None)
    ended = burnt[1]
    done = ended.ready_at.size
    if plan.flask.temperature is None:
        # The flask has the heat that its burnout leaves it; the draws after it are cut off below.
        heat = np.full(ready.scale.shape[0], np.nan)
        heat[:done] = ended.flask_temperature
        ready = replace(ready, drawn=ready.drawn | {"flask_temperature": heat})
    case = draws_of(case_of(plan, ready, None), slice(done))
    return replace(case, char_left=ended.fate.char_left)


def pour_ends(layout: Layout, *, start: int = 0, stop: int | None = None, threads: int = 1) -> Ends:
    """Return how some draws of a layout end.

    Parameters
    ----------
    layout : Layout
    start, stop : int
        The draws from ``start`` up to, without it, ``stop``; None: to the last that
        is laid out.
    threads : int
        The result is the same for any number.

    Returns
    -------
    Ends

    Raises
    ------
    InputError
        If a value is not finite or outside its limits.
    """
    last = layout.laid if stop is None else min(stop, layout.laid)
    case = layout.case
    if (start, last) != (0, case.section_scale.shape[0]):
        case = draws_of(case, slice(start, last))
    network = layout.ready.network
    result = solve_pour(layout.ready.poured, case, threads=threads)
    return ends_of(network, members(network, result, layout.ready.book.pour["full_share"].si))


def ends_of(network: Network, poured: Members) -> Ends:
    """Return how pours end, from what became of each member."""
    return Ends(
        full=poured.full,
        cause=poured.cause,
        member_part=network.member_part,
        part_names=network.part_names,
        share=np.asarray(np.average(poured.share, 1, np.bincount(network.member, network.length))),
    )


def joined(one: Ends, other: Ends) -> Ends:
    """Return the ends of one layout whose draws were poured in two lots.

    Parameters
    ----------
    one, other : Ends

    Returns
    -------
    Ends
    """
    return replace(
        one,
        full=np.concatenate([one.full, other.full]),
        cause=np.concatenate([one.cause, other.cause]),
        share=np.concatenate([one.share, other.share]),
    )


def quick_findings(layout: Layout) -> tuple[Finding, ...]:
    """Return what mould and melt tell before anything is poured.

    Parameters
    ----------
    layout : Layout

    Returns
    -------
    tuple of Finding
    """
    plan, ready = layout.plan, layout.ready
    return (*mould_told(plan, ready), *melt_told(plan, ready))


def _of_luck(ready: Prepared, draws: int, luck: int | None) -> Prepared:
    """Return what is prepared with other reading errors and other like members."""
    if luck is None or luck == ready.seed:
        return ready
    scale = section_scale(ready.network, ready.drawn, draws, luck)
    return replace(ready, scale=scale, seed=luck)
