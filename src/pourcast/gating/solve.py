"""Solve: all changes of wax, lean and flask that the forecast of a piece gives cause for."""

from collections.abc import Sequence

from pourcast.forecast.model import Forecast
from pourcast.gating.feeders import feeder_proposals
from pourcast.gating.gates import gate_proposals
from pourcast.gating.joins import join_proposals
from pourcast.gating.leans import flask_proposals, lean_proposals
from pourcast.gating.model import Proposal, ShelfFlask
from pourcast.gating.vents import vent_proposals


def proposals(said: Forecast, shelf: Sequence[ShelfFlask] = ()) -> tuple[Proposal, ...]:
    """Return what could be changed on the wax before the piece is invested.

    Parameters
    ----------
    said : Forecast
        Of the piece as it stands.
    shelf : sequence of ShelfFlask
        Flasks at hand; none: no other flask is proposed.

    Returns
    -------
    tuple of Proposal
        Feed first, then vents, joins, leans and the flask; none of them ranked.
    """
    return (
        *feeder_proposals(said),
        *gate_proposals(said),
        *vent_proposals(said),
        *join_proposals(said),
        *lean_proposals(said),
        *flask_proposals(said, shelf),
    )
