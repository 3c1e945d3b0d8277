"""Piece answer: the page of a piece, filled for one visitor."""

from datetime import datetime
from typing import Any

from fastapi import Request
from fastapi.responses import RedirectResponse, Response

from pourcast.app.desk import Desk, Texts, desk_of, texts_of
from pourcast.app.first import MOST_PROPOSALS, Worked, can_rank, lines
from pourcast.app.forecasts import Pair
from pourcast.app.guard import Visitor
from pourcast.app.knobs import knobs
from pourcast.app.pages import show
from pourcast.app.piece_view import Fault, piece_view
from pourcast.app.studio import Studio
from pourcast.forecast.model import Forecast


def answer(
    request: Request,
    studio: Studio,
    visitor: Visitor,
    piece_id: str,
    fault: Fault | None = None,
) -> Response:
    """Return the page of a piece, with why a knob could not be turned."""
    desk = desk_of(request)
    texts = texts_of(request, studio, visitor, piece_id)
    pair = desk.forecasts.pair(texts.now, texts.kept.text)
    if not pair.refined:
        desk.forecasts.refine(visitor.session, piece_id, texts.now, texts.kept.text)
    start, is_set = desk.starts.read(piece_id, datetime.now().astimezone())
    return show(
        request,
        "piece.html.j2",
        status=200 if fault is None else 422,
        here="piece",
        piece=texts.piece,
        trial=texts.trial,
        failed=desk.forecasts.has_ended(texts.now, texts.kept.text) is False,
        start_is_set=is_set,
        own=own_names(pair.now),
        **first_values(desk, texts, pair, studio),
        **piece_view(
            pair,
            desk.drawn,
            look=studio.look,
            start=start,
            trial=texts.trial,
            fault=fault,
        ),
    )


def first_values(desk: Desk, texts: Texts, pair: Pair, studio: Studio) -> dict[str, Any]:
    """Return what to change first, as far as it is worked out."""
    # The answer itself comes before the advice.
    worked = desk.first.look(texts.now) if pair.refined else Worked(None, (), False)
    there = knobs(pair.now, studio.look)
    return {
        "worked": worked,
        "lines": lines(worked.ranking, there) if worked.ranking else [],
        "can_rank": can_rank(),
        "most_proposals": MOST_PROPOSALS,
    }


def own_names(forecast: Forecast) -> tuple[str, ...]:
    """Return the names that the caster gave to a piece and its parts."""
    piece = forecast.plan.piece
    return (piece.name, *(part.name for part in piece.parts))


def to(piece_id: str, place: str) -> Response:
    """Lead back to a place on the page of a piece."""
    return RedirectResponse(f"/piece/{piece_id}#{place}", status_code=303)
