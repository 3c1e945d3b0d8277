"""Forecasts of one plan with its network cut more or less finely."""

from dataclasses import replace

import numpy as np
import pytest

from pourcast import units as si
from pourcast.forecast import prepare as preparing
from pourcast.forecast.model import Forecast
from pourcast.forecast.solve import forecast
from pourcast.piece.model import Network, Piece
from pourcast.piece.network import build
from pourcast.pour.model import Steps
from pourcast.sheet.model import Plan


def split(network: Network, pieces: int) -> Network:
    """Return the same passages with each segment cut into some of equal length."""
    share = np.linspace(0.0, 1.0, pieces + 1)
    low, high = share[:-1], share[1:]
    segments = network.length.size
    nodes = network.vent_diameter.size
    inner = nodes + np.arange(segments * (pieces - 1)).reshape(segments, pieces - 1)

    def between(first: si.Floats, last: si.Floats, at: si.Ratios) -> si.Floats:
        one, two = first[:, None], last[:, None]
        shares = at.reshape(1, -1, *([1] * (first.ndim - 1)))
        return np.asarray((one + shares * (two - one)).reshape(-1, *first.shape[1:]))

    def along(ways: si.Metres) -> si.Metres:
        return np.stack([between(ways[:, 0], ways[:, 1], at) for at in (low, high)], axis=1)

    last = np.zeros(pieces, dtype=bool)
    last[-1] = True
    padding = np.zeros(inner.size)
    return replace(
        network,
        start=np.concatenate([network.start[:, None], inner], axis=1).ravel(),
        end=np.concatenate([inner, network.end[:, None]], axis=1).ravel(),
        start_position=between(network.start_position, network.end_position, low),
        end_position=between(network.start_position, network.end_position, high),
        section=np.repeat(network.section, pieces),
        length=np.repeat(network.length / pieces, pieces),
        width=along(network.width),
        thickness=along(network.thickness),
        member=np.repeat(network.member, pieces),
        vent_diameter=np.concatenate([network.vent_diameter, padding]),
        vent_length=np.concatenate([network.vent_length, padding]),
        vent_to_vacuum=np.concatenate([network.vent_to_vacuum, padding > 0.0]),
        is_joint=(network.is_joint[:, None] & last).ravel(),
        across=None if network.across is None else np.repeat(network.across, pieces, axis=0),
    )


def forecast_cut(
    plan: Plan,
    draws: int,
    *,
    finest: float = 1.5e-3,
    pieces: int = 1,
    steps: Steps | None = None,
) -> Forecast:
    """Return the forecast of a plan whose network is cut by another rule than the usual."""

    def cut(piece: Piece) -> Network:
        return split(build(piece, finest=finest), pieces)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(preparing, "build", cut)
        return forecast(plan, draws=draws, steps=steps)


def chances(made: Forecast) -> si.Ratios:
    """Return all chances of a forecast: the whole piece, each part, its weakest member."""
    of_parts = [(part.chance_full, part.chance_weakest) for part in made.parts]
    return np.array([made.chance_all, *np.ravel(of_parts)])
