"""Freeze forecast: from how every casting freezes to what a hundred would give."""

import numpy as np

from pourcast import units as si
from pourcast.forecast.burnout_forecast import hour
from pourcast.forecast.chances import spread
from pourcast.forecast.model import FreezeForecast, PartFreeze, Spread
from pourcast.freeze.checks import not_fed
from pourcast.freeze.model import BUTTON, FreezeCase, FreezeResult
from pourcast.piece.model import Network
from pourcast.pour.model import PourResult


def freeze_forecast(
    network: Network, case: FreezeCase, poured: PourResult, frozen: FreezeResult
) -> FreezeForecast:
    """Return what the freezing of all draws comes to.

    Parameters
    ----------
    network : Network
    case : FreezeCase
    poured : PourResult
    frozen : FreezeResult

    Returns
    -------
    FreezeForecast
    """
    spots, feeders = not_fed(network, case, poured, frozen)
    part_of = network.member_part[network.member]
    names = network.part_names
    last = {"button": float((frozen.last == BUTTON).mean())}
    for part, name in enumerate(names):
        share = float(np.isin(frozen.last, np.flatnonzero(part_of == part)).mean())
        if share > 0.0:
            last[name] = share
    return FreezeForecast(
        top=case.top,
        last=last,
        parts=tuple(
            PartFreeze(name=name, solid=_latest(frozen.freeze_time[:, part_of == part]))
            for part, name in enumerate(names)
        ),
        segment_solid=_middle(frozen.freeze_time),
        button_solid=_known(frozen.button_freeze_time),
        all_solid=_known(frozen.all_solid),
        lack=spread(frozen.lack.sum(axis=1)),
        spots=spots,
        feeders=feeders,
        quench_from=hour(frozen.quench_from),
        quench_to=hour(frozen.quench_to),
        above_760=spread(frozen.above_760),
        above_900=spread(frozen.above_900),
    )


def _latest(times: si.Seconds) -> Spread | None:
    """Return when the last of some segments is solid, of the draws in which any froze."""
    froze = np.isfinite(times).any(axis=1)
    return spread(np.nanmax(times[froze], axis=1)) if froze.any() else None


def _middle(times: si.Seconds) -> si.Seconds:
    """Return the median over the draws, segment by segment."""
    froze = np.isfinite(times).any(axis=0)
    middle = np.full(times.shape[1], np.nan)
    middle[froze] = np.nanmedian(np.where(np.isfinite(times), times, np.nan)[:, froze], axis=0)
    return middle


def _known(times: si.Seconds) -> Spread | None:
    known = times[np.isfinite(times)]
    return spread(known) if known.size else None
